"""Lines of type set together as a block: in columns, or one behind the other; mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import islice
from typing import NamedTuple

from tiler.sheets.pieces.rows import APART, Text, ascent, descent
from tiler.sheets.typesetting import text_width

BETWEEN_COLUMNS = 6.0
BETWEEN_LINES = 0.5
EVEN = 1.0
"""Columns are made alike to this, mm."""


class Set(NamedTuple):
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
    parted = _alike(_sizes(groups), high)
    return _beside(groups, parted) if parted else None


@dataclass(frozen=True)
class Column:
    """How many groups stand below each other, how far below the top each line does, its size, and the height, mm."""

    groups: int
    lines: tuple[tuple[float, float], ...]
    high: float


Sizes = tuple[tuple[float, ...], ...]
"""Those of the lines of each group; pieces whose lines have the same sizes have the same columns."""


def _sizes(groups: Groups) -> Sizes:
    return tuple(tuple(line.size for line in group) for group in groups)


@lru_cache(2**12)
def _alike(sizes: Sizes, high: float) -> Sequence[Column] | None:
    """Return as few columns as have room, as low as they can be."""
    best = _parted(sizes, high)
    lower = high - EVEN
    while best and (parted := _parted(sizes, lower)) and len(parted) == len(best):
        best, highest = parted, max(column.high for column in parted)
        while lower >= highest:
            lower -= EVEN
    return best


@lru_cache(2**12)
def _parted(sizes: Sizes, high: float) -> Sequence[Column] | None:
    """Share groups out over columns of this height; None where one is higher."""
    found: list[Column] = []
    for group in sizes:
        longer = _longer(found[-1], group) if found else None
        if longer and longer.high <= high:
            found[-1] = longer
        else:
            found.append(_longer(Column(0, (), 0.0), group))
            if found[-1].high > high:
                return None
    return found


def _longer(column: Column, group: tuple[float, ...]) -> Column:
    """Set one more group of lines below a column."""
    lines = list(column.lines)
    for size in group:
        down, last = lines[-1] if lines else (0.0, None)
        lines.append((down + (ascent(size) + (descent(last) + BETWEEN_LINES if last else 0.0)), size))
    return Column(column.groups + 1, tuple(lines), lines[-1][0] + descent(group[-1]))


@lru_cache(2**9)
def stacked(groups: Groups, high: float) -> Sequence[tuple[int, Block]]:
    """Return how many groups each column holds, and its block, which is tried in many places."""
    found, rest = list[tuple[int, Block]](), groups
    for column in _parted(_sizes(groups), high) or ():
        found.append((column.groups, _beside(rest, [column])))
        rest = rest[column.groups :]
    return found


def _beside(groups: Groups, parted: Sequence[Column]) -> Block:
    right, lines, rest = 0.0, list[tuple[float, float, Set]](), (line for group in groups for line in group)
    for column in parted:
        own = list(islice(rest, len(column.lines)))
        lines += [(right, down, line) for line, (down, _) in zip(own, column.lines, strict=True)]
        right += max(line.wide for line in own) + BETWEEN_COLUMNS
    return Block(tuple(lines), right - BETWEEN_COLUMNS, max(column.high for column in parted))


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
