"""Register marks: where two neighbouring tiles, or two parts of a strip, meet; sheet mm.

Three marks stand in the middle of every shared strip: one near each end and one
half way.  The outer ones keep clear of the corner that four tiles share; between two
parts of a strip no corner is shared, and they stand as near to the ends as each still
belongs to the strip's side.
"""

from __future__ import annotations

from collections.abc import Sequence

from tiler.box import Box, Point
from tiler.declaration import Mark
from tiler.paper import MARK_SIZE
from tiler.sheets.layout.grid import Tile
from tiler.sheets.layout.joints import TINY
from tiler.sheets.layout.stack import Pane

Words = Sequence[tuple[Box, Sequence[Box]]]
"""The bounds of each piece on the sheet, and the places of its texts."""

STEP, FINE_STEP = 4.0, 1.0
"""A mark gives way to the words of a piece in such steps; in finer ones between two parts of a strip, mm."""

APART = 30.0
"""Least white between two marks of neighbouring tiles, mm."""

WHITE = 0.5
"""Between a mark and words, mm."""


def register_marks(tiles: Sequence[Tile], overlap: float, words: Words) -> tuple[Mark, ...]:
    """Return the marks of all neighbours, each with the point that both show.

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
            joint = Box(x, window.y0 + inset, x, window.y1 - inset)
            near = _near(joint.grown(MARK_SIZE), words)
            marks += [Mark((tile.code, right.code), at) for at in _three(joint, near, STEP, APART)]
        if below:
            y = window.y0 + overlap / 2
            joint = Box(window.x0 + inset, y, window.x1 - inset, y)
            near = _near(joint.grown(MARK_SIZE), words)
            marks += [Mark((tile.code, below.code), at) for at in _three(joint, near, STEP, APART)]
    return tuple(marks)


def pane_marks(panes: Sequence[Pane], overlap: float, turned: bool, words: Words) -> tuple[Mark, ...]:
    """Return the marks of all joints between parts that follow each other on a strip.

    They keep clear of ``words`` where the strip is wide enough.
    """
    at = {(pane.part.strip, pane.part.number): pane for pane in panes}
    marks: list[Mark] = []
    for (strip, number), pane in at.items():
        following = at.get((strip, number + 1))
        if following is None:
            continue
        a, b = pane.window, following.window
        codes = (pane.part.code, following.part.code)
        inset = overlap / 2 + 1.0
        low, high = (
            (max(a.x0, b.x0) + inset, min(a.x1, b.x1) - inset)
            if turned
            else (max(a.y0, b.y0) + inset, min(a.y1, b.y1) - inset)
        )
        along = (a.y1 if turned else a.x1) - overlap / 2
        joint = Box(low, along, high, along) if turned else Box(along, low, along, high)
        near = _near(joint.grown(MARK_SIZE), words)
        marks += [Mark(codes, at) for at in _three(joint, near, FINE_STEP, MARK_SIZE)]
    return tuple(marks)


def _near(strip: Box, words: Words) -> list[Box]:
    return [text for bounds, texts in words if bounds.overlaps(strip) for text in texts if text.overlaps(strip)]


def _three(joint: Box, texts: Sequence[Box], step: float, apart: float) -> list[Point]:
    """Return three points of a joint, as near to its ends and its middle as words allow, ``apart`` where it is so long.

    They are tried in steps along it.
    """
    length = joint.width + joint.height
    upright = joint.width == 0.0

    def point(at: float) -> Point:
        return (joint.x0, joint.y0 + at) if upright else (joint.x0 + at, joint.y0)

    ends = (0.0, length / 2, length)
    if not any(_covered(point(at), texts) for at in ends):
        return [point(at) for at in ends]
    apart = min(apart, length / 2)
    places = sorted({*ends, *(k * step for k in range(int(length / step) + 1))})
    found: list[float] = []
    for number, end in enumerate(ends):
        least = found[-1] + apart if found else 0.0
        most = length - (2 - number) * apart
        fits = [at for at in places if least - TINY <= at <= most + TINY] or [least]
        found.append(min((_covered(point(at), texts), abs(at - end), at) for at in fits)[2])
    return [point(at) for at in found]


def _covered(at: Point, texts: Sequence[Box]) -> float:
    """Return how much of words a mark would cover, mm²."""
    box = Box(*at, *at).grown(MARK_SIZE / 2 + WHITE)
    return sum(
        (min(box.x1, text.x1) - max(box.x0, text.x0)) * (min(box.y1, text.y1) - max(box.y0, text.y0))
        for text in texts
        if box.overlaps(text)
    )
