"""Parts of strips in shelves along a page, and the shelves on pages, as they are read; mm.

Here they are laid out in the order of their strips, each behind the one before.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from tiler.sheets.layout.cutting import Part, Strip
from tiler.sheets.layout.joints import LEAST_LEFT, TINY

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

    @classmethod
    def of(cls, part: Part, along: float) -> Shelf:
        """Return the shelf that a part begins on a page of this extent along it."""
        shelf = cls(part.width, along + APART, [])
        shelf.put(part)
        return shelf

    def takes(self, length: float, width: float) -> bool:
        """Tell whether a part has room here."""
        return self.room - APART >= length - TINY and self.width >= width - TINY

    def put(self, part: Part) -> None:
        """Put a part behind the others."""
        self.parts.append(part)
        self.room -= part.length + APART

    def remove(self, part: Part) -> None:
        """Take a part away again."""
        self.parts.remove(part)
        self.room += part.length + APART


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
                pages[-1].append(Shelf.of(part, along))
            else:
                last.put(part)
            if strip.ends_with(part):
                break
            start, number = strip.behind(part), number + 1
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
    part = filling(strip, number, start, last, rest) if fill and last else None
    return (part, last) if part else (strip.part(number, start, along), None)


def filling(strip: Strip, number: int, start: float, shelf: Shelf, rest: float) -> Part | None:
    """Return the part that the room left on a shelf can be filled with, if it leaves enough of the strip behind."""
    room = shelf.room - APART
    if strip.least <= room < rest:
        part = strip.clear_part(number, start, room)
        enough = part and part.end <= strip.item.ends[1] - LEAST_LEFT + TINY
        if part and enough and shelf.takes(part.length, part.width):
            return part
    return None


def read(pages: Shelves) -> Iterator[Part]:
    """Give all parts as they are read."""
    return (part for page in pages for shelf in page for part in shelf.parts)
