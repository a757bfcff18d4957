"""The page of a tile: its window and its joints; page mm."""

from __future__ import annotations

from collections.abc import Sequence

from tiler.declaration import Mark, Page, PageKind
from tiler.sheets.canvas import Canvas
from tiler.sheets.layout.sheet import Sheet
from tiler.sheets.page.free_places import Obstacle
from tiler.sheets.page.joint_words import Join, told
from tiler.sheets.page.piece_names import name_pieces, nameless
from tiler.sheets.page.window import draw_marks, draw_window


def draw_tile(canvas: Canvas, sheet: Sheet, page: Page) -> Sequence[Obstacle]:
    """Draw what the page of a tile shows, and return what stands in its window."""
    window = draw_window(canvas, sheet, page)
    marks = sheet.marks_of(page)
    obstacles = [*window.obstacles, *draw_marks(canvas, window, marks)]
    joints = told(window.frame, obstacles, _joins(page, sheet, marks))
    for joint in joints:
        joint.draw(canvas)
    obstacles += [joint.obstacle for joint in joints]
    return [*obstacles, *name_pieces(canvas, nameless(sheet, page, window), obstacles, sheet.turned)]


def _joins(page: Page, sheet: Sheet, marks: Sequence[Mark]) -> list[Join]:
    """Return the neighbours a tile is taped to; it is trimmed where it lies over one, at its left and upper edge."""
    assert page.row is not None
    assert page.column is not None
    at = {(one.row, one.column): one.code for one in sheet.pages if one.kind is PageKind.TILE}
    sides = (("left", 0, -1, True), ("above", -1, 0, True), ("right", 0, 1, False), ("below", 1, 0, False))
    found = ((at.get((page.row + down, page.column + right)), side, trimmed) for side, down, right, trimmed in sides)
    taped = {code for mark in marks for code in mark.tiles}
    return [Join(code, side, trimmed) for code, side, trimmed in found if code in taped and code]
