"""Register marks: where two neighbouring tiles, or two parts of a strip, meet; sheet mm.

Three marks stand in the middle of every shared strip: one near each end and one
half way.  The outer ones keep clear of the corner that four tiles share; between two
parts of a strip no corner is shared, and they stand as near to the ends as each still
belongs to the strip's side.
"""

from __future__ import annotations

from collections.abc import Sequence

from tiler.declaration import Box, Mark, Point
from tiler.paper import MARK_SIZE
from tiler.sheets.layout import Tile
from tiler.sheets.stack import Pane

Words = Sequence[tuple[Box, Sequence[Box]]]
"""The bounds of each piece on the sheet, and the places of its texts."""

STEP = 4.0
MOST_STEPS = 6
"""A mark gives way to the words of a piece by up to this many steps."""


def register_marks(tiles: Sequence[Tile], overlap: float, words: Words) -> tuple[Mark, ...]:
    """Give the marks of all neighbours, each with the point that both show.

    They keep clear of ``words``.
    """
    at = {(tile.row, tile.column): tile for tile in tiles}
    marks: list[Mark] = []
    for tile in tiles:
        right = at.get((tile.row, tile.column + 1))
        below = at.get((tile.row + 1, tile.column))
        window, inset = tile.window, overlap + MARK_SIZE
        if right:
            x = window.x1 - overlap / 2
            strip = Box(x, window.y0, x, window.y1).grown(MARK_SIZE)
            near = _near(strip, words)
            for y, inwards in _ends(window.y0 + inset, window.y1 - inset):
                marks.append(_mark(tile, right, [(x, y + k * STEP * inwards) for k in range(MOST_STEPS)], near))
        if below:
            y = window.y0 + overlap / 2
            strip = Box(window.x0, y, window.x1, y).grown(MARK_SIZE)
            near = _near(strip, words)
            for x, inwards in _ends(window.x0 + inset, window.x1 - inset):
                marks.append(_mark(tile, below, [(x + k * STEP * inwards, y) for k in range(MOST_STEPS)], near))
    return tuple(marks)


def pane_marks(panes: Sequence[Pane], overlap: float, turned: bool) -> tuple[Mark, ...]:
    """Give the marks of all joints between parts that follow each other on a strip."""
    at = {(pane.part.strip, pane.part.number): pane for pane in panes}
    marks: list[Mark] = []
    for (strip, number), pane in at.items():
        following = at.get((strip, number + 1))
        if following is None:
            continue
        a, b = pane.window, following.window
        codes = (pane.part.code, following.part.code)
        inset = overlap / 2 + 1.0
        if turned:
            low, high, y = max(a.x0, b.x0) + inset, min(a.x1, b.x1) - inset, a.y1 - overlap / 2
            marks += [Mark(codes, (x, y)) for x in (low, (low + high) / 2, high)]
        else:
            low, high, x = max(a.y0, b.y0) + inset, min(a.y1, b.y1) - inset, a.x1 - overlap / 2
            marks += [Mark(codes, (x, y)) for y in (low, (low + high) / 2, high)]
    return tuple(marks)


def _near(strip: Box, words: Words) -> list[Box]:
    return [text for bounds, texts in words if bounds.overlaps(strip) for text in texts if text.overlaps(strip)]


def _ends(low: float, high: float) -> tuple[tuple[float, float], ...]:
    """Give the three places along a strip, and the way in which each may move."""
    return ((low, 1.0), ((low + high) / 2, 0.5), (high, -1.0))


def _mark(tile: Tile, neighbour: Tile, places: Sequence[Point], texts: Sequence[Box]) -> Mark:
    def covered(at: Point) -> float:
        box = Box(*at, *at).grown(MARK_SIZE / 2)
        return sum(
            (min(box.x1, text.x1) - max(box.x0, text.x0)) * (min(box.y1, text.y1) - max(box.y0, text.y0))
            for text in texts
            if box.overlaps(text)
        )

    return Mark((tile.code, neighbour.code), min(places, key=covered))
