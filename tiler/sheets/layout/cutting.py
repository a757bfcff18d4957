"""Where a strip is cut across into parts, each of which fits a page; mm.

A part shows a stretch of its strip, full width, and the next part begins one overlap
before it ends, so that both show what lies there.  A cut keeps clear of words and
notches where the strip has such a place at all in two thirds of the length wanted.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import inf

from tiler.paper import MARK_SIZE
from tiler.sheets.layout.grid import row_letters
from tiler.sheets.layout.item import Item
from tiler.sheets.layout.joints import LEAST_LEFT, NEAR, OFF_FRAME, STEP_ASIDE, TINY

CODE_ROOM, FIGURE = 9.0, 2.8
"""Above a strip whose lanes are too thin for the code of a part: room for it, and for each further figure, mm."""

LINE_ROOM = 15.0
"""What a line of the label needs beyond its own length, for white and what stands at an end, mm."""

CLEAR = 1.0
"""White between a cut and a word or a notch."""


@dataclass(frozen=True)
class Part:
    """A stretch of a strip: where it begins and ends along it, and from where to where it is shown across."""

    strip: int
    number: int
    start: float
    end: float
    low: float
    high: float

    @property
    def length(self) -> float:
        """Extent along the strip."""
        return self.end - self.start

    @property
    def width(self) -> float:
        """Extent across it."""
        return self.high - self.low

    @property
    def code(self) -> str:
        """Number of the strip and letter of the part, such as 3B."""
        return f"{self.strip + 1}{row_letters(self.number)}"


class _Spans:
    """Stretches along a strip, of which those that lie between two places are counted."""

    def __init__(self, spans: Sequence[tuple[float, float]]) -> None:
        self.spans = spans
        self._starts, self._ends = sorted(a for a, _ in spans), sorted(b for _, b in spans)

    def between(self, start: float, end: float) -> int:
        """Count the stretches that begin before ``end`` and do not end before ``start``."""
        return bisect_left(self._starts, end) - bisect_right(self._ends, start)


class Strip:
    """An item with what a cut must keep clear of."""

    def __init__(self, index: int, item: Item, overlap: float, most: int = 1) -> None:
        """Find what cuts must keep clear of; the number of the strip will be ``most`` at most."""
        self.index, self.item, self.overlap = index, item, overlap
        self.least = max(LEAST_LEFT + overlap, 2 * overlap + MARK_SIZE)
        self.code_room = code_room(most)
        self.narrowest = least_width(overlap, item.body[1] - item.body[0] + item.border)
        self._parts: dict[tuple[int, float, float], Part] = {}
        self._words = sorted((box.x0, box.x1, box.y0, box.y1) for box in item.words)
        spans = [(box.x0, box.x1) for box in (*item.words, *item.notches)]
        self._notches = _Spans([(box.x0, box.x1) for box in item.notches])
        self._stops = _Spans([(stop - CLEAR, stop + CLEAR) for stop in item.stops])
        self._all = _Spans([*spans, *self._stops.spans])
        self._lines = _Spans([(x0, x1) for x0, x1, _, y1 in self._words if y1 > item.body[0]])
        self._shortest = min((item.ends[1], *item.stops))
        self._taken = _merged((a - CLEAR, b + CLEAR) for a, b in (*spans, *((end, end) for end in item.stops)))
        # of the shorter sizes of a nest enough is left, too, where that can be
        stops = [(end - LEAST_LEFT, end + LEAST_LEFT) for end in item.stops]
        self._roomy = _merged((a - CLEAR, b + CLEAR) for a, b in (*spans, *stops)) if stops else self._taken

    def part(self, number: int, start: float, limit: float) -> Part:
        """Cut the next part, no longer than ``limit``; the last one goes to the end of the strip."""
        key = (number, start, limit)
        if key not in self._parts:
            self._parts[key] = self._part(number, start, limit)
        return self._parts[key]

    def _part(self, number: int, start: float, limit: float) -> Part:
        item = self.item
        end = item.length if start + limit >= item.length - TINY else self._cut(start, limit)
        low, high = item.body
        for x0, x1, y0, y1 in self._words:
            if x0 < end and x1 > start:
                low, high = min(low, y0), max(high, y1)
        low, high = max(0.0, low - item.border), min(item.width, high + item.border)
        if item.lane < self.code_room:
            high = max(high, item.body[1] + self.code_room)
        # all of it above, where the label of a thin strip stands
        wanting = max(0.0, self.narrowest - (high - low))
        return Part(self.index, number, start, end, low, high + wanting)

    def ends_with(self, part: Part) -> bool:
        """Tell whether a part is the last one."""
        return part.end >= self.item.length

    def behind(self, part: Part) -> float:
        """Return where the part behind another begins."""
        return part.end - self.overlap

    def clear_part(self, number: int, start: float, limit: float) -> Part | None:
        """Cut the next part where that keeps clear of words and notches; None where it has no such place."""
        if self._clear_end(start, limit) is None and not any(map(self._is_clear, self._places(start, limit))):
            return None
        part = self.part(number, start, limit)
        return part if self._is_clear(part.end) else None

    def _is_clear(self, end: float) -> bool:
        return not self._all.between(end - self.overlap, end)

    def _places(self, start: float, limit: float) -> list[float]:
        least, last = self._bounds(start, limit)
        return [place for k in range(17) if (place := last - k * limit / 24) >= start + least]

    def _cut(self, start: float, limit: float) -> float:
        end = self._clear_end(start, limit)
        if end is not None:
            return end
        return min(
            self._places(start, limit),
            key=lambda place: (self._on_marks(place), self._harm(start, place)),
            default=self._bounds(start, limit)[1],
        )

    def _bounds(self, start: float, limit: float) -> tuple[float, float]:
        """Return how long a part is at least, and where it ends at last."""
        low, high = self.item.ends
        least = max(self.least, low + LEAST_LEFT + self.overlap if start == 0.0 else 0.0)
        # where the rest of a short strip on small paper cannot be shared out so, it is halved
        return least, max(min(start + limit, high - LEAST_LEFT), min(start + least, start + limit))

    def _clear_end(self, start: float, limit: float) -> float | None:
        """Return the last place in two thirds of the length wanted that is clear of words and notches."""
        least, last = self._bounds(start, limit)
        for taken in (self._roomy, self._taken):
            end = last
            for a, b in reversed(taken):
                if a < end and b > end - self.overlap:
                    end = a
            if end >= start + max(least, limit / 3):
                return end
        return None

    def _on_marks(self, end: float) -> bool:
        """Tell whether the shared strip has no place for register marks that is off the ends of all sizes."""
        if not self.item.stops:
            return False
        # marks give way in steps
        inset, white = MARK_SIZE / 2 + OFF_FRAME, MARK_SIZE / 2 + NEAR + STEP_ASIDE / 2
        low, high = end - self.overlap + inset, end - inset
        near = [stop for stop in self.item.stops if low - white < stop < high + white]
        tried = [(low + high) / 2, *(stop + by for stop in near for by in (-white, white) if low <= stop + by <= high)]
        return not any(all(abs(at - stop) > white - TINY for stop in near) for at in tried)

    def _harm(self, begin: float, end: float) -> int:
        """Return how much the cut of a part hits of what stays: notches, ends, lines that have no other room."""
        start = end - self.overlap
        stay = self._notches.between(start, end) + self._stops.between(start, end)
        if self._lines.between(start, end):
            room = max(start - begin, self._shortest - end) - LINE_ROOM
            stay += sum(x0 < end and x1 > start and x1 - x0 > room for x0, x1 in self._lines.spans)
        return stay


def code_room(number: int) -> float:
    """Return what the code of a part of the strip of this number, counted from 1, takes above a thin one."""
    return CODE_ROOM + FIGURE * (len(str(number)) - 1)


def least_width(overlap: float, body: float = inf) -> float:
    """Return the least width of a part that joins another, of a strip as wide as ``body`` with its border.

    Marks stand in its overlap, none nearest to another side: two beside each other at
    least, and off the edges of the strip, so above a narrow one.
    """
    inset, off = overlap / 2 + 1.0, MARK_SIZE / 2 + NEAR
    outside = 2 if body < 2 * off else 1 if body < 2 * off + MARK_SIZE else 0
    above = body + off + (outside - 1) * MARK_SIZE + inset + CLEAR if outside else 0.0
    return max(overlap + 2 * MARK_SIZE + 3.0, above)


def _merged(spans: Iterator[tuple[float, float]]) -> list[tuple[float, float]]:
    merged: list[tuple[float, float]] = []
    for a, b in sorted(spans):
        if merged and a <= merged[-1][1]:
            merged[-1] = (merged[-1][0], max(b, merged[-1][1]))
        else:
            merged.append((a, b))
    return merged
