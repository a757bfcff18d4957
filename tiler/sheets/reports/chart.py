"""The cutting chart as pages to print and pin up; page mm.

Every piece has a head of its own, with its finish and fabric, and below it a row for
each size.  Title, column heads and the head of the piece stand on every page again.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from tiler.box import Box
from tiler.catalog import finish_chart
from tiler.draft.chart import ChartRow, chart_rows
from tiler.draft.edition import Edition
from tiler.draft.figures import Figures
from tiler.paper import HOME, ONE_SHEET, PAPERS
from tiler.sheets.flow import ALL, Again, Flowable, flowed, gap, paragraph, table
from tiler.sheets.style import HAIR, HEADING, MEDIUM, SMALL, TINT, TITLE
from tiler.sheets.typesetting import face, refuse_missing_characters, text_width

MARGIN = 12.0
ROW = 5.2
"""Height of the row of a size, mm."""

RISE = 0.55
"""From the foot of a row to its line of type, mm."""

BESIDE = 1.5
"""White left and right of the words in a column, mm."""

CUT = 22.0
"""Width of the column that says how often and how a piece is cut, mm."""

TOGETHER = 3
"""No fewer rows stand below the head of a piece, on any page."""

NOTE = (
    "On fold: length from the fold. Full length: from cut end to cut end. Seam and end allowances are included. "
    "Stretch the closed strip evenly to the edge. Good: from where that takes 60 % of the stretch to what lies flat."
)

LOOK = (
    *((f"{side}PADDING", *ALL, BESIDE) for side in ("LEFT", "RIGHT")),
    ("BOTTOMPADDING", *ALL, RISE),
    ("ALIGN", (-8, 0), (-1, -1), "RIGHT"),
    ("VALIGN", *ALL, "BOTTOM"),
)
"""What the tables of a chart share; lengths and shares stand in the last eight columns."""


def chart_pdf(figures: Sequence[Figures], edition: Edition, paper: str) -> bytes:
    """Return the chart of these figures as a PDF on a fixed paper.

    Raises :class:`SpecError` for a character that the font lacks.
    """
    rows = chart_rows(figures)
    for text, where in _texts(rows, edition):
        refuse_missing_characters(text, where)
    page = Box(0.0, 0.0, *PAPERS[HOME if paper == ONE_SHEET else paper].size)
    room = page.grown(-MARGIN)
    widths = _widths(rows, room.width)
    data = flowed(
        page,
        room,
        lambda _: [_piece(tuple(group), widths, edition.units) for _, group in groupby(rows, lambda row: row.piece)],
        lambda: _head(edition, widths),
        NOTE,
    )
    return finish_chart(data, f"{edition.title}: cutting chart", edition.copyright)


def _texts(rows: Sequence[ChartRow], edition: Edition) -> Iterator[tuple[str, str]]:
    for text in (edition.title, edition.version, edition.date, edition.copyright):
        yield text or "", "title"
    for row in rows:
        yield f"{row.piece}{row.size or ''}{row.fabric or ''}", f'piece "{row.piece}"'


def _widths(rows: Sequence[ChartRow], room: float) -> list[float]:
    """Return the widths of the columns; without sizes there is none for them."""
    widest = max((text_width(row.size, SMALL, bold=True) for row in rows if row.size), default=0.0)
    sizes = [max(widest, 10.0) + 4.0] if widest else []
    return [*sizes, CUT, *[(room - sum(sizes) - CUT) / 8] * 8]


def _head(edition: Edition, widths: Sequence[float]) -> list[Flowable]:
    units = ("in", "cm") if edition.units == "in" else ("cm", "in")
    # one head over its two units or shares
    pairs = [((column, 0), (column + 1, 0)) for column in (-8, -6, -4, -2)]
    heads = table(
        [
            ["", "", "Cut length", "", "Cut width", "", "Stretch to the edge", "", "Of the edge", ""][-len(widths) :],
            ["Size", "Cut", *units * 3, "cut", "good"][-len(widths) :],
        ],
        widths,
        *LOOK,
        ("FONTNAME", *ALL, face(True)),
        *(command for pair in pairs for command in (("SPAN", *pair), ("ALIGN", *pair, "CENTER"))),
        *(("LEFTPADDING", *pair, 5.0) for pair in pairs),
        ("LINEBELOW", (0, 1), (-1, 1), MEDIUM),
        heights=(4.6, 4.6),
    )
    return [
        paragraph((f"{edition.title}: cutting chart", TITLE, True)),
        paragraph(edition.imprint, spaceBefore=0.6),
        gap(4.0),
        heads,
    ]


def _piece(rows: Sequence[ChartRow], widths: Sequence[float], units: str) -> Flowable:
    """Return the head of a piece and the rows of its sizes."""
    name = (rows[0].piece, HEADING, True)
    detail = " · ".join(part for part in (rows[0].finish, rows[0].fabric) if part)
    head = Again(paragraph(name, detail), paragraph(name, f"{detail} (continued)"))
    cells = [
        [
            row.size or "–",
            f"{row.quantity} {row.cut.words}",
            *(text for length in (row.length, row.width, row.stretch_to) for text in length.in_order(units)),
            row.ratio,
            row.good,
        ][-len(widths) :]
        for row in rows
    ]
    return table(
        [[head], *cells],
        widths,
        *LOOK,
        ("SPAN", (0, 0), (-1, 0)),
        ("TOPPADDING", (0, 0), (-1, 0), 2.8),
        ("LINEBELOW", (0, 0), (-1, 0), HAIR),
        ("LINEBELOW", (0, -1), (-1, -1), MEDIUM),
        ("FONTNAME", (-10, 1), (-10, -1), face(True)),
        ("ROWBACKGROUNDS", (0, 1), (-1, -1), None, TINT),
        ("NOSPLIT", (0, 0), (0, min(TOGETHER, len(rows)))),
        ("NOSPLIT", (0, max(1, len(rows) - TOGETHER + 1)), (0, -1)),
        heights=[None, *[ROW] * len(rows)],
        repeatRows=1,
    )
