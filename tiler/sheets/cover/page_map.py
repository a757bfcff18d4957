"""The page map: the pieces on the pages, in small, as they lie when all is taped; page mm."""

from __future__ import annotations

from collections.abc import Sequence

from tiler.box import Box, Point, Subpath
from tiler.declaration import Host, Page, PageKind
from tiler.languages.words import say
from tiler.sheets.canvas import Canvas
from tiler.sheets.cover.column import Column
from tiler.sheets.cover.pane_map import draw_pane_map
from tiler.sheets.cover.shaded import moved, shade, shown_in
from tiler.sheets.style import HAIR, LEADING
from tiler.sheets.typesetting import text_width

APART = 20.0
"""White between pages that nobody tapes, sheet mm."""


def map_width(tiles: Sequence[Page], room: tuple[float, float], *, taped: bool) -> float:
    """Return how wide a map comes out in a room of this width and height; one of panes, or of words, takes it all."""
    windows = [tile.window for tile in tiles if tile.window]
    if tiles[0].kind is PageKind.PANE or not windows:
        return room[0]
    whole = Box.enclosing(_places(tiles, taped))
    scale = min(room[0] / whole.width, room[1] / whole.height)
    return whole.width * scale if _has_room(tiles, windows[0], scale) else room[0]


def _has_room(tiles: Sequence[Page], window: Box, scale: float) -> bool:
    """Tell whether the codes have room in pages of this scale."""
    widest = max(text_width(tile.code or "") for tile in tiles)
    return window.width * scale >= widest + 1.0 and window.height * scale >= LEADING


def _places(tiles: Sequence[Page], taped: bool) -> list[Box]:
    """Return where the map shows each page; those that nobody tapes stand apart; sheet mm."""
    found = []
    for tile in tiles:
        assert tile.window is not None
        down, right = tile.row or 0, tile.column or 0
        window = tile.window
        step = 0.0 if taped else APART
        found.append(window.moved(right * step, -down * step))
    return found


def draw_page_map(
    canvas: Canvas, room: Box, tiles: Sequence[Page], outlines: Sequence[Box | Subpath], host: Host, *, taped: bool
) -> float:
    """Draw the map as large as the room allows and return its foot; ``outlines`` are the pieces on the sheet."""
    if tiles[0].kind is PageKind.PANE:
        return draw_pane_map(canvas, room, tiles, outlines, host)
    places = _places(tiles, taped)
    whole = Box.enclosing(places)
    scale = min(room.width / whole.width, room.height / whole.height)

    def at(point: Point) -> Point:
        return room.x0 + (point[0] - whole.x0) * scale, room.y1 - (whole.y1 - point[1]) * scale

    def small(box: Box) -> Box:
        return Box(*at((box.x0, box.y0)), *at((box.x1, box.y1)))

    if not _has_room(tiles, places[0], scale):
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
    if taped:
        for outline in outlines:
            shade(canvas, outline, at)
    for tile, place in zip(tiles, places, strict=True):
        assert tile.window is not None
        window, box = tile.window, small(place)
        for outline in () if taped else shown_in(window, outlines):
            shade(canvas, moved(outline, place.x0 - window.x0, place.y0 - window.y0), at)
        canvas.outline(box, HAIR)
        canvas.text(((box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2 - 1.0), tile.code or "", align="centre")
    return room.y1 - whole.height * scale
