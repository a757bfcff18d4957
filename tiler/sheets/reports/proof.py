"""One page that tells what a proof found: verdict, sizes, pictures of the squares, remarks; page mm.

It is 210 mm × 11 in large, so that it prints on either paper.  It knows nothing of how
the sizes were measured: whoever did that hands over the words.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from tiler.box import Box
from tiler.sheets.canvas import Canvas, printable, shortened, wrapped
from tiler.sheets.style import HAIR, HEADING, HEAVY, LEADING, MEDIUM, SMALL, TITLE

WIDTH, HEIGHT = 210.0, 279.4
MARGIN = 15.0
LEFT, RIGHT, TOP, FOOT = MARGIN, WIDTH - MARGIN, HEIGHT - MARGIN, MARGIN
COLUMNS = 3
PICTURE_HEAD = 7.0
PICTURE_ROOM, LARGE_ROOM = 52.0, 74.0
"""Room for the height of a picture with its caption, in two rows and in a single one."""

MOST_ROWS = 14
LEAST_REMARKS = 6
"""Lines kept free for remarks below the table and the pictures."""

MOST_PICTURES = 6
COLUMN_WIDTHS = (10.0, 38.0, 26.0, 36.0, 35.0, 35.0)
HEADS = ("page", "what", "from left, foot", "should be", "across", "down")


@dataclass(frozen=True)
class SizeRow:
    """A row of the table; ``wrong`` sets it in bold."""

    cells: tuple[str, ...]
    wrong: bool


@dataclass(frozen=True)
class SquarePicture:
    """A picture (PNG) with what is written under it."""

    png: bytes
    width: int
    height: int
    caption: tuple[str, ...]


@dataclass(frozen=True)
class ProofPage:
    """All that the page says."""

    file: str
    facts: str
    verdict: str
    rows: tuple[SizeRow, ...]
    pictures: tuple[SquarePicture, ...]
    remarks: tuple[str, ...]
    made_by: str


def proof_page(page: ProofPage) -> bytes:
    """Draw the page and give the PDF."""
    canvas = Canvas()
    canvas.describe(f"Proof of scale: {page.file}", page.made_by)
    canvas.begin_page(WIDTH, HEIGHT)
    y = _heading(canvas, page)
    y = _verdict(canvas, page.verdict, y)
    if page.rows:
        below = _high(page.pictures) + LEAST_REMARKS * LEADING + FOOT
        most = min(MOST_ROWS, int((y - below) / (LEADING + 1.0)) - 3)
        y = _table(canvas, page.rows, y, most)
    if page.pictures:
        y = _pictures(canvas, page.pictures[:MOST_PICTURES], y)
    _remarks(canvas, page.remarks, y)
    canvas.text((LEFT, FOOT), printable(page.made_by), SMALL)
    canvas.end_page()
    return canvas.finish().getvalue()


def _heading(canvas: Canvas, page: ProofPage) -> float:
    canvas.text((LEFT, TOP - 6.0), "Proof of scale", TITLE, bold=True)
    canvas.text(
        (LEFT, TOP - 13.0), shortened(printable(page.file), RIGHT - LEFT, HEADING, bold=True), HEADING, bold=True
    )
    y = TOP - 13.6
    for line in wrapped(printable(page.facts), RIGHT - LEFT):
        y -= LEADING
        canvas.text((LEFT, y), line, SMALL)
    return y - 5.5


def _verdict(canvas: Canvas, words: str, top: float) -> float:
    lines = wrapped(printable(words), RIGHT - LEFT - 8.0, HEADING, bold=True)
    foot = top - 5.0 * len(lines) - 4.5
    canvas.outline(Box(LEFT, foot, RIGHT, top), HEAVY)
    for index, line in enumerate(lines, 1):
        canvas.text((LEFT + 4.0, top - 1.5 - 5.0 * index), line, HEADING, bold=True)
    return foot - 4.0


def _table(canvas: Canvas, rows: Sequence[SizeRow], top: float, most: int) -> float:
    y = _row(canvas, HEADS, top - LEADING, bold=True)
    canvas.stroke([((LEFT, y + 2.4), (RIGHT, y + 2.4))], MEDIUM)
    for row in rows[:most]:
        y = _row(canvas, row.cells, y - 1.0, bold=row.wrong)
    if len(rows) > most:
        y = _row(canvas, ("", f"and {len(rows) - most} more"), y - 1.2, bold=False)
    return y - 3.0


def _row(canvas: Canvas, cells: Sequence[str], y: float, bold: bool) -> float:
    x = LEFT
    for index, (cell, width) in enumerate(zip(cells, COLUMN_WIDTHS, strict=False)):
        text = shortened(printable(cell), width - 2.0, SMALL, bold)
        if index in (0, 1, 2):
            canvas.text((x, y), text, SMALL, bold)
        else:
            canvas.text((x + width - 2.0, y), text, SMALL, bold, align="right")
        x += width
    return y - LEADING


def _pictures(canvas: Canvas, pictures: Sequence[SquarePicture], top: float) -> float:
    canvas.text((LEFT, top - 3.0), "The squares as they print (not at true size)", HEADING, bold=True)
    y = top - PICTURE_HEAD
    room = (RIGHT - LEFT - 6.0 * (COLUMNS - 1)) / COLUMNS
    tall = _tall(pictures)
    for start in range(0, len(pictures), COLUMNS):
        row = pictures[start : start + COLUMNS]
        captions = max(len(picture.caption) for picture in row)
        high = tall - LEADING * captions - 2.0
        for column, picture in enumerate(row):
            scale = min(room / picture.width, high / picture.height)
            width, height = picture.width * scale, picture.height * scale
            x = LEFT + column * (room + 6.0)
            box = Box(x, y - height, x + width, y)
            canvas.picture(box, picture.png)
            canvas.outline(box, HAIR)
            for line, words in enumerate(picture.caption, 1):
                text = shortened(printable(words), room)
                canvas.text((x, y - height - 0.6 - LEADING * line), text)
        y -= tall + 2.0
    return y


def _tall(pictures: Sequence[SquarePicture]) -> float:
    return LARGE_ROOM if len(pictures) <= COLUMNS else PICTURE_ROOM


def _high(pictures: Sequence[SquarePicture]) -> float:
    rows = ceil(min(len(pictures), MOST_PICTURES) / COLUMNS)
    return PICTURE_HEAD + rows * (_tall(pictures) + 2.0) if rows else 0.0


def _remarks(canvas: Canvas, remarks: Sequence[str], top: float) -> None:
    y = top - 1.0
    lines = [line for remark in remarks for line in (*wrapped(printable(remark), RIGHT - LEFT), "")]
    for index, line in enumerate(lines):
        room = y - LEADING - FOOT - 5.0
        if room < LEADING and index < len(lines) - 1:
            canvas.text((LEFT, y - LEADING), "… and more; the program tells all of it.")
            return
        y -= LEADING if line else LEADING / 2
        if line:
            canvas.text((LEFT, y), line)
