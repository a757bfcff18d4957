"""The lines of a contour band's piece, part by part; piece mm."""

from __future__ import annotations

from collections.abc import Iterator

from tiler.box import Point, Subpath
from tiler.declaration import Tag
from tiler.draft.contour.shape import Shape, place_on
from tiler.draft.strip.notch import Notch
from tiler.drawn import Part


def lines_of(
    shape: Shape, notches: tuple[Notch, ...], allowance: float, depth: float, apart: float, bracket: tuple[Subpath, ...]
) -> tuple[Part, ...]:
    """Return the lines of a piece; ``bracket`` is that of its fold edge, ``depth`` how deep notches are cut, mm."""
    fold = ((shape.lower[0], shape.upper[0]), *bracket)
    seams = (shape.sewn, shape.second if shape.doubled else shape.finished)
    return (
        Part(Tag.CUT_LINE, (shape.outline,)),
        *((Part(Tag.FOLD_LINE, fold),) if shape.on_fold else ()),
        *((Part(Tag.PRESS_LINE, (shape.finished,)),) if shape.doubled else ()),
        *(Part(Tag.SEAM_LINE, (seam,)) for seam in seams),
        *(Part(Tag.JOIN_LINE, (end,)) for end in shape.ends),
        *_notches(shape, notches, allowance, depth, apart),
    )


def fold_lanes(shape: Shape, reach: float) -> tuple[float, ...]:
    """Return the heights of the seam lines beside the fold, no line of a lane crossing it within ``reach`` mm."""
    low, high = ([y for x, y in line if x <= reach] or [line[0][1]] for line in (shape.sewn, shape.finished))
    return max(low), max(min(high), max(low) + 1.0)


def tick(shape: Shape, along: float, allowance: float, depth: float) -> Subpath:
    """Return a notch so far along the seam line: square to the curve, from the cut edge inwards."""
    if shape.on_fold and along == 0.0:
        # what lies on the fold is cut along it
        x, y = shape.lower[0]
        return ((x, y), (x, y + depth))
    at, (way_x, way_y) = place_on(shape.sewn, along)

    def off(distance: float) -> Point:
        return (at[0] + distance * way_y, at[1] - distance * way_x)

    return (off(allowance), off(allowance - depth))


def _notches(shape: Shape, notches: tuple[Notch, ...], allowance: float, depth: float, apart: float) -> Iterator[Part]:
    for notch in notches:
        places = (notch.at_mm - apart / 2, notch.at_mm + apart / 2) if notch.double else (notch.at_mm,)
        yield Part(Tag.NOTCH, tuple(tick(shape, at, allowance, depth) for at in places))
