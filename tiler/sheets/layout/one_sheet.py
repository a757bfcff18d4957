"""One page as large as the pieces need, for a copy shop or a projector; mm.

The page is upright.  The squares, rules and instructions of a first page stand
on it beside or below the pieces.  A roll bounds its width.  What needs more than
200 in is split over several pages of that length, as over home paper.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from tiler.box import Box
from tiler.errors import SpecError
from tiler.paper import LONGEST_PAGE, ONE_SHEET, PageSize, PaperChoice, check_margins, checked
from tiler.sentence import Place
from tiler.sheets.cover.first_page import BLOCK_HEIGHT, BLOCK_WIDTH
from tiler.sheets.layout.grid import GAP, Layout, Tile
from tiler.sheets.layout.item import Item

APART = 8.0
"""White between the pieces and the block of instructions."""

USUAL_ROLL = 914.0
"""Width of a page where none is given and one page does not do: a roll of 36 in, common in copy shops."""

TITLE_ROOM = 16.0
"""Kept free above all for the page code and title."""


@dataclass(frozen=True)
class OneSheet:
    """The page, the pieces on it, and the upper left corner of the instructions on the page."""

    page: PageSize
    layout: Layout
    corner: tuple[float, float]


def arrange_one_sheet(
    items: Sequence[Item],
    paper: PaperChoice,
    across: float = 1.0,
    down: float = 1.0,
) -> OneSheet | PageSize:
    """Lay all items on one upright page of least area, no wider than the roll.

    Margins and page are true mm, what a printer makes of them that is compensated by both
    factors; the roll is as it is.  Return a page size to split the job over when one page
    would be longer than 200 in.

    Raises :class:`SpecError` when the roll is too narrow for the instructions.
    """
    margins, roll = paper.margins, paper.roll
    check_margins(margins)
    room = (roll or LONGEST_PAGE) / across - margins.left - margins.right
    if room < BLOCK_WIDTH + APART:
        least = ceil(BLOCK_WIDTH + APART + margins.left + margins.right)
        raise SpecError(
            f"{roll:g} mm is too narrow for the test squares and what is written beside them; "
            f"take {least} mm or more, or print on home paper",
            Place("--roll"),
        )
    longest = max(item.length for item in items)
    plans = []
    for limit in sorted({longest, 1.5 * longest, 2 * longest + GAP, 3 * longest + 2 * GAP, 4 * longest + 3 * GAP}):
        spots, long, wide = _lanes(items, limit)
        for turned in (False, True):
            width, height = (wide, long) if turned else (long, wide)
            for beside in (True, False):
                plans.append(_plan(items, spots, (width, height), turned, beside))
    plans = [plan for plan in plans if plan[0] <= room]
    if not plans:
        return _split(paper, across, down)
    width, height, boxes, turned, corner = min(plans, key=lambda plan: (plan[0] * plan[1], plan[1]))
    page_width = ceil((width + margins.left + margins.right) * across)
    page_height = ceil(max((height + margins.top + margins.bottom) * down, page_width))
    if page_height > LONGEST_PAGE:
        return _split(paper, across, down)
    page = PageSize(ONE_SHEET, page_width / across, page_height / down, margins, paper.overlap)
    rise = page.window_height - height
    tile = Tile(0, 0, Box(0.0, 0.0, page.window_width, page.window_height))
    layout = Layout(turned, tuple(box.moved(0.0, rise) for box in boxes), (tile,))
    return OneSheet(page, layout, (corner[0] + margins.left, corner[1] + rise + margins.bottom))


def _split(paper: PaperChoice, across: float, down: float) -> PageSize:
    """Return a page as long as viewers show, and as wide as the roll, else as a usual one."""
    width, height = min(paper.roll or USUAL_ROLL, LONGEST_PAGE), LONGEST_PAGE
    return checked(PageSize(ONE_SHEET, width / across, height / down, paper.margins, paper.overlap))


def _lanes(items: Sequence[Item], limit: float) -> tuple[list[tuple[float, float]], float, float]:
    """Pack by decreasing width, first fit; return the places and the extents along and across."""
    lanes: list[list[float]] = []
    spots = [(0.0, 0.0)] * len(items)
    bottom = 0.0
    for index in sorted(range(len(items)), key=lambda i: (-items[i].width, -items[i].length, i)):
        item = items[index]
        lane = next((lane for lane in lanes if lane[1] + GAP + item.length <= limit), None)
        if lane is None:
            lane = [bottom, -GAP]
            lanes.append(lane)
            bottom += item.width + GAP
        spots[index] = (lane[1] + GAP, lane[0])
        lane[1] += GAP + item.length
    return spots, max(lane[1] for lane in lanes), bottom - GAP


def _plan(
    items: Sequence[Item], spots: Sequence[tuple[float, float]], extent: tuple[float, float], turned: bool, beside: bool
) -> tuple[float, float, list[Box], bool, tuple[float, float]]:
    width, height = extent
    if beside:
        total = (width + 1.5 * APART + BLOCK_WIDTH, max(height, BLOCK_HEIGHT) + TITLE_ROOM)
        corner = (width + APART, total[1] - TITLE_ROOM)
    else:
        total = (max(width, BLOCK_WIDTH + APART), height + APART + BLOCK_HEIGHT + TITLE_ROOM)
        corner = (APART / 2, BLOCK_HEIGHT)
    if total[1] < total[0]:
        corner = (corner[0], corner[1] + total[0] - total[1])
        total = (total[0], total[0])
    top = total[1] - TITLE_ROOM
    boxes = []
    for item, (along, across) in zip(items, spots, strict=True):
        x, down, wide, high = (
            (across, along, item.width, item.length) if turned else (along, across, item.length, item.width)
        )
        boxes.append(Box(x, top - down - high, x + wide, top - down))
    return total[0], total[1], boxes, turned, corner
