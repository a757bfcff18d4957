"""The page map: the pieces on the pages, in small, as they lie when all is taped; page mm."""

from __future__ import annotations

from collections.abc import Sequence

from tiler.box import Box
from tiler.declaration import Page, PageKind
from tiler.languages.words import say
from tiler.sheets.canvas import Canvas
from tiler.sheets.cover.column import Column
from tiler.sheets.cover.pane_map import draw_pane_map
from tiler.sheets.style import HAIR, LEADING, SHADE
from tiler.sheets.typesetting import text_width


def draw_page_map(canvas: Canvas, room: Box, tiles: Sequence[Page], outlines: Sequence[Box]) -> float:
    """Draw the map as large as the room allows and return its foot; ``outlines`` are the pieces on the sheet."""
    if tiles[0].kind is PageKind.PANE:
        return draw_pane_map(canvas, room, tiles, outlines)
    windows = [tile.window for tile in tiles if tile.window]
    x0, y0 = min(box.x0 for box in windows), min(box.y0 for box in windows)
    x1, y1 = max(box.x1 for box in windows), max(box.y1 for box in windows)
    scale = min(room.width / (x1 - x0), room.height / (y1 - y0))

    def small(box: Box) -> Box:
        return Box(
            room.x0 + (box.x0 - x0) * scale,
            room.y1 - (y1 - box.y0) * scale,
            room.x0 + (box.x1 - x0) * scale,
            room.y1 - (y1 - box.y1) * scale,
        )

    widest = max(text_width(tile.code or "") for tile in tiles)
    if windows[0].width * scale < widest + 1.0 or windows[0].height * scale < LEADING:
        text = Column(canvas, room.x0, room.x1, room.y1)
        text.paragraph(
            say(
                "{count} pages from {first} to {last}: the letter is the row from the top, the number the column from "
                "the left. Places without a page stay empty.",
                count=len(tiles),
                first=tiles[0].code,
                last=tiles[-1].code,
            )
        )
        return text.y
    for outline in outlines:
        canvas.shade(small(outline), SHADE)
    for tile in tiles:
        assert tile.window is not None
        box = small(tile.window)
        canvas.outline(box, HAIR)
        canvas.text(((box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2 - 1.0), tile.code or "", align="centre")
    return room.y1 - (y1 - y0) * scale
