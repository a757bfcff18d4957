"""What stands on a tile besides the pieces: frame, marks, code, title, rules; page mm.

The window may be full of pieces, so a block looks for the place where it
disturbs least: free paper first, then the white of a strip, never a text.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from tiler.box import Box, Subpath
from tiler.declaration import Mark, Page, Rule, Square, Tag
from tiler.paper import MARK_SIZE
from tiler.sheets.canvas import Canvas, shortened, text_width, wrapped
from tiler.sheets.page.free_places import ON_TEXT, Obstacle, Places
from tiler.sheets.page.rulers import (
    ON_TILES,
    RULE_DEPTH,
    RULE_OVERHANG,
    SQUARE_WORDS,
    SQUARES,
    draw_rules,
    draw_square,
    rule_words,
)
from tiler.sheets.style import LEADING, SMALL, TITLE

CODE_HEIGHT = 6.4
TITLE_WIDTHS = (130.0, 88.0)
TITLE_COLUMNS = (52.0, 36.0, 24.0)
"""How wide the lines of the title may run, beside the code and below it: the first for which there is room, mm."""


@dataclass(frozen=True)
class TileWords:
    """What the title block of a tile says; the line ``only_for`` is never cut off."""

    code: str
    lines: tuple[str, ...]
    only_for: str = ""


def mark_obstacles(marks: Iterable[Box]) -> list[Obstacle]:
    """Give the places that belong to register marks."""
    return [Obstacle(box.grown(1.0), ON_TEXT) for box in marks]


def draw_frame(canvas: Canvas, frame: Box) -> None:
    """Draw the window's edge, the line to trim along."""
    corners: Subpath = (
        (frame.x0, frame.y0),
        (frame.x1, frame.y0),
        (frame.x1, frame.y1),
        (frame.x0, frame.y1),
        (frame.x0, frame.y0),
    )
    canvas.stroke_part(Tag.PAGE_FRAME, [corners])


def draw_marks(canvas: Canvas, page: Page, marks: Iterable[Mark]) -> list[Box]:
    """Draw the register marks that a tile shares, and give their places on the page."""
    assert page.window is not None
    assert page.frame is not None
    dx, dy = page.frame.x0 - page.window.x0, page.frame.y0 - page.window.y0
    boxes = []
    for mark in marks:
        x, y = mark.at[0] + dx, mark.at[1] + dy
        canvas.register_mark((x, y), MARK_SIZE)
        boxes.append(Box(x, y, x, y).grown(MARK_SIZE / 2))
    return boxes


def draw_title(canvas: Canvas, places: Places, words: TileWords) -> None:
    """Write the page code, the title and the page number where they disturb least."""
    code_width = text_width(words.code, TITLE, bold=True)
    side = code_width + 3.0
    beside = cut_to(TITLE_WIDTHS, words.lines, words.only_for)
    below = [
        [part for line in words.lines for part in (wrapped if line == words.only_for else folded)(line, room)]
        for room in TITLE_COLUMNS
    ]
    shapes = [(side + max(map(text_width, lines)), len(lines) * LEADING + 0.6) for lines in beside]
    shapes += [
        (max(code_width, *(text_width(line) for line in lines)), CODE_HEIGHT + len(lines) * LEADING) for lines in below
    ]
    index, place = places.take(shapes)
    with canvas.part(Tag.TILE_CODE):
        canvas.text((place.x0, place.y1 - CODE_HEIGHT + 1.0), words.code, TITLE, bold=True)
    x, y = (place.x0 + side, place.y1) if index < len(beside) else (place.x0, place.y1 - CODE_HEIGHT)
    for line in [*beside, *below][index]:
        y -= LEADING
        canvas.text((x, y + 1.0), line, SMALL)


def cut_to(widths: Sequence[float], lines: Sequence[str], only_for: str) -> list[tuple[str, ...]]:
    """Give the lines as they stand in each of these widths, each way once; the line ``only_for`` is never cut off."""
    ways = (tuple(line if line == only_for else shortened(line, width) for line in lines) for width in widths)
    return list(dict.fromkeys(ways))


def folded(line: str, room: float) -> list[str]:
    """Break a line into at most three for a narrow column; none begins or ends with the dot between two facts."""
    lines = [part.strip(" ·") for part in wrapped(line, room)]
    kept = lines[:3] if len(lines) <= 3 else [*lines[:2], lines[2] + " …"]
    return [shortened(part, room) for part in kept]


def draw_tile_rules(canvas: Canvas, page: int, places: Places) -> list[Rule]:
    """Draw a rule across and one down, each in inches and centimetres, as long as there is free room for."""
    rules: list[Rule] = []
    room = min(places.frame.width, places.frame.height)
    pairs = [pair for pair in ON_TILES if pair.length + RULE_OVERHANG <= room]
    for axis in ("across", "down"):
        words = [rule_words(axis, pair) for pair in pairs]
        across = [(pair.length + RULE_OVERHANG, RULE_DEPTH) for pair in pairs]
        shapes = across if axis == "across" else [(high, wide) for wide, high in across]
        index, place = places.take(shapes, from_right=axis == "down", words=words)
        rules += draw_rules(canvas, page, (place.x0, place.y0), axis, pairs[index])
    return rules


def draw_tile_squares(canvas: Canvas, page: int, places: Places) -> list[Square]:
    """Draw both test squares on a tile, for a file without a first page."""
    squares = []
    for nominal, label in SQUARES:
        _, place = places.take([(nominal + 1.0, nominal + 1.0)])
        words = places.inside(place, SQUARE_WORDS)
        squares.append(draw_square(canvas, page, (place.x0 + 0.5, place.y0 + 0.5), nominal, label, words))
    return squares
