"""One page as large as the pieces need, for a copy shop or a projector; mm.

The page is upright and no wider than the roll.  A copy shop charges by the length of the roll
or by the area of the page, so the page is taken for which both together are least.  What a
first page says stands in its upper left corner, with its lists whole, and the pieces beside
and below it.  What needs more than 200 in is split over several pages of that length, as over
home paper.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil

from tiler.box import Box, Point
from tiler.errors import SpecError
from tiler.paper import LONGEST_PAGE, ONE_SHEET, PageSize, PaperChoice, check_margins, checked
from tiler.sentence import Place
from tiler.sheets.cover.first_page import BLOCK_HEIGHT, BLOCK_WIDTH
from tiler.sheets.layout.grid import GAP, Layout, Tile
from tiler.sheets.layout.item import Item
from tiler.sheets.layout.skyline import packed

APART = 8.0
"""White between the pieces and the block of instructions."""

USUAL_ROLL = 914.0
"""The widest page where no roll is given: that of 36 in, common in copy shops."""

FEWEST_WIDTHS, MOST_WIDTHS, TRIES = 6, 40, 1600
"""How many widths of the page are tried: fewer where there are more pieces."""

ABOVE = 6.0
"""White above all."""


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
    block: float = BLOCK_HEIGHT,
) -> OneSheet | PageSize:
    """Lay all items on an upright page of least length and area that is no wider than the roll.

    Margins and page are true mm, what a printer makes of them that is compensated by both
    factors; the roll is as it is.  ``block`` is the height of what a first page says.  A paper
    of a length has pages of just this size.  Return a page size to split the job over when one
    page would be longer than that, or than 200 in.

    Raises :class:`SpecError` when the roll is too narrow for the instructions.
    """
    margins, roll = paper.margins, paper.roll
    check_margins(margins)
    room = (roll or USUAL_ROLL) / across - margins.left - margins.right
    if room < BLOCK_WIDTH + APART:
        least = ceil(BLOCK_WIDTH + APART + margins.left + margins.right)
        raise SpecError(
            f"{roll:g} mm is too narrow for the test squares and what is written beside them; "
            f"take {least} mm or more, or print on home paper",
            Place("--roll"),
        )
    plans = list(_plans(items, room, block))
    if not plans:
        return _split(paper, across, down)
    sides = margins.left + margins.right, margins.top + margins.bottom + ABOVE

    def size(plan: _Plan) -> tuple[int, int]:
        width = ceil((plan.width + sides[0]) * across)
        height = ceil((plan.height + sides[1]) * down)
        return height if paper.length else max(height, width), width

    def cost(plan: _Plan) -> float:
        height, width = size(plan)
        return height if paper.length else height * (width + (roll or USUAL_ROLL))

    plan = min(plans, key=lambda one: (cost(one), one.turned))
    page_height, page_width = map(float, size(plan))
    if page_height > (paper.length or LONGEST_PAGE):
        return _split(paper, across, down)
    if roll and paper.length:
        page_height, page_width = paper.length, roll
    page = PageSize(ONE_SHEET, page_width / across, page_height / down, margins, paper.overlap)
    top = page.window_height - ABOVE
    boxes = []
    for item, (x, y) in zip(items, plan.corners, strict=True):
        wide, high = _sides(item, plan.turned)
        boxes.append(Box(x, top - y - high, x + wide, top - y))
    tile = Tile(0, 0, Box(0.0, 0.0, page.window_width, page.window_height))
    corner = (APART / 2 + margins.left, top + margins.bottom)
    return OneSheet(page, Layout(plan.turned, tuple(boxes), (tile,)), corner)


@dataclass(frozen=True)
class _Plan:
    """The upper left corners of all items, y down from the top, and what they take with the instructions."""

    corners: Sequence[Point]
    width: float
    height: float
    turned: bool


def _plans(items: Sequence[Item], room: float, block: float) -> Iterator[_Plan]:
    """Yield how the items lie in pages of several widths, up to the room, as they are and turned."""
    first = (APART / 2 + BLOCK_WIDTH + APART, block + APART)
    tries = max(FEWEST_WIDTHS, min(MOST_WIDTHS, TRIES // len(items)))
    for turned in (False, True):
        sides = [_sides(item, turned) for item in items]
        boxes = [(wide + GAP, high + GAP) for wide, high in sides]
        least = max(first[0], *(wide for wide, _ in boxes))
        # white that stands beside the last box may lie beyond the room
        most = min(room + GAP, least + sum(wide for wide, _ in boxes))
        for number in range(tries):
            found = packed(boxes, least + (most - least) * number / (tries - 1), first)
            if found and least <= room + GAP:
                corners, height = found
                rights = (x + wide for (x, _), (wide, _) in zip(corners, sides, strict=True))
                yield _Plan(corners, max(first[0] - APART / 2, *rights), height, turned)


def _sides(item: Item, turned: bool) -> tuple[float, float]:
    return (item.width, item.length) if turned else (item.length, item.width)


def _split(paper: PaperChoice, across: float, down: float) -> PageSize:
    """Return a page as long as the sheet, else as viewers show, and as wide as the roll, else as a usual one."""
    width, height = min(paper.roll or USUAL_ROLL, LONGEST_PAGE), paper.length or LONGEST_PAGE
    return checked(PageSize(ONE_SHEET, width / across, height / down, paper.margins, paper.overlap))
