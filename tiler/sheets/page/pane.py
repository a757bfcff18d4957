"""A page of panes: the windows, their codes with what each joins, and the title; page mm."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tiler.box import Box
from tiler.declaration import Page, Tag
from tiler.draft.edition import Edition
from tiler.sheets.canvas import Canvas
from tiler.sheets.layout.sheet import Sheet
from tiler.sheets.page.free_places import ON_LINE, ON_PIECE, ON_TEXT, Obstacle, Places
from tiler.sheets.page.title import Title, title_of
from tiler.sheets.page.window import draw_marks, draw_window
from tiler.sheets.style import LABEL, LEADING, SMALL
from tiler.sheets.typesetting import text_width, wrapped

CODE_HEIGHT = 4.4
COLUMNS = (22.0, 10.5)
"""How wide the words below a code may run, mm."""

WHITE = 1.5
"""On either side of a code with its words in one line, mm."""

ARROWS = {"left": "←", "right": "→", "above": "↑", "below": "↓"}

NARROW = 60.0
FINE, COARSE = (0.8, 0.6), (6.0, 2.0)
"""A code looks for its place in steps across and down: fine ones over a pane's side that is narrow, mm."""


@dataclass(frozen=True)
class Join:
    """The part of a strip that a pane meets, and on which of its sides: left, right, above or below."""

    code: str
    side: str


def draw_panes(canvas: Canvas, sheet: Sheet, edition: Edition, pages: Sequence[Page]) -> Places:
    """Draw the panes of a page, then its title, and return where there is room for more.

    The proof tells the panes apart by this order.
    """
    windows = [draw_window(canvas, sheet, page) for page in pages]
    taken: list[Obstacle] = []
    for page, window in zip(pages, windows, strict=True):
        frame = window.frame
        own = [*window.obstacles, *draw_marks(canvas, window, sheet.marks_of(page))]
        code = _draw_code(canvas, frame, own, page.code or "", _joins(page, sheet))
        inside = [Obstacle(one.box.within(frame), one.cost) for one in own]
        taken += [*inside, *_frame_obstacles(frame), Obstacle(code, ON_TEXT)]
    places = Places(sheet.page.frame, taken)
    shown = [place for window in windows for place in window.shown]
    _draw_title(canvas, places, title_of(pages[0].number, shown, sheet, edition))
    return places


def _joins(page: Page, sheet: Sheet) -> list[Join]:
    """Return what a pane joins; nothing for a whole strip."""
    before, after = ("below", "above") if sheet.turned else ("left", "right")
    parts = {one.column: one.code for one in sheet.pages if one.row == page.row and one.kind == page.kind}
    assert page.column is not None
    sides = ((parts.get(page.column - 1), before), (parts.get(page.column + 1), after))
    return [Join(code, side) for code, side in sides if code]


def _draw_code(canvas: Canvas, frame: Box, obstacles: Sequence[Obstacle], code: str, joins: Sequence[Join]) -> Box:
    """Write the code of a pane and what it joins where that disturbs least, and return the place."""
    code_width = text_width(code, LABEL, bold=True)
    beside = code_width + 2.0
    words = f"joins {', '.join(f'{join.code} {join.side}' for join in joins)}"
    arrows = [f"{join.code} {ARROWS[join.side]}" for join in joins]
    inline = [words, "  ".join(arrows)] if joins else [""]
    below = [*(wrapped(words, room) for room in COLUMNS), arrows] if joins else []
    shapes = [(WHITE + (beside + text_width(line) if line else code_width) + WHITE, CODE_HEIGHT) for line in inline]
    shapes += [(max(code_width, *map(text_width, lines)), CODE_HEIGHT + len(lines) * LEADING) for lines in below]
    fits = [index for index, shape in enumerate(shapes) if shape[0] <= frame.width - 2.0] or [len(shapes) - 1]
    across, down = (
        fine if side < NARROW else coarse
        for side, fine, coarse in zip((frame.width, frame.height), FINE, COARSE, strict=True)
    )
    places = Places(frame, obstacles, inset=0.8, down=down, across=across, on_pieces=True)
    index, place = places.take([shapes[index] for index in fits])
    chosen = fits[index]
    left, base = place.x0 + (WHITE if chosen < len(inline) else 0.0), place.y1 - CODE_HEIGHT + 0.8
    with canvas.part(Tag.TILE_CODE):
        canvas.text((left, base), code, LABEL, bold=True)
    if chosen < len(inline):
        if inline[chosen]:
            canvas.text((left + beside, base), inline[chosen], SMALL)
        return place
    for number, line in enumerate(below[chosen - len(inline)], 1):
        canvas.text((left, base - number * LEADING + 0.2), line, SMALL)
    return place


def _frame_obstacles(frame: Box) -> list[Obstacle]:
    """Return a page frame and its lines as something that words should not lie on."""
    left, right = Box(frame.x0, frame.y0, frame.x0, frame.y1), Box(frame.x1, frame.y0, frame.x1, frame.y1)
    foot, top = Box(frame.x0, frame.y0, frame.x1, frame.y0), Box(frame.x0, frame.y1, frame.x1, frame.y1)
    lines = [Obstacle(line.grown(0.5), ON_LINE) for line in (left, right, foot, top)]
    return [Obstacle(frame.grown(1.0), ON_PIECE), *lines]


def _draw_title(canvas: Canvas, places: Places, title: Title) -> None:
    """Write the title and the page number where they disturb least."""
    ways = [*title.cut(), *title.folded()]
    index, place = places.take([(max(map(text_width, way)), len(way) * LEADING + 0.6) for way in ways])
    for number, line in enumerate(ways[index], 1):
        canvas.text((place.x0, place.y1 - number * LEADING + 1.0), line, SMALL)
