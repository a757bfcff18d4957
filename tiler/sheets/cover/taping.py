"""The third step of the first page: which pages are taped and how, with the page map beside it; page mm."""

from __future__ import annotations

from collections.abc import Sequence

from tiler.box import Box
from tiler.declaration import Page, PageKind
from tiler.languages.words import in_each, say
from tiler.sheets.canvas import Canvas
from tiler.sheets.cover.column import HEADING_ROOM, Column, height_of
from tiler.sheets.cover.page_map import draw_page_map
from tiler.sheets.cover.words import TAPE, TAPE_NOTHING, TAPE_PANES, CoverWords

MAP_WIDTH = 62.0


def height_of_taping(words: CoverWords, tiles: Sequence[Page], width: float, map_height: float) -> float:
    """Return what the words of the step take beside a map of this height."""
    return sum(height_of(line, width - (MAP_WIDTH + 6.0 if map_height else 0.0)) for line in _tape_words(words, tiles))


def _tape_words(words: CoverWords, tiles: Sequence[Page]) -> Sequence[str]:
    joined = TAPE_PANES if tiles[0].kind is PageKind.PANE else TAPE
    return [say(joined if words.taped else TAPE_NOTHING) for _ in in_each()]


def draw_taping(
    canvas: Canvas,
    text: Column,
    words: CoverWords,
    tiles: Sequence[Page],
    outlines: Sequence[Box],
    map_height: float,
) -> None:
    """Say how to tape, with the page map at the right."""
    top = text.y
    narrow = text.right - (MAP_WIDTH + 6.0 if map_height else 0.0)
    said = Column(canvas, text.left, narrow, top)
    for line in _tape_words(words, tiles):
        said.paragraph(line)
    text.y = said.y
    if map_height:
        room = Box(narrow + 6.0, top - map_height, text.right, top + HEADING_ROOM - 1.6)
        text.y = min(text.y, draw_page_map(canvas, room, tiles, outlines))
