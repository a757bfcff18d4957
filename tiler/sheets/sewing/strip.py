"""What the sections of all finishes share: the drawn sizes, the strip's ends, the strip on the garment; drawing mm.

The garment comes in from the left, right side up, and x = 0 is its seam line.
Each strip is as wide as ``tiler.draft.strip.finish`` cuts it for a cloth of one
:data:`~tiler.sheets.sewing.section.PITCH` of thickness, and is laid from the edge
that is sewn first.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import pi

from tiler.draft.strip.finish import Allowances, Finish, cut_width
from tiler.languages.catalogue import noted
from tiler.languages.words import Words
from tiler.sheets.sewing.section import PITCH, THICK, Cloth, Label, Layer, Run, Section

BAND_SEAM = 8.0
WIDTH: Mapping[Finish, float] = {
    Finish.FOLDED_BAND: 16.0,
    Finish.DOUBLE_FOLD: 8.5,
    Finish.FRENCH: 7.0,
    Finish.RAW_EDGE: 8.5,
    Finish.FOLD_OVER: 8.5,
}
"""The finished width as drawn."""

COVER = 6.5
"""How far the back fold passes the stitching where it is caught in the ditch."""

TRIM = 9.0
TRIMMED = 5.0
"""What stays of a raw back edge beyond the seam line."""

LEFT = -30.0
"""Where the drawing of the garment stops."""

BEYOND = 3.0
"""How much further it goes than a strip that lies on it."""

EDGE_STITCH = 1.6
"""How far inside the binding an edge stitch runs."""

DITCH = {Finish.DOUBLE_FOLD: -2.8, Finish.RAW_EDGE: -2.8, Finish.FRENCH: -4.6}
"""Where the needle goes down beside the fold at the seam."""

BESIDE = 2.0
"""From the needle to the words beside it."""

BAND_FOLD = 0.5 * pi * PITCH
"""What the fold of a band takes, whose cut width counts no thickness."""

P = PITCH
TOUCH = THICK / 2 + 0.3
"""From the middle of a layer to an arrow that touches its outside."""


def strip_width(finish: Finish, cover: float = 0.0) -> float:
    """Return the width of the drawn strip, flat."""
    cut = cut_width(finish, WIDTH[finish], Allowances(BAND_SEAM, TRIM, cover, PITCH, PITCH))
    return cut + BAND_FOLD if finish.is_band else cut


def strip_layer(run: Run, raw: tuple[bool, bool] = (True, True)) -> Layer:
    """Return a layer of the strip."""
    return Layer(Cloth.STRIP, run.path(), raw)


def garment_layer(edge: float) -> Layer:
    """Return the garment, flat, with its raw edge at ``edge``."""
    return Layer(Cloth.GARMENT, Run(LEFT, 0.0).to(edge).path(), (False, True))


def layers(garment: int, strip: int) -> Words:
    """Say how many layers of both cloths lie under the needle."""
    return Words("{garment} garment + {strip} strip", garment=garment, strip=strip)


def ring() -> Section:
    """Two ends of the strip, right sides together: the only section along the strip."""
    lower, upper = Run(-26.0, 0.0).to(7.0), Run(7.0, P).to(-26.0)
    return Section(
        (strip_layer(lower, (False, True)), strip_layer(upper, (True, False))),
        needle=0.0,
        labels=(Label(noted("along the strip, right sides meet"), (-22.0, P / 2), -22.0),),
    )


def pinned(strip: Layer, edge: float) -> Section:
    """Return the strip on the garment, their raw edges at ``edge``; the garment goes on beyond the strip."""
    left = min(LEFT, min(x for x, _ in strip.path) - BEYOND)
    return Section(
        (Layer(Cloth.GARMENT, Run(left, 0.0).to(edge).path(), (False, True)), strip),
        pin=(-2.0, 2.0),
        labels=(
            Label(noted("right sides meet"), (-16.0, P / 2), -16.0),
            Label(noted("raw edges even"), (edge, P / 2), edge + 5.0),
        ),
    )


def handled(top: tuple[float, float], even: bool, what: str = noted("stretch the strip")) -> tuple[Label, ...]:
    """Say at the ``top`` of the strip what is stretched, and what is not."""
    if even:
        return (Label(noted("strip and edge even"), top, -16.0),)
    return (Label(what, top, -16.0), Label(noted("never the garment"), (-20.0, 0.0), -20.0, above=False))


def sewn(before: Section, even: bool = False) -> Section:
    """Return the same layers under the needle; ``even`` where nothing is stretched."""
    strip = before.layers[1]
    return Section(
        before.layers,
        needle=0.0,
        labels=(
            *handled((-16.0, max(strip.levels(-16.0))), even),
            Label(layers(1, len(strip.levels(0.0))), None, BESIDE, above=False),
        ),
    )
