"""How each finish is folded and sewn, step by step, as sections; drawing mm as in ``strip_section``."""

from __future__ import annotations

from math import pi

from tiler.draft.fastening.open_ends import Ends
from tiler.draft.strip.corner import Corner
from tiler.draft.strip.finish import Finish
from tiler.draft.strip.standing import Standing
from tiler.languages.catalogue import noted
from tiler.sheets.sewing.bindings import double_fold, fold_over, french, raw_edge
from tiler.sheets.sewing.section import Cloth, Label, Layer, Run, Section, path_length
from tiler.sheets.sewing.shaped import shaped_sections
from tiler.sheets.sewing.strip import (
    BAND_SEAM,
    BESIDE,
    COVER,
    LEFT,
    TOUCH,
    WIDTH,
    P,
    garment_layer,
    layers,
    pinned,
    ring,
    sewn,
    strip_layer,
    strip_width,
)


def sections(
    finish: Finish,
    in_ditch: bool,
    corner: Corner = Corner.NONE,
    standing: Standing = Standing.FLAT,
    elastic: bool = False,
    ends: Ends = Ends.CLOSED,
    buttons: bool = False,
    runs_on: bool = False,
    shaped: bool = False,
    joined: bool = True,
    even: bool = False,
) -> tuple[Section, ...]:
    """Return the sections of a finish in the order of work; ``in_ditch`` for the last seam of a folded binding.

    A lapped strip is a band whose ends stay open until it is turned out; others may get elastic
    or be turned over at last.  The pieces of one that is cut to shape are ``joined``, unless it is open and in one.
    Where the strip is as long as its edge, it is sewn on ``even``.
    """
    # free lengths are sewn or pressed as ends that are turned in
    begin = _ends_first(finish, Ends.TURNED if runs_on else ends)
    match finish:
        case Finish.FOLDED_BAND if shaped or corner is Corner.LAPPED:
            *work, topstitch = _folded_band(even)
            return (*shaped_sections(joined), work[-1], topstitch) if shaped else (*work, _lapped(), topstitch)
        case Finish.FOLDED_BAND:
            last = [
                *([_casing()] if elastic else []),
                *([_buttonhole()] if buttons else []),
                *([_turned_over()] if standing is Standing.OVER else []),
            ]
            return (*begin, *_folded_band(even), *last)
        case Finish.DOUBLE_FOLD:
            return (*begin, *double_fold(COVER if in_ditch else 0.0, even))
        case Finish.FRENCH:
            return (*begin, *french(COVER if in_ditch else 0.0, even))
        case Finish.RAW_EDGE:
            return (*begin, *raw_edge(even))
        case Finish.FOLD_OVER:
            return (*begin, *fold_over(even))


def _folded_band(even: bool) -> tuple[Section, ...]:
    finish, s = Finish.FOLDED_BAND, BAND_SEAM
    w = WIDTH[finish]
    folded = strip_layer(Run(s, 0.0).to(-w).fold(P).to(s))
    strip = strip_layer(Run(s, P).to(-w).fold(2 * P).to(s))
    on_garment = pinned(strip, s)
    turned, seam = _turned_band(strip_width(finish))
    return (
        Section(
            (folded,),
            labels=(
                Label(noted("press"), (-w, P + TOUCH), -w - 6.0, press=True),
                Label(noted("wrong sides meet"), (-3.0, P / 2), -1.0),
                Label(noted("raw edges"), (s, 0.0), s, above=False),
            ),
        ),
        on_garment,
        sewn(on_garment, even),
        Section(
            turned,
            seams=(seam,),
            labels=(
                Label(noted("right side"), (-20.0, P * 0.3), -20.0),
                Label(noted("press"), (0.0, TOUCH), 0.0, press=True),
                Label(noted("finished width"), (12.0, P * 0.3), 18.0),
                Label(noted("allowances"), (-5.0, -3 * P), -8.0, above=False),
            ),
        ),
        Section(turned, needle=-3.2, seams=(seam,), labels=(Label(layers(2, 2), None, BESIDE - 3.2, above=False),)),
    )


def _lapped() -> Section:
    """Return one end laid over the other arm, both with their raw edges in the seam."""
    s, w = BAND_SEAM, WIDTH[Finish.FOLDED_BAND]
    arm, end = (strip_layer(Run(s, level * P).to(-w).fold((level + 1) * P).to(s)) for level in (1, 3))
    return Section(
        (garment_layer(s), arm, end),
        needle=0.0,
        labels=(
            Label(noted("the other end"), (-10.0, 4 * P), -14.0),
            Label(noted("arm"), (-14.0, 1.5 * P), -26.0, above=False),
            Label(layers(1, 4), None, BESIDE, above=False),
        ),
    )


