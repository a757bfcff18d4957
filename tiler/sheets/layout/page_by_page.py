"""Strips cut for one page after the other, so that the parts of each are met in their order; mm.

Of all strips not yet shown whole, a page takes those next parts whose shelves fill it best, a
multiple-choice knapsack solved by dynamic programming (Kellerer, Pferschy and Pisinger,
"Knapsack Problems", Springer 2004).  The room that is left on the shelves is filled with
further parts as long as the codes still run from the left to the right and down.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from tiler.sheets.layout.cutting import Part, Strip
from tiler.sheets.layout.joints import TINY
from tiler.sheets.layout.shelves import APART, Shelf, Shelves, filling

MOST_WAITING = 9
"""So many strips are looked at for a page, the begun ones first."""

STEP = 4.0
"""Of two ways to fill about as much of a page only the better one is followed, mm."""


@dataclass(frozen=True)
class Taste:
    """What makes a part welcome on a page beside the room that it fills.

    A part that goes on with a strip counts more by the share ``begun``; of the room behind a
    last part, which another may fill, the share ``left`` counts.
    """

    begun: float
    left: float


def page_by_page(strips: Sequence[Strip], along: float, across: float, taste: Taste) -> Shelves | None:
    """Fill page after page; None when a part is wider than a page."""
    waiting = [_Rest(strip) for strip in strips]
    pages: Shelves = []
    numbers: dict[int, int] = {}
    while waiting:
        waiting.sort(key=lambda rest: rest.number == 0)
        near = waiting[:MOST_WAITING]
        chosen = _chosen(near, along, across, taste)
        if not chosen:
            return None
        shelves = [Shelf.of(rest.cut(along), along) for rest, parts in chosen for _ in range(parts)]
        for shelf in sorted(shelves, key=lambda shelf: -shelf.width):
            _fill(shelf, shelves, near, along, numbers)
        shelves, numbers = _read(shelves, numbers)
        pages.append(shelves)
        waiting = [rest for rest in waiting if not rest.shown]
    return pages


class _Rest:
    """What of a strip is not yet on a page."""

    def __init__(self, strip: Strip) -> None:
        self.strip, self.start, self.number, self.shown = strip, 0.0, 0, False

    def cut(self, along: float) -> Part:
        """Take the next part that is as long as a page, or what is left."""
        part = self.strip.part(self.number, self.start, along)
        self.take(part)
        return part

    def take(self, part: Part) -> None:
        """Go on behind a part."""
        self.start, self.number, self.shown = self.strip.behind(part), part.number + 1, self.strip.ends_with(part)

    def chain(self, along: float) -> Iterator[Part]:
        """Give the parts that follow each other."""
        start, number = self.start, self.number
        while True:
            part = self.strip.part(number, start, along)
            yield part
            if self.strip.ends_with(part):
                return
            start, number = self.strip.behind(part), number + 1


_Filled = tuple[float, float, tuple[tuple[_Rest, int], ...]]
"""A page by the steps that are taken of it: what that is worth, what is taken, and by how many parts."""


def _chosen(waiting: Sequence[_Rest], along: float, across: float, taste: Taste) -> list[tuple[_Rest, int]]:
    """Return how many parts of which strips fill a page best, each part on a shelf of its own."""
    room = across + APART + TINY
    best: dict[int, _Filled] = {0: (0.0, 0.0, ())}
    for rest in waiting:
        choices = []
        taken, worth = 0.0, 0.0
        for count, part in enumerate(rest.chain(along), 1):
            if part.width > across + TINY:
                return []
            taken += part.width + APART
            if taken > room:
                break
            full = part.length + taste.left * (along - part.length) if rest.strip.ends_with(part) else along
            worth += part.width * full * (1 + taste.begun * (rest.number > 0))
            choices.append((count, taken, worth))
        for value, at, chosen in list(best.values()):
            for count, taken, worth in choices:
                if at + taken > room:
                    break
                place = int((at + taken) / STEP)
                if place not in best or best[place][0] < value + worth:
                    best[place] = value + worth, at + taken, (*chosen, (rest, count))
        best = _worthwhile(best)
    return list(max(best.values(), key=lambda one: one[0])[2])


def _worthwhile(best: Mapping[int, _Filled]) -> dict[int, _Filled]:
    """Leave out what takes more room and is worth no more."""
    kept: dict[int, _Filled] = {}
    most = -1.0
    for place in sorted(best):
        if best[place][0] > most:
            kept[place] = best[place]
            most = best[place][0]
    return kept


def _fill(
    shelf: Shelf, shelves: Sequence[Shelf], waiting: Sequence[_Rest], along: float, numbers: Mapping[int, int]
) -> None:
    """Put further parts onto a shelf, the largest first, as long as all codes of the page stay in order."""
    while True:
        found = [(rest, part) for rest in waiting if not rest.shown and (part := _fitting(rest, shelf, along))]
        found.sort(key=lambda one: -one[1].length * one[1].width)
        for rest, part in found:
            shelf.put(part)
            if _in_order(shelves, numbers):
                rest.take(part)
                break
            shelf.remove(part)
        else:
            return


def _fitting(rest: _Rest, shelf: Shelf, along: float) -> Part | None:
    """Return the next part of a strip that a shelf has room for; what fits one page is not cut."""
    left = rest.strip.item.length - rest.start
    if left <= along:
        part = rest.strip.part(rest.number, rest.start, left)
        if shelf.takes(left, part.width):
            return part
        if rest.start == 0.0:
            return None
    return filling(rest.strip, rest.number, rest.start, shelf, left)


def _read(shelves: Sequence[Shelf], numbers: Mapping[int, int]) -> tuple[list[Shelf], dict[int, int]]:
    """Put the parts that go on with a strip first, and return the shelves with the numbers of the strips as read."""
    new = len(numbers)

    def rank(part: Part) -> tuple[int, int]:
        return (numbers[part.strip], part.number) if part.strip in numbers else (new, 0)

    for shelf in shelves:
        shelf.parts.sort(key=rank)
    ordered = sorted(shelves, key=lambda shelf: rank(shelf.parts[0]))
    known = dict(numbers)
    for shelf in ordered:
        for part in shelf.parts:
            known.setdefault(part.strip, len(known))
    return ordered, known


def _in_order(shelves: Sequence[Shelf], numbers: Mapping[int, int]) -> bool:
    """Tell whether the codes of a page run from the left to the right and down."""
    ordered, known = _read(shelves, numbers)
    codes = [(known[part.strip], part.number) for shelf in ordered for part in shelf.parts]
    return codes == sorted(codes)
