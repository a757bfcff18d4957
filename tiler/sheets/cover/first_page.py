"""The first page: what to measure, how to print, which page goes where, cautions; page mm.

The page has margins of its own, since it must hold a 20 cm line on every paper.
The instructions name the print setting of the common viewers, because the
file's own request for no scaling is a hint that some of them ignore.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tiler.box import Box
from tiler.declaration import Page, PageKind, Rule, Square
from tiler.sentence import counted
from tiler.sheets.canvas import Canvas
from tiler.sheets.cover.pane_map import draw_pane_map
from tiler.sheets.cover.sizes import SizePages, draw_sizes, fits
from tiler.sheets.page.rulers import LONG_ACROSS, LONG_DOWN, RULE_DEPTH, RULE_OVERHANG, SQUARES, draw_rules, draw_square
from tiler.sheets.style import FINE, HAIR, HEADING, LABEL, LEADING, SHADE, SMALL, TITLE
from tiler.sheets.typesetting import shortened, text_width, wrapped

MARGIN = 12.0
BLOCK_WIDTH = 186.0
BLOCK_HEIGHT = 255.0
COLUMN_LEFT = RULE_DEPTH + 6.0
MOST_ROWS = 14
HEADING_ROOM, BEFORE_HEADING = 5.4, 1.2
"""What a heading takes, and the white before one that follows other words, mm."""

PRINTING = (
    "Print this page alone first, at 100 %, on the paper named above, one side only.",
    "Adobe Acrobat Reader: Page Sizing & Handling, Actual size. Chrome: More settings, Scale, Custom, 100.",
    "Firefox: More settings, Scale, 100. Edge: More settings, Scale, Actual size. Preview on a Mac: Scale, 100 %.",
    "Never “fit”, “shrink”, “scale to printable area”, “borderless”. Phones often shrink: use a computer.",
    "Then hold a good ruler to both squares and to the long lines, across and down. Each must be right to "
    "half a millimetre (1/64 in). If one is not, change the setting and print again before you cut cloth.",
)

PRINTING_ONE_SHEET = (
    "Ask for 100 %, on paper at least as large as named above, nothing fitted or shrunk.",
    PRINTING[-1],
)

TAPING = (
    "Trim the left edge of a page that has a neighbour on its left, and the top edge of one that has a neighbour "
    "above, along the thin page frame. Lay it over that neighbour until the register marks lie one on the other "
    "(a window pane or a pin through the centre helps), and tape. Go by the marks, never by the paper's edge.",
)

TAPING_PANES = (
    "Cut out every pane along its thin frame and keep the parts of a strip together: 1A, 1B, 1C … are strip 1 in its "
    "order. Lay the next part over the one before until the register marks lie one on the other (a window pane or a "
    "pin through the centre helps), and tape. Go by the marks, never by the frame's edge.",
)

CAUTIONS = (
    "Rotary cutter: close the guard after every cut, keep fingers away from the ruler's edge. "
    "Iron: heat and steam burn; press away from your hands and out of the reach of children.",
    "Children: no ties or drawstrings at the head or neck; a neckline must pass over the head without force and "
    "must not sit tight on the throat. The figures here help with the fit and are no safety check. "
    "The rules of the place where the garment is sold or worn decide (for example 16 CFR 1120 or EN 14682).",
)


@dataclass(frozen=True)
class CoverPiece:
    """A row of the list of pieces."""

    name: str
    count: str
    size: str
    pages: str


@dataclass(frozen=True)
class CoverWords:
    """What the first page says about this job."""

    title: str
    edition: str
    paper: str
    paper_is_fixed: bool
    pages: int
    pieces: tuple[CoverPiece, ...]
    sizes: tuple[SizePages, ...] = ()
    only_for: str = ""
    failed: tuple[str, ...] = ()
    """The checks that are not passed, each with its pieces, as sentences."""


class _Column:
    """Text running down a column."""

    def __init__(self, canvas: Canvas, left: float, right: float, top: float) -> None:
        self.canvas, self.left, self.right, self.y = canvas, left, right, top
        self.top = top

    def heading(self, text: str) -> None:
        self.y -= HEADING_ROOM if self.y == self.top else HEADING_ROOM + BEFORE_HEADING
        self.canvas.text((self.left, self.y), text, HEADING, bold=True)
        self.y -= 0.6

    def paragraph(self, text: str, bullet: str = "") -> None:
        indent = text_width(bullet) + 1.5 if bullet else 0.0
        for index, line in enumerate(wrapped(text, self.right - self.left - indent)):
            self.y -= LEADING
            if bullet and index == 0:
                self.canvas.text((self.left, self.y), bullet)
            self.canvas.text((self.left + indent, self.y), line)


def draw_cover(
    canvas: Canvas,
    page: int,
    corner: tuple[float, float],
    words: CoverWords,
    tiles: Sequence[Page],
    outlines: Sequence[Box],
    height: float = BLOCK_HEIGHT,
) -> tuple[list[Square], list[Rule]]:
    """Draw the block whose upper left corner is ``corner``, ``height`` high; ``outlines`` are the pieces on the sheet.

    Without tiles there is nothing to tape: neither map nor taping are drawn.
    """
    left, top = corner
    right, column = left + BLOCK_WIDTH, left + COLUMN_LEFT
    _heading(canvas, left, top, words)
    rules = draw_rules(canvas, page, (left, top - 25.0 - LONG_DOWN.length - RULE_OVERHANG), "down", LONG_DOWN)
    squares, x = [], column
    for nominal, label in SQUARES:
        squares.append(draw_square(canvas, page, (x, top - 22.0 - nominal), nominal, label))
        x += nominal + 6.0
    beside = _Column(canvas, x, right, top - 20.0)
    beside.heading("Measure first")
    beside.paragraph(
        "Both squares and the long lines must come out at the size written on them, across and down. "
        "A ruler is read to about half a millimetre: on a square that is 1 %, on the 20 cm line a quarter of a percent."
    )
    if words.only_for:
        beside.paragraph("This file undoes the error of one printer: on any other they come out wrong.")
    rules += draw_rules(canvas, page, (column, top - 78.0 - RULE_DEPTH), "across", LONG_ACROSS)
    text = _Column(canvas, column, right, top - 93.0)
    if words.failed:
        _not_passed(canvas, text, words.failed)
    text.heading("How to print")
    for index, line in enumerate(PRINTING if words.paper_is_fixed else PRINTING_ONE_SHEET, 1):
        text.paragraph(line, f"{index}.")
    if len(tiles) > 1:
        text.heading("How to tape")
        for line in TAPING_PANES if tiles[0].kind is PageKind.PANE else TAPING:
            text.paragraph(line)
    text.heading("Cautions")
    for line in CAUTIONS:
        text.paragraph(line, "·")
    _pieces_and_map(canvas, Box(column, top - height, right, text.y - BEFORE_HEADING), words, tiles, outlines)
    return squares, rules


def _not_passed(canvas: Canvas, text: _Column, failed: Sequence[str]) -> None:
    """Draw the ruled box of the checks that are not passed, and go on below it."""
    box = _Column(canvas, text.left + 2.0, text.right - 2.0, text.y)
    box.heading("Before you cut: checks that are not passed")
    for sentence in failed:
        box.paragraph(sentence, "·")
    canvas.outline(Box(text.left, box.y - 1.8, text.right, text.top), FINE)
    text.y = text.top = box.y - 1.8 - 2.0


def _heading(canvas: Canvas, left: float, top: float, words: CoverWords) -> None:
    size = TITLE if text_width(words.title, TITLE, bold=True) <= BLOCK_WIDTH else LABEL
    canvas.text((left, top - 6.0), shortened(words.title, BLOCK_WIDTH, size, bold=True), size, bold=True)
    edition = " · ".join(part for part in (words.only_for, words.edition) if part)
    for y, line in ((12.0, f"{counted(words.pages, 'page')} on {words.paper}"), (16.6, edition)):
        canvas.text((left, top - y), shortened(line, BLOCK_WIDTH, HEADING), HEADING)


def _pieces_and_map(
    canvas: Canvas, room: Box, words: CoverWords, tiles: Sequence[Page], outlines: Sequence[Box]
) -> None:
    """Draw the page map at the right of the list of pieces, as large as the room allows."""
    map_width = min(62.0, 0.4 * room.width) if words.paper_is_fixed else 0.0
    if words.sizes:
        _sizes_and_map(canvas, room, words, tiles, outlines, map_width)
        return
    pieces = _Column(canvas, room.x0, room.x1 - (map_width + 6.0 if map_width else 0.0), room.y1)
    pieces.heading("Pieces")
    most = max(1, min(MOST_ROWS, int((pieces.y - room.y0) / (2 * LEADING + 1.2)) - 1))
    for row in words.pieces[:most]:
        width = pieces.right - pieces.left
        pieces.y -= LEADING + 0.8
        name = shortened(row.name, width - text_width(row.count) - 4.0, bold=True)
        canvas.text((pieces.left, pieces.y), name, bold=True)
        canvas.text((pieces.left + text_width(name, SMALL, bold=True) + 3.0, pieces.y), row.count)
        pieces.y -= LEADING
        canvas.text(
            (pieces.left, pieces.y), shortened(" · ".join(part for part in (row.size, row.pages) if part), width)
        )
    if len(words.pieces) > most:
        pieces.paragraph(f"and {len(words.pieces) - most} more: the outline of the file lists them all.")
    if map_width:
        _titled_map(canvas, room, map_width, tiles, outlines)


def _sizes_and_map(
    canvas: Canvas, room: Box, words: CoverWords, tiles: Sequence[Page], outlines: Sequence[Box], map_width: float
) -> None:
    """Say what to print for each size; the map gives way where the sizes need its room."""
    names = dict.fromkeys((row.name, row.count) for row in words.pieces)
    listed = " · ".join(f"{name}, {count}" for name, count in names)
    lines = 1 + int(text_width(listed) / (room.width - map_width - 12.0))
    narrow = room.x1 - map_width - 6.0
    height = room.height - 12.0 - lines * LEADING
    if not map_width or not fits(words.sizes, narrow - room.x0, height):
        map_width, narrow = 0.0, room.x1
    column = _Column(canvas, room.x0, narrow, room.y1)
    column.heading("Print page 1, then the pages of your size")
    top = column.y - 0.8
    rows_end = draw_sizes(canvas, Box(room.x0, room.y0 + lines * LEADING + 6.0, narrow, top), words.sizes)
    column.y = rows_end
    column.heading("Pieces")
    column.paragraph(listed)
    if map_width:
        _titled_map(canvas, room, map_width, tiles, outlines)


def _titled_map(canvas: Canvas, room: Box, map_width: float, tiles: Sequence[Page], outlines: Sequence[Box]) -> None:
    column = _Column(canvas, room.x1 - map_width, room.x1, room.y1)
    column.heading("Page map")
    if tiles[0].kind is PageKind.PANE:
        draw_pane_map(canvas, Box(column.left, room.y0, column.right, column.y - 2.0), tiles)
        return
    _map(canvas, Box(column.left, room.y0, column.right, column.y - 2.0), tiles, outlines)


def _map(canvas: Canvas, room: Box, tiles: Sequence[Page], outlines: Sequence[Box]) -> None:
    windows = [tile.window for tile in tiles if tile.window]
    x0, y0 = min(box.x0 for box in windows), min(box.y0 for box in windows)
    x1, y1 = max(box.x1 for box in windows), max(box.y1 for box in windows)
    scale = min(room.width / (x1 - x0), room.height / (y1 - y0))

    def small(box: Box) -> Box:
        return Box(
            room.x0 + (box.x0 - x0) * scale,
            room.y1 - (y1 - box.y0) * scale,
            room.x0 + (box.x1 - x0) * scale,
            room.y1 - (y1 - box.y1) * scale,
        )

    widest = max(text_width(tile.code or "") for tile in tiles)
    if windows[0].width * scale < widest + 1.0 or windows[0].height * scale < LEADING:
        text = _Column(canvas, room.x0, room.x1, room.y1)
        text.paragraph(
            f"{len(tiles)} pages from {tiles[0].code} to {tiles[-1].code}: the letter is the row from the top, the "
            "number the column from the left. Places without a page stay empty."
        )
        return
    for outline in outlines:
        canvas.shade(small(outline), SHADE)
    for tile in tiles:
        assert tile.window is not None
        box = small(tile.window)
        canvas.outline(box, HAIR)
        canvas.text(((box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2 - 1.0), tile.code or "", align="centre")
