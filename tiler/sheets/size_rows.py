"""A table of the sizes of a piece: a row each, numbers below each other, the head again on every page; mm.

An inch column and a centimetre column stand under one heading.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from tiler.draft.chart import ChartRow, Rounded
from tiler.languages.catalogue import noted
from tiler.languages.words import Number, Words, say, told
from tiler.sheets.flow import ALL, Again, Figure, Flowable, paragraph, table, whole_and_rest
from tiler.sheets.style import HAIR, HEADING, MEDIUM, SMALL, TINT
from tiler.sheets.typesetting import face, text_width, typeset

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

Column = tuple[str, str, Callable[[ChartRow], Rounded | str]]
"""The heading of a column or of a pair for both units, its unit where it is one column, and what stands there."""

CUT_SIZE: tuple[Column, ...] = (
    (noted("Cut length"), "", lambda row: Words("pieced") if row.sections else row.length),
    (noted("Cut width"), "", lambda row: row.width),
)


def size_rows(
    rows: Sequence[ChartRow],
    columns: Sequence[Column],
    detail: str,
    facts: Sequence[Flowable],
    width: float,
    units: str,
    first: str = noted("Size"),
) -> Flowable:
    """Return a table of a row for each size, with the head of the piece; without sizes there is no column for them.

    The ``first`` column is called so.
    """
    name = (rows[0].piece, HEADING, True)
    head = Again(paragraph(name, detail), paragraph(name, say("{text} (continued)", text=detail)))
    sized, first = any(row.size for row in rows), say(first)
    pair = ("in", "cm") if units == "in" else ("cm", "in")
    heads, under, filled, spans, starts = [""] * sized, [first] * sized, [], [], []
    for title, unit, of in columns:
        start = len(heads)
        own = (say(unit),) if unit else pair
        heads += [say(title), *[""] * (len(own) - 1)]
        under += own
        starts += [True, *[False] * (len(own) - 1)]
        spans.append(((start, 2), (start + len(own) - 1, 2)))
        found = [of(row) for row in rows]
        for side in range(len(own)):
            filled.append(_numbers([told(one if isinstance(one, str) else one.in_order(units)[side]) for one in found]))
    sizes = [f"{row.size} {DOUBTED}" if row.not_passed else row.size for row in rows] if sized else []
    widths = _widths([one or "" for one in (*sizes, *([first] * sized))], filled, under[sized:], starts, width)
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
    sign = told(Number("."))
    decimals = any(sign in text for text in bare)
    return [f"{text}{sign}0" if decimals and text.isdecimal() else text for text in bare]


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
    first = [min(max(text_width(size, bold=True) for size in [*sizes, ""]), WIDEST_SIZE) + 2 * BESIDE + 1.0]
    apart = (room - sum(own) - (first[0] if sizes else 0.0)) / sum(starts)
    return [*(first if sizes else []), *(one + apart * begins for one, begins in zip(own, starts, strict=True))]
