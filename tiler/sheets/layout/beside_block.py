"""Pieces that fit what the instructions leave of the first page, beside or below these; mm.

Then the page is the only one, and nothing is taped.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from tiler.box import Box
from tiler.paper import PageSize
from tiler.sheets.cover.first_page import BLOCK_WIDTH, NARROWEST
from tiler.sheets.layout.grid import GAP, Layout, Tile
from tiler.sheets.layout.item import Item
from tiler.sheets.layout.joints import TINY

APART = 6.0
"""White between the pieces and the block of instructions."""

INSET = 3.0
"""White between the page frame and the block."""


@dataclass(frozen=True)
class Shared:
    """The pieces on the page, and the place on the page that they leave to the instructions."""

    layout: Layout
    block: Box


def beside_block(items: Sequence[Item], page: PageSize) -> Iterator[Shared]:
    """Give every way in which all items lie on one page, beside or below a block that is wide enough."""
    wide, high = page.window_width, page.window_height
    room = wide - NARROWEST - INSET - APART
    for turned, beside in ((False, False), (True, True), (True, False), (False, True)):
        limit = (high if turned else room) if beside else (high - INSET - APART if turned else wide)
        spots, along, across = _lanes(items, limit)
        extent = (across, along) if turned else (along, across)
        if extent[0] > (room if beside else wide) + TINY or extent[1] > high + TINY:
            continue
        # beside the block at the right, below it at the foot
        x, y = (wide - extent[0], high) if beside else (0.0, extent[1])
        boxes = []
        for item, (start, lane) in zip(items, spots, strict=True):
            right, down = (lane, start) if turned else (start, lane)
            long, thick = (item.width, item.length) if turned else (item.length, item.width)
            boxes.append(Box(x + right, y - down - thick, x + right + long, y - down))
        left = Box(INSET, INSET, x - APART, high) if beside else Box(INSET, y + APART, wide - INSET, high)
        if left.height < NARROWEST:
            # not even a line down has room
            continue
        width = min(left.width, BLOCK_WIDTH)
        block = Box(left.x0, left.y0, left.x0 + width, left.y1).moved(page.margins.left, page.margins.bottom)
        tile = Tile(0, 0, Box(0.0, 0.0, wide, high))
        yield Shared(Layout(turned, tuple(boxes), (tile,)), block)


def _lanes(items: Sequence[Item], limit: float) -> tuple[list[tuple[float, float]], float, float]:
    """Put items into lanes by decreasing width, first fit; return their places and the extents along and across."""
    ends: list[tuple[float, float]] = []
    spots = [(0.0, 0.0)] * len(items)
    across = 0.0
    for index in sorted(range(len(items)), key=lambda index: -items[index].width):
        item = items[index]
        lane = next((at for at, (_, end) in enumerate(ends) if end + GAP + item.length <= limit), len(ends))
        if lane == len(ends):
            ends.append((across, -GAP))
            across += item.width + GAP
        start, end = ends[lane]
        spots[index] = (end + GAP, start)
        ends[lane] = (start, end + GAP + item.length)
    return spots, max(end for _, end in ends), across - GAP
