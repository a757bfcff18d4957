"""The sections of the three bindings, from the pressed strip to the last seam; drawing mm as in ``strip_section``."""

from __future__ import annotations

from dataclasses import replace
from math import pi, sqrt

from tiler.draft.strip.finish import Finish
from tiler.languages.catalogue import noted
from tiler.sheets.sewing.section import Cloth, Label, Layer, Run, Section
from tiler.sheets.sewing.strip import (
    BESIDE,
    DITCH,
    EDGE_STITCH,
    LEFT,
    TOUCH,
    TRIM,
    TRIMMED,
    WIDTH,
    P,
    garment_layer,
    handled,
    layers,
    pinned,
    sewn,
    strip_layer,
    strip_width,
)


def double_fold(c: float, even: bool = False) -> tuple[Section, ...]:
    """Return the sections of a double-fold binding whose back fold passes the stitching by ``c``."""
    finish = Finish.DOUBLE_FOLD
    w = WIDTH[finish]
    width = strip_width(finish, c)
    body = width - w - pi * P / 2
    garment = garment_layer(w)
    flat = strip_layer(Run(w, 0.0).to(w - body).fold(P).to(2 * w - body))
    strip = strip_layer(Run(w, P).to(w - body).fold(2 * P).to(2 * w - body))
    end = body - w - pi * P / 2
    over = strip_layer(Run(w, P).to(0.0).fold(2 * P).to(end).fold(P).to(end - w))
    wrapped = strip_layer(Run(w, P).to(0.0).fold(2 * P).to(w).fold(-2 * P).to(-c).fold(-P).to(w - c))
    return (
        Section(
            (flat,),
            labels=(
                Label(noted("press under"), (w - body, P + TOUCH), w - body + 4.0, press=True),
                Label(noted("wrong side"), (0.0, 0.3), 0.0),
                Label(noted("edge sewn first"), (w, 0.0), 5.0, above=False),
            ),
        ),
        *_bound(garment, strip, over, wrapped, finish, c, even),
    )


def french(c: float, even: bool = False) -> tuple[Section, ...]:
    """Return the sections of a french binding whose back fold passes the stitching by ``c``."""
    finish = Finish.FRENCH
    w = WIDTH[finish]
    width = strip_width(finish, c)
    reach = (width - pi * P / 2) / 2
    garment = garment_layer(w)
    folded = strip_layer(Run(w, 0.0).to(w - reach).fold(P).to(w))
    strip = strip_layer(Run(w, P).to(w - reach).fold(2 * P).to(w))
    end = (width - 2 * w - 2.5 * pi * P) / 2
    over = strip_layer(Run(w, P).to(0.0).fold(4 * P).to(end).fold(3 * P).to(0.0).fold(2 * P).to(w))
    wrapped = strip_layer(
        Run(w, P).to(0.0).fold(4 * P).to(w).fold(-2 * P).to(-c).fold(-P).to(w).fold(3 * P).to(0.0).fold(2 * P).to(w)
    )
    return (
        Section(
            (folded,),
            labels=(
                Label(noted("press in half"), (w - reach, P + TOUCH), max(w - reach + 4.0, LEFT + 11.0), press=True),
                Label(noted("wrong sides meet"), (-4.0, P / 2), 0.0),
                Label(noted("both raw edges"), (w, 0.0), 5.0, above=False),
            ),
        ),
        *_bound(garment, strip, over, wrapped, finish, c, even),
    )


