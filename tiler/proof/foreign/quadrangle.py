"""Squares however they are drawn and turned: four sides that meet at right angles; mm, corners as complex numbers.

A square that stands askew, scaled by ``sx`` across and ``sy`` down, has the sides
``p = n (sx cos t, sy sin t)`` and ``q = n (-sx sin t, sy cos t)``, so that
``hypot(p.x, q.x) = n sx`` and ``hypot(p.y, q.y) = n sy`` whatever its turn ``t``: that
is what "across" and "down" mean here.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from math import hypot

from tiler.box import Box
from tiler.proof.foreign.sides import MEET, Side, corners_of, joined_sides, sides_of, straight_runs
from tiler.reading.pdf.strokes import Stroke

LEAST, MOST = 8.0, 320.0
"""Sides of what may be a test square, mm."""

SHORTEST = 0.8
"""Shorter lines are no part of a side that is put together."""

LOPSIDED = 0.15
"""Sides that differ by more than this share make no square, however badly it was scaled."""

ASKEW = 0.15
"""Cosine up to which two sides still stand at right angles, however badly the square was scaled."""

FULL_SIDES = 0.4
"""Least share of a side that is straight where the corners are rounded."""

MOST_LINES = 4000
"""On a page with more straight lines, squares are not put together from single lines."""

MOST_AT_A_POINT = 24
"""Of more sides that meet at one point the rest is not tried."""

CELL = 2.0
"""Ends of sides are looked up in cells of this size."""


class Shape(StrEnum):
    """What has the four corners."""

    SQUARE = "square"
    CIRCLE = "circle"
    MARKS = "corner marks"


class Edge(StrEnum):
    """What of a line a size is taken from."""

    MIDDLE = "middle"
    OUTER = "outer edge"
    INNER = "inner edge"


@dataclass(frozen=True)
class Quadrangle:
    """Four corners that go round, and the sides as they are drawn; of a circle the corners around it.

    ``line`` is how thick its line is where nothing tells which edge its maker means, else 0.
    """

    corners: tuple[complex, complex, complex, complex]
    sides: tuple[Side, ...]
    shape: Shape = Shape.SQUARE
    line: float = 0.0
    stroked: bool = True

    @cached_property
    def box(self) -> Box:
        """The upright box around the corners."""
        return Box.around((corner.real, corner.imag) for corner in self.corners)

    @cached_property
    def _sides(self) -> tuple[complex, complex]:
        a, b, c, d = self.corners
        return ((b - a) + (c - d)) / 2, ((d - a) + (c - b)) / 2

    @property
    def across(self) -> float:
        """Its size across the page."""
        p, q = self._sides
        return hypot(p.real, q.real)

    @property
    def down(self) -> float:
        """Its size down the page."""
        p, q = self._sides
        return hypot(p.imag, q.imag)

    @property
    def side(self) -> float:
        """The mean of both."""
        return (self.across + self.down) / 2

    @property
    def leaning(self) -> float:
        """How far it is from a square that was only turned, and then scaled along the page.

        A turn and a scaling along the axes leave the rows of the matrix at right angles, as no shear does.
        """
        p, q = self._sides
        a, b, c, d = self.corners
        skew = (p.real * p.imag + q.real * q.imag) / (self.across * self.down)
        return max(abs(skew) * self.side, abs(a + c - b - d) / 2)

    @property
    def squarish(self) -> bool:
        """Tell whether it may be meant as a square of a size that test squares have."""
        p, q = self._sides
        small, large = sorted((abs(p), abs(q)))
        return self.rectangular and large / small - 1 <= LOPSIDED

    @property
    def rectangular(self) -> bool:
        """Tell whether it may be meant as a rectangle of the size of test squares."""
        p, q = self._sides
        small, large = sorted((abs(p), abs(q)))
        if small < LEAST or large > MOST:
            return False
        upright = abs(p.real * q.real + p.imag * q.imag) <= ASKEW * small * large
        return upright and self.leaning <= ASKEW * small

    @property
    def pen(self) -> float:
        """How thick the pen is that draws all sides alike, else 0."""
        pens = [side.pen for side in self.sides]
        return pens[0] if max(pens) - min(pens) <= 1e-3 else 0.0

    def edges(self) -> tuple[tuple[Edge, float, float], ...]:
        """Return the sizes across and down by each edge that may be meant, the likeliest first."""
        middle = (Edge.MIDDLE, self.across, self.down)
        thick = self.line or (self.pen if self.shape is not Shape.MARKS else 0.0)
        if not thick:
            return (middle,)
        outer = (Edge.OUTER, self.across + thick, self.down + thick)
        inner = (Edge.INNER, self.across - thick, self.down - thick)
        return (outer, middle, inner) if self.line else (middle, outer, inner)


def quadrangles(strokes: Iterable[Stroke], oblong: bool = False) -> list[Quadrangle]:
    """Return all squares of a page, or all rectangles; what is filled stands last, in painting order."""
    whole: list[Quadrangle] = []
    filled: list[Quadrangle] = []
    pool: list[Side] = []
    for stroke in strokes:
        if len(stroke.points) < 2 or not (stroke.stroked or stroke.filled):
            continue
        found = _of_path(stroke, oblong) if len(stroke.points) > 3 else None
        if found and stroke.stroked:
            whole.append(found)
        elif found:
            filled.append(found)
        else:
            pool += sides_of(stroke, SHORTEST)
    if len(pool) <= MOST_LINES:
        long = [side for side in (*pool, *joined_sides(pool)) if side.length >= LEAST]
        whole += _of_sides(long, oblong)
    return [*whole, *filled]


def _of_path(stroke: Stroke, oblong: bool) -> Quadrangle | None:
    corners = corners_of(stroke)
    if corners is None:
        corners = _behind_rounded(stroke)
    if corners is None or len(corners) != 4:
        return None
    a, b, c, d = corners
    edge = not stroke.stroked
    pen = 0.0 if edge else stroke.weight
    sides = tuple(Side(s, e, gap=stroke.gap, edge=edge, pen=pen) for s, e in ((a, b), (b, c), (c, d), (d, a)))
    found = Quadrangle((a, b, c, d), sides, stroked=stroke.stroked)
    return found if found.squarish or (oblong and found.rectangular) else None


def _behind_rounded(stroke: Stroke) -> list[complex] | None:
    """Return the corners where four straight sides would meet that curves join."""
    runs = straight_runs(stroke)
    if not stroke.closed or not stroke.curves or len(runs) != 4 or any(len(run) != 2 for run in runs):
        return None
    sides = [Side(run[0], run[1]) for run in runs]
    corners = [_crossing(one, two) for one, two in zip(sides, [*sides[1:], sides[0]], strict=True)]
    if any(corner is None for corner in corners):
        return None
    whole = [corner for corner in corners if corner is not None]
    far = max(abs(one - two) for one, two in zip(whole, [*whole[1:], whole[0]], strict=True))
    return whole if min(side.length for side in sides) >= FULL_SIDES * far else None


def _crossing(one: Side, two: Side) -> complex | None:
    p, q = one.end - one.start, two.end - two.start
    turn = p.real * q.imag - p.imag * q.real
    if abs(turn) <= 0.5 * abs(p) * abs(q):
        return None
    apart = two.start - one.start
    return one.start + p * ((apart.real * q.imag - apart.imag * q.real) / turn)


def _of_sides(pool: Sequence[Side], oblong: bool) -> Iterator[Quadrangle]:
    """Put four sides together whose ends meet."""
    both = [way for side in pool for way in (side, side.turned())]
    table: dict[tuple[int, int], list[int]] = {}
    for index, side in enumerate(both):
        table.setdefault(_cell(side.start), []).append(index)
    done: set[frozenset[int]] = set()
    for first in range(len(both)):
        for second in _turning_left(both, table, first, oblong):
            for third in _turning_left(both, table, second, oblong):
                for fourth in _turning_left(both, table, third, oblong):
                    ring = (first, second, third, fourth)
                    key = frozenset(index // 2 for index in ring)
                    if len(key) < 4 or key in done or not _meet(both[fourth], both[first]):
                        continue
                    done.add(key)
                    found = _closed([both[index] for index in ring], oblong)
                    if found:
                        yield found


def _closed(sides: Sequence[Side], oblong: bool) -> Quadrangle | None:
    corners = [_crossing(one, two) for one, two in zip([sides[-1], *sides[:-1]], sides, strict=True)]
    a, b, c, d = corners
    if a is None or b is None or c is None or d is None:
        return None
    weights = [side.weight for side in sides]
    line = sum(weights) / 4 if min(weights) > 0 else 0.0
    found = Quadrangle((a, b, c, d), tuple(sides), line=line)
    return found if found.squarish or (oblong and found.rectangular) else None


def _turning_left(
    both: Sequence[Side], table: dict[tuple[int, int], list[int]], index: int, oblong: bool
) -> Iterator[int]:
    side = both[index]
    column, row = _cell(side.end)
    tried = 0
    for x in (column - 1, column, column + 1):
        for y in (row - 1, row, row + 1):
            for other in table.get((x, y), ()):
                tried += 1
                if tried > 4 * MOST_AT_A_POINT:
                    return
                if other // 2 != index // 2 and _square_on(side, both[other], oblong) and _meet(side, both[other]):
                    yield other


def _square_on(one: Side, two: Side, oblong: bool) -> bool:
    p, q = one.direction, two.direction
    small, large = sorted((one.length, two.length))
    apart = 2 * (MEET + max(one.weight, two.weight))
    return (
        p.real * q.imag - p.imag * q.real > 0
        and abs(p.real * q.real + p.imag * q.imag) <= ASKEW
        and (oblong or large - small <= LOPSIDED * large + apart)
    )


def _meet(one: Side, two: Side) -> bool:
    return abs(one.end - two.start) <= MEET + (one.weight + two.weight) / 2


def _cell(point: complex) -> tuple[int, int]:
    return int(point.real // CELL), int(point.imag // CELL)
