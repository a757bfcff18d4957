"""Cuttings of a picture for the report: the squares that were measured, wrong ones first."""

from __future__ import annotations

from io import BytesIO

from PIL import Image

from tiler.proof.report.check import CheckName, Status
from tiler.proof.report.record import Picture as Cutting
from tiler.proof.report.size_table import rows_of
from tiler.proof.report.verdict import Report
from tiler.proof.scan.pixels.picture import INCH, Picture

MOST = 6

AROUND = 4.0
"""Shown around a square, mm."""

WIDEST = 500
"""No cutting has more pixels across."""


def square_cuts(picture: Picture, report: Report) -> list[Cutting]:
    """Return cuttings of the squares in the order of the rows that speak of them."""
    assert picture.dpi
    across, down = (dots / INCH for dots in picture.dpi)
    rows = rows_of(report.sizes)
    shown = [index for index, (check, _) in enumerate(rows) if check.box and check.name is CheckName.SQUARE]
    shown.sort(key=lambda index: all(check.status is not Status.FAIL for check in rows[index][1].values()))
    whole, (wide, high) = Image.fromarray(picture.grey), picture.size
    cuttings = []
    for index in shown[:MOST]:
        box = rows[index][0].box
        assert box
        around = box.grown(AROUND)
        left, right = max(0, round(around.x0 * across)), min(wide, round(around.x1 * across))
        upper, lower = max(0, round(high - around.y1 * down)), min(high, round(high - around.y0 * down))
        cut = whole.crop((left, upper, right, lower)).reduce(max(1, (right - left) // WIDEST))
        out = BytesIO()
        cut.save(out, "PNG")
        cuttings.append(Cutting(index, out.getvalue(), cut.width, cut.height))
    return cuttings
