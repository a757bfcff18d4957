"""Register marks: where two neighbouring tiles, or two parts of a strip, meet; sheet mm.

Three marks stand in the middle of every shared strip: one near each end and one
half way.  The outer ones keep clear of the corner that four tiles share; between two
parts of a strip no corner is shared, and they stand as near to the ends as each still
belongs to the strip's side.  They keep off what is cut along and off words; where three
have no room for that, two do, and where a line runs along the middle all stand beside it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf

from tiler.box import Box, Point, Subpath
from tiler.declaration import Mark
from tiler.paper import MARK_SIZE
from tiler.sheets.layout.grid import Tile
from tiler.sheets.layout.joints import FAR, NEAR, OFF_FRAME, STEP_ASIDE, TINY
from tiler.sheets.layout.stack import Pane
from tiler.sheets.pieces.curved.bits import goes_round

STEP, FINE_STEP = 4.0, 1.0
"""A mark gives way to lines and words in such steps; in finer ones between two parts of a strip, mm."""

APART = 30.0
"""Least white between two marks of neighbouring tiles, mm."""

WHITE = 0.5
"""Between a mark and words, mm."""


@dataclass(frozen=True)
class Around:
    """What marks keep off on the sheet: the bounds of a piece, its texts, and the lines along which it is cut.

    One with curved lines, as its ``outline`` in few points, may leave joints between its bounds alone.
    """

    bounds: Box
    texts: Sequence[Box]
    cuts: Sequence[Box]
    outline: Subpath = ()

    def meets(self, one: Box, other: Box) -> bool:
        """Tell whether any of it lies on what two windows share, or may."""
        shared = one.within(other)
        # where no line runs it is all inside or all outside
        cut = not self.outline or any(line.grown(TINY).overlaps(shared) for line in self.cuts)
        return cut or goes_round(self.outline, shared.middle)


def register_marks(tiles: Sequence[Tile], overlap: float, around: Sequence[Around]) -> tuple[Mark, ...]:
    """Return the marks of neighbours that a piece runs across, each with the point that both show.

    Pages that share nothing are not taped: nothing at their edges asks for it.
    """
    at = {(tile.row, tile.column): tile for tile in tiles}
    marks: list[Mark] = []
    for tile in tiles:
        right = at.get((tile.row, tile.column + 1))
        below = at.get((tile.row + 1, tile.column))
        window, inset = tile.window, overlap + MARK_SIZE
        if right and any(
            _across(one.bounds, window, right.window) and one.meets(window, right.window) for one in around
        ):
            x = window.x1 - overlap / 2
            joint = Box(x, window.y0 + inset, x, window.y1 - inset)
            marks += [Mark((tile.code, right.code), at) for at in _points(joint, overlap, around, STEP, APART)]
        if below and any(_down(one.bounds, window, below.window) and one.meets(window, below.window) for one in around):
            y = window.y0 + overlap / 2
            joint = Box(window.x0 + inset, y, window.x1 - inset, y)
            marks += [Mark((tile.code, below.code), at) for at in _points(joint, overlap, around, STEP, APART)]
    return tuple(marks)


def _across(piece: Box, left: Box, right: Box) -> bool:
    """Tell whether neither of two windows beside each other shows a piece from side to side."""
    beside = min(piece.y1, left.y1) > max(piece.y0, left.y0)
    return beside and piece.x1 > left.x1 + TINY and piece.x0 < right.x0 - TINY


def _down(piece: Box, upper: Box, lower: Box) -> bool:
    """Tell whether neither of two windows above each other shows a piece from its foot to its top."""
    above = min(piece.x1, upper.x1) > max(piece.x0, upper.x0)
    return above and piece.y0 < upper.y0 - TINY and piece.y1 > lower.y1 + TINY


def pane_marks(panes: Sequence[Pane], overlap: float, turned: bool, around: Sequence[Around]) -> tuple[Mark, ...]:
    """Return the marks of all joints between parts that follow each other on a strip."""
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
        marks += [Mark(codes, at) for at in _points(joint, overlap, around, FINE_STEP, MARK_SIZE)]
    return tuple(marks)


Cost = tuple[float, float, float, float]
"""What speaks against marks, the worst first; that of several marks is added.

