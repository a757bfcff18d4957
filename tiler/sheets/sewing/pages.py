"""The instruction page of a finish: its strips, what comes first, the steps with their sections; page mm.

One page a finish.  The block stands 10 mm inside 210 mm x 11 in, so it prints on
letter and on A4 alike.
"""

from __future__ import annotations

from collections.abc import Sequence

from tiler.box import Box
from tiler.catalog import finish_leaflet
from tiler.draft.strip.corner import Corner
from tiler.paper import PAPERS
from tiler.sentence import counted
from tiler.sheets.canvas import Canvas
from tiler.sheets.cover.first_page import CAUTIONS
from tiler.sheets.flow import ALL, Drawing, Flowable, PageBreak, flowed, gap, height, paragraph, table
from tiler.sheets.sewing.finishes import FinishSteps, StripFigures, strip_lines
from tiler.sheets.sewing.folds import sections
from tiler.sheets.sewing.plan import HEIGHT as PLAN_HEIGHT
from tiler.sheets.sewing.plan import draw_plan
from tiler.sheets.sewing.section import Section
from tiler.sheets.sewing.section_drawing import bounds, draw_key, draw_section
from tiler.sheets.sewing.strip import LEFT
from tiler.sheets.sewing.words import GOLDEN_RULE, STITCHES, Step, before_cutting, before_sewing, steps
from tiler.sheets.style import HEADING, SMALL, TITLE
from tiler.sheets.typesetting import refuse_missing_characters

WIDTH, HEIGHT = 190.0, 259.0
MARGIN = 10.0

BEFORE = 1.2
"""White above the heading of a part, mm."""

BULLET = 2.8
KEY_HEIGHT = 6.0
SEAM_AT = 1.0 - LEFT
"""Where the seam line of the sections stands, mm from the left edge of the block."""

WORDS_AT = 86.0
"""Where the words of the steps begin, mm from the left edge of the block."""

NUMBER = 6.0
"""Room for the number of a step."""

PLAN_WIDTH = 70.0
"""Room for the plan of the loop, mm."""

MOST_GAP = 9.0
LEAST_GAP = 1.0
"""White above a step, mm: the more room the page has, the more."""


def instruction_pdf(finishes: Sequence[FinishSteps], paper: str) -> bytes:
    """Draw one page for every finish, on a paper of :data:`~tiler.paper.PAPERS`.

    Raises :class:`SpecError` when the font has no sign for a character of a title or a name.
    """
    for page in finishes:
        refuse_missing_characters(page.title, "title")
        for strip in page.strips:
            refuse_missing_characters(strip.name + (strip.size or ""), "pieces")
    sheet = Box(0.0, 0.0, *PAPERS[paper].size)
    left, top = (sheet.width - WIDTH) / 2, sheet.height - MARGIN
    room = Box(left, top - HEIGHT, left + WIDTH, top)
    data = flowed(sheet, room, lambda canvas: [one for page in finishes for one in _page(canvas, page)])
    names = [", ".join(part for part in (_name(page)[0], page.ends) if part) for page in finishes]
    title = " · ".join(part for part in (finishes[0].title, "how to sew the edges") if part)
    return finish_leaflet(data, title, names)


def _name(page: FinishSteps) -> tuple[str, str]:
    """Return the name of a finish, and what its words add to it."""
    name, _, more = page.finish.words.partition(" (")
    return name[0].upper() + name[1:], more.rstrip(")")


def _page(canvas: Canvas, page: FinishSteps) -> list[Flowable]:
    """Return what belongs to one finish; the strips get what room the steps leave, and the steps what they leave."""
    name, more = _name(page)
    about = " · ".join(part for part in (more, page.ends, page.title, "how to sew it") if part)
    head = [paragraph((name, TITLE, True), (about, HEADING, False))]
    middle = [
        _heading("Before you cut the good cloth, and before you sew"),
        *_bullets(before_cutting(page)),
        *_before_sewing(canvas, page),
        _heading("Step by step", GOLDEN_RULE),
        Drawing(canvas, WIDTH, KEY_HEIGHT, lambda surface: draw_key(surface, 0.0, 1.0)),
    ]
    foot = [paragraph(STITCHES), _heading("Cautions"), *_bullets(CAUTIONS)]
    work = list(zip(steps(page), sections(page.finish, page.in_ditch, page.corner), strict=True))
    rows = [_row(canvas, number, step, section) for number, (step, section) in enumerate(work, 1)]
    # a flowable is measured as often as one likes
    rest = HEIGHT - height([*head, *middle, _steps(rows, 0.0), *foot], WIDTH)
    strips = _strips(strip_lines(page), rest - LEAST_GAP * (len(rows) + 1))
    rest -= height([gap(0.0), *strips], WIDTH)
    white = min(MOST_GAP, rest / (len(rows) + 1))
    return [*head, *strips, *middle, _steps(rows, white), gap(rest - white * len(rows) - 0.01), *foot, PageBreak()]


def _heading(text: str, beside: str = "") -> Flowable:
    return paragraph((text, HEADING, True), (beside, SMALL, True), spaceBefore=BEFORE)


def _before_sewing(canvas: Canvas, page: FinishSteps) -> list[Flowable]:
    """Return what is prepared; a strip without a point, which is quartered, has its plan beside it."""
    bullets = _bullets(before_sewing(page))
    if page.corner is not Corner.NONE:
        return bullets
    plan = Drawing(canvas, PLAN_WIDTH, PLAN_HEIGHT, lambda surface: draw_plan(surface, 0.0, PLAN_HEIGHT / 2))
    row = table([[plan, bullets]], (PLAN_WIDTH, WIDTH - PLAN_WIDTH), ("VALIGN", *ALL, "MIDDLE"))
    return [row]


def _bullets(lines: Sequence[str]) -> list[Flowable]:
    return [paragraph(line, bullet="·", leftIndent=BULLET) for line in lines]


def _strips(strips: Sequence[StripFigures], room: float) -> list[Flowable]:
    """Return the figures of as many strips as have room, each with its name in front."""
    found: list[Flowable] = []
    for after, strip in zip(reversed(range(len(strips))), strips, strict=True):
        more = paragraph(f"{counted(after + 1, 'strip')} more: the cutting chart has the figures of all.")
        for text in (strip.whole, strip.short):
            one = paragraph(
                (strip.name, SMALL, True),
                (text, SMALL, False),
                leftIndent=4.0,
                firstLineIndent=-4.0,
                spaceBefore=0.0 if found else 1.4,
            )
            if height([gap(0.0), *found, one, *[more] * (after > 0)], WIDTH) <= room:
                found.append(one)
                break
        else:
            return [*found, more]
    return found


def _row(canvas: Canvas, number: int, step: Step, section: Section) -> list[object]:
    """Return the section of a step, and its words beside it."""
    box = bounds(section)

    def draw(surface: Canvas) -> None:
        draw_section(surface, section, (SEAM_AT, -box.y0))

    return [
        Drawing(canvas, WORDS_AT, box.height, draw),
        [
            paragraph((step.name, HEADING, True), bullet=str(number), leftIndent=NUMBER),
            paragraph(step.text, leftIndent=NUMBER, spaceBefore=0.5),
        ],
    ]


def _steps(rows: Sequence[Sequence[object]], white: float) -> Flowable:
    widths = (WORDS_AT, WIDTH - WORDS_AT)
    return table(rows, widths, ("TOPPADDING", *ALL, white), ("VALIGN", *ALL, "MIDDLE"))
