"""Short names in one row beside a strip, each at its line: the sizes at their ends, and at their notches; piece mm.

A name stands in the middle over its line.  Where lines lie closer together than their
names are wide, these move apart as little as they must, and a leader goes to each.  Where
pages meet stand walls, which no name crosses where that can be.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise
from math import inf

from tiler.box import Box, Subpath
from tiler.sheets.pieces.rows import ASCENT, DESCENT, Text
from tiler.sheets.style import SMALL
from tiler.sheets.typesetting import text_width

WHITE = 1.2
"""Between two names, mm."""

CLEAR = 0.6
"""Between the strip and a leader, and between a leader and its name, mm."""

OFF_WALL = 0.5
"""Between a name and a wall, mm."""

RISE = 2.5
"""How far leaders go up or down, mm."""

HEIGHT = RISE + 2 * CLEAR + ASCENT + DESCENT
"""All that a row takes beside the strip, mm."""


@dataclass(frozen=True)
class TagRow:
    """The names of a row in the order in which they were asked for, and the leader of each."""

    texts: tuple[Text, ...]
    leaders: tuple[Subpath, ...]
    names: tuple[Text, ...] = ()
    """What the lines of all are called, before or behind them."""

    @property
    def box(self) -> Box:
        """The place of the whole row."""
        points = [point for leader in self.leaders for point in leader]
        return Box.enclosing([*(text.box for text in self.texts), Box.around(points)])


def tag_row(wanted: Sequence[tuple[float, str]], edge: float, above: bool, walls: Sequence[float] = ()) -> TagRow:
    """Put names at these places along the strip, ``above`` its upper edge or below its lower one."""
    order = sorted(range(len(wanted)), key=lambda index: wanted[index][0])
    widths = [text_width(wanted[index][1], SMALL, bold=True) for index in order]
    middles = dict(zip(order, spread([wanted[index][0] for index in order], widths, walls), strict=True))
    way = 1.0 if above else -1.0
    start, end = edge + way * CLEAR, edge + way * (CLEAR + RISE)
    base = end + CLEAR + DESCENT if above else end - CLEAR - ASCENT
    texts = tuple(
        Text(middles[index] - text_width(name, SMALL, bold=True) / 2, base, name, True)
        for index, (_, name) in enumerate(wanted)
    )
    leaders = tuple(((at, start), (middles[index], end)) for index, (at, _) in enumerate(wanted))
    return TagRow(texts, leaders)


def spread(places: Sequence[float], widths: Sequence[float], walls: Sequence[float] = ()) -> list[float]:
    """Return the middles of names at these places, in order, moved apart by the least squares, off the walls."""
    bounds = [-inf, *sorted(walls), inf]
    free = _pooled(places, widths)
    shares = [sum(low <= middle < high for middle in free) for low, high in pairwise(bounds)]
    starts = list(accumulate(shares, initial=0))
    for index, (low, high) in enumerate(pairwise(bounds)):
        # what has no room between two walls goes to the side that is nearer
        while starts[index + 1] - starts[index] and high - low < _wide(widths[starts[index] : starts[index + 1]]):
            first, last = free[starts[index]], free[starts[index + 1] - 1]
            if first - low < high - last:
                starts[index] += 1
            else:
                starts[index + 1] -= 1
    found: list[float] = []
    for (low, high), (start, end) in zip(pairwise(bounds), pairwise(starts), strict=True):
        found += _pooled(places[start:end], widths[start:end], low, high)
    return found


def _wide(widths: Sequence[float]) -> float:
    return sum(widths) + WHITE * (len(widths) - 1) + 2 * OFF_WALL


def _pooled(places: Sequence[float], widths: Sequence[float], low: float = -inf, high: float = inf) -> list[float]:
    """Return the middles nearest to these places between two bounds.

    Least squares under an order are found by pooling neighbours that violate it
    (M. Ayer et al., Annals of Mathematical Statistics 26, 1955); bounds then cut them off.
    """
    if not places:
        return []
    steps = [(before + after) / 2 + WHITE for before, after in pairwise(widths)]
    offsets = list(accumulate(steps, initial=0.0))
    pools: list[tuple[float, int]] = []
    for place, offset in zip(places, offsets, strict=True):
        mean, count = place - offset, 1
        while pools and pools[-1][0] > mean:
            other, many = pools.pop()
            mean, count = (mean * count + other * many) / (count + many), count + many
        pools.append((mean, count))
    least, most = low + OFF_WALL + widths[0] / 2, high - OFF_WALL - widths[-1] / 2 - offsets[-1]
    means = [max(min(mean, most), least) for mean, count in pools for _ in range(count)]
    return [mean + offset for mean, offset in zip(means, offsets, strict=True)]


@dataclass(frozen=True)
class Marks:
    """The places of one mark of all sizes, such as their shoulder notches: its name, and place and size of each."""

    name: str
    places: tuple[tuple[float, str], ...]


def named_rows(kinds: Sequence[Marks], walls: Sequence[float] = ()) -> list[TagRow]:
    """Put the tags of each kind of mark below the strip, with its name before them, or behind where there is no room.

    All stand in one row: where kinds lie among each other, every tag says the name as well.
    """
    found: list[TagRow] = []
    taken: list[tuple[float, float]] = []
    for kind in kinds:
        row = tag_row(kind.places, 0.0, above=False, walls=walls)
        wide = text_width(kind.name)
        x = row.box.x0 - WHITE - wide
        x = min([x, *(wall - OFF_WALL - wide for wall in walls if x - OFF_WALL < wall < x + wide + OFF_WALL)])
        if x < 0.0 or not _free(x, row.box.x1, taken):
            x = row.box.x1 + WHITE
        start, end = min(x, row.box.x0), max(x + wide, row.box.x1)
        if not _free(start, end, taken):
            return _mixed(kinds, walls)
        taken.append((start - WHITE, end + WHITE))
        found.append(TagRow(row.texts, row.leaders, (Text(x, row.texts[0].y, kind.name),)))
    return found


def _mixed(kinds: Sequence[Marks], walls: Sequence[float]) -> list[TagRow]:
    """Put the tags of all kinds into one row, each with the name of its kind."""
    wanted = [(at, f"{tag} {kind.name}") for kind in kinds for at, tag in kind.places]
    row = tag_row(wanted, 0.0, above=False, walls=walls)
    signs = iter(zip(row.texts, row.leaders, strict=True))
    rows = [[next(signs) for _ in kind.places] for kind in kinds]
    return [TagRow(tuple(text for text, _ in one), tuple(leader for _, leader in one)) for one in rows]


def _free(start: float, end: float, taken: Sequence[tuple[float, float]]) -> bool:
    return all(end <= a or start >= b for a, b in taken)
