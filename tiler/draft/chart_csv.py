"""The cutting chart as CSV: that of RFC 4180 in UTF-8."""

from __future__ import annotations

import csv
import re
from collections.abc import Sequence
from io import StringIO

from tiler.draft.chart import ChartRow, Rounded, chart_rows
from tiler.draft.figures import Figures
from tiler.lengths import tape

CSV_HEAD = (
    "piece",
    "size",
    "cut length in",
    "cut length cm",
    "cut width in",
    "cut width cm",
    "cut",
    "cut on",
    "fabric",
    "finish",
    "stretch to in",
    "stretch to cm",
    "of the edge",
    "sewn length in",
    "sewn length cm",
    "good from in",
    "good from cm",
    "good to in",
    "good to cm",
    "finished width in",
    "finished width cm",
    "sewn at in",
    "sewn at cm",
    "end seam in",
    "end seam cm",
    "share out",
    "parts in",
    "parts cm",
    "sections",
    "section in",
    "section cm",
    "joined at",
    "garment",
    "not passed",
    "doubts",
    "good up to a width of in",
    "good up to a width of cm",
    "elastic in",
    "elastic cm",
    "ends",
    "before in",
    "before cm",
    "after in",
    "after cm",
    "on the bias",
    "views",
    "buttonholes in",
    "buttonholes cm",
    "finished edge in",
    "finished edge cm",
    "marks in",
    "marks cm",
)

_FRACTIONS = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_FRACTION = re.compile(rf"(\d*)([{''.join(_FRACTIONS)}])")
_ASCII = str.maketrans({"–": "-", "−": "-", "×": "x", "’": "'", "“": '"', "”": '"', "°": " degrees"})
_FORMULA = ("=", "+", "-", "@", "＝", "＋", "－", "＠")
"""A spreadsheet takes a cell that begins so for a formula."""


def chart_csv(figures: Sequence[Figures]) -> str:
    """Return the chart as CSV, with a head row; no cell is taken for a formula."""
    out = StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(CSV_HEAD)
    for row in chart_rows(figures):
        cells = (
            row.piece,
            row.size or "",
            "" if row.sections else row.length.inches,
            "" if row.sections else row.length.centimetres,
            row.width.inches,
            row.width.centimetres,
            str(row.quantity),
            row.cut.words,
            row.fabric or "",
            row.finish,
            row.stretch_to.inches,
            row.stretch_to.centimetres,
            row.ratio,
            row.sewn.inches,
            row.sewn.centimetres,
            *_in_both(row.shortest),
            *_in_both(row.longest),
            *_more(row),
        )
        writer.writerow([_safe(_plain(cell)) for cell in cells])
    return out.getvalue()


def _more(row: ChartRow) -> tuple[str, ...]:
    """Return the cells from the finished width on; a cell for several values parts them by semicolons."""
    sections, said = row.sections, (row.garment, " ".join(row.not_passed), " ".join(row.doubts))
    return (
        row.finished.inches,
        row.finished.centimetres,
        row.sewn_at.inches,
        row.sewn_at.centimetres,
        row.end_seam.inches,
        row.end_seam.centimetres,
        "part by part" if row.parts else "" if row.finished_edge else "evenly",
        "; ".join(f"{part.name} {part.strip.inches} to {part.edge.inches}" for part in row.parts),
        "; ".join(f"{part.name} {part.strip.centimetres} to {part.edge.centimetres}" for part in row.parts),
        str(sections.count // row.quantity if sections else 1),
        "; ".join(_section(one, row, one.length.inches) for one in sections.rows) if sections else "",
        "; ".join(_section(one, row, one.length.centimetres) for one in sections.rows) if sections else "",
        "; ".join(sections.joined_at) if sections else "",
        *(text.replace("\u00a0", " ").translate(_ASCII) for text in said),
        *_in_both(row.widest),
        _elastic(row, "in"),
        _elastic(row, "cm"),
        row.ends.value,
        *(
            tape(length, unit) if length else ""
            for length in (row.runs_on.before_mm, row.runs_on.after_mm)
            for unit in ("in", "cm")
        ),
        row.bias.words("in").replace("\u00a0", " ").translate(_ASCII) if row.bias else "",
        "; ".join(row.views),
        *(row.buttons.words(units).translate(_ASCII) if row.buttons else "" for units in ("in", "cm")),
        *_in_both(row.finished_edge),
        *("; ".join(f"{mark.name} {tape(mark.at_mm, units)}" for mark in row.marks) for units in ("in", "cm")),
    )


def _in_both(length: Rounded | None) -> tuple[str, str]:
    """Return the cells of a length, empty where there is none."""
    return (length.inches, length.centimetres) if length else ("", "")


def _elastic(row: ChartRow, units: str) -> str:
    one = row.elastic
    return f"{tape(one.cut_mm, units)} of {tape(one.width_mm, units)}" if one else ""


def _section(section: ChartRow, strip: ChartRow, length: str) -> str:
    """Return a section as a cell lists it: "front section: cut 1 on fold 10 1/4 in"."""
    name = section.piece.removeprefix(f"{strip.piece}, ")
    return f"{name}: cut {section.quantity} {section.cut.words} {length}"


def _plain(cell: str) -> str:
    """Write fractions in ASCII, since spreadsheets often take UTF-8 for another code."""
    return _FRACTION.sub(lambda found: f"{found[1]} {_FRACTIONS[found[2]]}".strip(), cell)


def _safe(cell: str) -> str:
    return f"'{cell}" if cell.startswith(_FORMULA) else cell
