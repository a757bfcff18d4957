"""A piece with curved lines in bits, of which each page shows some; mm.

Bits are smaller than what two pages share, so each lies whole on one page at least.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from functools import lru_cache
from itertools import pairwise
from math import ceil, dist
from typing import TypeVar

from tiler.box import Box, Point, Subpath
from tiler.draft.contour.shape import Shape, length_of

LONGEST = 6.5
"""A bit of a line is no longer than this on either side, mm."""

STEP = 8.0
"""From one place along a piece to the next, mm."""

ACROSS = 3
"""Places across a piece."""

OFF = 1.5
"""A simplified line runs off the real one by less than this, mm: on a map that is not seen."""

TOUCH = 0.5
"""What a page must show of a bit, mm."""

T = TypeVar("T")


def bits(line: Subpath) -> Iterator[Box]:
    """Yield small boxes in which a line lies, in its order."""
    begun: list[Point] = []
    for start, end in pairwise(line):
        count = max(1, ceil(max(abs(end[0] - start[0]), abs(end[1] - start[1])) / LONGEST))
        for k in range(count + 1):
            point = (start[0] + (end[0] - start[0]) * k / count, start[1] + (end[1] - start[1]) * k / count)
            box = Box.around([*begun, point])
            if max(box.width, box.height) > LONGEST:
                yield Box.around(begun)
                begun = begun[-1:]
            begun.append(point)
    if begun:
        yield Box.around(begun)


def spread(shape: Shape) -> tuple[tuple[Point, ...], float]:
    """Return places all over a piece, and for how much of its length each stands, mm."""
    long = max(length_of(shape.lower), length_of(shape.upper))
    count = max(1, ceil(long / STEP))
    rails = zip(_evenly(shape.lower, count), _evenly(shape.upper, count), strict=True)
    shares = [(2 * row + 1) / (2 * ACROSS) for row in range(ACROSS)]
    places = tuple((xa + (xb - xa) * part, ya + (yb - ya) * part) for (xa, ya), (xb, yb) in rails for part in shares)
    middle = (length_of(shape.lower) + length_of(shape.upper)) / 2
    return places, middle / len(places)


def _evenly(line: Subpath, count: int) -> list[Point]:
    """Return places in the middle of so many equal stretches of a line."""
    step, found, walked = length_of(line) / count, list[Point](), 0.0
    for a, b in pairwise(line):
        far = dist(a, b)
        while len(found) < count and (at := (len(found) + 0.5) * step) <= walked + far:
            share = (at - walked) / far if far else 0.0
            found.append((a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])))
        walked += far
    return [*found, *[line[-1]] * (count - len(found))]


def fewest(options: Iterable[Collection[T]]) -> set[T]:
    """Return few of what is asked for that meet every one of the options: what has no other first, then the first."""
    ways = {frozenset(one): tuple(one) for one in options if one}
    found = {way[0] for way in ways.values() if len(way) == 1}
    for own, way in sorted(ways.items(), key=lambda one: len(one[0])):
        if not found & own:
            found.add(way[0])
    return found


@lru_cache(64)  # a map is drawn anew until all words fit
def simplified(line: Subpath) -> Subpath:
    """Return a line of fewer points that runs nowhere far off (Douglas and Peucker, 1973)."""
    kept, ahead = {0, len(line) - 1}, [(0, len(line) - 1)]
    while ahead:
        first, last = ahead.pop()
        (xa, ya), (xb, yb) = line[first], line[last]
        far = dist(line[first], line[last])

        def off(
            index: int, xa: float = xa, ya: float = ya, dx: float = xb - xa, dy: float = yb - ya, far: float = far
        ) -> float:
            x, y = line[index]
            return abs((x - xa) * dy - (y - ya) * dx) / far if far else dist((x, y), (xa, ya))

        worst = max(range(first + 1, last), key=off, default=first)
        if worst != first and off(worst) > OFF:
            kept.add(worst)
            ahead += [(first, worst), (worst, last)]
    return tuple(line[index] for index in sorted(kept))


def goes_round(outline: Subpath, point: Point) -> bool:
    """Tell whether a closed line goes round a point: a level line from there crosses it an odd number of times."""
    x, y = point
    crossed = ((a, b) for a, b in pairwise(outline) if (a[1] > y) != (b[1] > y))
    return sum(a[0] + (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1]) > x for a, b in crossed) % 2 == 1


def corners(box: Box) -> Subpath:
    """Return the sides of a box as a closed line."""
    return ((box.x0, box.y0), (box.x1, box.y0), (box.x1, box.y1), (box.x0, box.y1), (box.x0, box.y0))


def clipped(outline: Subpath, box: Box) -> Subpath:
    """Return what of a closed line lies in a box, closed, or nothing (Sutherland and Hodgman, 1974)."""
    points: Sequence[Point] = outline[:-1]
    for axis, limit, sign in ((0, box.x0, 1.0), (0, box.x1, -1.0), (1, box.y0, 1.0), (1, box.y1, -1.0)):
        found: list[Point] = []
        for a, b in zip(points, [*points[1:], *points[:1]], strict=True):
            inside = [sign * (one[axis] - limit) >= 0 for one in (a, b)]
            if inside[0]:
                found.append(a)
            if inside[0] != inside[1]:
                share = (limit - a[axis]) / (b[axis] - a[axis])
                found.append((a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])))
        points = found
    return (*points, points[0]) if len(points) > 2 else ()
