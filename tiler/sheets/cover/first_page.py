"""The first page: print, measure, tape, cut, with the cautions at the foot; page mm.

The page has margins of its own, since it must hold a 20 cm line on every paper.
Print settings are told in general words: what a program calls them changes, and the
file's own request for no scaling is a hint that some of them ignore.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import count
from math import inf

from tiler.box import Box, Subpath
from tiler.declaration import ALONE, Page, Rule, Square
from tiler.languages.catalogue import noted
from tiler.languages.proved import PAGE_IN_FILE, PAGES_IN_FILE
from tiler.languages.words import in_each, in_others, say
from tiler.sentence import span
from tiler.sheets.canvas import Canvas
from tiler.sheets.cover.column import Column, height_of
from tiler.sheets.cover.cutting import draw_cut, set_cut
from tiler.sheets.cover.taping import draw_taping
from tiler.sheets.cover.words import (
    CAUTIONS,
    MEASURE,
    MEASURE_SHOWN,
    PRINT,
    PRINT_ALONE,
    PRINT_ONE_SHEET,
    PROJECT,
    CoverWords,
)
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
from tiler.sheets.style import HAIR, HEADING, LEADING, SMALL, TITLE
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

SHOW_HEAD = noted("Project")
PRINT_HEAD, MEASURE_HEAD, TAPE_HEAD, CUT_HEAD = noted("Print"), noted("Measure"), noted("Tape"), noted("Cut")

TITLE_LEADING, HEADING_LEADING = 7.0, 4.6
MOST_TITLE_LINES = 2
"""A title that is longer is set in the smallest type."""

TITLE_TOP = 1.6
"""The letters of the title begin so far below the top of the block, and so does a logo, mm."""

BESIDE_LOGO, LOGO_OFF = 100.0, 5.0
"""So much room for the title a logo leaves at least beside it; white between the two, mm."""

BELOW = 1.2
"""White below the last line, which its letters reach into, mm."""


@dataclass(frozen=True)
class Cover:
    """What was drawn; ``left`` is what is left of the height, endlessly too little where its lists have no room.

    ``failed`` and ``notes`` count how many of the failed checks and of the notes it says.
    """

    squares: list[Square]
    rules: list[Rule]
    left: float
    failed: int
    notes: int


def draw_cover(
    canvas: Canvas,
    page: int,
    corner: tuple[float, float],
    words: CoverWords,
    tiles: Sequence[Page],
    outlines: Sequence[Box | Subpath],
    size: tuple[float, float] = (BLOCK_WIDTH, BLOCK_HEIGHT),
) -> Cover:
    """Draw the block of this size whose upper left corner is ``corner``; ``outlines`` are the pieces on the sheet.

    A step that has nothing to say, such as taping where there is one page, is left out.  Where the block
    is small the long lines are shorter.
    """
    left, top = corner
    aside = size[0] >= COLUMN_LEFT + NARROWEST
    right, column, bottom = left + size[0], left + (COLUMN_LEFT if aside else 0.0), top - size[1]
    steps = count(1)
    head = _heading(canvas, left, top, size[0], words)
    down = LONG_DOWN if aside and head - 6.0 - LONG_DOWN.length - RULE_OVERHANG >= bottom else SHORT
    text = Column(canvas, column, right, head - 2.0)
    text.heading(f"{next(steps)} {_head(SHOW_HEAD if words.projected else PRINT_HEAD)}")
    text.in_each_language(_print(words))
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
    step = set_cut(words, tiles, text.y - bottom, text.right - column)
    if len(tiles) > 1:
        text.heading(f"{next(steps)} {_head(TAPE_HEAD)}")
        draw_taping(canvas, text, words, tiles, outlines, step.map_height)
    text.heading(f"{next(steps)} {_head(CUT_HEAD)}")
    failed, notes = draw_cut(text, step, words, bottom)
    left_over = min(text.y, lowest if not aside else text.y) - bottom if step.fits else -inf
    return Cover(squares, rules, left_over, failed, notes)


def cover_height(words: CoverWords, width: float, down: RulePair) -> float:
    """Return how high the block of a single page has to be, with these lines ``down`` it at least, mm."""
    canvas = Canvas()
    left = draw_cover(canvas, 1, (0.0, TALL), words, (), (), (width, TALL)).left
    line = down.length + RULE_OVERHANG + 6.0 + TALL - _heading(canvas, 0.0, TALL, width, words)
    return max(TALL - left, line)


def _heading(canvas: Canvas, left: float, top: float, width: float, words: CoverWords) -> float:
    """Write the title on two lines, on more in the smallest type, and what is said of the file; return its foot.

    A logo stands at the right of it, or above where the block is narrow.
    """
    logo, lowest = words.logo, top
    foot = top - TITLE_TOP - logo.height if logo else top
    if logo and width - logo.width >= BESIDE_LOGO:
        canvas.logo(logo, (left + width - logo.width, foot))
        width, lowest = width - logo.width - LOGO_OFF, foot
    elif logo:
        canvas.logo(logo, (left, foot))
        top = lowest = foot - LOGO_OFF / 4
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
            canvas.text((left, y), line.strip(" ·"), HEADING)
    return min(y, lowest)


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
    if words.projected:
        return PROJECT
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
        *(MEASURE_SHOWN if words.projected else MEASURE),
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
