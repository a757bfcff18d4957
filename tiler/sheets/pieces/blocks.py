"""Lines of type set together as a block: in columns, or one behind the other; mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from tiler.sheets.pieces.rows import APART, Text, ascent, descent
from tiler.sheets.typesetting import text_width

BETWEEN_COLUMNS = 6.0
BETWEEN_LINES = 0.5
EVEN = 1.0
"""Columns are made alike to this, mm."""


@dataclass(frozen=True)
class Set:
    """A line as it is set."""

    text: str
    size: float
    bold: bool = False

    @property
    def wide(self) -> float:
        """Its width, mm."""
        return text_width(self.text, self.size, self.bold)


Groups = tuple[tuple[Set, ...], ...]
"""The lines that each line of the label is broken into."""


@dataclass(frozen=True)
class Block:
    """Lines that stand together: from the left upper corner how far to the right and down each begins; mm."""

    lines: tuple[tuple[float, float, Set], ...]
    wide: float
    high: float

    def at(self, x: float, top: float) -> Iterator[Text]:
        """Yield its texts, its left upper corner in this place."""
        for right, down, line in self.lines:
            yield Text(x + right, top - down, line.text, line.size, line.bold)


def columns(groups: Groups, high: float) -> Block | None:
    """Set groups of lines below each other in as few columns of this height as do, none much higher than the others."""
    best = parted(groups, high)
    if best is None:
        return None
    lower = high - EVEN
    while (shared := parted(groups, lower)) and len(shared) == len(best):
        best, lower = shared, lower - EVEN
    return beside(best)


@dataclass(frozen=True)
class Column:
    """Groups of lines below each other, how far below the top each line stands, and the height of all, mm."""

    groups: Groups
    lines: tuple[tuple[float, Set], ...]
    high: float


@lru_cache(2**9)
def parted(groups: Groups, high: float) -> Sequence[Column] | None:
    """Share groups out over columns of this height; None where one is higher."""
    found: list[Column] = []
    for group in groups:
        longer = _column((*found[-1].groups, group)) if found else None
        if longer and longer.high <= high:
            found[-1] = longer
        else:
            found.append(_column((group,)))
            if found[-1].high > high:
                return None
    return found


def _column(groups: Groups) -> Column:
    down, found, last = 0.0, list[tuple[float, Set]](), None
    for line in (line for group in groups for line in group):
        down += ascent(line.size) + (descent(last.size) + BETWEEN_LINES if last else 0.0)
        found.append((down, line))
        last = line
    return Column(groups, tuple(found), down + (descent(last.size) if last else 0.0))


def beside(shared: Sequence[Column]) -> Block:
    """Set columns beside each other."""
    right, lines = 0.0, list[tuple[float, float, Set]]()
    for column in shared:
        lines += [(right, down, line) for down, line in column.lines]
        right += max((line.wide for _, line in column.lines), default=0.0) + BETWEEN_COLUMNS
    return Block(tuple(lines), right - BETWEEN_COLUMNS, max(column.high for column in shared))


def line_of(lines: Sequence[Set], high: float) -> Block | None:
    """Set lines behind each other on one base line; None where they are higher than the room."""
    above, below = max(ascent(one.size) for one in lines), max(descent(one.size) for one in lines)
    if above + below > high:
        return None
    right, found = 0.0, list[tuple[float, float, Set]]()
    for one in lines:
        found.append((right, above, one))
        right += one.wide + APART
    return Block(tuple(found), right - APART, above + below)
