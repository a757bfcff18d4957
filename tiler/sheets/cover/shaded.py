"""Pieces as a page map shows them: grey boxes, and the outlines of those with curved lines."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from tiler.box import Box, Point, Subpath
from tiler.sheets.canvas import Canvas
from tiler.sheets.pieces.curved.bits import clipped
from tiler.sheets.style import SHADE


def shown_in(window: Box, outlines: Sequence[Box | Subpath]) -> Iterator[Box | Subpath]:
    """Yield what a window shows of each piece."""
    for outline in outlines:
        if isinstance(outline, Box):
            if window.overlaps(outline):
                yield outline.within(window)
        elif shown := clipped(outline, window):
            yield shown


def moved(outline: Box | Subpath, right: float, up: float) -> Box | Subpath:
    """Return a piece so far to the right and upwards."""
    if isinstance(outline, Box):
        return outline.moved(right, up)
    return tuple((x + right, y + up) for x, y in outline)


def shade(canvas: Canvas, outline: Box | Subpath, at: Callable[[Point], Point]) -> None:
    """Fill a piece with grey, its points where ``at`` carries them."""
    if isinstance(outline, Box):
        canvas.shade(Box(*at((outline.x0, outline.y0)), *at((outline.x1, outline.y1))), SHADE)
    else:
        canvas.shade_round(tuple(map(at, outline)), SHADE)
