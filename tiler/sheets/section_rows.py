"""The sections of the strips of a piece, size by size, and how they are joined: chart and instructions; mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from tiler.draft.chart import ChartRow, by_size
from tiler.languages.catalogue import noted
from tiler.languages.words import Words, say, told
from tiler.sheets.flow import Flowable, gap, paragraph
from tiler.sheets.size_rows import CUT_SIZE, Column, size_rows


def _counted(row: ChartRow) -> Words:
    """Say how often it is cut, and whether in mirror images."""
    counted = row.cut.counted(row.quantity)
    if not row.paired:
        return counted
    return Words("{cut}, as a pair", cut=counted) if row.quantity == 2 else Words("{cut}, in pairs", cut=counted)


TO_CUT: tuple[Column, ...] = (
    (noted("To cut"), noted("how often"), _counted),
    *CUT_SIZE,
)
STRETCHED: tuple[Column, ...] = (
    (noted("Stretch this"), "", lambda row: row.sewn),
    (noted("to this edge"), "", lambda row: row.stretch_to),
)
EVEN: tuple[Column, ...] = (
    (noted("Sewn length"), "", lambda row: row.sewn),
    (noted("Edge"), "", lambda row: row.stretch_to),
)
"""What is told of strips that are sewn on unstretched."""


SHAPED: tuple[Column, ...] = (
    (noted("Seam line"), "", lambda row: row.stretch_to),
    (noted("Finished edge"), "", lambda row: row.finished_edge or ""),
)
"""What is told of a band that is cut to shape, whose pieces say how large they are."""


def sewn_to(rows: Sequence[ChartRow]) -> tuple[Column, ...]:
    """Return the columns of how long the strips are sewn, and to what edge."""
    return EVEN if all(row.even for row in rows) else STRETCHED


def how_cut(rows: Sequence[ChartRow]) -> str:
    """Say how a piece is cut: of one that is pieced in every size the sections say it."""
    if rows[0].finished_edge:
        return Words("cut to shape")
    return Words("cut in sections") if all(row.sections for row in rows) else rows[0].cut.counted(rows[0].quantity)


def section_rows(rows: Sequence[ChartRow], width: float, units: str) -> Iterator[Flowable]:
    """Yield the table of what is cut of pieced strips, then how it is joined; nothing where none is pieced."""
    pieced = [row for row in rows if row.sections]
    cut = [
        replace(section, piece=row.piece, size=_name(section, row), not_passed=())
        for row in pieced
        for section in (row.sections.rows if row.sections else ())
    ]
    if not cut:
        return
    yield gap(1.0)
    if rows[0].finished_edge:
        detail = say("its pieces, as long and as wide as they are at most")
        yield size_rows(cut, TO_CUT, detail, [], width, units, first=noted("Piece"))
    else:
        detail = say("in sections, since the fabric is narrower")
        yield size_rows(cut, (*TO_CUT, *sewn_to(cut)), detail, [], width, units, first=noted("Section"))
    for sizes, text in by_size(rows, lambda row: row.sections.words if row.sections else ""):
        yield paragraph(
            say("{about}: {text}", about=", ".join(sizes), text=text) if sizes else told(text), spaceBefore=0.6
        )


def _name(section: ChartRow, strip: ChartRow) -> str:
    name = section.piece.removeprefix(f"{strip.piece}, ")
    return f"{strip.size}, {name}" if strip.size else name
