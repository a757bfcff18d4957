"""A page of panes: the windows, their codes, names and joints; page mm."""

from __future__ import annotations

from collections.abc import Sequence

from tiler.box import Box
from tiler.declaration import Page, Tag
from tiler.languages.proved import SIZE, SIZES
from tiler.languages.words import say
from tiler.sentence import span
from tiler.sheets.canvas import Canvas
from tiler.sheets.layout.sheet import Sheet
from tiler.sheets.page.free_places import ON_LINE, ON_PIECE, ON_TEXT, Obstacle, Places
from tiler.sheets.page.joint_words import Join, draw_joints
from tiler.sheets.page.window import Window, draw_marks, draw_window
from tiler.sheets.style import LABEL, LEADING, SMALL
from tiler.sheets.typesetting import text_width, wrapped

CODE_HEIGHT = 4.4
COLUMNS = (60.0, 36.0, 22.0, 10.5)
"""How wide the name below a code may run, mm."""

WHITE = 1.5
"""On either side of a code with its words in one line, mm."""

NARROW = 60.0
FINE, COARSE = (0.8, 0.6), (6.0, 2.0)
"""A code looks for its place in steps across and down: fine ones over a pane's side that is narrow, mm."""


def draw_panes(canvas: Canvas, sheet: Sheet, pages: Sequence[Page]) -> Sequence[Obstacle]:
    """Draw the panes of a page, and return what stands on it.

    The proof tells the panes apart by this order.
    """
    windows = [draw_window(canvas, sheet, page) for page in pages]
    taken: list[Obstacle] = []
    for page, window in zip(pages, windows, strict=True):
        frame = window.frame
        own = [*window.obstacles, *draw_marks(canvas, window, sheet.marks_of(page))]
        own += draw_joints(canvas, frame, own, _joins(page, sheet))
        code = _draw_code(canvas, frame, own, page.code or "", _name(page, window, sheet))
        inside = [Obstacle(one.box.within(frame), one.cost) for one in own]
        taken += [*inside, *_frame_obstacles(frame), Obstacle(code, ON_TEXT)]
    return taken


def _joins(page: Page, sheet: Sheet) -> list[Join]:
    """Return what a pane joins; nothing for a whole strip."""
    before, after = ("below", "above") if sheet.turned else ("left", "right")
    parts = {one.column: one.code for one in sheet.pages if one.row == page.row and one.kind == page.kind}
    assert page.column is not None
    sides = ((parts.get(page.column - 1), before, True), (parts.get(page.column + 1), after, False))
    return [Join(code, side, trimmed) for code, side, trimmed in sides if code]


def _name(page: Page, window: Window, sheet: Sheet) -> str:
    """Name the piece of a pane and its sizes; nothing where its label says so in the pane."""
    assert page.window is not None
    names = dict.fromkeys(place.declared.name for place in window.shown)
    starts = tuple(names)
    for place in sheet.painted:
        for text in place.lettered.texts:
            # of all words of all pieces few are names
            if not text.printed.startswith(starts):
                continue
            box = Box.around(
                place.declared.on_sheet(at) for at in ((text.box.x0, text.box.y0), (text.box.x1, text.box.y1))
            )
            if page.window.holds(box):
                return ""
    sizes = [place.declared.size for place in window.shown if place.declared.size]
    size = span(sizes[0], sizes[-1]) if sizes else ""
    return ", ".join((*names, *([say(SIZES, sizes=size) if len(sizes) > 1 else say(SIZE, size=size)] if size else [])))


def _draw_code(canvas: Canvas, frame: Box, obstacles: Sequence[Obstacle], code: str, name: str) -> Box:
    """Write the code of a pane and the name of its piece where that disturbs least, and return the place."""
    code_width = text_width(code, LABEL, bold=True)
    beside = code_width + 2.0
    below = [wrapped(name, room) for room in COLUMNS] if name else []
    shapes = [(WHITE + (beside + text_width(name) if name else code_width) + WHITE, CODE_HEIGHT)]
    shapes += [(max(code_width, *map(text_width, lines)), CODE_HEIGHT + len(lines) * LEADING) for lines in below]
    across, down = (
        fine if side < NARROW else coarse
        for side, fine, coarse in zip((frame.width, frame.height), FINE, COARSE, strict=True)
    )
    places = Places(frame, obstacles, inset=0.8, down=down, across=across, on_pieces=True)
    # rather no name than one that a line runs through
    chosen, place = places.clear(shapes) or (len(shapes), places.take([(code_width, CODE_HEIGHT)])[1])
    lines = [(), *below, ()][chosen]
    left, base = place.x0 + (0.0 if chosen else WHITE), place.y1 - CODE_HEIGHT + 0.8
    with canvas.part(Tag.TILE_CODE):
        canvas.text((left, base), code, LABEL, bold=True)
    if not chosen:
        if name:
            canvas.text((left + beside, base), name, SMALL)
        return place
    for number, line in enumerate(lines, 1):
        canvas.text((left, base - number * LEADING + 0.2), line, SMALL)
    return place


def _frame_obstacles(frame: Box) -> list[Obstacle]:
    """Return a page frame and its lines as something that words should not lie on."""
    left, right = Box(frame.x0, frame.y0, frame.x0, frame.y1), Box(frame.x1, frame.y0, frame.x1, frame.y1)
    foot, top = Box(frame.x0, frame.y0, frame.x1, frame.y0), Box(frame.x0, frame.y1, frame.x1, frame.y1)
    lines = [Obstacle(line.grown(0.5), ON_LINE) for line in (left, right, foot, top)]
    return [Obstacle(frame.grown(1.0), ON_PIECE), *lines]
