"""Where a curved piece that runs over joints can lie so that each of its pages has enough of it; mm.

How much of a curve a page gets is not told by its bounds, so places all over the first page are tried.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from math import ceil

from tiler.sheets.layout.item import Cell, Grid, Item, Spot
from tiler.sheets.layout.joints import LEAST_LEFT, TINY

MOVES = 8
"""So many places along a page, and across it, are tried."""

WHITE = 1.0
"""Between a piece and the first page below it, mm."""

Cost = tuple[int, int, int, int]


def over_joints(item: Item, grid: Grid) -> bool:
    """Tell whether a curved item has no room on one page."""
    return bool(item.spread) and (item.length > grid.along + TINY or item.width > grid.across + TINY)


def all_moved(spots: Sequence[Spot], grid: Grid) -> Iterator[list[Spot]]:
    """Yield all items moved together."""
    yield from ([Spot(one.along + right, one.across + down) for one in spots] for right, down in _moves(grid))


def _moves(grid: Grid) -> list[tuple[float, float]]:
    return [(grid.step_along * i / MOVES, grid.step_across * j / MOVES) for i in range(MOVES) for j in range(MOVES)]


def apart(
    items: Sequence[Item],
    curved: Sequence[int],
    grid: Grid,
    alone: Callable[[int, Spot], Cost],
    together: Callable[[Sequence[int]], Sequence[Spot]],
) -> list[Spot]:
    """Return each of these curved items on rows of its own, where it costs least ``alone``, and the others below."""
    found: dict[int, Spot] = {}
    base = 0.0
    for index in curved:
        best = min((Spot(right, down) for right, down in _moves(grid)), key=lambda spot: alone(index, spot))
        found[index] = Spot(best.along, base + best.across)
        base += ceil((best.across + items[index].width + WHITE - TINY) / grid.step_across) * grid.step_across
    others = [index for index in range(len(items)) if index not in found]
    for index, spot in zip(others, together(others) if others else (), strict=True):
        found[index] = Spot(spot.along, base + spot.across)
    return [found[index] for index in range(len(items))]


def scraps(item: Item, spot: Spot, grid: Grid, shown: Collection[Cell]) -> int:
    """Count the windows of a curved item that have too little of it for themselves, mm along it."""
    if not item.spread or len(shown) < 2:
        return 0
    own = dict.fromkeys(shown, 0.0)
    for x, y in item.spread:
        along = spot.along + (item.length - x if grid.turned else x)
        across = spot.across + item.width - y
        columns = _at(along, grid.along, grid.step_along)
        rows = _at(across, grid.across, grid.step_across)
        there = [cell for i in columns for j in rows if (cell := (i, j)) in own]
        if len(there) == 1:
            own[there[0]] += item.each
    return sum(length < LEAST_LEFT for length in own.values())


def _at(at: float, window: float, step: float) -> range:
    """Return the windows that show a place."""
    return range(max(0, ceil((at - window) / step)), int(at // step) + 1)
