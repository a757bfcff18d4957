"""The map of pages that hold panes, on the first page: every page in small with its panes; page mm."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from tiler.box import Box
from tiler.declaration import Page, printed_pages
from tiler.sheets.canvas import Canvas
from tiler.sheets.style import HAIR, LEADING
from tiler.sheets.typesetting import shortened, text_width

APART = 3.0
"""White between two small pages."""

MOST_ACROSS = 4


def draw_pane_map(canvas: Canvas, room: Box, panes: Sequence[Page]) -> None:
    """Draw every page in small, its number above it; where the codes have no room, list them page by page."""
    pages = printed_pages(panes)
    frames = [pane.frame for pane in panes if pane.frame]
    shown = Box(
        min(frame.x0 for frame in frames),
        min(frame.y0 for frame in frames),
        max(frame.x1 for frame in frames),
        max(frame.y1 for frame in frames),
    )
    across, scale = max(
        ((count, _scale(room, shown, len(pages), count)) for count in range(1, MOST_ACROSS + 1)), key=lambda way: way[1]
    )
    lowest, narrowest = (min(sides) * scale for sides in zip(*((one.height, one.width) for one in frames), strict=True))
    widest = max(text_width(pane.code or "") for pane in panes)
    if lowest < LEADING - 0.6 or narrowest < widest + 0.6:
        _list(canvas, room, pages)
        return
    wide, high = shown.width * scale, shown.height * scale + LEADING
    for index, records in enumerate(pages):
        x, y = room.x0 + index % across * (wide + APART), room.y1 - (index // across) * (high + APART) - LEADING
        canvas.text((x, y + 1.0), f"page {records[0].number}")
        for pane in records:
            assert pane.frame is not None
            box = pane.frame.moved(-shown.x0, -shown.y1)
            small = Box(x + box.x0 * scale, y + box.y0 * scale, x + box.x1 * scale, y + box.y1 * scale)
            canvas.outline(small, HAIR)
            canvas.text(((small.x0 + small.x1) / 2, (small.y0 + small.y1) / 2 - 1.0), pane.code or "", align="centre")


def _scale(room: Box, shown: Box, pages: int, across: int) -> float:
    """Return the scale at which so many small pages stand beside each other in the room."""
    down = ceil(pages / across)
    wide = (room.width - (across - 1) * APART) / across
    high = (room.height - (down - 1) * APART) / down - LEADING
    return max(0.0, min(wide / shown.width, high / shown.height))


def _list(canvas: Canvas, room: Box, pages: Sequence[Sequence[Page]]) -> None:
    y = room.y1
    for index, records in enumerate(pages):
        y -= LEADING
        if y - LEADING < room.y0 and index < len(pages) - 1:
            canvas.text((room.x0, y), "and so on, strip by strip")
            return
        codes = " ".join(pane.code or "" for pane in records)
        canvas.text((room.x0, y), shortened(f"page {records[0].number}: {codes}", room.width))
