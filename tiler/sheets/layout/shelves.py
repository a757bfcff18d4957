"""Parts of strips in shelves along a page, and the shelves on pages, as they are read; mm.

They are laid out either in the order of their strips, each behind the one before, or by
first fit: a part goes to the narrowest shelf that has room for it, or is cut to the room
that one has left, and shelves go to pages by decreasing width.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass

from tiler.sheets.layout.cutting import Part, Strip
from tiler.sheets.layout.joints import TINY

APART = 1.5
"""Least white between the frames of two parts, for the scissors, mm.

No two frames touch, so that nobody takes a gap for a joint.
"""


@dataclass
class Shelf:
    """Parts that follow each other along a page, and the room that they leave."""

    width: float
    room: float
    parts: list[Part]

    def takes(self, length: float, width: float) -> bool:
        """Tell whether a part has room here."""
        return self.room - APART >= length - TINY and self.width >= width - TINY

    def put(self, part: Part) -> None:
        """Put a part behind the others."""
        self.parts.append(part)
        self.room -= part.length + APART


Shelves = list[list[Shelf]]
"""The shelves of each page, as they are read."""


def in_sequence(strips: Sequence[Strip], along: float, across: float, fill: bool) -> Shelves | None:
    """Lay strip behind strip, each time the first that is whole where the one before ends, else the next one."""
    pages: Shelves = []
    waiting = list(strips)
    while waiting:
        strip = next((one for one in waiting if _goes_on(one, pages, along, across)), waiting[0])
        waiting.remove(strip)
        start, number = 0.0, 0
        while True:
            part, last = _following(strip, number, start, pages, along, fill)
            if last is None:
                if part.width > across + TINY:
                    return None
                if not pages or used(pages[-1]) + part.width > across + TINY:
                    pages.append([])
                last = Shelf(part.width, along + APART, [])
                pages[-1].append(last)
            last.put(part)
            if part.end >= strip.item.length:
                break
            start, number = part.end - strip.overlap, number + 1
    return pages


def used(page: Sequence[Shelf]) -> float:
    """Return what the shelves of a page take across it, with the white behind the last."""
    return sum(shelf.width + APART for shelf in page)


def _goes_on(strip: Strip, pages: Shelves, along: float, across: float) -> bool:
    """Tell whether a whole strip has room on the last page."""
    length = strip.item.length
    if not pages or length > along + TINY:
        return False
    width = strip.part(0, 0.0, length).width
    return pages[-1][-1].takes(length, width) or used(pages[-1]) + width <= across + TINY


def _following(
    strip: Strip, number: int, start: float, pages: Shelves, along: float, fill: bool
) -> tuple[Part, Shelf | None]:
    """Cut the next part of a strip; it goes to the last shelf, if that has room for it, else to a new one."""
    rest, last = strip.item.length - start, pages[-1][-1] if pages else None
    whole = strip.part(number, start, rest) if rest <= along + TINY else None
    if whole and last and last.takes(rest, whole.width):
        return whole, last
    if whole and start == 0.0:
        # what fits one page is not cut
        return whole, None
    part = _filling(strip, number, start, last, rest) if fill and last else None
    return (part, last) if part else (strip.part(number, start, along), None)


def _filling(strip: Strip, number: int, start: float, shelf: Shelf, rest: float) -> Part | None:
    """Return the part that the room left on a shelf can be filled with."""
    room = shelf.room - APART
    if strip.least <= room < rest:
        part = strip.clear_part(number, start, room)
        if part and shelf.takes(part.length, part.width):
            return part
    return None


def first_fit(strips: Sequence[Strip], along: float, across: float, fill: bool) -> Shelves | None:
    """Lay each part into the narrowest shelf that has room for it, and the widest shelf onto the first such page."""
    shelves = _shelves(strips, along, fill)
    pages: Shelves = []
    for shelf in sorted(shelves, key=lambda shelf: -shelf.width):
        if shelf.width > across + TINY:
            return None
        page = next((one for one in pages if used(one) + shelf.width <= across + TINY), None)
        if page is None:
            page = []
            pages.append(page)
        page.append(shelf)
    return _in_order(pages)


def _shelves(strips: Sequence[Strip], along: float, fill: bool) -> list[Shelf]:
    shelves: list[Shelf] = []
    for strip in strips:
        start, number = 0.0, 0
        while True:
            part, shelf = _next(strip, number, start, shelves, along, fill)
            if shelf is None:
                shelf = Shelf(part.width, along + APART, [])
                shelves.append(shelf)
            shelf.put(part)
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
        roomy = [shelf for shelf in shelves if shelf.takes(rest, whole.width)]
        if roomy:
            return whole, min(roomy, key=lambda shelf: (shelf.width, shelf.room))
        if start == 0.0:
            # what fits one page is not cut
            return whole, None
    if fill:
        # the tightest shelf that the part can be cut to
        for shelf in sorted(shelves, key=lambda shelf: shelf.width):
            part = _filling(strip, number, start, shelf, rest)
            if part:
                return part, shelf
    return strip.part(number, start, along), None


def _in_order(pages: Shelves) -> Shelves:
    """Put pages that share a strip behind each other, and on each first what goes on, last what goes on behind it."""
    waiting = sorted(pages, key=lambda page: min(map(_place, read([page]))))
    ordered: Shelves = []
    while waiting:
        kin = _strips(ordered[-1]) if ordered else set()
        page = next((one for one in waiting if kin & _strips(one)), waiting[0])
        waiting.remove(page)
        ordered.append(page)
    known = [set(), *map(_strips, ordered), set()]
    for page, before, behind in zip(ordered, known, known[2:], strict=False):

        def rank(
            part: Part, before: Collection[int] = before, behind: Collection[int] = behind
        ) -> tuple[int, int, int]:
            return 0 if part.strip in before else 2 if part.strip in behind else 1, part.strip, part.number

        for shelf in page:
            shelf.parts.sort(key=rank)
        page.sort(
            key=lambda shelf: min(map(rank, shelf.parts)) if rank(shelf.parts[0])[0] == 0 else rank(shelf.parts[-1])
        )
    return ordered


def _place(part: Part) -> tuple[int, int]:
    return part.strip, part.number


def read(pages: Shelves) -> Iterator[Part]:
    """Give all parts as they are read."""
    return (part for page in pages for shelf in page for part in shelf.parts)


def _strips(page: Sequence[Shelf]) -> set[int]:
    return {part.strip for shelf in page for part in shelf.parts}
