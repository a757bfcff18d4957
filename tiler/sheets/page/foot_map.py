"""The small map in the foot of a page: the pages that are taped together, or all in their order, this one black; mm.

Pages are taped together where their joint has marks.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from math import ceil

from tiler.box import Box, Point
from tiler.declaration import Page, PageKind, printed_pages
from tiler.sheets.canvas import Canvas
from tiler.sheets.layout.sheet import Sheet
from tiler.sheets.style import BLACK, HAIR

HIGH, WIDE = 5.2, 14.5
"""As high and as wide the map becomes, mm."""

MOST_ROWS, MOST_COLUMNS = 5, 14
"""A map of more rows or columns shows those round its page, or nobody would find that."""

Cell = tuple[int, int]
"""Row and column of a page, from the top and from the left."""

Side = tuple[Cell, Cell]
"""From corner to corner of cells; also two cells beside each other."""


def map_size(sheet: Sheet, records: Sequence[Page]) -> tuple[float, float]:
    """Return width and height of the map of a page; a file of one page has none."""
    cells, _ = _cells(sheet, records)
    if len(cells) < 2:
        return 0.0, 0.0
    columns, rows = _extent(cells)
    wide, high = _one(sheet.pages, columns, rows)
    return columns * wide, rows * high


def draw_foot_map(canvas: Canvas, corner: Point, sheet: Sheet, records: Sequence[Page]) -> None:
    """Draw the map with its upper left corner at ``corner``."""
    cells, own = _cells(sheet, records)
    if len(cells) < 2:
        return
    wide, high = _one(sheet.pages, *_extent(cells))
    left, top = min(column for _, column in cells), min(row for row, _ in cells)

    def point(row: int, column: int) -> Point:
        return corner[0] + (column - left) * wide, corner[1] - (row - top) * high

    canvas.stroke([(point(*a), point(*b)) for a, b in _sides(cells)], HAIR)
    (x0, y1), (x1, y0) = point(*own), point(own[0] + 1, own[1] + 1)
    canvas.shade(Box(x0, y0, x1, y1), BLACK)


def _cells(sheet: Sheet, records: Sequence[Page]) -> tuple[set[Cell], Cell]:
    """Return the places of the pages that are taped to this one, else of all pages of the file, and its own."""
    page = records[0]
    if page.kind is PageKind.TILE and page.row is not None and page.column is not None:
        own = (page.row, page.column)
        place = {one.code: (one.row or 0, one.column or 0) for one in sheet.pages if one.kind is PageKind.TILE}
        joints = {(place[a], place[b]) for a, b in {mark.tiles for mark in sheet.marks}}
        taped = _taped(own, joints)
        if len(taped) > 1:
            return _round(taped, own), own
    host = sheet.drawing.host
    count, at = host.count(len(printed_pages(sheet.pages))), host.number(page.number) - 1
    rows, columns = _shape(count)
    whole = rows * columns
    first = at // whole * whole
    shown = range(min(whole, count - first))
    at -= first
    return {divmod(index, columns) for index in shown}, divmod(at, columns)


def _taped(own: Cell, joints: Collection[Side]) -> set[Cell]:
    """Return all tiles that hang together with one."""
    found, ahead = {own}, [own]
    while ahead:
        here = ahead.pop()
        near = {b if a == here else a for a, b in joints if here in (a, b)} - found
        found |= near
        ahead += near
    return found


def _round(cells: Collection[Cell], own: Cell) -> set[Cell]:
    """Return the cells round this one, no more rows and columns than can be told apart."""
    shown = {*cells}
    for axis, most in ((0, MOST_ROWS), (1, MOST_COLUMNS)):
        low, high = min(cell[axis] for cell in shown), max(cell[axis] for cell in shown)
        start = max(low, min(own[axis] - most // 2, high - most + 1))
        shown = {cell for cell in shown if start <= cell[axis] < start + most}
    return shown


def _shape(count: int) -> tuple[int, int]:
    """Return rows and columns for pages in their order."""
    rows = min(MOST_ROWS, ceil(count / MOST_COLUMNS) if count > 2 * MOST_COLUMNS else 1 + (count > 4))
    return rows, min(MOST_COLUMNS, ceil(count / rows))


def _extent(cells: Collection[Cell]) -> tuple[int, int]:
    rows, columns = ([cell[axis] for cell in cells] for axis in (0, 1))
    return max(columns) - min(columns) + 1, max(rows) - min(rows) + 1


def _one(pages: Sequence[Page], columns: int, rows: int) -> tuple[float, float]:
    """Return width and height of one page on the map, in the proportion of its window or, of panes, of paper."""
    window = next((one.window for one in pages if one.kind is PageKind.TILE and one.window), None)
    share = window.width / window.height if window else 0.75
    high = min(HIGH / rows, WIDE / columns / share)
    return high * share, high


def _sides(cells: Collection[Cell]) -> list[Side]:
    """Return the sides of all cells, those that lie in one line and touch as one."""
    level = {(row + down, column) for row, column in cells for down in (0, 1)}
    plumb = {(column + right, row) for row, column in cells for right in (0, 1)}
    lines = [((at, start), (at, end)) for at, start, end in _runs(level)]
    return [*lines, *(((start, at), (end, at)) for at, start, end in _runs(plumb))]


def _runs(places: Collection[Cell]) -> list[tuple[int, int, int]]:
    """Put neighbours on one line together: the line, where the run begins, and where it ends."""
    runs: list[tuple[int, int, int]] = []
    for at, step in sorted(places):
        if runs and runs[-1][0] == at and runs[-1][2] == step:
            runs[-1] = (at, runs[-1][1], step + 1)
        else:
            runs.append((at, step, step + 1))
    return runs
