"""How each finish is folded and sewn, step by step, as sections; drawing millimetres.

The garment comes in from the left, right side up, and x = 0 is its seam line.
Each strip is as wide as ``tiler.draft.finish`` cuts it for a cloth of one
:data:`~tiler.sheets.section.PITCH` of thickness, plus the turns at its own
folds, and is laid from the edge that is sewn first.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from math import pi

from tiler.draft.finish import Allowances, Finish, cut_width
from tiler.sheets.section import PITCH, Cloth, Label, Layer, Run, Section, path_length

BAND_WIDTH, BAND_SEAM = 16.0, 8.0
BINDING_WIDTH = 8.5
COVER = 7.0
"""How far the back fold passes the stitching where it is caught in the ditch."""

TRIM = 9.0
TRIMMED = 5.0
"""What stays of a raw back edge beyond the seam line."""

LEFT = -41.0
"""Where the drawing of the garment stops."""

EDGE_STITCH = 1.6
"""How far inside the binding an edge stitch runs."""

DITCH = {Finish.DOUBLE_FOLD: -2.8, Finish.RAW_EDGE: -2.8, Finish.FRENCH: -4.8}
"""Where the needle goes down beside the fold at the seam."""

BESIDE = 2.0
"""From the needle to the words beside it."""

_OWN_FOLDS: Mapping[Finish, float] = {
    Finish.FOLDED_BAND: 0.5 * pi * PITCH,
    Finish.DOUBLE_FOLD: pi * PITCH,
    Finish.FRENCH: 2.5 * pi * PITCH,
    Finish.RAW_EDGE: 0.5 * pi * PITCH,
}
"""What the folds of the strip upon itself take, which no cut width counts."""

P = PITCH


def strip_width(finish: Finish, cover: float = 0.0) -> float:
    """Give the width of the drawn strip, flat."""
    width = BAND_WIDTH if finish.is_band else BINDING_WIDTH
    return cut_width(finish, width, Allowances(BAND_SEAM, TRIM, cover, PITCH)) + _OWN_FOLDS[finish]


def sections(finish: Finish, in_ditch: bool) -> tuple[Section, ...]:
    """Give the sections of a finish in the order of work; ``in_ditch`` for the last seam of a folded binding."""
    match finish:
        case Finish.FOLDED_BAND:
            return (_ring(), *_folded_band())
        case Finish.DOUBLE_FOLD:
            return (_ring(), *_double_fold(COVER if in_ditch else 0.0))
        case Finish.FRENCH:
            return (_ring(), *_french(COVER if in_ditch else 0.0))
        case Finish.RAW_EDGE:
            return (_ring(), *_raw_edge())


def _strip(run: Run, raw: tuple[bool, bool] = (True, True)) -> Layer:
    return Layer(Cloth.STRIP, run.path(), raw)


def _garment(edge: float) -> Layer:
    return Layer(Cloth.GARMENT, Run(LEFT, 0.0).to(edge).path(), (False, True))


def _ring() -> Section:
    """Two ends of the strip, right sides together: the only section along the strip."""
    lower, upper = Run(-26.0, 0.0).to(7.0), Run(7.0, P).to(-26.0)
    return Section(
        (_strip(lower, (False, True)), _strip(upper, (True, False))),
        needle=0.0,
        labels=(Label("right sides meet", (-14.0, P / 2), -14.0), Label("ends", (7.0, 0.0), 10.0, above=False)),
    )


def _pinned(garment: Layer, strip: Layer, pin: tuple[float, float], edge: float) -> Section:
    return Section(
        (garment, strip),
        pin=pin,
        labels=(
            Label("stretch the strip", (-9.0, max(y for _, y in strip.path)), -9.0),
            Label("never the garment", (-20.0, 0.0), -20.0, above=False),
            Label("raw edges even", (edge, 0.0), edge, above=False),
        ),
    )


def _sewn(section: Section, what: str) -> Section:
    stretch, never, _ = section.labels
    return replace(section, needle=0.0, pin=None, labels=(stretch, never, Label(what, None, BESIDE, above=False)))


def _folded_band() -> tuple[Section, ...]:
    finish, w, s = Finish.FOLDED_BAND, BAND_WIDTH, BAND_SEAM
    folded = _strip(Run(s, 0.0).to(-w).fold(P).to(s))
    garment = _garment(s)
    strip = _strip(Run(s, P).to(-w).fold(2 * P).to(s))
    pinned = _pinned(garment, strip, (-2.0, 4.0), s)
    turned, seam = _turned_band(strip_width(finish))
    return (
        Section(
            (folded,),
            labels=(
                Label("press", (-w - P / 2, P / 2), -w - 3.0, press=True),
                Label("wrong sides meet", (-3.0, P / 2), -1.0),
                Label("raw edges", (s, 0.0), s, above=False),
            ),
        ),
        pinned,
        _sewn(pinned, "1 + 2 layers"),
        Section(
            turned,
            seams=(seam,),
            labels=(
                Label("right side", (-20.0, P * 0.3), -20.0),
                Label("press", (0.0, P * 0.3), 0.0, press=True),
                Label("finished width", (12.0, P * 0.3), 18.0),
                Label("allowances", (-5.0, -3 * P), -8.0, above=False),
            ),
        ),
        Section(turned, needle=-3.2, seams=(seam,), labels=(Label("2 + 2 layers", None, BESIDE - 3.2, above=False),)),
    )


def _turned_band(width: float) -> tuple[tuple[Layer, ...], tuple[tuple[float, float], ...]]:
    """Turn the band outward and its seam under the garment; every layer is sewn at the same distance from its edge."""
    s, quarter = BAND_SEAM, pi * P / 4
    under = Run(LEFT, 0.0).to(-P).fold(-P).to(-P - (s - quarter))
    # half of a step two levels down is a quarter circle and half a pitch of plumb line
    half = quarter + P / 2

    def strip(fold: float) -> Run:
        outer, inner = -P / 2 + P, -P / 2 + 2 * P
        low, high = outer - P / 2, inner - P / 2
        run = Run(low - (s - half), -2 * P).to(low).step(0.0).to(fold).fold(-P)
        return run.to(inner + P / 2).step(-3 * P).to(high - (s - half))

    start = 10.0
    fold = start + (width - path_length(strip(start).path())) / 2
    band = _strip(strip(fold))
    garment = Layer(Cloth.GARMENT, under.path(), (False, True))
    seam = (garment.at(garment.length - s), band.at(s), band.at(band.length - s))
    return (garment, band), seam


def _double_fold(c: float) -> tuple[Section, ...]:
    finish, w = Finish.DOUBLE_FOLD, BINDING_WIDTH
    width = strip_width(finish, c)
    body = width - w - pi * P / 2
    garment = _garment(w)
    flat = _strip(Run(w, 0.0).to(w - body).fold(P).to(2 * w - body))
    strip = _strip(Run(w, P).to(w - body).fold(2 * P).to(2 * w - body))
    end = body - w - pi * P / 2
    over = _strip(Run(w, P).to(0.0).fold(2 * P).to(end).fold(P).to(end - w))
    wrapped = _strip(Run(w, P).to(0.0).fold(2 * P).to(w).fold(-2 * P).to(-c).fold(-P).to(w - c))
    return (
        Section(
            (flat,),
            labels=(
                Label("press under", (w - body - P / 2, P / 2), w - body + 4.0, press=True),
                Label("wrong side", (0.0, 0.3), 0.0),
                Label("edge sewn first", (w, 0.0), 5.0, above=False),
            ),
        ),
        *_bound(garment, strip, over, wrapped, finish, c),
    )


def _french(c: float) -> tuple[Section, ...]:
    finish, w = Finish.FRENCH, BINDING_WIDTH
    width = strip_width(finish, c)
    reach = (width - pi * P / 2) / 2
    garment = _garment(w)
    folded = _strip(Run(w, 0.0).to(w - reach).fold(P).to(w))
    strip = _strip(Run(w, P).to(w - reach).fold(2 * P).to(w))
    end = (width - 2 * w - 2.5 * pi * P) / 2
    over = _strip(Run(w, P).to(0.0).fold(4 * P).to(end).fold(3 * P).to(0.0).fold(2 * P).to(w))
    wrapped = _strip(
        Run(w, P).to(0.0).fold(4 * P).to(w).fold(-2 * P).to(-c).fold(-P).to(w).fold(3 * P).to(0.0).fold(2 * P).to(w)
    )
    return (
        Section(
            (folded,),
            labels=(
                Label("press in half", (w - reach - P / 2, P / 2), w - reach + 4.0, press=True),
                Label("wrong sides meet", (-4.0, P / 2), 0.0),
                Label("both raw edges", (w, 0.0), 5.0, above=False),
            ),
        ),
        *_bound(garment, strip, over, wrapped, finish, c),
    )


def _raw_edge() -> tuple[Section, ...]:
    finish, w = Finish.RAW_EDGE, BINDING_WIDTH
    width = strip_width(finish)
    garment = _garment(w)
    strip = _strip(Run(w, P).to(w - width))
    over = _strip(Run(w, P).to(0.0).fold(2 * P).to(width - w - pi * P / 2))
    wrapped = _strip(Run(w, P).to(0.0).fold(2 * P).to(w).fold(-P).to(-TRIM))
    bound = _bound(garment, strip, over, wrapped, finish, TRIM)
    trimmed = _strip(Run(w, P).to(0.0).fold(2 * P).to(w).fold(-P).to(-TRIMMED))
    ditch = DITCH[finish]
    last = Section(
        (garment, trimmed),
        seams=(((0.0, 0.0), (0.0, P)), ((ditch, 0.0), (ditch, -P))),
        labels=(
            Label("trimmed", (-TRIMMED, -P), -9.0, above=False),
            Label("finished width", (w / 2, 2 * P), 6.0),
        ),
    )
    return (*bound, last)


def _bound(
    garment: Layer, strip: Layer, over: Layer, wrapped: Layer, finish: Finish, cover: float
) -> tuple[Section, ...]:
    """Give what all bindings share: pinned, sewn, pressed over, wrapped, caught."""
    doubled = finish is Finish.FRENCH
    first = (0.0, 0.0), *((0.0, k * P) for k in range(1, 3 if doubled else 2))
    pinned = _pinned(garment, strip, (-2.0, 4.0), BINDING_WIDTH)
    back = -P if finish is Finish.RAW_EDGE else -2 * P
    top = 4 * P if doubled else 2 * P
    done = (garment, wrapped)
    fold = -cover if finish is not Finish.RAW_EDGE else -TRIM
    needle = DITCH[finish] if cover else EDGE_STITCH
    caught = Section(done, needle=needle, seams=(first,))
    strips, cloths = caught.count(needle, Cloth.STRIP), caught.count(needle, Cloth.GARMENT)
    where = "in the ditch" if cover else "edge stitch"
    end_words = "raw back edge" if finish is Finish.RAW_EDGE else "back fold"
    return (
        pinned,
        _sewn(pinned, f"1 + {2 if doubled else 1} layers"),
        Section(
            (garment, over),
            seams=(first,),
            labels=(
                Label("press over the seam", (-top / 4, top * 0.7), -14.0, press=True),
                Label("right side", (17.0, top + 0.4), 18.0),
                Label("allowances stay", (BINDING_WIDTH - 2.0, 0.0), 4.0, above=False),
            ),
        ),
        Section(
            done,
            seams=(first,),
            labels=(
                Label("fold over the edge", (BINDING_WIDTH + (top - back) / 2, (top + back) / 2), 17.0, press=True),
                Label(end_words, (fold - (0.0 if finish is Finish.RAW_EDGE else P / 2), back + P / 2), -12.0, False),
            ),
        ),
        replace(
            caught,
            labels=(
                Label(where, None, needle + BESIDE),
                Label(f"{cloths} + {strips} layers", None, needle + BESIDE, above=False),
            ),
        ),
    )
