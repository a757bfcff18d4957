"""The instruction pages of a finish: garment, strips and trial first, then the steps with their sections; page mm.

What is made ready stands on the first page of a finish, the work on the next.  The block
stands 10 mm inside 210 mm x 11 in, so it prints on letter and on A4 alike.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import NamedTuple

from tiler.box import Box
from tiler.catalog import finish_leaflet
from tiler.draft.chart import ChartRow, chart_rows
from tiler.draft.judged import named, not_passed
from tiler.draft.strip.corner import Corner
from tiler.draft.views import told_views
from tiler.languages.words import languages, say, told
from tiler.paper import PAPERS
from tiler.printed import Logo
from tiler.sheets.canvas import Canvas
from tiler.sheets.cover.words import CAUTIONS
from tiler.sheets.flow import ALL, Again, Drawing, Flowable, PageBreak, gap, height, paragraph, room_for, table
from tiler.sheets.heads import headed
from tiler.sheets.pagination import flowed, foot_height
from tiler.sheets.section_rows import SHAPED, how_cut, section_rows, sewn_to
from tiler.sheets.sewing.closing import Step
from tiler.sheets.sewing.corners import HEIGHT as CORNERS_HEIGHT
from tiler.sheets.sewing.corners import draw_corners
from tiler.sheets.sewing.finishes import FinishSteps
from tiler.sheets.sewing.folds import sections
from tiler.sheets.sewing.plan import HEIGHT as PLAN_HEIGHT
from tiler.sheets.sewing.plan import draw_plan
from tiler.sheets.sewing.ready import before_cutting, before_sewing, garment_first
from tiler.sheets.sewing.section import Section
from tiler.sheets.sewing.section_drawing import SCALE, bounds, draw_key, draw_section, key_height
from tiler.sheets.sewing.strip import LEFT
from tiler.sheets.sewing.words import STITCHES, rule, steps
from tiler.sheets.size_rows import CUT_SIZE, DOUBTED, size_rows
from tiler.sheets.style import HEADING, SMALL, TITLE
from tiler.sheets.typesetting import refuse_missing_characters

WIDTH, HEIGHT = 189.9, 259.0
MARGIN = 10.0

BEFORE = 3.0
"""White above the heading of a part, mm."""

BULLET = 2.8
SEAM_AT = 1.0 - SCALE * LEFT
"""Where the seam line of most sections stands, mm from the left edge of the block."""

WORDS_AT = 106.0
"""Where the words of the steps begin, mm from the left edge of the block."""

NUMBER = 6.0
"""Room for the number of a step."""

PLAN_WIDTH = 102.0
"""Room for the plan of the loop, mm."""

MOST_GAP = 9.0
LEAST_GAP = 1.0
"""White above a step, mm: the more room the page has, the more."""

NOISE = 2.0
"""What heights that are added up may be off, white below paragraphs among it, mm."""

LEAST_ROOM = 30.0
"""A heading begins no lower than so far above the foot of a page, mm."""


class Leaflet(NamedTuple):
    """A PDF of pages to read, and how many there are."""

    data: bytes
    pages: int


class _Noted(Flowable):  # type: ignore[misc]  # reportlab has no types
    """Nothing to see: notes its page under a name, which languages may share."""

    width = height = 0.0

    def __init__(self, name: str, found: dict[tuple[str, str], int]) -> None:
        """Take the name and where to note the page, together with the language."""
        super().__init__()
        self._name, self._found = (languages()[0], name), found

    def draw(self) -> None:
        """Note the page."""
        self._found[self._name] = self.canv.getPageNumber()


def instruction_pdf(finishes: Sequence[FinishSteps], paper: str, logo: Logo | None = None) -> Leaflet:
    """Draw the pages of every finish, on a paper of :data:`~tiler.paper.PAPERS`, each headed by the logo.

    All stand there in the leading language, then all again in the other one.
    Raises :class:`SpecError` when the font has no sign for a character of a title or a name.
    """
    for page in finishes:
        refuse_missing_characters(page.title, "title")
        for strip in page.strips:
            refuse_missing_characters(strip.name + (strip.size or ""), "pieces")
    sheet = Box(0.0, 0.0, *PAPERS[paper].size)
    left, top = (sheet.width - WIDTH) / 2, sheet.height - MARGIN
    room = Box(left, top - HEIGHT, left + WIDTH, top)
    found: dict[tuple[str, str], int] = {}

    def story(canvas: Canvas) -> list[Flowable]:
        whole: list[Flowable] = []
        for page in finishes:
            whole += [_Noted(_whole_name(page), found), *_pages(canvas, page, logo), _Noted("", found), PageBreak()]
        return whole[:-1]

    def title() -> str:
        return _title(finishes[0])

    expected = 2 * len(finishes) * len(languages())
    data = flowed(sheet, room, story, foot=title, expected=expected, apart=True)
    names = [(name, number) for (_, name), number in found.items() if name]
    return Leaflet(finish_leaflet(data.file, title(), names), max(found.values()))


def _title(page: FinishSteps) -> str:
    return " · ".join(part for part in (page.title, say("how to sew the edges")) if part)


def _name(page: FinishSteps) -> tuple[str, str]:
    """Return the name of a finish, and what its words add to it."""
    name, _, more = told(page.words).partition(" (")
    return name[0].upper() + name[1:], more.rstrip(")")


def _whole_name(page: FinishSteps) -> str:
    return ", ".join(part for part in (_name(page)[0], told(page.ends)) if part)


def _pages(canvas: Canvas, page: FinishSteps, logo: Logo | None) -> Iterator[Flowable]:
    """Yield what belongs to one finish."""
    name, more = _name(page)
    about = " · ".join(part for part in (more, told(page.ends), page.title, say("how to sew it")) if part)
    yield from headed(logo, [paragraph((name, TITLE, True), (about, HEADING, False))], WIDTH)
    yield _heading(say("The garment first"))
    yield from _bullets(garment_first(page))
    strip = next((strip for strip in page.strips if strip.corner_steps), None)
    if strip:
        yield Drawing(canvas, WIDTH, CORNERS_HEIGHT, lambda surface: draw_corners(surface, strip))
    if page.strips:
        yield room_for(LEAST_ROOM)
        yield _heading(say("The strips"))
        yield from _strips(page)
    yield room_for(LEAST_ROOM)
    yield _heading(say("Before you cut the good cloth"))
    yield from _bullets(before_cutting(page))
    yield room_for(LEAST_ROOM)
    yield _heading(say("Before you sew"))
    yield _before_sewing(canvas, page)
    for_child = not page.strips or any(strip.for_child for strip in page.strips)
    about_it = CAUTIONS if for_child else CAUTIONS[:1]
    cautions = [_heading(say("Cautions")), *_bullets([say(caution) for caution in about_it])]
    work = _work(canvas, page, cautions)
    if not work:
        # below the steps is no room for them
        yield room_for(height(cautions, WIDTH))
        yield from cautions
        work = _work(canvas, page, [])
    yield PageBreak()
    yield from work


def _heading(text: str, beside: str = "") -> Flowable:
    return paragraph((text, HEADING, True), (beside, SMALL, True), spaceBefore=BEFORE, spaceAfter=0.6)


def _strips(page: FinishSteps) -> Iterator[Flowable]:
    """Yield the table of each piece, with all its sizes, then what is not passed."""
    for _, group in groupby(chart_rows(page.strips), lambda row: row.piece):
        rows = tuple(group)
        columns = SHAPED if rows[0].finished_edge else (*CUT_SIZE, *sewn_to(rows))
        yield size_rows(rows, columns, _detail(rows), [], WIDTH, page.units)
        yield from section_rows(rows, WIDTH, page.units)
        yield gap(1.5)
    for failed, pieces in not_passed(page.strips).items():
        short = say("{pieces}: {short}.", pieces=named(pieces), short=failed.short)
        yield paragraph((f"{DOUBTED} {say('Check not passed')}", SMALL, True), short)


def _detail(rows: Sequence[ChartRow]) -> str:
    return " · ".join(told(part) for part in (told_views(rows[0].views), how_cut(rows)) if part)


def _before_sewing(canvas: Canvas, page: FinishSteps) -> Flowable:
    """Return what is matched; a strip without a point, which is quartered, has its plan beside it."""
    bullets = _bullets(before_sewing(page))
    if len(bullets) == 1:
        return bullets[0]
    if page.is_open or page.shaped or page.unequal or page.corner is not Corner.NONE:
        return table([[bullets]], (WIDTH,))
    plan = Drawing(canvas, PLAN_WIDTH, PLAN_HEIGHT, lambda surface: draw_plan(surface, 0.0, PLAN_HEIGHT / 2))
    return table([[plan, bullets]], (PLAN_WIDTH, WIDTH - PLAN_WIDTH), ("VALIGN", *ALL, "MIDDLE"))


def _bullets(lines: Sequence[str]) -> list[Flowable]:
    return [paragraph(line, bullet="·", leftIndent=BULLET) for line in lines]


def _work(canvas: Canvas, page: FinishSteps, below: Sequence[Flowable]) -> list[Flowable]:
    """Return the steps, spread over the page, and what stands below them; nothing where that finds no room there."""
    work = zip(
        steps(page),
        sections(
            page.finish,
            page.in_ditch,
            page.corner,
            page.standing,
            page.casing,
            page.ends_are,
            page.buttoned,
            page.runs_on,
            page.shaped,
            page.joined,
            page.even,
        ),
        strict=True,
    )
    rows = [_row(canvas, number, step, section) for number, (step, section) in enumerate(work, 1)]

    title = say("Step by step: {finish}", finish=_whole_name(page))

    def head(text: str) -> Flowable:
        return paragraph((text, HEADING, True))

    def key(surface: Canvas) -> None:
        draw_key(surface, 0.0, 1.0, WIDTH)

    top: list[Sequence[object]] = [
        [Again(head(title), head(say("{text} (continued)", text=title))), ""],
        [
            [
                paragraph((rule(page), SMALL, True)),
                Drawing(canvas, WIDTH, key_height(WIDTH), key),
            ],
            "",
        ],
    ]
    foot = [paragraph(say(STITCHES)), *below]

    def spread(white: float) -> Flowable:
        look = (("TOPPADDING", (0, 2), (-1, -1), white), ("VALIGN", *ALL, "MIDDLE"))
        spans = (("SPAN", (0, row), (-1, row)) for row in (0, 1))
        return table([*top, *rows], (WORDS_AT, WIDTH - WORDS_AT), *look, *spans, repeatRows=2)

    # a flowable is measured as often as one likes
    rest = HEIGHT - foot_height(_title(page), WIDTH) - height([spread(0.0), *foot], WIDTH) - NOISE
    white = rest / (len(rows) + 1)
    if below and white < LEAST_GAP:
        return []
    white = max(LEAST_GAP, min(MOST_GAP, white))
    return [spread(white), gap(white), *foot]


def _row(canvas: Canvas, number: int, step: Step, section: Section) -> list[object]:
    """Return the section of a step, and its words beside it."""
    box = bounds(section)

    def draw(surface: Canvas) -> None:
        draw_section(surface, section, (max(SEAM_AT, 1.0 - box.x0), -box.y0))

    return [
        Drawing(canvas, WORDS_AT, box.height, draw),
        [
            paragraph((step.name, HEADING, True), bullet=str(number), leftIndent=NUMBER),
            paragraph(step.text, leftIndent=NUMBER, spaceBefore=0.5),
        ],
    ]