def _ends_first(finish: Finish, ends: Ends) -> tuple[Section, ...]:
    """Return what is done to the ends before all else."""
    if ends is Ends.CLOSED or (ends is Ends.TURNED and finish.is_band):
        return (ring(),)
    if ends is not Ends.TURNED:
        return ()
    turned = strip_layer(Run(-26.0, 0.0).to(0.0).fold(P).to(-BAND_SEAM), (False, True))
    labels = (
        Label(noted("press"), (P / 2 + TOUCH, P / 2), P / 2 + 8.0, press=True),
        Label(noted("wrong sides meet"), (-3.0, P / 2), -14.0),
    )
    return (Section((turned,), labels=labels),)


def _buttonhole() -> Section:
    """Return the turned band under the needle at a buttonhole."""
    turned, seam = _turned_band(strip_width(Finish.FOLDED_BAND))
    middle = WIDTH[Finish.FOLDED_BAND] / 2
    return Section(
        turned,
        needle=middle,
        seams=(seam,),
        labels=(Label(noted("buttonhole"), (middle, P * 0.3), middle + 16.0),),
    )


def _casing() -> Section:
    """Return the turned band with elastic between its layers."""
    (garment, band), seam = _turned_band(strip_width(Finish.FOLDED_BAND), apart=2)
    fold = max(x for x, _ in band.path)
    elastic = Layer(Cloth.ELASTIC, Run(2.5 * P, -P).to(fold - P).path(), (False, False))
    return Section(
        (garment, band, elastic),
        seams=(seam,),
        labels=(
            Label(noted("right side"), (-20.0, P * 0.3), -20.0),
            Label(noted("elastic"), (fold / 2 + P, -P), fold / 2 + P),
        ),
    )


def _turned_over() -> Section:
    """Return the band folded down over itself, so that it hides its seam."""
    s, quarter, width = BAND_SEAM, pi * P / 4, strip_width(Finish.FOLDED_BAND)
    half, low, high = quarter + P / 2, 0.0, P

    def strip(roll: float) -> Run:
        run = Run(low - (s - half), -2 * P).to(low).step(0.0).to(roll).fold(P).to(-2.0).fold(2 * P).to(roll).fold(-P)
        return run.to(high + P).step(-3 * P).to(high - (s - half))

    start = 10.0
    # a millimetre of the roll is there in all four layers
    band = strip_layer(strip(start + (width - path_length(strip(start).path())) / 4))
    garment = Layer(Cloth.GARMENT, Run(LEFT, 0.0).to(-P).fold(-P).to(-P - (s - quarter)).path(), (False, True))
    seam = (garment.at(garment.length - s), band.at(s), band.at(band.length - s))
    return Section(
        (garment, band),
        seams=(seam,),
        labels=(
            Label(noted("right side"), (-20.0, P * 0.3), -20.0),
            Label(noted("finished width"), (2.0, 2.3 * P), 6.0),
        ),
    )


def _turned_band(width: float, apart: int = 1) -> tuple[tuple[Layer, ...], tuple[tuple[float, float], ...]]:
    """Turn the band outward and its seam under the garment; every layer is sewn at the same distance from its edge.

    The layers of the band lie so many pitches ``apart``.
    """
    s, quarter = BAND_SEAM, pi * P / 4
    under = Run(LEFT, 0.0).to(-P).fold(-P).to(-P - (s - quarter))
    # half of a step two levels down is a quarter circle and half a pitch of plumb line
    half = quarter + P / 2

    def strip(fold: float) -> Run:
        outer, inner = -P / 2 + P, -P / 2 + 2 * P
        low, high = outer - P / 2, inner - P / 2
        run = Run(low - (s - half), -2 * P).to(low).step(0.0).to(fold).fold(-apart * P)
        # one level less to go down by is one pitch of plumb line less, half of it on either side
        return run.to(inner + P / 2).step(-3 * P).to(high - (s - half + (apart - 1) * P / 2))

    start = 10.0
    fold = start + (width - path_length(strip(start).path())) / 2
    band = strip_layer(strip(fold))
    garment = Layer(Cloth.GARMENT, under.path(), (False, True))
    seam = (garment.at(garment.length - s), band.at(s), band.at(band.length - s))
    return (garment, band), seam
