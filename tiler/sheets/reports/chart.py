"""The cutting chart as pages to print and pin up; page mm.

Every piece has a head of its own, with its finish and fabric, and below it a row for
each size.  Title, column heads and the head of the piece stand on every page again.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from tiler.box import Box
from tiler.catalog import finish_chart
from tiler.draft.chart import ChartRow, chart_rows
from tiler.draft.edition import Edition
from tiler.draft.figures import Figures
from tiler.paper import HOME, ONE_SHEET, PAPERS
from tiler.sheets.canvas import Canvas, refuse_missing_characters, shortened, text_width
from tiler.sheets.style import HAIR, HEADING, LABEL, MEDIUM, SMALL, TINT, TITLE

MARGIN = 12.0
ROW = 5.2
"""From base line to base line of two sizes, mm."""

PIECE = 8.2
"""Height of the head of a piece, mm."""

HEAD = 25.0
"""What title and column heads take, mm."""

FOOT = 9.0
RISE = 1.6
"""From the foot of a row to its base line, mm."""

NOTE = (
    "On fold: length from the fold. Full length: from cut end to cut end. Seam and end allowances are included. "
    "Stretch the closed strip evenly to the length in the last columns."
)


@dataclass(frozen=True)
class _Column:
    """A column: its heads, and where its words end, or begin for the first ones."""

    head: str
    unit: str
    x: float
    align: str = "right"


@dataclass(frozen=True)
class _Block:
    """What of a piece stands on one page."""

    title: str
    detail: str
    continued: bool
    rows: tuple[ChartRow, ...]


def chart_pdf(figures: Sequence[Figures], edition: Edition, paper: str) -> bytes:
    """Give the chart of these figures as a PDF on a fixed paper.

    Raises :class:`SpecError` for a character that the font lacks.
    """
    rows = chart_rows(figures)
    for text, where in _texts(rows, edition):
        refuse_missing_characters(text, where)
    width, height = PAPERS[HOME if paper == ONE_SHEET else paper].size
    pages = list(_paged(rows, height))
    canvas = Canvas()
    for number, blocks in enumerate(pages, 1):
        canvas.begin_page(width, height)
        _Page(canvas, width, height, edition, rows).draw(blocks, number, len(pages))
        canvas.end_page()
    return finish_chart(canvas.finish(), f"{edition.title}: cutting chart", edition.copyright)


def _texts(rows: Sequence[ChartRow], edition: Edition) -> Iterator[tuple[str, str]]:
    for text in (edition.title, edition.version, edition.date, edition.copyright):
        yield text or "", "title"
    for row in rows:
        yield f"{row.piece}{row.size or ''}{row.fabric or ''}", f'piece "{row.piece}"'


def _paged(rows: Sequence[ChartRow], height: float) -> Iterator[list[_Block]]:
    """Share the rows out over pages; a piece that is parted has its head on each of them."""
    room = height - 2 * MARGIN - HEAD - FOOT
    page: list[_Block] = []
    left = room
    for _, group in groupby(rows, key=lambda row: row.piece):
        waiting = list(group)
        continued = False
        while waiting:
            fits = int((left - PIECE) / ROW + 1e-6)
            # no head stands at the foot of a page with a lonely row or two below it
            if fits < min(3, len(waiting)):
                yield page
                page, left = [], room
                continue
            first = waiting[0]
            detail = f"{first.finish}{f' · {first.fabric}' if first.fabric else ''}"
            page.append(_Block(first.piece, detail, continued, tuple(waiting[:fits])))
            left -= PIECE + ROW * len(waiting[:fits])
            waiting = waiting[fits:]
            continued = True
    yield page


class _Page:
    """One page of the chart while it is drawn."""

    def __init__(self, canvas: Canvas, width: float, height: float, edition: Edition, rows: Sequence[ChartRow]) -> None:
        self.canvas, self.edition = canvas, edition
        self.left, self.right, self.top = MARGIN, width - MARGIN, height - MARGIN
        self.has_sizes = any(row.size for row in rows)
        widest = max((text_width(row.size, SMALL, bold=True) for row in rows if row.size), default=0.0)
        self.columns = self._columns(max(widest, 10.0) + 4.0 if self.has_sizes else 0.0)

    def _columns(self, size_width: float) -> list[_Column]:
        units = ("in", "cm") if self.edition.units == "in" else ("cm", "in")
        columns = [_Column("Size", "", self.left + 1.5, "left")] if self.has_sizes else []
        columns.append(_Column("Cut", "", self.left + 1.5 + size_width, "left"))
        share = (self.right - 1.5 - (self.left + size_width + 27.0)) / 7
        ends = [self.right - 1.5 - share * step for step in range(6, -1, -1)]
        for head, first in (("Cut length", 0), ("Cut width", 2), ("Stretch to the edge", 4)):
            columns += [_Column(head, units[0], ends[first]), _Column("", units[1], ends[first + 1])]
        return [*columns, _Column("Of the edge", "", ends[6])]

    def draw(self, blocks: Sequence[_Block], number: int, count: int) -> None:
        self._head()
        y = self.top - HEAD
        for block in blocks:
            y = self._block(block, y)
        self._foot(number, count)

    def _head(self) -> None:
        edition, canvas = self.edition, self.canvas
        title, room = f"{edition.title}: cutting chart", self.right - self.left
        size = TITLE if text_width(title, TITLE, True) <= room else LABEL
        canvas.text((self.left, self.top - 5.0), shortened(title, room, size, True), size, bold=True)
        owner = f"© {edition.copyright}" if edition.copyright and "©" not in edition.copyright else edition.copyright
        line = " · ".join(
            part for part in (f"version {edition.version}" if edition.version else None, edition.date, owner) if part
        )
        canvas.text((self.left, self.top - 10.0), shortened(line, room))
        y = self.top - HEAD + 2.2
        for index, column in enumerate(self.columns):
            canvas.text((column.x, y), column.unit or column.head, bold=True, align=column.align)
            if column.unit and column.head:
                # one head over its two units
                middle = (column.x + self.columns[index + 1].x) / 2 - 5.0
                canvas.text((middle, y + 4.4), column.head, bold=True, align="centre")
        self._rule(self.top - HEAD, MEDIUM)

    def _block(self, block: _Block, y: float) -> float:
        canvas, base = self.canvas, y - PIECE + RISE + 0.4
        mark = " (continued)" if block.continued else ""
        room = self.right - self.left - 3.0
        name = shortened(block.title, room - text_width(mark) - 10.0, HEADING, bold=True)
        canvas.text((self.left + 1.5, base), name, HEADING, bold=True)
        used = text_width(name, HEADING, bold=True) + 3.0
        canvas.text((self.left + 1.5 + used, base), shortened(f"{block.detail}{mark}", room - used))
        y -= PIECE
        self._rule(y, HAIR)
        for index, row in enumerate(block.rows):
            if index % 2:
                canvas.shade(Box(self.left, y - ROW, self.right, y), TINT)
            self._row(row, y - ROW + RISE)
            y -= ROW
        self._rule(y, MEDIUM)
        return y

    def _row(self, row: ChartRow, y: float) -> None:
        units = self.edition.units
        cells = [row.size or "–"] if self.has_sizes else []
        cells.append(f"{row.quantity} {row.cut.words}")
        for length in (row.length, row.width, row.stretch_to):
            cells += length.in_order(units)
        cells.append(row.ratio)
        for index, (column, cell) in enumerate(zip(self.columns, cells, strict=True)):
            self.canvas.text((column.x, y), cell, bold=self.has_sizes and index == 0, align=column.align)

    def _foot(self, number: int, count: int) -> None:
        foot = MARGIN + 1.0
        page = f"page {number} of {count}"
        self.canvas.text((self.right, foot), page, align="right")
        room = self.right - self.left - text_width(page) - 6.0
        first, second = _halves(NOTE)
        self.canvas.text((self.left, foot + 3.9), shortened(first, room + text_width(page)))
        self.canvas.text((self.left, foot), shortened(second, room))

    def _rule(self, y: float, weight: float) -> None:
        self.canvas.stroke([((self.left, y), (self.right, y))], weight)


def _halves(text: str) -> tuple[str, str]:
    first, _, second = text.partition(". Stretch")
    return f"{first}.", f"Stretch{second}"
