"""Short names in one row below a strip, each at its line: notches, and of a nest the sizes at their ends; piece mm.

A name stands in the middle under its line, and reaches beyond neither end of the strip.
Where lines lie closer together than their names are wide, these move apart as little as
they must, and a leader goes to each.  Where pages meet stand walls, which no name crosses
where that can be.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise
from math import inf
from typing import NamedTuple

from tiler.box import Subpath
from tiler.sheets.pieces.rows import ASCENT, DESCENT, Text
from tiler.sheets.style import SMALL
from tiler.sheets.typesetting import text_width

WHITE = 1.2
"""Between two names, mm."""

CLEAR = 0.6
"""Between the strip and a leader, and between a leader and its name, mm."""

OFF_WALL = 0.5
"""Between a name and a wall, mm."""

DROP = 2.5
"""How far leaders go down, mm."""

UNDER, TINY = 0.05, 0.01
"""A name that ends this near past its line stands under it; what is added to the least way beside it, mm."""

FAR = 15.0
"""Names that move further from their lines than this make a fan, mm; ours."""


class Tag(NamedTuple):
    """What is written at a place along the strip; one with no ``tick`` of its own gets no leader."""

    at: float
    text: str
    bold: bool = False
    tick: bool = True

    @property
    def wide(self) -> float:
        """Its width, mm."""
        return text_width(self.text, SMALL, self.bold)


@dataclass(frozen=True)
class TagRow:
    """The names of a row in the order in which they were asked for, and the leader of each that needs one."""

    texts: tuple[Text, ...]
    leaders: tuple[Subpath, ...]
    moved: tuple[float, ...]
    """How far each name stands from its line, mm."""
    fits: bool
    """Whether all have room beside each other."""
    cut: int
    """How many walls go through a name."""

    def furthest(self, start: int = 0) -> float:
        """Return how far a name from ``start`` on stands from its line at most, mm; endless where there is no room."""
        return max(self.moved[start:], default=0.0) if self.fits else inf


def tag_row(tags: Sequence[Tag], length: float, walls: Sequence[float] = (), led: bool = False) -> TagRow:
    """Put names at their places along a strip of this length; ``led`` keeps room for leaders.

    Without that room a name that has moved alone has a leader beside it.
    """
    order = sorted(range(len(tags)), key=lambda index: tags[index].at)
    wides = [tags[index].wide for index in order]
    within = spread([tags[index].at for index in order], wides, walls, 0.0, length)
    middles = dict(zip(order, within, strict=True))
    if not led:
        _past_ticks(order, tags, middles, (-OFF_WALL, *walls, length + OFF_WALL))
    away = tuple(abs(middles[index] - tag.at) if tag.tick else 0.0 for index, tag in enumerate(tags))
    moved = [index for index in order if away[index] > tags[index].wide / 2 + UNDER]
    led = led or not all(_alone(index, order, tags, middles) for index in moved)
    end = -CLEAR - (DROP if led else 0.0)
    base = end - CLEAR - ASCENT
    texts = tuple(Text(middles[index] - tag.wide / 2, base, tag.text, bold=tag.bold) for index, tag in enumerate(tags))
    leaders: list[Subpath] = [()] * len(tags)
    for index, (tag, text) in enumerate(zip(tags, texts, strict=True)):
        if led and tag.tick:
            leaders[index] = ((tag.at, -CLEAR), (middles[index], end))
        elif index in moved:
            middle = base + (ASCENT - DESCENT) / 2
            side = text.box.x0 - CLEAR if tag.at < text.box.x0 else text.box.x1 + CLEAR
            leaders[index] = ((tag.at, -CLEAR), (tag.at, middle), (side, middle))
    cut = sum(text.box.x0 < wall < text.box.x1 for text in texts for wall in walls)
    return TagRow(texts, tuple(leaders), away, _wide(wides) <= length + 2 * OFF_WALL, cut)


def _past_ticks(order: Sequence[int], tags: Sequence[Tag], middles: dict[int, float], walls: Sequence[float]) -> None:
    """Move names that all but stand under their lines on, where there is room, so that a leader has some beside them.

    A row with leaders to its names is deeper, and a piece that keeps its bounds has no room for it.
    """
    for place, index in enumerate(order):
        tag, off = tags[index], middles[index] - tags[index].at
        least = tag.wide / 2 + CLEAR + TINY
        if not tag.tick or not tag.wide / 2 + UNDER < abs(off) < least:
            continue
        middle = tag.at + (least if off > 0 else -least)
        low, high = middle - tag.wide / 2, middle + tag.wide / 2
        beside = [other for other in order[max(0, place - 1) : place + 2] if other != index]
        if all(
            middles[other] + tags[other].wide / 2 + WHITE <= low
            or middles[other] - tags[other].wide / 2 - WHITE >= high
            for other in beside
        ) and not any(low - OFF_WALL < wall < high + OFF_WALL for wall in walls):
            middles[index] = middle


def _alone(index: int, order: Sequence[int], tags: Sequence[Tag], middles: Mapping[int, float]) -> bool:
    """Tell whether nothing stands between a name and its line."""
    tag, middle = tags[index], middles[index]
    low, high = min(tag.at - CLEAR, middle), max(tag.at + CLEAR, middle)
    return abs(middle - tag.at) > tag.wide / 2 + CLEAR and not any(
        middles[other] - tags[other].wide / 2 < high and middles[other] + tags[other].wide / 2 > low
        for other in order
        if other != index
    )


def spread(
    places: Sequence[float],
    widths: Sequence[float],
    walls: Sequence[float] = (),
    least: float = -inf,
    most: float = inf,
) -> list[float]:
    """Return the middles of names at these places, in order, moved apart by the least squares.

    None reaches beyond ``least`` and ``most``, or over a wall; where there is no room for
    all between the walls, as few as can be are not heeded.
    """
    ends = (least - OFF_WALL, most + OFF_WALL)
    found = _pooled(places, widths, *ends)
    if _wide(widths) > ends[1] - ends[0]:
        return found
    heeded: list[float] = []
    for wall in (wall for wall in sorted(walls) if least < wall < most):
        other = _walled(places, widths, [ends[0], *heeded, wall, ends[1]])
        beside = pairwise(zip(other, widths, strict=True))
        if all(b - w / 2 >= a + v / 2 for (a, v), (b, w) in beside):
            found = other
            heeded.append(wall)
    return found


def _walled(places: Sequence[float], widths: Sequence[float], bounds: Sequence[float]) -> list[float]:
    """Return the middles of names that stand between walls, in order."""
    free = _pooled(places, widths, bounds[0], bounds[-1])
    shares = [sum(low <= middle < high for middle in free) for low, high in pairwise(bounds)]
    starts = list(accumulate(shares, initial=0))
    last = len(bounds) - 2
    for index, (low, high) in enumerate(pairwise(bounds)):
        # what has no room between two walls goes to the side that is nearer
        while high - low < _wide(widths[starts[index] : starts[index + 1]]):
            left, right = free[starts[index]] - low, high - free[starts[index + 1] - 1]
            if index == last or (left < right and index):
                starts[index] += 1
            else:
                starts[index + 1] -= 1
    found: list[float] = []
    for (low, high), (start, end) in zip(pairwise(bounds), pairwise(starts), strict=True):
        found += _pooled(places[start:end], widths[start:end], low, high)
    return found


def _wide(widths: Sequence[float]) -> float:
    return sum(widths) + WHITE * (len(widths) - 1) + 2 * OFF_WALL if widths else 0.0


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
