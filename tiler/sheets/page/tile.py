"""The page of a tile: its window, its code, its joints and its title; page mm.

The window may be full of pieces, so a block looks for the place where it
disturbs least: free paper first, then the white of a strip, never a text.
"""

from __future__ import annotations

from tiler.box import Box
from tiler.declaration import Page, PageKind, Tag
from tiler.draft.edition import Edition
from tiler.sheets.canvas import Canvas
from tiler.sheets.cover.first_page import BLOCK_HEIGHT, BLOCK_WIDTH
from tiler.sheets.layout.sheet import Sheet
from tiler.sheets.page.free_places import Places
from tiler.sheets.page.joint_words import Join, draw_joints
from tiler.sheets.page.title import Title, title_of
from tiler.sheets.page.window import draw_marks, draw_window
from tiler.sheets.style import LEADING, SMALL, TITLE
from tiler.sheets.typesetting import text_width

CODE_HEIGHT = 6.4


def draw_tile(canvas: Canvas, sheet: Sheet, edition: Edition, page: Page) -> Places:
    """Draw what the page of a tile shows, its code and its title, and return where there is room for more."""
    window = draw_window(canvas, sheet, page)
    obstacles = [*window.obstacles, *draw_marks(canvas, window, sheet.marks_of(page))]
    obstacles += draw_joints(canvas, window.frame, obstacles, _joins(page, sheet))
    places = Places(window.frame, [one.with_white() for one in obstacles])
    if sheet.corner:
        left, top = sheet.corner
        places.occupy(Box(left, top - BLOCK_HEIGHT, left + BLOCK_WIDTH, top))
    _draw_title(canvas, places, page.code or "", title_of(page.number, window.shown, sheet, edition))
    return places


def _joins(page: Page, sheet: Sheet) -> list[Join]:
    """Return the neighbours of a tile: it is trimmed where it lies over one, at its left and its upper edge."""
    assert page.row is not None
    assert page.column is not None
    at = {(one.row, one.column): one.code for one in sheet.pages if one.kind is PageKind.TILE}
    sides = (("left", 0, -1, True), ("above", -1, 0, True), ("right", 0, 1, False), ("below", 1, 0, False))
    found = ((at.get((page.row + down, page.column + right)), side, trimmed) for side, down, right, trimmed in sides)
    return [Join(code, side, trimmed) for code, side, trimmed in found if code]


def _draw_title(canvas: Canvas, places: Places, code: str, title: Title) -> None:
    """Write the page code, the title and the page number where they disturb least."""
    code_width = text_width(code, TITLE, bold=True)
    side = code_width + 3.0
    beside, below = title.beside(), title.folded()
    shapes = [(side + max(map(text_width, lines)), len(lines) * LEADING + 0.6) for lines in beside]
    shapes += [(max(code_width, *map(text_width, lines)), CODE_HEIGHT + len(lines) * LEADING) for lines in below]
    index, place = places.take(shapes)
    with canvas.part(Tag.TILE_CODE):
        canvas.text((place.x0, place.y1 - CODE_HEIGHT + 1.0), code, TITLE, bold=True)
    x, y = (place.x0 + side, place.y1) if index < len(beside) else (place.x0, place.y1 - CODE_HEIGHT)
    for line in [*beside, *below][index]:
        y -= LEADING
        canvas.text((x, y + 1.0), line, SMALL)
