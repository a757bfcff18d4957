"""Which arrangement a job gets: a grid of pages, strips cut up and stacked, or what needs fewer pages.

No arrangement can do with fewer pages than the area of all pieces has windows; what is
wished is weighed against that.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from tiler.errors import SpecError
from tiler.paper import MOST_PAGES, Arrangement, PageSize
from tiler.sentence import Place
from tiler.sheets.layout.grid import Layout, arrange
from tiler.sheets.layout.item import Item
from tiler.sheets.layout.joints import TINY
from tiler.sheets.layout.stack import Pane, panes, stack


@dataclass(frozen=True)
class Plan:
    """The arrangement taken, the pages that each would need, None where it cannot be had, and the least by area.

    The first page is not counted.
    """

    taken: Arrangement
    grid: int | None
    stacked: int | None
    least: int


@dataclass(frozen=True)
class Arranged:
    """Where the pieces lie and which tiles, or which panes, show them."""

    layout: Layout
    panes: tuple[Pane, ...]
    plan: Plan | None


def arrange_as(items: Sequence[Item], page: PageSize, wish: Arrangement) -> Arranged:
    """Lay the items out as wished; raises :class:`SpecError` when that cannot be, or needs too many pages."""
    least = least_pages(items, page)
    if least > MOST_PAGES:
        raise _too_many(f"at least {least}", page)
    if wish == Arrangement.GRID:
        layout = arrange(items, page)
        return Arranged(layout, (), Plan(Arrangement.GRID, len(layout.tiles), None, least))
    stacked = stack(items, page)
    if wish == Arrangement.STACKED and stacked is None:
        widest = max(items, key=lambda item: item.width)
        raise SpecError(
            f"a piece is {widest.width:.0f} mm wide with its words, wider than a page of {page.name}; "
            "take grid or fewest, or a larger paper",
            Place("--arrange stacked"),
        )
    grid, fault = _grid(items, page)
    count = len(stacked.pages) if stacked else None
    better = wish == Arrangement.STACKED or grid is None or (count or MOST_PAGES) < len(grid.tiles)
    if stacked and len(stacked.pages) <= MOST_PAGES and better:
        boxes, shown = panes(items, stacked, page)
        plan = Plan(Arrangement.STACKED, len(grid.tiles) if grid else None, count, least)
        return Arranged(Layout(stacked.turned, boxes, ()), shown, plan)
    if grid is None or wish == Arrangement.STACKED:
        raise fault or _too_many(str(count), page)
    return Arranged(grid, (), Plan(Arrangement.GRID, len(grid.tiles), count, least))


def _too_many(count: str, page: PageSize) -> SpecError:
    return SpecError(
        f"the pieces need {count} pages of {page.name}, more than the {MOST_PAGES} that are allowed; "
        "check the lengths and their units, or take a larger paper"
    )


def least_pages(items: Sequence[Item], page: PageSize) -> int:
    """Return the pages that the strips fill by their area alone."""
    area = sum(item.length * (item.body[1] - item.body[0]) for item in items)
    return max(1, ceil(area / (page.window_width * page.window_height) - TINY))


def _grid(items: Sequence[Item], page: PageSize) -> tuple[Layout | None, SpecError | None]:
    try:
        return arrange(items, page), None
    except SpecError as fault:
        return None, fault
