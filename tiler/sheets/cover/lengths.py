"""Cut lengths by size, on the first page: a row a size, a column a piece whose sizes stand in one row above it; mm."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import ceil

from tiler.draft.label import KEEP
from tiler.languages.proved import FROM_THE_FOLD, LENGTHS_BY_SIZE, SIZE_HEAD
from tiler.languages.words import say
from tiler.sheets.canvas import Canvas
from tiler.sheets.cover.left_out import says_length
from tiler.sheets.cover.piece_table import APART, BELOW_HEAD, LINE_BELOW, ROW_ROOM
from tiler.sheets.layout.placed import Placed
from tiler.sheets.style import HAIR, LEADING, SMALL
from tiler.sheets.typesetting import broken, text_width

BEFORE = 1.2
"""White above the line that heads the table."""

MOST_BLOCKS = 3
"""So many blocks of rows stand beside each other at most."""

BETWEEN_BLOCKS = 8.0


@dataclass(frozen=True)
class Lengths:
    """The heads of the columns, and the cells of each size; an empty cell says that the piece has no such size."""

    heads: tuple[tuple[str, str], ...]
    """The name of each piece, and what its lengths are counted from."""
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True)
class LengthsTable:
    """The table as it is set: the lines of each head, widths, and the blocks of rows side by side."""

    heads: tuple[tuple[str, ...], ...]
    widths: tuple[float, ...]
    blocks: tuple[tuple[tuple[str, ...], ...], ...]

    @property
    def width(self) -> float:
        """How wide one block is."""
        return sum(self.widths) + APART * (len(self.widths) - 1)

    @property
    def height(self) -> float:
        """How much it takes, with the line above it."""
        heads = max(map(len, self.heads))
        rows = max(map(len, self.blocks))
        return BEFORE + LEADING * (1 + heads) + ROW_ROOM + BELOW_HEAD + rows * (LEADING + ROW_ROOM)


def lengths_by_size(kin: Iterable[Sequence[Placed]]) -> tuple[Lengths, ...]:
    """Return the lengths of all pieces whose sizes differ, and of those alone that say them nowhere themselves.

    Nothing where each piece says its own, on its label or in its table.
    """
    unlike = [places for places in kin if len({one.lettered.piece.label.end for one in places}) > 1]
    silent = [places for places in unlike if not all(says_length(one.lettered) for one in places)]
    ways = [unlike] if silent == unlike else [unlike, silent]
    return tuple(map(_lengths, ways)) if silent else ()


def _lengths(kin: Sequence[Sequence[Placed]]) -> Lengths:
    sizes = dict.fromkeys(one.declared.size or "" for places in kin for one in places)
    cells = [{one.declared.size or "": _cell(one, places) for one in places} for places in kin]
    first = [places[0].lettered.piece for places in kin]
    heads = tuple((one.figures.name, say(FROM_THE_FOLD) if one.on_fold else "") for one in first)
    return Lengths(heads, tuple((size, *(own.get(size, "") for own in cells)) for size in sizes))


def _cell(place: Placed, kin: Sequence[Placed]) -> str:
    """Return the length of a size; with the width, where that differs from size to size."""
    label = place.lettered.piece.label
    alike = len({one.lettered.piece.label.cut_width for one in kin}) == 1
    return (label.end if alike else f"{label.end} × {label.cut_width}").replace(KEEP, " ")


def set_lengths(lengths: Lengths, width: float) -> list[LengthsTable]:
    """Set the table in one block, and in several side by side, as far as its columns have room."""
    sized = [max(text_width(row[0], SMALL, bold=True) for row in lengths.rows)]
    sized[0] = max(sized[0], text_width(say(SIZE_HEAD), SMALL, bold=True))
    cells = [max(text_width(row[index]) for row in lengths.rows) for index in range(1, len(lengths.heads) + 1)]
    under = [text_width(below, SMALL, bold=True) for _, below in lengths.heads]
    whole = [text_width(name, SMALL, bold=True) for name, _ in lengths.heads]
    least = [max(pair) for pair in zip(cells, under, strict=True)]
    found = []
    # a name stands on one line where all have room
    for columns in ([max(pair) for pair in zip(least, whole, strict=True)], least):
        heads = (
            (say(SIZE_HEAD),),
            *(
                (*broken(name, wide, SMALL, bold=True), *([below] if below else []))
                for (name, below), wide in zip(lengths.heads, columns, strict=True)
            ),
        )
        for count in range(1, MOST_BLOCKS + 1):
            high = ceil(len(lengths.rows) / count)
            blocks = tuple(lengths.rows[start : start + high] for start in range(0, len(lengths.rows), high))
            table = LengthsTable(heads, (*sized, *columns), blocks)
            if len(blocks) == count and table.width * count + BETWEEN_BLOCKS * (count - 1) <= width:
                found.append(table)
    return found


def draw_lengths(canvas: Canvas, table: LengthsTable, left: float, top: float) -> float:
    """Draw the line above the table, all heads and then the rows, block by block, and return the y where they end."""
    places = [sum(table.widths[:index]) + APART * index for index in range(len(table.widths))]
    starts = [left + (table.width + BETWEEN_BLOCKS) * index for index in range(len(table.blocks))]
    y = top - BEFORE - LEADING
    canvas.text((left, y), say(LENGTHS_BY_SIZE), bold=True)
    deepest = max(map(len, table.heads))
    for start in starts:
        for x, head in zip(places, table.heads, strict=True):
            for number, line in enumerate(head, 1):
                canvas.text((start + x, y - number * LEADING), line, bold=True)
    y -= deepest * LEADING + LINE_BELOW
    canvas.stroke([((start, y), (start + table.width, y)) for start in starts], HAIR)
    y -= ROW_ROOM - LINE_BELOW + BELOW_HEAD
    for start, block in zip(starts, table.blocks, strict=True):
        for number, row in enumerate(block):
            base = y - number * (LEADING + ROW_ROOM) - LEADING
            for x, cell in zip(places, row, strict=True):
                if cell:
                    canvas.text((start + x, base), cell, bold=x == 0.0)
    return y - max(map(len, table.blocks)) * (LEADING + ROW_ROOM)
