"""Which pages to print for which size, on the first page; page mm.

The numbers are those of the file's pages, as a print dialogue asks for them, with
the codes that stand on the pages beside them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from math import ceil

from tiler.box import Box
from tiler.declaration import Host, Page, PageKind, printed_pages
from tiler.languages.proved import PAGE_OF_SIZE, PAGES_OF_SIZE
from tiler.languages.words import say
from tiler.sentence import span
from tiler.sheets.canvas import Canvas
from tiler.sheets.layout.placed import Placed, pages_of
from tiler.sheets.style import LEADING, SMALL
from tiler.sheets.typesetting import text_width, wrapped

APART = 5.0
"""White between two columns of sizes."""

ROW = LEADING + 0.7

TINY = 1e-6

BEFORE = 1.2
"""White above the line that heads the sizes."""


@dataclass(frozen=True)
class SizePages:
    """A size and the words for its pages."""

    size: str
    pages: str


def pages_of_sizes(pieces: Sequence[Placed], tiles: Sequence[Page], host: Host) -> tuple[SizePages, ...]:
    """Name for each size the tiles that show one of its pieces.

    Where all need the same pages, there is nothing to say.
    """
    found = []
    for size in dict.fromkeys(place.declared.size for place in pieces):
        shown = pages_of([place for place in pieces if place.declared.size == size], tiles)
        if size is not None:
            found.append(SizePages(size, _listed(shown, host)))
    if len({one.pages for one in found}) == 1:
        return ()
    return tuple(found)


def _listed(tiles: Sequence[Page], host: Host) -> str:
    panes = len(tiles) if tiles and tiles[0].kind is PageKind.PANE else 0
    tiles = [records[0] for records in printed_pages(tiles)]
    runs = [[tile for _, tile in run] for _, run in groupby(enumerate(tiles), lambda pair: pair[1].number - pair[0])]
    numbers = ", ".join(span(*(str(host.number(one.number)) for one in (run[0], run[-1]))) for run in runs)
    of_panes = say("{count} pane", "{count} panes", count=panes)
    codes = of_panes if panes else ", ".join(span(run[0].code or "", run[-1].code or "") for run in runs)
    return say(PAGE_OF_SIZE if len(tiles) == 1 else PAGES_OF_SIZE, numbers=numbers, codes=codes)


def height_of_sizes(sizes: Sequence[SizePages], width: float) -> float:
    """Return what the sizes take with the line above them."""
    return BEFORE + LEADING + sum(_rows(_lines(sizes, width), _columns(sizes, width))) if sizes else 0.0


def draw_sizes(canvas: Canvas, room: Box, sizes: Sequence[SizePages]) -> float:
    """Write what to print for each size, in columns read downwards, as many as fit, and return the y where they end.

    Pages that are more than a line holds go on on the next.
    """
    columns, lines, name = _columns(sizes, room.width), _lines(sizes, room.width), _name_width(sizes)
    heights = _rows(lines, columns)
    if sum(heights) > room.height + TINY:
        # the last line says how many are left out
        while len(heights) > 1 and sum(heights) + ROW > room.height + TINY:
            heights = heights[:-1]
    width = (room.width + APART) / columns
    shown = sizes[: len(heights) * columns]
    for index, one in enumerate(shown):
        column, row = divmod(index, len(heights))
        x, y = room.x0 + column * width, room.y1 - sum(heights[:row]) - LEADING
        canvas.text((x, y), one.size, bold=True)
        for number, line in enumerate(lines[index]):
            canvas.text((x + name, y - number * LEADING), line)
    end = room.y1 - sum(heights)
    if len(sizes) > len(shown):
        more = say(
            "and {count} more size: each page names its own.",
            "and {count} more sizes: each page names its own.",
            count=len(sizes) - len(shown),
        )
        canvas.text((room.x0, end - LEADING), more)
        end -= ROW
    return end


def _lines(sizes: Sequence[SizePages], width: float) -> list[list[str]]:
    """Return the pages of each size; only those that have no other beside them can be more than one line."""
    return [wrapped(one.pages, width - _name_width(sizes)) for one in sizes]


def _rows(lines: Sequence[Sequence[str]], columns: int) -> list[float]:
    """Return how high each row of sizes is."""
    high = ceil(len(lines) / columns)
    return [max(map(len, lines[row::high])) * LEADING + ROW - LEADING for row in range(high)]


def _name_width(sizes: Sequence[SizePages]) -> float:
    return max(text_width(one.size, SMALL, bold=True) for one in sizes) + 2.0


def _columns(sizes: Sequence[SizePages], width: float) -> int:
    widest = _name_width(sizes) + max(text_width(one.pages) for one in sizes)
    return max(1, int((width + APART) / (widest + APART)))
