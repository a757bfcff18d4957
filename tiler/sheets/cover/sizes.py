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
from tiler.sheets.layout.placed import shown_on
from tiler.sheets.style import LEADING, SMALL
from tiler.sheets.typesetting import shortened, text_width

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


def pages_of_sizes(
    bounds: Sequence[tuple[str | None, Box]], tiles: Sequence[Page], host: Host
) -> tuple[SizePages, ...]:
    """Name for each size the tiles that show one of its pieces; ``bounds`` are sizes and places on the sheet.

    Where all need the same pages, there is nothing to say.
    """
    found = []
    for size in dict.fromkeys(size for size, _ in bounds):
        own = [box for one, box in bounds if one == size]
        shown = shown_on(own, tiles)
        if size is not None:
            found.append(SizePages(size, _listed(shown, host)))
    if len(found) > 1 and len({one.pages for one in found}) == 1:
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
    return BEFORE + LEADING + ceil(len(sizes) / _columns(sizes, width)) * ROW if sizes else 0.0


def draw_sizes(canvas: Canvas, room: Box, sizes: Sequence[SizePages]) -> float:
    """Write a line for each size, in columns read downwards, as many as fit, and return the y where they end."""
    columns = _columns(sizes, room.width)
    rows, most = ceil(len(sizes) / columns), int(room.height / ROW + TINY)
    if rows > most:
        # the last line says how many are left out
        rows = max(1, most - 1)
    name = max(text_width(one.size, SMALL, bold=True) for one in sizes) + 2.0
    width = (room.width + APART) / columns
    for index, one in enumerate(sizes[: rows * columns]):
        column, row = divmod(index, rows)
        x, y = room.x0 + column * width, room.y1 - row * ROW - LEADING
        canvas.text((x, y), one.size, bold=True)
        canvas.text((x + name, y), shortened(one.pages, width - APART - name))
    end = room.y1 - rows * ROW
    if len(sizes) > rows * columns:
        more = say(
            "and {count} more size: each page names its own.",
            "and {count} more sizes: each page names its own.",
            count=len(sizes) - rows * columns,
        )
        canvas.text((room.x0, end - LEADING), more)
        end -= ROW
    return end


def _columns(sizes: Sequence[SizePages], width: float) -> int:
    name = max(text_width(one.size, SMALL, bold=True) for one in sizes) + 2.0
    widest = name + max(text_width(one.pages) for one in sizes)
    return max(1, int((width + APART) / (widest + APART)))
