"""The notes below the table of pieces, in one column or two; the others go on on a page of their own; mm."""

from __future__ import annotations

from collections.abc import Sequence

from tiler.sheets.cover.column import INDENT, Column, height_of
from tiler.sheets.style import LEADING
from tiler.sheets.typesetting import text_width

APART = 5.0
"""White between two columns of notes, mm."""

Note = tuple[str, ...]
"""What is remarked, in each language of the page."""


def height_of_note(note: Note, width: float, last: str) -> float:
    """Return how high a note comes out behind its number, mm; all stand flush behind the ``last`` number."""
    return sum(height_of(text, width, last) for text in note)


def height_of_notes(notes: Sequence[Note], width: float, across: int) -> float:
    """Return how high the notes come out in one column or in two that end as nearly as can be at one height."""
    return max(map(sum, _parted(_heights(notes, _wide(width, across)), across)))


def draw_notes(text: Column, notes: Sequence[Note], bottom: float, across: int) -> int:
    """Write numbered notes as far as there is room, and return how many that is."""
    wide = _wide(text.right - text.left, across)
    heights = _heights(notes, wide)
    columns = _parted(heights, across)
    if max(map(sum, columns)) > text.y - bottom:
        columns = _filled(heights, text.y - bottom - LEADING, across)
    number, lowest = 0, text.y
    for index, column in enumerate(columns):
        left = text.left + index * (wide + APART)
        one = Column(text.canvas, left, left + wide, text.y)
        for note in notes[number : number + len(column)]:
            number += 1
            draw_note(one, note, str(number), str(len(notes)))
        lowest = min(lowest, one.y)
    text.y = lowest
    return number


def draw_note(column: Column, note: Note, number: str, last: str) -> None:
    """Write a note with its number, what it says in another language below it."""
    below = Column(column.canvas, column.left + text_width(last) + INDENT, column.right, column.y)
    column.canvas.text((column.left, column.y - LEADING), number)
    for text in note:
        below.paragraph(text)
    column.y = below.y


def _heights(notes: Sequence[Note], width: float) -> list[float]:
    return [height_of_note(note, width, str(len(notes))) for note in notes]


def _wide(width: float, across: int) -> float:
    return (width - APART * (across - 1)) / across


def _parted(heights: Sequence[float], across: int) -> list[list[float]]:
    """Part heights into columns that are read one after the other, the highest of them as low as can be."""
    if across == 1:
        return [list(heights)]
    ways = ([list(heights[:index]), list(heights[index:])] for index in range(len(heights) + 1))
    return min(ways, key=lambda way: max(map(sum, way)))


def _filled(heights: Sequence[float], room: float, across: int) -> list[list[float]]:
    """Fill one column after the other; what has no room is left out."""
    columns: list[list[float]] = [[] for _ in range(across)]
    at = 0
    for height in heights:
        while at < across and sum(columns[at]) + height > room:
            at += 1
        if at == across:
            break
        columns[at].append(height)
    return columns
