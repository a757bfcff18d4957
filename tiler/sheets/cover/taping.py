"""The third step of the first page: which pages are taped and how, with the page map beside it; page mm."""

from __future__ import annotations

from collections.abc import Sequence

from tiler.box import Box, Subpath
from tiler.declaration import Page, PageKind
from tiler.sheets.canvas import Canvas
from tiler.sheets.cover.column import HEADING_ROOM, Column, height_in_each
from tiler.sheets.cover.page_map import draw_page_map, map_width
from tiler.sheets.cover.words import TAPE, TAPE_NOTHING, TAPE_PANES, TAPE_ROWS, CoverWords

MAP_WIDTH, BEFORE_MAP = 62.0, 6.0
"""As wide as the map becomes, and the white before it, mm."""

ABOVE = HEADING_ROOM - 1.6
"""So far the map stands up beside the heading, mm."""


def height_of_taping(words: CoverWords, tiles: Sequence[Page], width: float, map_height: float) -> float:
    """Return what the words of the step take beside a map of this height."""
    return height_in_each(_said(words, tiles), width - _beside(words, tiles, map_height))


def _beside(words: CoverWords, tiles: Sequence[Page], map_height: float) -> float:
    """Return what a map of this height takes beside the words, with the white before it; mm."""
    return map_width(tiles, (MAP_WIDTH, map_height + ABOVE), taped=words.taped) + BEFORE_MAP if map_height else 0.0


def _said(words: CoverWords, tiles: Sequence[Page]) -> Sequence[str]:
    """Return the templates of the step."""
    if not words.taped:
        return (TAPE_NOTHING,)
    if tiles[0].kind is PageKind.PANE:
        return (TAPE_PANES,)
    return (TAPE, TAPE_ROWS) if words.in_rows else (TAPE,)


def draw_taping(
    canvas: Canvas,
    text: Column,
    words: CoverWords,
    tiles: Sequence[Page],
    outlines: Sequence[Box | Subpath],
    map_height: float,
) -> None:
    """Say how to tape, with the page map at the right."""
    top = text.y
    narrow = text.right - _beside(words, tiles, map_height)
    said = Column(canvas, text.left, narrow, top)
    said.in_each_language(_said(words, tiles))
    text.y = said.y
    if map_height:
        room = Box(narrow + BEFORE_MAP, top - map_height, text.right, top + ABOVE)
        text.y = min(text.y, draw_page_map(canvas, room, tiles, outlines, words.host, taped=words.taped))
