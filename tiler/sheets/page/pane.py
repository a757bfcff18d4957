"""A page of panes: the windows, their codes, names and joints; page mm."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from tiler.box import Box
from tiler.declaration import Page, Tag
from tiler.sheets.canvas import Canvas
from tiler.sheets.layout.sheet import Sheet
from tiler.sheets.page.free_places import ON_LINE, ON_PIECE, ON_TEXT, Obstacle, Places
from tiler.sheets.page.joint_words import Join, Told, told
from tiler.sheets.page.piece_names import name_pieces, nameless
from tiler.sheets.page.window import draw_marks, draw_window
from tiler.sheets.style import FACT, LABEL, LEADING, LEAST, SMALL
from tiler.sheets.typesetting import text_width, wrapped

CODE_HEIGHT = 4.4
COLUMNS = (60.0, 36.0, 22.0, 10.5)
"""How wide the name below a code may run, mm."""

WHITE, BESIDE = 1.5, 2.0
"""On either side of a code with its words in one line, and between both, mm."""

LOW = 2 / 11
"""From the foot of a code to its base line, share of its height."""

NOWHERE = Box(0.0, 0.0, 0.0, 0.0)

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
        pieces = nameless(sheet, page, window)
        name = ", ".join(piece.text for piece in pieces)
        bounds = Box.enclosing(place.bounds.moved(*window.moved) for place in window.shown)
        strip = bounds.within(frame) if sheet.turned else None
        code, joints = _lettered(frame, own, page.code or "", name, _joins(page, sheet), strip)
        for joint in joints:
            joint.draw(canvas)
        code.draw(canvas)
        own += [code.obstacle, *(joint.obstacle for joint in joints)]
        if not code.lines:
            own += name_pieces(canvas, pieces, own, sheet.turned)
        taken += [Obstacle(one.box.within(frame), one.cost) for one in own]
        taken += _frame_obstacles(frame)
    return taken


def _joins(page: Page, sheet: Sheet) -> list[Join]:
    """Return what a pane joins; nothing for a whole strip."""
    before, after = ("below", "above") if sheet.turned else ("left", "right")
    parts = {one.column: one.code for one in sheet.pages if one.row == page.row and one.kind == page.kind}
    assert page.column is not None
    sides = ((parts.get(page.column - 1), before, True), (parts.get(page.column + 1), after, False))
    return [Join(code, side, trimmed) for code, side, trimmed in sides if code]


@dataclass(frozen=True)
class _Code:
    """The code of a pane and what names its piece, beside it or in lines below it, in a place; type in points."""

    code: str
    lines: Sequence[str] = ()
    below: bool = True
    size: float = LABEL
    place: Box = NOWHERE

    @property
    def wide(self) -> float:
        return text_width(self.code, self.size, bold=True)

    @property
    def high(self) -> float:
        return CODE_HEIGHT * self.size / LABEL

    @property
    def shape(self) -> tuple[float, float]:
        if self.below:
            return max(self.wide, *map(text_width, self.lines), 0.0), self.high + len(self.lines) * LEADING
        return 2 * WHITE + self.wide + sum(BESIDE + text_width(line) for line in self.lines), self.high

    @property
    def obstacle(self) -> Obstacle:
        return Obstacle(self.place, ON_TEXT)

    def draw(self, canvas: Canvas) -> None:
        left, base = self.place.x0 + (0.0 if self.below else WHITE), self.place.y1 - self.high + LOW * self.high
        with canvas.part(Tag.TILE_CODE):
            canvas.text((left, base), self.code, self.size, bold=True)
        for number, line in enumerate(self.lines, 1):
            at = (left, base - number * LEADING + 0.2) if self.below else (left + self.wide + BESIDE, base)
            canvas.text(at, line, SMALL)


def _lettered(
    frame: Box, taken: Sequence[Obstacle], code: str, name: str, joins: Sequence[Join], strip: Box | None
) -> tuple[_Code, list[Told]]:
    """Return the code of a pane and what its joints tell, each in its place; joints first, for they have fewer."""
    joints = told(frame, taken, joins, strip)
    placed, clear = _code(frame, [*taken, *(joint.obstacle for joint in joints)], code, name)
    if not clear or not all(joint.clear for joint in joints):
        first, is_clear = _code(frame, taken, code, name)
        others = told(frame, [*taken, first.obstacle], joins, strip)
        if (is_clear, sum(joint.clear for joint in others)) > (clear, sum(joint.clear for joint in joints)):
            return first, others
    return placed, joints


def _code(frame: Box, taken: Sequence[Obstacle], code: str, name: str) -> tuple[_Code, bool]:
    """Put the code of a pane and the name of its piece off lines and words; tell whether there is such a place."""
    below = [wrapped(name, room) for room in COLUMNS] if name else []
    ways = [_Code(code, [name] if name else [], below=False), *(_Code(code, lines) for lines in below)]
    # rather no name than one that a line runs through, and a smaller code than a crossed one
    alone = [_Code(code, size=size) for size in (LABEL, FACT, SMALL, LEAST)]
    across, down = (
        fine if side < NARROW else coarse
        for side, fine, coarse in zip((frame.width, frame.height), FINE, COARSE, strict=True)
    )
    places = Places(frame, taken, inset=0.8, down=down, across=across, on_pieces=True)
    found = places.clear([way.shape for way in (*ways, *alone)])
    if found is None:
        found = Places(frame, taken, inset=0.8, down=FINE[1], across=FINE[0], on_pieces=True).clear(
            [way.shape for way in alone]
        )
        if found:
            return replace(alone[found[0]], place=found[1]), True
        return replace(alone[0], place=places.take([alone[0].shape])[1]), False
    return replace([*ways, *alone][found[0]], place=found[1]), True


def _frame_obstacles(frame: Box) -> list[Obstacle]:
    """Return a page frame and its lines as something that words should not lie on."""
    left, right = Box(frame.x0, frame.y0, frame.x0, frame.y1), Box(frame.x1, frame.y0, frame.x1, frame.y1)
    foot, top = Box(frame.x0, frame.y0, frame.x1, frame.y0), Box(frame.x0, frame.y1, frame.x1, frame.y1)
    lines = [Obstacle(line.grown(0.5), ON_LINE) for line in (left, right, foot, top)]
    return [Obstacle(frame.grown(1.0), ON_PIECE), *lines]