def raw_edge(even: bool = False) -> tuple[Section, ...]:
    """Return the sections of a raw-edge binding."""
    finish = Finish.RAW_EDGE
    w = WIDTH[finish]
    width = strip_width(finish)
    garment = garment_layer(w)
    strip = strip_layer(Run(w, P).to(w - width))
    over = strip_layer(Run(w, P).to(0.0).fold(2 * P).to(width - w - pi * P / 2))
    wrapped = strip_layer(Run(w, P).to(0.0).fold(2 * P).to(w).fold(-P).to(-TRIM))
    bound = _bound(garment, strip, over, wrapped, finish, TRIM, even)
    trimmed = strip_layer(Run(w, P).to(0.0).fold(2 * P).to(w).fold(-P).to(-TRIMMED))
    ditch = DITCH[finish]
    last = Section(
        (garment, trimmed),
        seams=(((0.0, 0.0), (0.0, P)), ((ditch, 0.0), (ditch, -P))),
        labels=(
            Label(noted("trimmed"), (-TRIMMED, -P), -9.0, above=False),
            Label(noted("finished width"), (w / 2, 2 * P), 6.0),
        ),
    )
    return (*bound, last)


def fold_over(even: bool = False) -> tuple[Section, ...]:
    """Return the sections of elastic that folds over the edge: laid round it, and sewn through all in one."""
    w = WIDTH[Finish.FOLD_OVER]
    # it is as wide as it is bought, and its fold takes of that
    start = pi * P / 2
    elastic = strip_layer(Run(start, P).to(w).fold(-P).to(start), (False, False))
    done = (garment_layer(w), elastic)
    bend = (P + TOUCH) / sqrt(2)
    needle = start + EDGE_STITCH
    caught = Section(done, needle=needle)
    cloths, strips = (caught.count(needle, cloth) for cloth in (Cloth.GARMENT, Cloth.STRIP))
    return (
        Section(
            done,
            pin=(start, start + 4.0),
            labels=(
                Label(noted("fold line on the raw edge"), (w + bend, bend), 17.0),
                Label(noted("elastic"), (w / 2, -P), -12.0, above=False),
            ),
        ),
        replace(
            caught,
            labels=(
                *handled((w / 2, P), even, noted("stretch the elastic")),
                Label(layers(cloths, strips), None, needle + BESIDE, above=False),
            ),
        ),
    )


def _bound(
    garment: Layer, strip: Layer, over: Layer, wrapped: Layer, finish: Finish, cover: float, even: bool
) -> tuple[Section, ...]:
    """Return what all bindings share: pinned, sewn, pressed over, wrapped, caught."""
    doubled = finish is Finish.FRENCH
    first = (0.0, 0.0), *((0.0, k * P) for k in range(1, 3 if doubled else 2))
    on_garment = pinned(strip, WIDTH[finish])
    back = -P if finish is Finish.RAW_EDGE else -2 * P
    top = 4 * P if doubled else 2 * P
    done = (garment, wrapped)
    bend = ((top - back) / 2 + TOUCH) / sqrt(2)
    fold = -cover if finish is not Finish.RAW_EDGE else -TRIM
    needle = DITCH[finish] if cover else EDGE_STITCH
    caught = Section(done, needle=needle, seams=(first,))
    strips, cloths = caught.count(needle, Cloth.STRIP), caught.count(needle, Cloth.GARMENT)
    where = noted("in the ditch") if cover else noted("edge stitch")
    end_words = noted("raw back edge") if finish is Finish.RAW_EDGE else noted("back fold")
    return (
        on_garment,
        sewn(on_garment, even),
        Section(
            (garment, over),
            seams=(first,),
            labels=(
                Label(noted("press over the seam"), (0.0, top + TOUCH), -14.0, press=True),
                Label(noted("right side"), (17.0, top + 0.4), 18.0),
                Label(noted("allowances stay"), (WIDTH[finish] - 2.0, 0.0), 4.0, above=False),
            ),
        ),
        Section(
            done,
            seams=(first,),
            labels=(
                Label(noted("fold over the edge"), (WIDTH[finish] + bend, (top + back) / 2 + bend), 17.0, press=True),
                Label(end_words, (fold - (0.0 if finish is Finish.RAW_EDGE else P / 2), back + P / 2), -12.0, False),
            ),
        ),
        replace(
            caught,
            labels=(
                Label(where, None, needle + BESIDE),
                Label(layers(cloths, strips), None, needle + BESIDE, above=False),
            ),
        ),
    )
