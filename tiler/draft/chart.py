"""The cutting chart: a row for each piece and size, and the chart as CSV.

Lengths are rounded as on the labels: to 1/16 in and 1 mm, a full length to twice the
rounded half, cut widths of bindings up.  The CSV is that of RFC 4180 in UTF-8.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Sequence
from dataclasses import dataclass
from io import StringIO

from tiler.draft.figures import Figures
from tiler.draft.strip.finish import Cut
from tiler.lengths import percent, tape

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
)

_FRACTIONS = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_FRACTION = re.compile(rf"(\d*)([{''.join(_FRACTIONS)}])")
_FORMULA = ("=", "+", "-", "@", "＝", "＋", "－", "＠")
"""A spreadsheet takes a cell that begins so for a formula."""


@dataclass(frozen=True)
class Rounded:
    """A length as people read it, in both units."""

    inches: str
    centimetres: str

    def in_order(self, units: str) -> tuple[str, str]:
        """Return both, that of the spec first."""
        return (self.inches, self.centimetres) if units == "in" else (self.centimetres, self.inches)


@dataclass(frozen=True)
class ChartRow:
    """What is cut of one piece in one size: ``length`` counts from the fold where it is cut on fold.

    ``stretch_to`` is the whole edge, to which the closed strip is stretched.  The sewn length is good
    from ``shortest``, where sewing takes 60 % of the stretch, to ``longest``, which still lies flat and is
    ``None`` for a straight edge.
    """

    piece: str
    size: str | None
    length: Rounded
    width: Rounded
    quantity: int
    cut: Cut
    fabric: str | None
    finish: str
    stretch_to: Rounded
    ratio: str
    sewn: Rounded
    shortest: Rounded
    longest: Rounded | None
    good: str
    """Both as shares of the edge."""


def chart_rows(figures: Sequence[Figures]) -> tuple[ChartRow, ...]:
    """Return the rows of the chart in the order of the figures."""
    return tuple(_row(one) for one in figures)


def chart_csv(figures: Sequence[Figures]) -> str:
    """Return the chart as CSV, with a head row; no cell is taken for a formula."""
    out = StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(CSV_HEAD)
    for row in chart_rows(figures):
        cells = (
            row.piece,
            row.size or "",
            row.length.inches,
            row.length.centimetres,
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
            row.shortest.inches,
            row.shortest.centimetres,
            row.longest.inches if row.longest else "",
            row.longest.centimetres if row.longest else "",
        )
        writer.writerow([_safe(_plain(cell)) for cell in cells])
    return out.getvalue()


def _row(one: Figures) -> ChartRow:
    times = 1 if one.cut is Cut.ON_FOLD else 2
    return ChartRow(
        piece=one.name,
        size=one.size,
        length=_rounded(one.half_length_mm, times=times),
        width=_rounded(one.cut_width_mm, up=not one.finish.is_band),
        quantity=one.quantity,
        cut=one.cut,
        fabric=one.fabric,
        finish=one.finish.words,
        stretch_to=_rounded(one.edge.edge_mm),
        ratio=percent(one.ratio.used),
        sewn=_rounded(one.loop_mm),
        shortest=_rounded(one.ratio.tightest * one.edge.edge_mm),
        longest=None if one.ratio.flat is None else _rounded(one.ratio.flat * one.edge.edge_mm),
        good=_good(one),
    )


def _good(one: Figures) -> str:
    tightest, flat = percent(one.ratio.tightest), one.ratio.flat
    if flat is None:
        return f"from {tightest}"
    return "none" if flat < one.ratio.tightest else f"{tightest.removesuffix(' %')}–{percent(flat)}"


def _rounded(mm: float, *, times: int = 1, up: bool = False) -> Rounded:
    return Rounded(tape(mm, "in", times=times, up=up), tape(mm, "cm", times=times, up=up))


def _plain(cell: str) -> str:
    """Write fractions in ASCII, since spreadsheets often take UTF-8 for another code."""
    return _FRACTION.sub(lambda found: f"{found[1]} {_FRACTIONS[found[2]]}".strip(), cell)


def _safe(cell: str) -> str:
    return f"'{cell}" if cell.startswith(_FORMULA) else cell
