"""Long strips cut across into parts that lie side by side on a page; mm.

Parts lie in shelves along the page, the widest strips first: a part goes to the
narrowest shelf that has room for it, or is cut to the room that one has left.  Shelves
go to pages by decreasing width, first fit.  Room for the title and the ruler lines is
kept free where that costs no page.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from tiler.box import Box
from tiler.paper import PageSize
from tiler.sheets.layout.cutting import Part, Strip
from tiler.sheets.layout.item import Item, fits
from tiler.sheets.layout.joints import TINY

APART, MOST_APART = 1.5, 8.0
"""White between the frames of two parts, for the scissors: the least, and the most where a page has room, mm.

No two frames touch, so that nobody takes a gap for a joint.
"""

TITLE_ROOM = 17.0
"""Across the shelves: room for the title and a ruler line."""

RULE_ROOM = 17.0
"""Along the shelves: room for the other ruler line."""

ROWS_APART = 10.0
"""White between the strips on the sheet."""


@dataclass
class Shelf:
    """Parts that follow each other along a page, each with where it begins."""

    width: float
    room: float
    parts: list[tuple[Part, float]]


SheetPage = tuple[tuple[Shelf, float], ...]
"""The shelves of a page, each with its distance from the first edge."""


@dataclass(frozen=True)
class Stack:
    """The shelves of each page; turned shelves run up the page."""

    turned: bool
    pages: tuple[SheetPage, ...]
    tidy: int
    """How many of the title and the ruler lines have room of their own."""

    @property
    def parts(self) -> int:
        """How many parts there are."""
        return sum(len(shelf.parts) for page in self.pages for shelf, _ in page)

    def split(self, strips: Collection[int]) -> int:
        """Count the joints of these strips."""
        parts = [part for page in self.pages for shelf, _ in page for part, _ in shelf.parts]
        return sum(part.strip in strips and part.number > 0 for part in parts)


@dataclass(frozen=True)
class Pane:
    """A part on its page: the page counted from 0, the sheet box that it shows, and its frame on the page.

    ``of`` is how many parts its strip has.
    """

    part: Part
    of: int
    page: int
    window: Box
    frame: Box


def stack(items: Sequence[Item], page: PageSize) -> Stack | None:
    """Lay all items in parts on the fewest pages; None when one is wider than a page.

    The parts of one size share no page with those of another.
    """
    strips = [Strip(index, item, page.overlap) for index, item in enumerate(items)]
    sizes = [
        [strip for strip in strips if strip.item.size == size] for size in dict.fromkeys(one.size for one in items)
    ]
    turns = []
    for turned in (False, True):
        found = [_fewest(own, page, turned) for own in sizes]
        whole = [one for one in found if one is not None]
        if len(whole) == len(sizes):
            pages = tuple(one for stacked in whole for one in stacked.pages)
            turns.append(Stack(turned, pages, min(one.tidy for one in whole)))
    whole_ones = {index for index, item in enumerate(items) if fits(item, page)}
    return min(turns, key=lambda one: (one.split(whole_ones), *_cost(one)), default=None)


def _cost(one: Stack) -> tuple[int, int, int]:
    return len(one.pages), -one.tidy, one.parts


def _fewest(strips: Sequence[Strip], page: PageSize, turned: bool) -> Stack | None:
    along, across = page.window_width, page.window_height
    if turned:
        along, across = across, along
    orders = (
        sorted(strips, key=lambda strip: (-strip.item.width, -strip.item.length, strip.index)),
        sorted(strips, key=lambda strip: (-strip.item.length, -strip.item.width, strip.index)),
    )
    best: Stack | None = None
    # without room for anything else first: where that needs as few pages, room is a gain
    for tidy, along_room, across_room in ((0, 0.0, 0.0), (1, 0.0, TITLE_ROOM), (2, RULE_ROOM, TITLE_ROOM)):
        tries = [
            _paged(_shelves(order, along - along_room, fill), across - across_room, turned, tidy)
            for order in orders
            for fill in (False, True)
        ]
        found = min((one for one in tries if one is not None), key=_cost, default=None)
        if found is None or (best is not None and _worse(found, best)):
            break
        best = found
    return best


def _worse(one: Stack, other: Stack) -> bool:
    """Tell whether a way with more room needs more pages, or cuts strips that were whole."""
    strips = {part.strip for page in one.pages for shelf, _ in page for part, _ in shelf.parts}
    whole = {strip for strip in strips if not other.split({strip})}
    return len(one.pages) > len(other.pages) or one.split(whole) > 0


def _shelves(strips: Sequence[Strip], along: float, fill: bool) -> list[Shelf]:
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
    strip: Strip, number: int, start: float, shelves: Sequence[Shelf], along: float, fill: bool
) -> tuple[Part, Shelf | None]:
    """Cut the next part of a strip, and find the shelf that has room for it."""
    rest = strip.item.length - start
    if rest <= along:
        whole = strip.part(number, start, rest)
        roomy = [shelf for shelf in shelves if shelf.room - APART >= rest - TINY and shelf.width >= whole.width - TINY]
        if roomy:
            return whole, min(roomy, key=lambda shelf: (shelf.width, shelf.room))
        if start == 0.0:
            # what fits one page is not cut
            return whole, None
    if fill:
        # the tightest shelf that the part can be cut to
        for shelf in sorted(shelves, key=lambda shelf: shelf.width):
            room = shelf.room - APART
            if room >= strip.least and rest > room:
                part = strip.part(number, start, room)
                if part.length <= room + TINY and shelf.width >= part.width - TINY and strip.is_clear(part):
                    return part, shelf
    return strip.part(number, start, along), None


def _paged(shelves: Sequence[Shelf], across: float, turned: bool, tidy: int) -> Stack | None:
    pages: list[list[Shelf]] = []
    ends: list[float] = []
    for shelf in sorted(shelves, key=lambda shelf: -shelf.width):
        if shelf.width > across + TINY:
            return None
        index = next((k for k, end in enumerate(ends) if end + shelf.width <= across + TINY), len(pages))
        if index == len(pages):
            pages.append([])
            ends.append(0.0)
        pages[index].append(shelf)
        ends[index] += shelf.width + APART
    read = [_read(page, across - end + APART, turned) for page, end in zip(pages, ends, strict=True)]
    read.sort(key=lambda page: min(_first(shelf) for shelf, _ in page))
    return Stack(turned, tuple(read), tidy)


def _read(shelves: Sequence[Shelf], left: float, turned: bool) -> SheetPage:
    """Put shelves in the order in which they are read, the white that is ``left`` between them; and so their parts.

    A page is read from the left to the right, and down.
    """
    apart = APART + min(left / len(shelves), MOST_APART - APART)
    page, at = [], 0.0
    for shelf in sorted(shelves, key=_first):
        parts = sorted((part for part, _ in shelf.parts), key=lambda part: (part.strip, part.number), reverse=turned)
        white = APART + min(max(shelf.room, 0.0) / len(parts), MOST_APART - APART)
        begin, placed = 0.0, []
        for part in parts:
            placed.append((part, begin))
            begin += part.length + white
        page.append((Shelf(shelf.width, shelf.room, placed), at))
        at += shelf.width + apart
    return tuple(page)


def _first(shelf: Shelf) -> tuple[int, int]:
    return min((part.strip, part.number) for part, _ in shelf.parts)


def panes(items: Sequence[Item], stacked: Stack, page: PageSize) -> tuple[tuple[Box, ...], tuple[Pane, ...]]:
    """Return the bounds of each item on the sheet, a row each, and all panes in reading order."""
    boxes: list[Box] = []
    start = 0.0
    for item in items:
        box = Box(0.0, start, item.length, start + item.width)
        boxes.append(Box(box.y0, box.x0, box.y1, box.x1) if stacked.turned else box)
        start += item.width + page.overlap + ROWS_APART
    if not stacked.turned:
        # the first item above the others, as the parts are read
        boxes = [Box(box.x0, start - box.y1, box.x1, start - box.y0) for box in boxes]
    counts: dict[int, int] = {}
    placed = [
        (part, number, along, across)
        for number, shelves in enumerate(stacked.pages)
        for shelf, across in shelves
        for part, along in shelf.parts
    ]
    for part, _, _, _ in placed:
        counts[part.strip] = counts.get(part.strip, 0) + 1
    found = [
        Pane(
            part,
            counts[part.strip],
            number,
            _window(part, boxes[part.strip], stacked.turned),
            _frame(part, along, across, stacked.turned, page),
        )
        for part, number, along, across in placed
    ]
    return tuple(boxes), tuple(sorted(found, key=lambda pane: (pane.page, pane.part.strip, pane.part.number)))


def _window(part: Part, box: Box, turned: bool) -> Box:
    if turned:
        # a turned piece has its height to the left
        return Box(box.x1 - part.high, box.y0 + part.start, box.x1 - part.low, box.y0 + part.end)
    return Box(box.x0 + part.start, box.y0 + part.low, box.x0 + part.end, box.y0 + part.high)


def _frame(part: Part, along: float, across: float, turned: bool, page: PageSize) -> Box:
    margins = page.margins
    if turned:
        x, y = margins.left + across, margins.bottom + along
        return Box(x, y, x + part.width, y + part.length)
    x, y = margins.left + along, page.height - margins.top - across
    return Box(x, y - part.width, x + part.length, y)
