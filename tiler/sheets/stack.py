"""Long strips cut across into parts that lie side by side on a page; mm.

A part shows a stretch of its strip, full width, and the next part begins one overlap
before it ends.  Parts lie in shelves along the page, the widest strips first: a part
goes to the shelf that is left with the least room, or is cut to the room that one has
left.  Shelves go to pages by decreasing width, first fit.  A cut keeps clear of words
and notches where the strip has such a place within half a page.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from tiler.declaration import Box
from tiler.paper import MARK_SIZE, PageSize
from tiler.sheets.layout import TINY, Item, row_letters

APART = 1.5
"""White between the frames of two parts, for the scissors."""

LEAST_PART = 40.0
"""A shorter part is more tape than strip."""

CLEAR = 1.0
"""White between a cut and a word or a notch."""

TITLE_ROOM = 17.0
"""Across the shelves: room for the title and a ruler line."""

RULE_ROOM = 14.0
"""Along the shelves: room for the other ruler line."""

ROWS_APART = 10.0
"""White between the strips on the sheet."""


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


@dataclass
class Shelf:
    """Parts that follow each other along a page."""

    width: float
    room: float
    parts: list[tuple[Part, float]]


@dataclass(frozen=True)
class Stack:
    """Shelves by pages, each with its distance from the first edge of the page."""

    turned: bool
    pages: tuple[tuple[tuple[Shelf, float], ...], ...]

    @property
    def parts(self) -> int:
        """How many parts there are."""
        return sum(len(shelf.parts) for page in self.pages for shelf, _ in page)


@dataclass(frozen=True)
class Pane:
    """A part on its page: the page counted from 0, the sheet box that it shows, and its frame on the page."""

    part: Part
    page: int
    window: Box
    frame: Box


class _Strip:
    """An item with what a cut must keep clear of."""

    def __init__(self, index: int, item: Item, overlap: float) -> None:
        self.index, self.item, self.overlap = index, item, overlap
        self.least = max(LEAST_PART, 2 * overlap + MARK_SIZE)
        self.narrowest = least_width(overlap)
        self._words = sorted((box.x0, box.x1, box.y0, box.y1) for box in item.words)
        self._taken = _merged((box.x0 - CLEAR, box.x1 + CLEAR) for box in (*item.words, *item.notches))

    def part(self, number: int, start: float, limit: float) -> Part:
        """Cut the next part, no longer than ``limit``; the last one goes to the end of the strip."""
        item = self.item
        end = item.length if start + limit >= item.length - TINY else self._cut(start, limit)
        low, high = item.body
        for x0, x1, y0, y1 in self._words:
            if x0 < end and x1 > start:
                low, high = min(low, y0), max(high, y1)
        low, high = max(0.0, low - item.border), min(item.width, high + item.border)
        wanting = max(0.0, self.narrowest - (high - low)) / 2
        return Part(self.index, number, start, end, low - wanting, high + wanting)

    def _cut(self, start: float, limit: float) -> float:
        last = min(start + limit, self.item.length - self.least + self.overlap)
        end = last
        for a, b in reversed(self._taken):
            if a < end and b > end - self.overlap:
                end = a
        if end >= start + max(self.least, limit / 2):
            return end
        places = [last - k * limit / 24 for k in range(13)]
        return min((place for place in places if place >= start + self.least), key=self._hits, default=last)

    def _hits(self, end: float) -> int:
        start = end - self.overlap
        notches = sum(box.x0 < end and box.x1 > start for box in self.item.notches)
        return 10 * notches + sum(x0 < end and x1 > start for x0, x1, _, _ in self._words)


def least_width(overlap: float) -> float:
    """Give the least width of a part: three register marks stand in its overlap, none nearest to another side."""
    return overlap + 2 * MARK_SIZE + 3.0


def _merged(spans: Iterator[tuple[float, float]]) -> list[tuple[float, float]]:
    merged: list[tuple[float, float]] = []
    for a, b in sorted(spans):
        if merged and a <= merged[-1][1]:
            merged[-1] = (merged[-1][0], max(b, merged[-1][1]))
        else:
            merged.append((a, b))
    return merged


def stack(items: Sequence[Item], page: PageSize) -> Stack | None:
    """Lay all items in parts on the fewest pages; None when one is wider than a page."""
    found = [one for one in _tries(items, page) if one is not None]
    return min(found, key=lambda one: (len(one.pages), one.parts), default=None)


def _tries(items: Sequence[Item], page: PageSize) -> Iterator[Stack | None]:
    strips = [_Strip(index, item, page.overlap) for index, item in enumerate(items)]
    widest = sorted(strips, key=lambda strip: (-strip.item.width, -strip.item.length, strip.index))
    longest = sorted(strips, key=lambda strip: (-strip.item.length, -strip.item.width, strip.index))
    for turned in (False, True):
        along, across = page.window_width, page.window_height
        if turned:
            along, across = across, along
        for across_room, along_room in ((TITLE_ROOM, RULE_ROOM), (TITLE_ROOM, 0.0), (0.0, RULE_ROOM), (0.0, 0.0)):
            for order in (widest, longest):
                for fill in (False, True):
                    shelves = _shelves(order, along - along_room, fill)
                    yield _paged(shelves, across - across_room, turned)


def _shelves(strips: Sequence[_Strip], along: float, fill: bool) -> list[Shelf]:
    shelves: list[Shelf] = []
    for strip in strips:
        start, number = 0.0, 0
        while True:
            part, shelf = _next(strip, number, start, shelves, along, fill)
            if shelf is None:
                shelf = Shelf(part.width, along + APART, [])
                shelves.append(shelf)
            shelf.parts.append((part, along + APART - shelf.room))
            shelf.room -= part.length + APART
            if part.end >= strip.item.length:
                break
            start, number = part.end - strip.overlap, number + 1
    return shelves


def _next(
    strip: _Strip, number: int, start: float, shelves: Sequence[Shelf], along: float, fill: bool
) -> tuple[Part, Shelf | None]:
    """Cut the next part of a strip, and find the shelf that has room for it."""
    rest = strip.item.length - start
    if rest <= along:
        whole = strip.part(number, start, rest)
        fits = [shelf for shelf in shelves if shelf.room - APART >= rest - TINY and shelf.width >= whole.width - TINY]
        if fits:
            return whole, min(fits, key=lambda shelf: (shelf.width, shelf.room))
    if fill:
        # the tightest shelf that the part can be cut to
        for shelf in sorted(shelves, key=lambda shelf: shelf.width):
            room = shelf.room - APART
            if room >= strip.least and rest > room:
                part = strip.part(number, start, room)
                if part.length <= room + TINY and shelf.width >= part.width - TINY:
                    return part, shelf
    return strip.part(number, start, along), None


def _paged(shelves: Sequence[Shelf], across: float, turned: bool) -> Stack | None:
    pages: list[list[tuple[Shelf, float]]] = []
    ends: list[float] = []
    for shelf in sorted(shelves, key=lambda shelf: -shelf.width):
        if shelf.width > across + TINY:
            return None
        for index, end in enumerate(ends):
            if end + shelf.width <= across + TINY:
                break
        else:
            index = len(pages)
            pages.append([])
            ends.append(0.0)
        pages[index].append((shelf, ends[index]))
        ends[index] += shelf.width + APART
    pages.sort(key=lambda page: min((part.strip, part.number) for shelf, _ in page for part, _ in shelf.parts))
    return Stack(turned, tuple(tuple(page) for page in pages))