How near they are to cut lines, up to the least distance; how much of words they would
cover, mm²; how near they are to cut lines, up to the usual distance; how far they are from
where they are wanted.
"""


@dataclass(frozen=True)
class _Place:
    """A place along a joint, and what speaks against a mark there."""

    at: float
    near: float
    covered: float
    close: float

    def cost(self, wanted: float, before: Cost) -> Cost:
        """Return the cost of a mark here that is wanted at a distance, and of those before it."""
        near, covered, close, far = before
        return near + self.near, covered + self.covered, close + self.close, far + abs(self.at - wanted)


def _points(joint: Box, overlap: float, around: Sequence[Around], step: float, apart: float) -> list[Point]:
    """Return the points of a joint that cost least: in the middle of the shared strip, else beside it."""
    cost, points = _on_line(joint, around, step, apart)
    if not cost[0] and not cost[1]:
        return points
    room = (overlap - MARK_SIZE) / 2 - OFF_FRAME
    found = [(cost, 0.0, points)]
    for off in (side * (k + 1) * STEP_ASIDE for k in range(int(room / STEP_ASIDE)) for side in (1, -1)):
        # a mark belongs to the side of its frame that is nearest
        beside = (
            Box(joint.x0 + off, joint.y0 + abs(off), joint.x1 + off, joint.y1 - abs(off))
            if joint.width == 0.0
            else Box(joint.x0 + abs(off), joint.y0 + off, joint.x1 - abs(off), joint.y1 + off)
        )
        if beside.width + beside.height >= MARK_SIZE + WHITE:
            cost, points = _on_line(beside, around, step, apart)
            found.append((cost, abs(off), points))
            if not cost[0] and not cost[1]:
                break
    return min(found, key=lambda one: (one[0][:2], one[1]))[2]


def _on_line(joint: Box, around: Sequence[Around], step: float, apart: float) -> tuple[Cost, list[Point]]:
    """Return points of a line, ``apart`` where it is so long: three, or two where three have no room; and their cost.

    They lie as near to its ends and its middle as lines and words allow; places are tried in steps along it.
    """
    length = joint.width + joint.height
    upright = joint.width == 0.0

    def point(at: float) -> Point:
        return (joint.x0, joint.y0 + at) if upright else (joint.x0 + at, joint.y0)

    strip = joint.grown(MARK_SIZE / 2 + FAR)
    near = [one for one in around if one.bounds.overlaps(strip)]
    texts = [text for one in near for text in one.texts if text.overlaps(strip)]
    cuts = [cut for one in near for cut in one.cuts if cut.overlaps(strip, -WHITE)]
    tried = sorted({0.0, length / 2, length, *(k * step for k in range(int(length / step) + 1))})
    if cuts:
        # beside a line is where the least white is kept to a hair
        tried = sorted({*tried, *_beside(cuts, joint, upright, length)})
    places = [_judged(at, point(at), texts, cuts) for at in tried]
    three, two = _spread(places, (0.0, length / 2, length), apart), _spread(places, (0.0, length), apart)
    cost, taken = two if two[0][:2] < three[0][:2] else three
    return cost, [point(at) for at in taken]


def _beside(cuts: Sequence[Box], joint: Box, upright: bool, length: float) -> list[float]:
    start = joint.y0 if upright else joint.x0
    off = [MARK_SIZE / 2 + NEAR + 0.01, MARK_SIZE / 2 + FAR + 0.01]
    ends = [((cut.y0, cut.y1) if upright else (cut.x0, cut.x1)) for cut in cuts]
    return [at for low, high in ends for by in off for at in (low - by - start, high + by - start) if 0 <= at <= length]


def _spread(places: Sequence[_Place], ends: Sequence[float], apart: float) -> tuple[Cost, tuple[float, ...]]:
    """Choose a place for each of the distances wanted, so that the marks together cost least."""
    apart = min(apart, ends[-1] / (len(ends) - 1))
    before: list[tuple[Cost, tuple[float, ...]]] = [((0.0, 0.0, 0.0, 0.0), ())] * len(places)
    for number, end in enumerate(ends):
        found: list[tuple[Cost, tuple[float, ...]]] = []
        least, reached = None, 0
        for place in places:
            while reached < len(places) and (not number or places[reached].at <= place.at - apart + TINY):
                least = before[reached] if least is None else min(least, before[reached])
                reached += 1
            cost, chosen = least or ((inf, inf, inf, inf), ())
            found.append((place.cost(end, cost), (*chosen, place.at)))
        before = found
    return min(before)


def _judged(at: float, point: Point, texts: Sequence[Box], cuts: Sequence[Box]) -> _Place:
    mark = Box(*point, *point).grown(MARK_SIZE / 2)
    white = min((_white(mark, cut) for cut in cuts), default=FAR)
    box = mark.grown(WHITE)
    covered = sum(
        (min(box.x1, text.x1) - max(box.x0, text.x0)) * (min(box.y1, text.y1) - max(box.y0, text.y0))
        for text in texts
        if box.overlaps(text)
    )
    return _Place(at, round(max(0.0, NEAR - white), 3), round(covered, 3), round(max(0.0, FAR - white), 3))


def _white(one: Box, two: Box) -> float:
    """Return how far two boxes lie apart on the axis on which they lie further apart; less than 0 within each other."""
    return max(one.x0 - two.x1, two.x0 - one.x1, one.y0 - two.y1, two.y0 - one.y1)
