"""The foot of a page, held against the declared pages: which page it says to be, and which its small map shows.

The map shows the pages that are taped together as they lie, or all pages of the file in their order; of many,
those round its own.  Pages are taped where their joint has marks.  Rows count from the top, columns from the left.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Sequence

from tiler.box import Box
from tiler.declaration import Declaration, Page, PageKind, printed_pages
from tiler.languages.proved import PAGE
from tiler.languages.words import Words, pattern, say
from tiler.printed import Area, Line, Printed, Word

BLACK = 0.0

_COUNT = r"\d+"

OFF = 0.05
"""The sides of a map lie no further beside whole steps of it, in steps."""

Cell = tuple[int, int]
"""Row and column of a page."""

Joints = Collection[tuple[Cell, Cell]]
"""Cells that marks put together, the upper or left one first."""

Side = tuple[str, int, int]
"""An upper or a left side of a cell, by the row and column of that."""


def foot_faults(
    declaration: Declaration, records: Sequence[Page], marks: Sequence[Printed], given: Collection[str]
) -> Iterator[str]:
    """Name what a page says or shows of itself otherwise than it is; ``given`` words may read like anything."""
    pages, host = declaration.pages, declaration.place
    right = say(PAGE, number=host.number(records[0].number), pages=_count(declaration))
    said = re.compile(rf"{pattern(PAGE, number=_COUNT, pages=_COUNT)}\b")
    words = [mark for mark in marks if isinstance(mark, Word)]
    mine = [word.text for word in words if not word.bold and not any(map(word.text.startswith, given))]
    wrong = [text for text in mine if (match := said.match(text)) and match[0] != right]
    if wrong or not any(word.text == right for word in words):
        yield Words("its page number, {words}", words=wrong[0] if wrong else right)
    at = {one.code: (one.row or 0, one.column or 0) for one in pages if one.kind is PageKind.TILE}
    joints = {(at[a], at[b]) for a, b in {mark.tiles for mark in declaration.marks} if a in at and b in at}
    if not _mapped(declaration, joints, records, marks):
        yield Words("the map at the foot")


def _count(declaration: Declaration) -> int:
    """Return how many pages the whole file has."""
    return declaration.place.count(len(printed_pages(declaration.pages)))


def _mapped(declaration: Declaration, joints: Joints, records: Sequence[Page], marks: Sequence[Printed]) -> bool:
    """Tell whether a page has its map; the first page has none, and neither has a file of one page."""
    black = [mark.area for mark in marks if isinstance(mark, Area) and mark.grey == BLACK]
    if records[0].kind is PageKind.COVER or _count(declaration) == 1:
        return not black
    if len(black) != 1:
        return False
    drawn = [_sides(mark, black[0]) for mark in marks if isinstance(mark, Line) and not mark.tag]
    return any(sides == _sides_of(_shown(declaration, joints, records[0], sides)) for sides in drawn if sides)


def _sides(line: Line, own: Box) -> set[Side]:
    """Return the sides that a path draws, in cells as large as the black one and counted from it; else nothing."""
    sides: set[Side] = set()
    for points in line.lines:
        if len(points) != 2:
            return set()
        exact = [((own.y1 - y) / own.height, (x - own.x0) / own.width) for x, y in points]
        (top, left), (low, right) = sorted((round(row), round(column)) for row, column in exact)
        if any(abs(value - round(value)) > OFF for at in exact for value in at) or (top < low) == (left < right):
            return set()
        sides |= {("left", row, left) for row in range(top, low)}
        sides |= {("top", top, column) for column in range(left, right)}
    return sides


def _sides_of(cells: Collection[Cell]) -> set[Side]:
    level = {("top", row + down, column) for row, column in cells for down in (0, 1)}
    return level | {("left", row, column + right) for row, column in cells for right in (0, 1)}


def _shown(declaration: Declaration, joints: Joints, page: Page, sides: Collection[Side]) -> set[Cell]:
    """Return the cells that a map of this extent should show, counted from that of its page."""
    rows = [row for what, row, _ in sides if what == "left"]
    columns = [column for what, _, column in sides if what == "top"]
    if not rows or not columns:
        return set()
    top, left, low, right = min(rows), min(columns), max(rows), max(columns)
    taped = _taped(page, joints)
    if len(taped) > 1:
        return {(row, column) for row, column in taped if top <= row <= low and left <= column <= right}
    across, count = right - left + 1, _count(declaration)
    first = declaration.place.number(page.number) - 1 + top * across + left
    shown = range(max(first, 0), min(first + across * (low - top + 1), count))
    return {((at - first) // across + top, (at - first) % across + left) for at in shown}


def _taped(page: Page, joints: Joints) -> set[Cell]:
    """Return the tiles that hang together with one, counted from it."""
    row, column = page.row or 0, page.column or 0
    found: set[Cell] = set()
    ahead = [(row, column)] if page.kind is PageKind.TILE else []
    while ahead:
        at = ahead.pop()
        if at not in found:
            found.add(at)
            ahead += [other for pair in joints if at in pair for other in pair]
    return {(down - row, right - column) for down, right in found}
