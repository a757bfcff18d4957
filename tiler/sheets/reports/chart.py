"""The cutting chart as pages to print and pin up; page mm.

Every piece has a head of its own: how it is cut, made and shared out, as far as all sizes
agree, or by sizes.  Below it stands a row for each size, then what is doubted of them.
The head of a piece and those of its columns stand on every page again.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import groupby
from math import inf

from tiler.box import Box
from tiler.catalog import finish_chart
from tiler.draft.bought import told_marks
from tiler.draft.chart import ChartRow, Rounded, by_size, chart_rows
from tiler.draft.edition import Edition
from tiler.draft.fastening.open_ends import CHARTED, LEFT_RAW
from tiler.draft.figures import Figures
from tiler.draft.views import told_views
from tiler.languages.catalogue import noted
from tiler.languages.words import Words, in_each, listed, say, told
from tiler.paper import HOME, ONE_SHEET, PAPERS
from tiler.sheets.flow import ALL, Again, Flowable, gap, paragraph, table
from tiler.sheets.heads import headed
from tiler.sheets.pagination import flowed
from tiler.sheets.section_rows import SHAPED, how_cut, section_rows
from tiler.sheets.size_rows import BESIDE, CUT_SIZE, RISE, Column, size_rows
from tiler.sheets.style import HEAVY, SMALL, TITLE
from tiler.sheets.typesetting import refuse_missing_characters, text_width

MARGIN = 12.0
NOTE = noted(
    "On fold: length from the fold. Full length: from cut end to cut end. Seam and end allowances are included. "
    "Shortest: sewing takes 60 % of the stretch. Longest: it still lies flat."
)

LENGTHS: tuple[Column, ...] = (
    *CUT_SIZE,
    (noted("Edge"), "", lambda row: row.stretch_to),
    (noted("Sewn length"), "", lambda row: row.sewn),
    (noted("Shortest"), "", lambda row: row.shortest if row.shortest and row.has_good else say("none")),
    (noted("Longest"), "", lambda row: row.longest or "–"),
    (noted("Share"), noted("% of edge"), lambda row: told(row.ratio).removesuffix(" %")),
)


_NOT_PASSED, _DOUBTED = noted("{piece}: checks that are not passed"), noted("{piece}: doubts")


def chart_pdf(figures: Sequence[Figures], edition: Edition, paper: str) -> bytes:
    """Return the chart of these figures as a PDF on a fixed paper, all pages in each language of the edition.

    Raises :class:`SpecError` for a character that the font lacks.
    """
    rows = chart_rows(figures)
    for text, where in _texts(rows, edition):
        refuse_missing_characters(text, where)
    page = Box(0.0, 0.0, *PAPERS[HOME if paper == ONE_SHEET else paper].size)
    room = page.grown(-MARGIN)
    pieces = [tuple(group) for _, group in groupby(rows, lambda row: row.piece)]

    def title() -> str:
        return say("{title}: cutting chart", title=edition.title)

    data = flowed(
        page,
        room,
        lambda _: [one for piece in pieces for one in _piece(piece, room.width, edition.units)],
        lambda: [
            *headed(
                edition.logo,
                [paragraph((title(), TITLE, True)), paragraph(edition.imprint, spaceBefore=0.6)],
                room.width,
            ),
            gap(3.0),
        ],
        lambda: say(NOTE),
        balanced=True,
        apart=True,
    )
    return finish_chart(data.file, title(), edition.copyright, data.outline(title() for _ in in_each()))


def _texts(rows: Sequence[ChartRow], edition: Edition) -> Iterator[tuple[str, str]]:
    for key, text in edition.texts:
        yield text, key
    for row in rows:
        yield f"{row.piece}{row.size or ''}{row.fabric or ''}", f'piece "{row.piece}"'


def _piece(rows: Sequence[ChartRow], width: float, units: str) -> Iterator[Flowable]:
    """Yield the table of a piece, how it is shared out where that is not even, and its doubts."""
    first = rows[0]
    detail = " · ".join(
        told(part) for part in (told_views(first.views), first.finish, first.fabric, how_cut(rows)) if part
    )
    facts = [paragraph(line, spaceBefore=0.4) for line in _facts(rows, units)]
    yield size_rows(rows, SHAPED if first.finished_edge else LENGTHS, detail, facts, width, units)
    if any(row.parts for row in rows):
        yield from _shared_out(rows, width, units)
    yield from section_rows(rows, width, units)
    yield from _doubts(rows, width)
    yield gap(3.5)


def _facts(rows: Sequence[ChartRow], units: str) -> Iterator[str]:
    """Yield what holds for the whole piece, or for which sizes."""

    def both(length: Rounded) -> str:
        one, other = map(told, length.in_order(units))
        return f"{one} ({other})"

    alike = len({row.widest for row in rows}) == 1
    narrowest = min(rows, key=lambda row: row.widest_mm if row.widest_mm is not None else inf).widest

    def finished(row: ChartRow) -> str:
        # what holds for the size that allows least holds for all
        width, most = both(row.finished), both(narrowest) if narrowest else ""
        if alike:
            return say("{width}, good up to {most}", width=width, most=most) if most else width
        return say("{width}, good up to {most} in every size", width=width, most=most)

    places = {row.end_place for row in rows}
    place = places.pop() if len(places) == 1 else ""
    end = noted("End seam ({place}) {width}.") if place else noted("End seam {width}.")
    if rows[0].ends in CHARTED:
        end = CHARTED[rows[0].ends] if rows[0].end_mm else LEFT_RAW
    sewn = noted("Seam allowance {width}.") if rows[0].is_band else noted("Sewn at {width}.")
    measures: tuple[tuple[str, Callable[[ChartRow], str]], ...] = (
        (noted("Height {width}.") if rows[0].stands else noted("Finished width {width}."), finished),
        (sewn, lambda row: both(row.sewn_at)),
        (end, lambda row: both(row.end_seam) + ("" if place or not row.end_place else f" ({told(row.end_place)})")),
    )
    even = "" if rows[0].parts or rows[0].finished_edge else say("Share the strip out evenly along the edge.")
    said = [say(template, width=_for_sizes(by_size(rows, of)), place=place) for template, of in measures]
    yield " ".join((*said, even)).rstrip()
    fixed: tuple[Callable[[ChartRow], str], ...] = (
        lambda row: row.elastic.words(units) if row.elastic else "",
        lambda row: row.buttons.words(units) if row.buttons else "",
        lambda row: row.runs_on.words(units) if row.runs_on.there else "",
        lambda row: row.bias.words(units) if row.bias else "",
        lambda row: told_marks(row.marks, units, row.first_part),
        lambda row: row.garment,
    )
    for of in fixed:
        yield from (
            say("{about}: {text}", about=", ".join(sizes), text=text) if sizes else told(text)
            for sizes, text in by_size(rows, of)
        )


def _for_sizes(found: Sequence[tuple[tuple[str, ...], str]]) -> str:
    return listed(
        Words("{width} in {sizes}", width=text, sizes=", ".join(sizes)) if any(sizes) else text for sizes, text in found
    )


SIZE_COLUMN = 12.0
"""What the names of sizes take, mm."""


def _shared_out(rows: Sequence[ChartRow], width: float, units: str) -> Iterator[Flowable]:
    """Yield which part of the strip each part of the edge gets."""

    def column(number: int, strip: bool) -> Callable[[ChartRow], Rounded | str]:
        return lambda row: row.parts[number].strip if strip else row.parts[number].edge

    names = [told(part.name) for part in rows[0].parts]
    columns = [
        (
            say("{part}: strip", part=f"{name[0].upper()}{name[1:]}") if strip else noted("to edge"),
            "",
            column(number, strip),
        )
        for number, name in enumerate(names)
        for strip in (True, False)
    ]
    detail = say("shared out part by part: so much of the strip to so much of the edge")
    widest = max(text_width(head, SMALL, bold=True) for head, _, _ in columns)
    beside = next((count for count in (3, 2) if widest <= (width - SIZE_COLUMN) / (2 * count)), 1)
    for first in range(0, len(columns), 2 * beside):
        yield gap(1.0)
        yield size_rows(rows, columns[first : first + 2 * beside], detail, [], width, units)


def _doubts(rows: Sequence[ChartRow], width: float) -> Iterator[Flowable]:
    """Yield what is not passed, in a frame, and what else is doubted, each once with its sizes."""
    for title, failed in ((_NOT_PASSED, True), (_DOUBTED, False)):
        said: dict[str, list[str]] = {}
        for row in rows:
            for text in row.not_passed if failed else row.doubts:
                said.setdefault(text, []).append(row.size or "")
        if not said:
            continue
        lines = [
            paragraph(
                (f"{', '.join(sizes)}: " if any(sizes) else "", SMALL, True), told(text), leftIndent=2.8, bullet="!"
            )
            for text, sizes in said.items()
        ]
        name = say(title, piece=rows[0].piece)
        head = Again(paragraph((name, SMALL, True)), paragraph((say("{text} (continued)", text=name), SMALL, True)))
        yield gap(1.5)
        yield table(
            [[head], *([line] for line in lines)],
            [width],
            *((f"{side}PADDING", *ALL, BESIDE) for side in ("LEFT", "RIGHT")),
            *((f"{side}PADDING", *ALL, RISE) for side in ("TOP", "BOTTOM")),
            *([("BOX", *ALL, HEAVY)] if failed else []),
            ("NOSPLIT", (0, 0), (0, min(2, len(lines)))),
            ("NOSPLIT", (0, max(1, len(lines) - 1)), (0, -1)),
            repeatRows=1,
        )
