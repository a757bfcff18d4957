"""The map of pages that hold panes, on the first page: every page in small with its panes; page mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from math import ceil

from tiler.box import Box, Point, Subpath
from tiler.declaration import Host, Page, printed_pages
from tiler.languages.proved import MAP_CODES, MAP_PAGE
from tiler.languages.words import say
from tiler.sheets.canvas import Canvas
from tiler.sheets.cover.shaded import moved, shade, shown_in
from tiler.sheets.style import HAIR, LEADING
from tiler.sheets.typesetting import text_width, wrapped

NAME_ROOM = LEADING + 0.8
"""What the number of a page takes above it, mm."""

APART = 3.0
"""White between two small pages."""

MOST_ACROSS = 4


def draw_pane_map(
    canvas: Canvas, room: Box, panes: Sequence[Page], outlines: Sequence[Box | Subpath], host: Host
) -> float:
    """Draw every page in small with the pieces on it, or list them where codes have no room; return the foot."""
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
        return _list(canvas, room, pages, host)
    wide, high = shown.width * scale, shown.height * scale + NAME_ROOM
    for index, records in enumerate(pages):
        x, y = room.x0 + index % across * (wide + APART), room.y1 - (index // across) * (high + APART) - NAME_ROOM
        canvas.text((x, y + NAME_ROOM - LEADING + 1.0), say(MAP_PAGE, number=host.number(records[0].number)))
        for pane in records:
            assert pane.frame is not None
            box = pane.frame.moved(-shown.x0, -shown.y1)
            small = _small(box, x, y, scale)
            for part in _shown(pane, outlines):
                shade(canvas, moved(part, -shown.x0, -shown.y1), partial(_at, x, y, scale))
            canvas.outline(small, HAIR)
            canvas.text(((small.x0 + small.x1) / 2, (small.y0 + small.y1) / 2 - 1.0), pane.code or "", align="centre")
    return room.y1 - ceil(len(pages) / across) * (high + APART) + APART


def _small(box: Box, x: float, y: float, scale: float) -> Box:
    return Box(*_at(x, y, scale, (box.x0, box.y0)), *_at(x, y, scale, (box.x1, box.y1)))


def _at(x: float, y: float, scale: float, point: Point) -> Point:
    return x + point[0] * scale, y + point[1] * scale


def _shown(pane: Page, outlines: Sequence[Box | Subpath]) -> Iterator[Box | Subpath]:
    """Give what a pane shows of each piece, on its page."""
    window, frame = pane.window, pane.frame
    assert window is not None
    assert frame is not None
    yield from (moved(one, frame.x0 - window.x0, frame.y0 - window.y0) for one in shown_in(window, outlines))


def _scale(room: Box, shown: Box, pages: int, across: int) -> float:
    """Return the scale at which so many small pages stand beside each other in the room."""
    down = ceil(pages / across)
    wide = (room.width - (across - 1) * APART) / across
    high = (room.height - (down - 1) * APART) / down - NAME_ROOM
    return max(0.0, min(wide / shown.width, high / shown.height))


def _list(canvas: Canvas, room: Box, pages: Sequence[Sequence[Page]], host: Host) -> float:
    y = room.y1
    for index, records in enumerate(pages):
        codes = " ".join(pane.code or "" for pane in records)
        lines = wrapped(say(MAP_CODES, number=host.number(records[0].number), codes=codes), room.width)
        if y - (len(lines) + (index < len(pages) - 1)) * LEADING < room.y0:
            canvas.text((room.x0, y - LEADING), say("and so on, strip by strip"))
            return y - LEADING
        for line in lines:
            y -= LEADING
            canvas.text((room.x0, y), line)
    return y
