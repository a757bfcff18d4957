"""The first page: print, measure, tape, cut, with the cautions at the foot; page mm.

The page has margins of its own, since it must hold a 20 cm line on every paper.
Print settings are told in general words: what a program calls them changes, and the
file's own request for no scaling is a hint that some of them ignore.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import count
from math import inf

from tiler.box import Box
from tiler.declaration import ALONE, Page, Rule, Square
from tiler.languages.catalogue import noted
from tiler.languages.proved import PAGE_IN_FILE, PAGES_IN_FILE, SIZES_HEAD
from tiler.languages.words import in_each, in_others, languages, say
from tiler.sentence import span
from tiler.sheets.canvas import Canvas
from tiler.sheets.cover.column import BEFORE_HEADING, HEADING_ROOM, Column, height_of
from tiler.sheets.cover.piece_table import PieceTable, draw_table, set_table
from tiler.sheets.cover.sizes import draw_sizes, height_of_sizes
from tiler.sheets.cover.taping import draw_taping, height_of_taping
from tiler.sheets.cover.words import CAUTIONS, MEASURE, PRINT, PRINT_ALONE, PRINT_ONE_SHEET, CoverWords
from tiler.sheets.page.rulers import (
    LONG_ACROSS,
    LONG_DOWN,
    RULE_DEPTH,
    RULE_OVERHANG,
    SHORT,
    SQUARES,
    RulePair,
    draw_rules,
    draw_square,
)
from tiler.sheets.style import FINE, HAIR, HEADING, LEADING, SMALL, TITLE
from tiler.sheets.typesetting import text_width, wrapped

MARGIN = 12.0
BLOCK_WIDTH = 186.0
BLOCK_HEIGHT = 255.0
COLUMN_LEFT = RULE_DEPTH + 6.0
NARROWEST = SHORT.length + RULE_OVERHANG
"""A block that shares its page with the pieces has room for both squares beside each other, and a line of 4 in."""

BESIDE = 45.0
"""Words stand beside the squares where they have so much room, else below."""

TALL = 4000.0
"""No block is higher, mm: so much room shows how much it needs; what it lists beyond that is counted."""

PRINT_HEAD, MEASURE_HEAD, TAPE_HEAD, CUT_HEAD = noted("Print"), noted("Measure"), noted("Tape"), noted("Cut")

TITLE_LEADING, HEADING_LEADING = 7.0, 4.6
MOST_TITLE_LINES = 2
"""A title that is longer is set in the smallest type."""

SIZES_SHARE = 0.7
"""Of the room of the step, at most so much is kept for the pages of each size."""

BELOW = 1.2
"""White below the last line, which its letters reach into, mm."""

MAP_HEIGHTS: tuple[float, ...] = (64.0, 52.0, 40.0, 30.0, 0.0)
"""The page map is as high as the table of pieces leaves room for, one of these; 0 where it has to give way."""


def draw_cover(
    canvas: Canvas,
    page: int,
    corner: tuple[float, float],
    words: CoverWords,
    tiles: Sequence[Page],
    outlines: Sequence[Box],
    size: tuple[float, float] = (BLOCK_WIDTH, BLOCK_HEIGHT),
) -> tuple[list[Square], list[Rule], float]:
    """Draw the block of this size whose upper left corner is ``corner``; ``outlines`` are the pieces on the sheet.

    A step that has nothing to say, such as taping where there is one page, is left out.  Where the block
    is small the long lines are shorter.  Returns also how much of its height is left: endlessly too little
    where its lists have no room.
    """
    left, top = corner
    aside = size[0] >= COLUMN_LEFT + NARROWEST
    right, column, bottom = left + size[0], left + (COLUMN_LEFT if aside else 0.0), top - size[1]
    steps = count(1)
    head = _heading(canvas, left, top, size[0], words)
    down = LONG_DOWN if aside and head - 6.0 - LONG_DOWN.length - RULE_OVERHANG >= bottom else SHORT
    text = Column(canvas, column, right, head - 2.0)
    text.heading(f"{next(steps)} {_head(PRINT_HEAD)}")
    for _ in in_each():
        for line in _print(words):
            text.paragraph(say(line))
    text.heading(f"{next(steps)} {_head(MEASURE_HEAD)}")
    long = down.length + RULE_OVERHANG
    lowest = max(bottom, head - 6.0 - long)
    rules = draw_rules(canvas, page, (left, lowest), "down", down) if aside else []
    squares, measured = _measure(canvas, page, text, words, aside)
    rules += measured
    bottom = _footer(canvas, Box(column, bottom, right, text.y), words)
    if not aside:
        lowest = text.y - 1.0 - long
        rules += draw_rules(canvas, page, (right - RULE_DEPTH, lowest), "down", down)
        text = Column(canvas, column, right - RULE_DEPTH - 4.0, text.y)
    table, map_height, fits = _fitting(words, tiles, text.y - bottom, text.right - column)
    if len(tiles) > 1:
        text.heading(f"{next(steps)} {_head(TAPE_HEAD)}")
        draw_taping(canvas, text, words, tiles, outlines, map_height)
    text.heading(f"{next(steps)} {_head(CUT_HEAD)}")
    if words.failed:
        _not_passed(canvas, text, words.failed)
    _cut(text, table, words, bottom)
    return squares, rules, min(text.y, lowest if not aside else text.y) - bottom if fits else -inf


def cover_height(words: CoverWords, width: float, down: RulePair) -> float:
    """Return how high the block of a single page has to be, with these lines ``down`` it at least, mm."""
    canvas = Canvas()
    *_, left = draw_cover(canvas, 1, (0.0, TALL), words, (), (), (width, TALL))
    line = down.length + RULE_OVERHANG + 6.0 + TALL - _heading(canvas, 0.0, TALL, width, words)
    return max(TALL - left, line)


def _heading(canvas: Canvas, left: float, top: float, width: float, words: CoverWords) -> float:
    """Write the title on two lines, on more in the smallest type, and what is said of the file; return its foot."""
    size, leading = TITLE, TITLE_LEADING
    lines = wrapped(words.title, width, TITLE, bold=True)
    if len(lines) > MOST_TITLE_LINES or max(text_width(line, TITLE, bold=True) for line in lines) > width:
        size, leading = SMALL, LEADING
        lines = wrapped(words.title, width, SMALL, bold=True)
    y = top + 1.0
    for line in lines:
        y -= leading
        canvas.text((left, y), line, size, bold=True)
    y -= 1.4
    edition = " · ".join(part for part in (words.only_for, words.edition) if part)
    for told in (_pages(words), edition):
        for line in wrapped(told, width, HEADING) if told else ():
            y -= HEADING_LEADING
            canvas.text((left, y), line, HEADING)
    return y


def _pages(words: CoverWords) -> str:
    if words.host == ALONE:
        return say("{count} page on {paper}", "{count} pages on {paper}", count=words.pages, paper=words.paper)
    numbers = span(*(str(words.host.number(page)) for page in (1, words.pages)))
    template = PAGE_IN_FILE if words.pages == 1 else PAGES_IN_FILE
    return say(template, numbers=numbers, all=words.host.count(words.pages), paper=words.paper)


def _head(template: str) -> str:
    """Return what a step is called, in each language of the block."""
    return " / ".join(dict.fromkeys(say(template) for _ in in_each()))


def _print(words: CoverWords) -> Sequence[str]:
    """Return the templates of the first step."""
    if not words.paper_is_fixed:
        return PRINT_ONE_SHEET
    if words.pages == 1:
        return PRINT_ALONE
    of_size, others = (
        noted("When it measures right, print the pages of your size, which step “Cut” lists."),
        noted("When it measures right, print the other pages the same way."),
    )
    return (*PRINT, of_size if words.sizes else others)


def _measure(
    canvas: Canvas, page: int, text: Column, words: CoverWords, aside: bool
) -> tuple[list[Square], list[Rule]]:
    """Draw both squares with the words beside or below them, and the long line across below."""
    squares, x, top = [], text.left, text.y - 1.6
    for nominal, label in SQUARES:
        squares.append(draw_square(canvas, page, (x, top - nominal), nominal, label))
        x += nominal + 5.0
    foot = top - max(nominal for nominal, _ in SQUARES)
    narrow = text.right - x < BESIDE
    beside = Column(canvas, text.left, text.right, foot - 0.6) if narrow else Column(canvas, x, text.right, top + 1.0)
    lines = [
        *MEASURE,
        *([noted("The long line down stands at the left edge.")] if aside else []),
        *(
            [noted("This file undoes the error of one printer: on any other they come out wrong.")]
            * bool(words.only_for)
        ),
    ]
    for line in lines:
        beside.paragraph(say(line))
    text.y = (min(beside.y, foot) if narrow else foot) - 1.5 - RULE_DEPTH
    across = LONG_ACROSS if text.right - text.left >= LONG_ACROSS.length + RULE_OVERHANG else SHORT
    rules = draw_rules(canvas, page, (text.left, text.y), "across", across)
    for _ in in_others():
        for line in lines:
            text.paragraph(say(line))
    return squares, rules


def _footer(canvas: Canvas, room: Box, words: CoverWords) -> float:
    """Write the cautions at the foot, and return the y above them."""
    cautions = [say(caution) for _ in in_each() for caution in (CAUTIONS if words.for_child else CAUTIONS[:1])]
    height = sum(height_of(line, room.width, "·") for line in cautions)
    foot = Column(canvas, room.x0, room.x1, room.y0 + BELOW + height)
    canvas.stroke([((room.x0, foot.y), (room.x1, foot.y))], HAIR)
    for line in cautions:
        foot.paragraph(line, "·")
    return room.y0 + BELOW + height + 1.0


def _fitting(words: CoverWords, tiles: Sequence[Page], height: float, width: float) -> tuple[PieceTable, float, bool]:
    """Choose the table, of every size or of sizes together, and the height of the map; tell whether all has room."""
    failed = sum(height_of(line, width - 4.0, "·") for line in words.failed)
    if words.failed:
        failed += HEADING_ROOM + 0.6 + 3.8
    headings = HEADING_ROOM + BEFORE_HEADING + 0.6
    each, together = set_table(words.pieces, width), set_table(words.grouped, width)
    heights: Sequence[float] = MAP_HEIGHTS if len(tiles) > 1 and words.paper_is_fixed else (0.0,)
    if len(heights) > 1 and len(languages()) > 1:
        # for the words of another language the map does not give way
        heights = heights[:-1]
    for table in (each, together):
        below = height_of_sizes(words.sizes, width) + sum(height_of(note, width, "99") for note in words.notes)
        below += BEFORE_HEADING if words.notes else 0.0
        for map_height in heights:
            taped = (
                max(map_height, height_of_taping(words, tiles, width, map_height)) + headings if len(tiles) > 1 else 0.0
            )
            if taped + headings + failed + table.height + below <= height:
                return table, map_height, True
    return together, heights[-1], False


def _not_passed(canvas: Canvas, text: Column, failed: Sequence[str]) -> None:
    """Draw the ruled box of the checks that are not passed, and go on below it."""
    top = text.y - 1.4
    box = Column(canvas, text.left + 2.0, text.right - 2.0, top)
    box.heading(say("Before you cut: checks that are not passed"))
    for sentence in failed:
        box.paragraph(sentence, "·")
    canvas.outline(Box(text.left, box.y - 1.8, text.right, top), FINE)
    text.y = box.y - 1.8 - 0.6


def _cut(text: Column, table: PieceTable, words: CoverWords, bottom: float) -> None:
    """Draw the table, the pages of each size and the notes, as far as there is room."""
    room = text.y - bottom
    # a size that is not listed is looked for longer than a piece, which its page names
    table, left_out = _cut_off(
        table, room - min(height_of_sizes(words.sizes, text.right - text.left), room * SIZES_SHARE)
    )
    text.y = draw_table(text.canvas, table, text.left, text.y)
    if left_out:
        text.paragraph(
            say(
                "{count} other piece: each says itself how it is cut.",
                "{count} other pieces: each says itself how it is cut.",
                count=left_out,
            )
        )
    if words.sizes:
        text.y -= BEFORE_HEADING
        text.canvas.text((text.left, text.y - LEADING), say(SIZES_HEAD, number=words.host.number(1)), bold=True)
        text.y = draw_sizes(text.canvas, Box(text.left, bottom, text.right, text.y - LEADING), words.sizes)
    text.y -= BEFORE_HEADING
    for number, note in enumerate(words.notes, 1):
        if text.y - height_of(note, text.right - text.left, str(number)) < bottom:
            if text.y - LEADING >= bottom:
                text.paragraph(say("Other notes stand in the cutting chart."))
            break
        text.paragraph(note, str(number))


def _cut_off(table: PieceTable, height: float) -> tuple[PieceTable, int]:
    """Return as many rows as have room, and how many pieces are left out."""
    if table.height <= height:
        return table, 0
    rows = table.rows
    while len(rows) > 1 and PieceTable(table.columns, table.widths, rows).height + LEADING > height:
        rows = rows[:-1]
    return PieceTable(table.columns, table.widths, rows), len(table.rows) - len(rows)
