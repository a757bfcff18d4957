"""The table of what is cut, on the first page: columns as wide as their words ask for, cells that wrap; mm."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import astuple, dataclass
from math import inf

from tiler.draft.label import KEEP
from tiler.languages.catalogue import noted
from tiler.languages.words import in_each, say
from tiler.sheets.canvas import Canvas
from tiler.sheets.style import HAIR, LEADING, SMALL
from tiler.sheets.typesetting import text_width, wrapped

APART = 3.0
"""White between two columns."""

ROW_ROOM = 0.5
"""White between two rows, on top of their leading."""

LINE_BELOW, BELOW_HEAD = 1.8, 1.0
"""How far the line under the head lies below its base line; the white below it, besides that between rows."""

STEP = 1.0
"""By so much the widest column is narrowed at a time."""

LONGEST_TOKEN = 40.0
"""A word that is longer is broken where it has to be."""

HEADS = (
    noted("Piece"),
    noted("Size"),
    noted("To cut"),
    noted("Long × wide"),
    noted("Fabric"),
    noted("Pages"),
    noted("Note"),
)
BREAK = "\n"
"""Between what a cell says in one language and in the next."""

COUNT, MEASURES = 2, 3
"""The columns that say how often a piece is cut, and how, and how long and wide; of a length no unit stands alone."""

BOLD = (True, True, False, False, False, False, False)


@dataclass(frozen=True)
class CoverPiece:
    """A row of the table; an empty cell says that there is nothing to say, one in two languages has a line for each."""

    name: str
    size: str
    count: str
    measures: str
    fabric: str
    pages: str
    notes: str = ""
    """The numbers of what is remarked below the table."""


def in_one(piece: CoverPiece) -> CoverPiece:
    """Return a row in the leading language alone."""
    return CoverPiece(*(cell.partition(BREAK)[0] for cell in astuple(piece)))


@dataclass(frozen=True)
class PieceTable:
    """The table as it is set: the columns that say something with their widths, and the lines of each cell."""

    columns: tuple[int, ...]
    heads: tuple[tuple[str, ...], ...]
    widths: tuple[float, ...]
    rows: tuple[tuple[tuple[str, ...], ...], ...]

    @property
    def height(self) -> float:
        """How much it takes, head included."""
        return LEADING * max(map(len, self.heads)) + ROW_ROOM + BELOW_HEAD + sum(_height(row) for row in self.rows)


def set_table(pieces: Sequence[CoverPiece], width: float) -> PieceTable:
    """Set the rows in the columns that have words; the widest columns wrap until all have room."""
    cells = [astuple(piece) for piece in pieces]
    columns = tuple(column for column in range(len(HEADS)) if any(row[column] for row in cells))
    # where the cells have no room for two languages, the heads keep to one too
    both = slice(None if any(BREAK in cell for row in cells for cell in row) else 1)
    heads = tuple(tuple(dict.fromkeys(say(HEADS[column]) for _ in in_each()))[both] for column in columns)
    widths, least = [], []
    for column, lines in zip(columns, heads, strict=True):
        texts = {text for row in cells for text in row[column].split(BREAK)}
        # how a piece is cut is read in one line, by people and by the proof
        tokens = (
            texts if column == COUNT else {one for text in texts for one in wrapped(text, 0.0, SMALL, BOLD[column])}
        )
        head = max(text_width(line, SMALL, bold=True) for line in lines)
        widths.append(max(head, *(text_width(text, SMALL, BOLD[column]) for text in texts)))
        longest = inf if column == COUNT else LONGEST_TOKEN
        least.append(max(head, *(min(longest, text_width(token, SMALL, BOLD[column])) for token in tokens)))
    room = width - APART * (len(columns) - 1)
    while sum(widths) > room:
        free = [index for index, one in enumerate(widths) if one > least[index]]
        if not free:
            break
        widest = max(free, key=lambda index: widths[index])
        widths[widest] = max(least[widest], widths[widest] - STEP)
    rows = tuple(
        tuple(_lines(row[column], wide, BOLD[column]) for column, wide in zip(columns, widths, strict=True))
        for row in cells
    )
    return PieceTable(columns, heads, tuple(widths), rows)


def draw_table(canvas: Canvas, table: PieceTable, left: float, top: float) -> float:
    """Draw head and rows cell by cell, and return the y where they end."""
    places = [left + sum(table.widths[:index]) + APART * index for index in range(len(table.columns))]
    for head, x in zip(table.heads, places, strict=True):
        for number, line in enumerate(head, 1):
            canvas.text((x, top - number * LEADING), line, bold=True)
    y = top - max(map(len, table.heads)) * LEADING - LINE_BELOW
    canvas.stroke([((left, y), (places[-1] + table.widths[-1], y))], HAIR)
    y -= ROW_ROOM - LINE_BELOW + BELOW_HEAD
    for row in table.rows:
        for column, x, lines in zip(table.columns, places, row, strict=True):
            for number, line in enumerate(lines, 1):
                said = line.replace(KEEP, " ") if column == MEASURES else line
                canvas.text((x, y - number * LEADING), said, bold=BOLD[column])
        y -= _height(row)
    return y


def _height(row: Sequence[Sequence[str]]) -> float:
    return max(map(len, row)) * LEADING + ROW_ROOM


def _lines(text: str, width: float, bold: bool) -> tuple[str, ...]:
    """Break a cell at its blanks, and a word that is longer than the column wherever it ends."""
    lines: list[str] = []
    for told in text.split(BREAK) if text else ():
        for whole in wrapped(told, width + 0.01, SMALL, bold):
            rest = whole
            while text_width(rest, SMALL, bold) > width + 0.01:
                kept = max(1, next(k for k in range(len(rest), -1, -1) if text_width(rest[:k], SMALL, bold) <= width))
                lines.append(rest[:kept])
                rest = rest[kept:]
            lines.append(rest)
    return tuple(lines)
