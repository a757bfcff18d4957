"""The table of a nest: how long each size is, and how far its notches lie; piece mm.

A notch at the end seam is left out, since it lies an allowance before the end.  The table
stands inside the smallest size, whole, where enough rows are free side by side: in one block,
or in several, of one page if that has room, or without the notches; where none fits it is left
out.  The row of a size is its own, the heads are those of all.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise, product
from math import ceil, inf

from tiler.box import Box
from tiler.draft.outline import Piece, sewn_ends
from tiler.languages.words import say
from tiler.sheets.pieces.blocks import BETWEEN_LINES
from tiler.sheets.pieces.label import BETWEEN_BLOCKS
from tiler.sheets.pieces.rows import ASCENT, DESCENT, Strip, Text
from tiler.sheets.pieces.shared_lines import ALIKE
from tiler.sheets.style import SMALL
from tiler.sheets.typesetting import text_width

BETWEEN = 3.0
"""White between two columns, mm."""

PITCH = ASCENT + DESCENT + BETWEEN_LINES
"""From one row to the next, mm."""

MOST_BLOCKS = 3
"""More blocks side by side are read like lines of words, and no longer like a table."""

Table = Sequence[Sequence[str]]
"""Rows of cells, the heads first."""

Stretch = tuple[float, float]
"""From where to where along a strip, mm."""

ANYWHERE: Stretch = (-inf, inf)


def put_table(strip: Strip, pieces: Sequence[Piece]) -> tuple[list[Text], dict[str, list[Text]]]:
    """Put the table into a strip, and return its heads, and the row of each piece by its id."""
    for table in _tables(pieces):
        found = _placed(strip, table)
        if found:
            heads, rows = found
            return heads, {piece.id: row for piece, row in zip(pieces, rows, strict=True)}
    return [], {piece.id: [] for piece in pieces}


def _tables(pieces: Sequence[Piece]) -> Iterator[Table]:
    """Yield the table with the notches that differ from size to size, and then without."""
    distances = [_distances(piece) for piece in pieces]
    marks = [
        mark
        for mark in dict.fromkeys(mark for one in distances for mark in one)
        if len({one.get(mark) for one in distances}) > 1 and all(mark in one for one in distances)
    ]
    for columns in (marks, []) if marks else ([],):
        yield [
            [
                say("size"),
                say("from the fold") if pieces[0].on_fold else say("from the left"),
                *(name for name, _ in columns),
            ],
            *(
                [piece.figures.size or "", piece.label.end, *(one[mark] for mark in columns)]
                for piece, one in zip(pieces, distances, strict=True)
            ),
        ]


def _distances(piece: Piece) -> dict[tuple[str, int], str]:
    """Return how far each notch lies, by its name and which of that name it is."""
    _, end = sewn_ends(piece.figures)
    names = [name for name, _ in piece.label.notches]
    return {
        (name, names[:index].count(name)): far
        for index, (name, far) in enumerate(piece.label.notches)
        if piece.figures.notches[index].at_mm < end - ALIKE
    }


def _placed(strip: Strip, table: Table) -> tuple[list[Text], list[list[Text]]] | None:
    """Put a table in as few blocks as have room, each below heads of its own; None when there is no room at all."""
    cells = enumerate(zip(*table, strict=True))
    wides = [max(text_width(cell, SMALL, bold=index == 0) for cell in column) for index, column in cells]
    for count, white, stretch in _ways(strip, min(MOST_BLOCKS, len(table) - 1)):
        high = ceil((len(table) - 1) / count)
        blocks = [table[start : start + high] for start in range(1, len(table), high)]
        found = _blocks(strip, [[table[0], *block] for block in blocks], wides, white, stretch)
        if found:
            return [cell for block in found for cell in block[0]], [row for block in found for row in block[1:]]
    return None


def _ways(strip: Strip, most: int) -> Iterator[tuple[int, float, Stretch]]:
    """Yield in how many blocks a table may stand, with which white before each, and where along the strip.

    Several rather stand on one page, and only then on more.
    """
    ways = [*product(range(1, most + 1), (BETWEEN_BLOCKS, 0.0))]
    joints = [(low + high) / 2 for low, high in strip.joints.along]
    pages = [*pairwise((-inf, *joints, inf))]
    for count, white in ways:
        yield from ((count, white, stretch) for stretch in (pages if count > 1 else [ANYWHERE]))
    if joints:
        yield from ((count, white, ANYWHERE) for count, white in ways if count > 1)


def _blocks(
    strip: Strip, blocks: Sequence[Table], wides: Sequence[float], white: float, stretch: Stretch
) -> list[list[list[Text]]] | None:
    """Put blocks of rows where each has room, with white before it that a cut can go through; all of them or none."""
    before = strip.mark()
    starts = [sum(wides[:index]) + BETWEEN * index for index in range(len(wides))]
    wide, found = starts[-1] + wides[-1], list[list[list[Text]]]()
    for block in blocks:
        high = len(block) * PITCH - BETWEEN_LINES
        places = strip.block_places(high, wide, strip.cells, white)
        place = next((place for place in places if stretch[0] <= place[0] < stretch[1]), None)
        if place is None:
            strip.back_to(before)
            return None
        x, top = place
        heads = block[0]
        found.append(
            [
                [
                    Text(x + start, top - ASCENT - number * PITCH, cell, bold=not index and cells is not heads)
                    for index, (start, cell) in enumerate(zip(starts, cells, strict=True))
                ]
                for number, cells in enumerate(block)
            ]
        )
        strip.taken.append(Box(x, top - high, x + wide + white, top))
    return found
