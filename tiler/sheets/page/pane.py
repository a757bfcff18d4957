"""What stands on a page of panes besides the strips: codes, what each joins, and the title; page mm."""

from __future__ import annotations

from collections.abc import Sequence

from tiler.box import Box
from tiler.declaration import Page, Tag
from tiler.sheets.canvas import Canvas, text_width, wrapped
from tiler.sheets.page.free_places import ON_LINE, ON_PIECE, Obstacle, Places
from tiler.sheets.page.tile import TITLE_COLUMNS, TITLE_WIDTHS, cut_to, folded
from tiler.sheets.style import LABEL, LEADING, SMALL

CODE_HEIGHT = 4.4
COLUMNS = (22.0, 10.5)
"""How wide the words below a code may run, mm."""

WHITE = 1.5
"""On either side of a code with its words in one line, mm."""

ARROWS = {"left": "←", "right": "→", "above": "↑", "below": "↓"}

NARROW = 60.0
FINE, COARSE = (0.8, 0.6), (6.0, 2.0)
"""A code looks for its place in steps across and down: fine ones over a pane's side that is narrow, mm."""


def join_words(page: Page, pages: Sequence[Page], turned: bool) -> str:
    """Say which parts of its strip a pane joins, and on which side of it they lie; nothing for a whole strip."""
    before, after = ("below", "above") if turned else ("left", "right")
    parts = {one.column: one.code for one in pages if one.row == page.row and one.kind == page.kind}
    assert page.column is not None
    sides = ((parts.get(page.column - 1), before), (parts.get(page.column + 1), after))
    joins = [f"{code} {side}" for code, side in sides if code]
    return f"joins {', '.join(joins)}" if joins else ""


def draw_pane_code(canvas: Canvas, frame: Box, obstacles: Sequence[Obstacle], code: str, joins: str) -> Box:
    """Write the code of a pane and what it joins where that disturbs least, and give the place."""
    code_width = text_width(code, LABEL, bold=True)
    beside = code_width + 2.0
    arrows = _arrows(joins) if joins else []
    inline = [joins, "  ".join(arrows)] if joins else [""]
    below = [*(wrapped(joins, room) for room in COLUMNS), arrows] if joins else []
    shapes = [(WHITE + (beside + text_width(line) if line else code_width) + WHITE, CODE_HEIGHT) for line in inline]
    shapes += [(max(code_width, *map(text_width, lines)), CODE_HEIGHT + len(lines) * LEADING) for lines in below]
    fits = [index for index, shape in enumerate(shapes) if shape[0] <= frame.width - 2.0] or [len(shapes) - 1]
    across, down = (
        fine if side < NARROW else coarse
        for side, fine, coarse in zip((frame.width, frame.height), FINE, COARSE, strict=True)
    )
    places = Places(frame, obstacles, inset=0.8, down=down, across=across, on_pieces=True)
    index, place = places.take([shapes[index] for index in fits])
    chosen = fits[index]
    left, base = place.x0 + (WHITE if chosen < len(inline) else 0.0), place.y1 - CODE_HEIGHT + 0.8
    with canvas.part(Tag.TILE_CODE):
        canvas.text((left, base), code, LABEL, bold=True)
    if chosen < len(inline):
        if inline[chosen]:
            canvas.text((left + beside, base), inline[chosen], SMALL)
        return place
    for number, line in enumerate(below[chosen - len(inline)], 1):
        canvas.text((left, base - number * LEADING + 0.2), line, SMALL)
    return place


def _arrows(joins: str) -> list[str]:
    """Say it in the least room: ``1A ←``."""
    parts = [part.split(" ") for part in joins.removeprefix("joins ").split(", ")]
    return [f"{code} {ARROWS[side]}" for code, side in parts]


def frame_obstacles(frame: Box) -> list[Obstacle]:
    """Give a page frame and its lines as something that words should not lie on."""
    left, right = Box(frame.x0, frame.y0, frame.x0, frame.y1), Box(frame.x1, frame.y0, frame.x1, frame.y1)
    foot, top = Box(frame.x0, frame.y0, frame.x1, frame.y0), Box(frame.x0, frame.y1, frame.x1, frame.y1)
    lines = [Obstacle(line.grown(0.5), ON_LINE) for line in (left, right, foot, top)]
    return [Obstacle(frame.grown(1.0), ON_PIECE), *lines]


def draw_page_title(canvas: Canvas, places: Places, lines: Sequence[str], only_for: str) -> None:
    """Write the title and the page number where they disturb least; the line ``only_for`` is never cut off."""
    ways: list[Sequence[str]] = [*cut_to(TITLE_WIDTHS, lines, only_for)]
    for room in TITLE_COLUMNS:
        ways.append([part for line in lines for part in (wrapped if line == only_for else folded)(line, room)])
    index, place = places.take([(max(text_width(line) for line in way), len(way) * LEADING + 0.6) for way in ways])
    for number, line in enumerate(ways[index], 1):
        canvas.text((place.x0, place.y1 - number * LEADING + 1.0), line, SMALL)
