"""The free room inside a piece with curved lines, and where a block of words has a place in it; piece mm.

The piece is looked at along level lines.  Words stand level, so a block has room where all lines over its height
are free of the outline.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from copy import copy
from functools import lru_cache, reduce
from itertools import pairwise
from math import ceil, floor, hypot

from tiler.box import Box, Point, Subpath

STEP = 0.5
"""From one level line to the next, mm."""

WHITE = 0.8
"""Between words and a line above or below them, mm."""

Spans = tuple[tuple[float, float], ...]
"""Stretches of a level line."""


Room = tuple[Subpath, Subpath]
"""A closed outline, and a closed line in it that leaves no room, or none."""


class Inside:
    """The room inside closed lines while words are put into it."""

    def __init__(self, *rooms: Room, taken: Sequence[Box] = ()) -> None:
        """Take closed outlines, within all of which there is room, each but for a hole; and what stands there."""
        self.taken = list(taken)
        self._room = _room(rooms)

    def copy(self) -> Inside:
        """Return the same room, into which other things are put."""
        other = copy(self)
        other.taken = [*self.taken]
        return other

    def place(self, wide: float, high: float, near: Point, white: float = WHITE) -> Box | None:
        """Return the place for a block whose middle is nearest to a point, or nothing where there is no room."""
        room = self._room
        levels = ceil((high + 2 * white) / STEP) + 1
        if wide > room.longest(levels):
            return None
        best: tuple[float, Box] | None = None
        levels_up = range(len(room.spans) - levels + 1)
        # from the nearest level on, so that few are looked at
        for first in sorted(levels_up, key=lambda level: abs(room.low + level * STEP + white + high / 2 - near[1])):
            low = room.low + first * STEP + white
            away = low + high / 2 - near[1]
            if best and abs(away) >= best[0]:
                break
            for x in self._places(room.free(first, levels), low, high, wide, near[0] - wide / 2):
                far = hypot(x + wide / 2 - near[0], away)
                if best is None or far < best[0] - 1e-9:
                    best = far, Box(x, low, x + wide, low + high)
        return best[1] if best else None

    def _places(self, spans: Spans, low: float, high: float, wide: float, wanted: float) -> Iterator[float]:
        spans = tuple((left, right) for left, right in spans if right - left >= wide)
        if not spans:
            return
        there = [box for box in self.taken if box.y1 > low and box.y0 < low + high]
        for left, right in spans:
            for a, b in _without(left, right, [(box.x0, box.x1) for box in there]):
                if b - a >= wide:
                    yield min(max(wanted, a), b - wide)


class _Room:
    """What is free on level lines, but for what stands there."""

    def __init__(self, rooms: Sequence[Room]) -> None:
        heights = [y for outline, _ in rooms for _, y in outline]
        self.low = min(heights)
        count = 1 + ceil((max(heights) - self.low) / STEP)
        first, *others = ([*_levels(room, self.low, count)] for room in rooms)
        self.spans = [reduce(_shared, (one[index] for one in others), first[index]) for index in range(count)]
        self._over: dict[tuple[int, int], Spans] = {}
        self._widest: dict[int, float] = {}

    def longest(self, levels: int) -> float:
        """Return the longest stretch that is free on so many level lines."""
        if levels not in self._widest:
            spans = (self.free(first, levels) for first in range(len(self.spans) - levels + 1))
            self._widest[levels] = max((b - a for one in spans for a, b in one), default=0.0)
        return self._widest[levels]

    def free(self, first: int, levels: int) -> Spans:
        """Return what is free on all of these level lines."""
        key = (first, levels)
        if key not in self._over:
            if levels == 1:
                self._over[key] = self.spans[first]
            else:
                half = levels // 2
                # what many blocks share is found once
                self._over[key] = _shared(self.free(first, levels - half), self.free(first + levels - half, half))
        return self._over[key]


@lru_cache(16)  # a piece is lettered in several ways
def _room(rooms: tuple[Room, ...]) -> _Room:
    return _Room(rooms)


def _levels(outlines: Sequence[Subpath], low: float, count: int) -> list[Spans]:
    """Return what of each level line lies inside, where an outline within another is a hole."""
    crossed: list[list[float]] = [[] for _ in range(count)]
    for (xa, ya), (xb, yb) in (chord for outline in outlines for chord in pairwise(outline)):
        if ya == yb:
            continue
        lower, upper = sorted((ya, yb))
        # half a step off, so that no line runs through the corners of the outline alone
        first, last = ceil((lower - low) / STEP - 0.01), floor((upper - low) / STEP - 0.01 - 1e-12)
        for index in range(max(first, 0), min(last, count - 1) + 1):
            y = low + (index + 0.01) * STEP
            crossed[index].append(xa + (xb - xa) * (y - ya) / (yb - ya))
    return [tuple(zip(xs[::2], xs[1::2], strict=False)) for xs in map(sorted, crossed)]


def _shared(one: Spans, other: Spans) -> Spans:
    return tuple((max(a, c), min(b, d)) for a, b in one for c, d in other if min(b, d) - max(a, c) > 1.0)


def _without(left: float, right: float, taken: Sequence[tuple[float, float]]) -> Iterator[tuple[float, float]]:
    """Yield what is left of a stretch."""
    for low, high in sorted(taken):
        if high <= left or low >= right:
            continue
        if low > left:
            yield left, low
        left = max(left, high)
    if left < right:
        yield left, right
