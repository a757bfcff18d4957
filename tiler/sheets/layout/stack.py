"""Long strips cut across into parts that lie side by side on a page; mm.

Parts lie in ``shelves`` along the page; several ways to fill these are tried, the widest or the
longest strips first.  In each the codes of a page run from the left to the right and down, and
the parts of a strip from page to page.  Fewest pages win, then the way in which most parts
of a strip follow each other at once.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import chain

from tiler.box import Box
from tiler.paper import PageSize
from tiler.sheets.layout.cutting import Part, Strip, code_room
from tiler.sheets.layout.item import Item, fits
from tiler.sheets.layout.page_by_page import Taste, page_by_page
from tiler.sheets.layout.shelves import APART, Shelf, Shelves, in_sequence, read, used

MOST_APART = 8.0
"""White between the frames of two parts where a page has room, mm."""

MOST_SHORT = 9
"""So many strips have a number of one figure."""

MANY = 6
"""Where strips fill so many pages by their area, one more is little."""

ROWS_APART = 10.0
"""White between the strips on the sheet."""


@dataclass(frozen=True)
class Stack:
    """The shelves of each page; turned shelves run up the page, so their first part stands at the top."""

    turned: bool
    pages: Shelves

    @property
    def parts(self) -> list[Part]:
        """All parts as they are read."""
        return list(read(self.pages))

    @property
    def torn(self) -> int:
        """Count the joints whose parts do not follow each other as they are read."""
        parts = self.parts
        before = [None, *((part.strip, part.number + 1) for part in parts)]
        return sum(
            part.number > 0 and last != (part.strip, part.number) for part, last in zip(parts, before, strict=False)
        )

    def split(self, strips: Collection[int]) -> int:
        """Count the joints of these strips."""
        return sum(part.strip in strips and part.number > 0 for part in self.parts)


@dataclass(frozen=True)
class Pane:
    """A part on its page: the page counted from 0, the sheet box that it shows, and its frame on the page.

    ``of`` is how many parts its strip has, ``item`` which of the items laid out that is: strips are
    numbered as they are read.
    """

    part: Part
    item: int
    of: int
    page: int
    window: Box
    frame: Box


def stack(items: Sequence[Item], page: PageSize) -> Stack | None:
    """Lay all items in parts on the fewest pages; None when one is wider than a page.

    The parts of one size share no page with those of another.
    """
    thin = {index for index, item in enumerate(items) if item.lane < code_room(len(items))}
    short = {*thin}
    while True:
        stacked = _stacked(items, page, thin - short)
        many = {index for index, number in _numbers(stacked).items() if number >= MOST_SHORT} if stacked else set()
        if not short & many:
            return stacked
        # a strip whose code stands above it has a longer one than there is room for
        short -= many


def _stacked(items: Sequence[Item], page: PageSize, long: Collection[int]) -> Stack | None:
    """Lay all items out, those of the ``long`` numbers with room for these."""
    strips = [Strip(index, item, page.overlap, len(items) if index in long else 1) for index, item in enumerate(items)]
    whole_ones = {index for index, item in enumerate(items) if fits(item, page)}
    sizes = [
        [strip for strip in strips if strip.item.size == size] for size in dict.fromkeys(one.size for one in items)
    ]
    turns = []
    for turned in (False, True):
        found = [_fewest(own, page, turned) for own in sizes]
        whole = [one for one in found if one is not None]
        if len(whole) == len(sizes):
            turns.append(Stack(turned, [one for stacked in whole for one in stacked.pages]))
    return min(turns, key=lambda one: (one.split(whole_ones), *_cost(one)), default=None)


def _numbers(stacked: Stack) -> dict[int, int]:
    """Number the strips from 0 as they are read."""
    return {strip: number for number, strip in enumerate(dict.fromkeys(part.strip for part in stacked.parts))}


def _cost(one: Stack) -> tuple[int, int, int]:
    return len(one.pages), one.torn, len(one.parts)


def _fewest(strips: Sequence[Strip], page: PageSize, turned: bool) -> Stack | None:
    along, across = page.window_width, page.window_height
    if turned:
        along, across = across, along
    widest = sorted(strips, key=lambda strip: (-strip.item.width, -strip.item.length, strip.index))
    longest = sorted(strips, key=lambda strip: (-strip.item.length, -strip.item.width, strip.index))
    # four that often differ by a page, found by trial over random jobs
    tastes = [
        (longest, Taste(begun=0.0, left=0.5)),
        (widest, Taste(begun=0.0, left=0.8)),
        (widest, Taste(begun=0.3, left=0.5)),
        (longest, Taste(begun=0.3, left=0.8)),
    ]
    area = sum(strip.item.length * strip.item.width for strip in strips)
    if area > MANY * along * across:
        # of many pages one more or less is little, and to find it takes longest
        tastes = tastes[:2]
    ways = chain(
        (in_sequence(order, along, across, fill) for order in (strips, widest, longest) for fill in (False, True)),
        (page_by_page(order, along, across, taste) for order, taste in tastes),
    )
    return min((Stack(turned, way) for way in ways if way is not None), key=_cost, default=None)


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
    numbers = _numbers(stacked)
    counts = Counter(part.strip for part in stacked.parts)
    found = [
        Pane(
            replace(part, strip=numbers[part.strip]),
            part.strip,
            counts[part.strip],
            number,
            _window(part, boxes[part.strip], stacked.turned),
            _frame(part, along, across, stacked.turned, page),
        )
        for number, shelves in enumerate(stacked.pages)
        for part, along, across in _spread(_sorted(shelves, numbers), stacked.turned, page)
    ]
    return tuple(boxes), tuple(sorted(found, key=lambda pane: (pane.page, pane.part.strip, pane.part.number)))


def _sorted(shelves: Sequence[Shelf], numbers: Mapping[int, int]) -> list[Shelf]:
    """Return the shelves of a page, and the parts on each, in the order of their codes."""

    def place(part: Part) -> tuple[int, int]:
        return numbers[part.strip], part.number

    shelves = [replace(shelf, parts=sorted(shelf.parts, key=place)) for shelf in shelves]
    return sorted(shelves, key=lambda shelf: place(shelf.parts[0]))


def _spread(shelves: Sequence[Shelf], turned: bool, page: PageSize) -> Iterator[tuple[Part, float, float]]:
    """Give each part of a page with its distances from the first edges, the white that is left between them."""
    left = (page.window_width if turned else page.window_height) - used(shelves) + APART
    apart = APART + min(left / len(shelves), MOST_APART - APART)
    at = 0.0
    for shelf in shelves:
        white = APART + min(max(shelf.room, 0.0) / len(shelf.parts), MOST_APART - APART)
        begin = 0.0
        # turned shelves begin at the foot
        for part in reversed(shelf.parts) if turned else shelf.parts:
            yield part, begin, at
            begin += part.length + white
        at += shelf.width + apart


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
