"""The cutting chart as pages to print and pin up; page mm.

Every piece has a head of its own: how it is cut, made and shared out, as far as all sizes
agree, or by sizes.  Below it stands a row for each size, then what is doubted of them.
The head of a piece and those of its columns stand on every page again.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import groupby

from tiler.box import Box
from tiler.catalog import finish_chart
from tiler.draft.chart import ChartRow, Rounded, Sections, by_size, chart_rows
from tiler.draft.edition import Edition
from tiler.draft.figures import Figures
from tiler.draft.strip.finish import Cut
from tiler.paper import HOME, ONE_SHEET, PAPERS
from tiler.sheets.flow import ALL, Again, Figure, Flowable, flowed, gap, paragraph, table, whole_and_rest
from tiler.sheets.style import HAIR, HEADING, HEAVY, MEDIUM, SMALL, TINT, TITLE
from tiler.sheets.typesetting import face, refuse_missing_characters, text_width, typeset

MARGIN = 12.0
RISE = 0.55
"""From the foot of a row to its line of type, mm."""

BESIDE = 1.2
"""White left and right of the words in a column, mm."""

WIDEST_SIZE = 34.0
"""A longer name of a size goes on in a second line, mm."""

TOGETHER = 3
"""No fewer rows stand below the head of a piece, on any page."""

WHOLE = 10
"""A piece of so many sizes is not parted, nor one of fewer."""

HEADS = 4
"""Rows that head a table: the piece, what is said of it, and two for the columns."""

DOUBTED = "!"
"""Stands behind the name of a size that does not pass a check."""

NOTE = (
    "On fold: length from the fold. Full length: from cut end to cut end. Seam and end allowances are included. "
    "Shortest: sewing takes 60 % of the stretch. Longest: it still lies flat."
)

Column = tuple[str, str, Callable[[ChartRow], Rounded | str]]
"""The heading of a column or of a pair for both units, its unit where it is one column, and what stands there."""

LENGTHS: tuple[Column, ...] = (
    ("Cut length", "", lambda row: row.length),
    ("Cut width", "", lambda row: row.width),
    ("Edge", "", lambda row: row.stretch_to),
    ("Sewn length", "", lambda row: row.sewn),
    ("Shortest", "", lambda row: row.shortest if row.has_good else "none"),
    ("Longest", "", lambda row: row.longest or "–"),
    ("Share", "% of edge", lambda row: row.ratio.removesuffix(" %")),
)


def chart_pdf(figures: Sequence[Figures], edition: Edition, paper: str) -> bytes:
    """Return the chart of these figures as a PDF on a fixed paper.

    Raises :class:`SpecError` for a character that the font lacks.
    """
    rows = chart_rows(figures)
    for text, where in _texts(rows, edition):
        refuse_missing_characters(text, where)
    page = Box(0.0, 0.0, *PAPERS[HOME if paper == ONE_SHEET else paper].size)
    room = page.grown(-MARGIN)
    pieces = [tuple(group) for _, group in groupby(rows, lambda row: row.piece)]
    data = flowed(
        page,
        room,
        lambda _: [one for piece in pieces for one in _piece(piece, room.width, edition.units)],
        lambda: [
            paragraph((f"{edition.title}: cutting chart", TITLE, True)),
            paragraph(edition.imprint, spaceBefore=0.6),
            gap(3.0),
        ],
        NOTE,
        balanced=True,
    )
    return finish_chart(data, f"{edition.title}: cutting chart", edition.copyright)


def _texts(rows: Sequence[ChartRow], edition: Edition) -> Iterator[tuple[str, str]]:
    for text in (edition.title, edition.version, edition.date, edition.copyright):
        yield text or "", "title"
    for row in rows:
        yield f"{row.piece}{row.size or ''}{row.fabric or ''}", f'piece "{row.piece}"'


def _piece(rows: Sequence[ChartRow], width: float, units: str) -> Iterator[Flowable]:
    """Yield the table of a piece, how it is shared out where that is not even, and its doubts."""
    first = rows[0]
    detail = " · ".join(
        part for part in (first.finish, first.fabric, f"cut {first.quantity} {first.cut.words}") if part
    )
    facts = [paragraph(line, spaceBefore=0.4) for line in _facts(rows, units)]
    yield _table(rows, LENGTHS, detail, facts, width, units)
    if any(row.parts for row in rows):
        yield gap(1.0)
        yield _shared_out(rows, width, units)
    pieced = [row for row in rows if row.sections]
    if pieced:
        yield gap(1.0)
        yield _pieced(pieced, width, units)
    yield from _doubts(rows, width)
    yield gap(3.5)


def _facts(rows: Sequence[ChartRow], units: str) -> Iterator[str]:
    """Yield what holds for the whole piece, or for which sizes."""

    def both(length: Rounded) -> str:
        one, other = length.in_order(units)
        return f"{one} ({other})"

    place = f" ({rows[0].end_place})" if rows[0].end_place else ""
    sewn = "Seam allowance" if rows[0].is_band else "Sewn at"
    measures = (
        ("Finished width", lambda row: both(row.finished)),
        (sewn, lambda row: both(row.sewn_at)),
        (f"End seam{place}", lambda row: both(row.end_seam)),
    )
    even = "" if rows[0].parts else "Share the strip out evenly along the edge."
    said = [f"{name} {_for_sizes(by_size(rows, of))}." for name, of in measures]
    yield " ".join((*said, even)).rstrip()
    yield from (
        f"{', '.join(sizes)}: {text}" if sizes else text for sizes, text in by_size(rows, lambda row: row.garment)
    )


def _for_sizes(found: Sequence[tuple[tuple[str, ...], str]]) -> str:
    return "; ".join(f"{text} in {', '.join(sizes)}" if any(sizes) else text for sizes, text in found)


def _table(
    rows: Sequence[ChartRow],
    columns: Sequence[Column],
    detail: str,
    facts: Sequence[Flowable],
    width: float,
    units: str,
) -> Flowable:
    """Return a table of a row for each size, with the head of the piece; without sizes there is no column for them."""
    name = (rows[0].piece, HEADING, True)
    head = Again(paragraph(name, detail), paragraph(name, f"{detail} (continued)"))
    sized = any(row.size for row in rows)
    pair = ("in", "cm") if units == "in" else ("cm", "in")
    heads, under, filled, spans, starts = [""] * sized, ["Size"] * sized, [], [], []
    for title, unit, of in columns:
        start = len(heads)
        own = (unit,) if unit else pair
        heads += [title, *[""] * (len(own) - 1)]
        under += own
        starts += [True, *[False] * (len(own) - 1)]
        spans.append(((start, 2), (start + len(own) - 1, 2)))
        found = [of(row) for row in rows]
        for side in range(len(own)):
            filled.append(_numbers([one if isinstance(one, str) else one.in_order(units)[side] for one in found]))
    sizes = [f"{row.size} {DOUBTED}" if row.not_passed else row.size for row in rows] if sized else []
    widths = _widths([one or "" for one in sizes], filled, under[sized:], starts, width)
    after = [max(text_width(whole_and_rest(one)[1]) for one in column) for column in filled]
    cells = [
        [
            *([paragraph((sizes[index] or "", SMALL, True))] if sized else []),
            *(Figure(column[index], room) for column, room in zip(filled, after, strict=True)),
        ]
        for index in range(len(rows))
    ]
    blank = [""] * (len(under) - 1)
    together = len(rows) if len(rows) <= WHOLE else TOGETHER
    return table(
        [[head, *blank], [[*facts], *blank], heads, under, *cells],
        widths,
        *((f"{side}PADDING", *ALL, BESIDE) for side in ("LEFT", "RIGHT")),
        ("BOTTOMPADDING", *ALL, RISE),
        ("TOPPADDING", (0, HEADS), (-1, -1), RISE),
        ("VALIGN", *ALL, "BOTTOM"),
        *(
            command
            for row in (0, 1)
            for command in (("SPAN", (0, row), (-1, row)), ("TOPPADDING", (0, row), (-1, row), row * 0.2))
        ),
        ("LINEBELOW", (0, 1), (-1, 1), HAIR),
        ("FONTNAME", (0, 2), (-1, 3), face(True)),
        ("TOPPADDING", (0, 2), (-1, 2), 0.6),
        *(command for span in spans for command in (("SPAN", *span), ("ALIGN", *span, "RIGHT"))),
        ("ALIGN", (int(sized), 3), (-1, 3), "RIGHT"),
        ("LINEBELOW", (0, 3), (-1, 3), MEDIUM),
        ("ROWBACKGROUNDS", (0, HEADS), (-1, -1), None, TINT),
        ("LINEBELOW", (0, -1), (-1, -1), MEDIUM),
        ("NOSPLIT", (0, 0), (0, HEADS + together - 1)),
        ("NOSPLIT", (0, max(HEADS, HEADS + len(rows) - TOGETHER)), (0, -1)),
        heights=[None, None if facts else 0.6, *[None] * (len(rows) + 2)],
        repeatRows=(0, 2, 3),
    )


def _numbers(column: Sequence[str]) -> list[str]:
    """Return lengths without their unit, which stands above them, and shares with as many decimals as each other."""
    bare = [typeset(text).removesuffix(" in").removesuffix(" cm") for text in column]
    decimals = any("." in text for text in bare)
    return [f"{text}.0" if decimals and text.isdecimal() else text for text in bare]


def _widths(
    sizes: Sequence[str],
    filled: Sequence[Sequence[str]],
    under: Sequence[str],
    starts: Sequence[bool],
    room: float,
) -> list[float]:
    """Return the widths of the columns: what they hold, and what is left in equal parts where a pair ``starts``."""
    own = []
    for column, unit in zip(filled, under, strict=True):
        whole, rest = (max(text_width(whole_and_rest(one)[side]) for one in column) for side in (0, 1))
        own.append(max(whole + rest, text_width(unit, bold=True)) + 2 * BESIDE)
    first = [min(max(text_width(size, bold=True) for size in [*sizes, "Size"]), WIDEST_SIZE) + 2 * BESIDE + 1.0]
    apart = (room - sum(own) - (first[0] if sizes else 0.0)) / sum(starts)
    return [*(first if sizes else []), *(one + apart * begins for one, begins in zip(own, starts, strict=True))]


def _shared_out(rows: Sequence[ChartRow], width: float, units: str) -> Flowable:
    """Return which part of the strip each part of the edge gets."""

    def column(number: int, strip: bool) -> Callable[[ChartRow], Rounded | str]:
        return lambda row: row.parts[number].strip if strip else row.parts[number].edge

    names = [part.name for part in rows[0].parts]
    columns = [
        (f"{name[0].upper()}{name[1:]}: strip" if strip else "to edge", "", column(number, strip))
        for number, name in enumerate(names)
        for strip in (True, False)
    ]
    detail = "shared out part by part: so much of the strip to so much of the edge"
    return _table(rows, columns, detail, [], width, units)


def _pieced(rows: Sequence[ChartRow], width: float, units: str) -> Flowable:
    """Return the sections of the strips that are longer than their fabric is wide."""

    def of(what: Callable[[Sections], Rounded | str]) -> Callable[[ChartRow], Rounded | str]:
        return lambda row: what(row.sections) if row.sections else "–"

    columns: tuple[Column, ...] = (
        ("Sections", "each strip", of(lambda sections: str(sections.count))),
        ("Each long", "", of(lambda sections: sections.length)),
        ("First join at", "", of(lambda sections: sections.joins[0])),
    )
    start = "the fold" if rows[0].cut is Cut.ON_FOLD else "the left end"
    detail = f"pieced, since the fabric is narrower: the first join from {start}, the next a section further"
    return _table(rows, columns, detail, [], width, units)


def _doubts(rows: Sequence[ChartRow], width: float) -> Iterator[Flowable]:
    """Yield what is not passed, in a frame, and what else is doubted, each once with its sizes."""
    for title, failed in (("checks that are not passed", True), ("doubts", False)):
        said: dict[str, list[str]] = {}
        for row in rows:
            for text in row.not_passed if failed else row.doubts:
                said.setdefault(text, []).append(row.size or "")
        if not said:
            continue
        lines = [
            paragraph((f"{', '.join(sizes)}: " if any(sizes) else "", SMALL, True), text, leftIndent=2.8, bullet="!")
            for text, sizes in said.items()
        ]
        name = f"{rows[0].piece}: {title}"
        head = Again(paragraph((name, SMALL, True)), paragraph((f"{name} (continued)", SMALL, True)))
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
