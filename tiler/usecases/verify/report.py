"""The report of a proof as a page for a release folder; it says what the verdict says and no more."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from pathlib import Path

from tiler import __version__
from tiler.files import open_file
from tiler.proof.report.check import Check, Status
from tiler.proof.report.effect import error
from tiler.proof.report.record import Picture
from tiler.proof.report.size_table import named, rows_of
from tiler.proof.report.verdict import Report
from tiler.proof.report.wording import remarks, sentence
from tiler.proof.tolerances import FOREIGN_SCALE, SCALE
from tiler.sentence import counted
from tiler.sheets.reports.proof import ProofPage, SizeRow, SquarePicture, proof_page
from tiler.usecases.files.replace import Output, put

PAPER_TOO = (
    "This is a proof of the file. What a printer makes of it is another matter: print at 100 % and hold a ruler to "
    "the printed square, across and down."
)


def write_report(source: Path, report: Report, pictures: Sequence[Picture], output: Output) -> None:
    """Draw the page and put it in place in one step; raises :class:`CannotWriteError`."""
    data = proof_page(_page(source, report, pictures))
    put(output, data)


def _page(source: Path, report: Report, pictures: Sequence[Picture]) -> ProofPage:
    rows = rows_of(report.sizes)
    page = f", first page {report.page_mm[0]:.1f} × {report.page_mm[1]:.1f} mm" if report.page_mm else ""
    pages = counted(report.pages, "page")
    with open_file(source, "PDF") as file:
        digest = hashlib.file_digest(file, "sha256").hexdigest()
    table = []
    for check, by_axis in rows:
        cells = [str(check.page), named(check)]
        cells.append(f"{check.box.x0:.0f}, {check.box.y0:.0f} mm" if check.box else "–")
        cells.append(f"{(check.nominal_mm or 0) / 25.4:.3f} in  {check.nominal_mm or 0:.2f} mm")
        for axis in ("across", "down"):
            one = by_axis.get(axis)
            cells.append(f"{one.measured_mm or 0:.2f} mm  {error(one.ratio or 0)}" if one else "–")
        table.append(SizeRow(tuple(cells), any(one.status is Status.FAIL for one in by_axis.values())))
    shown = [
        SquarePicture(picture.png, picture.width, picture.height, _caption(rows[picture.row])) for picture in pictures
    ]
    return ProofPage(
        file=source.name,
        facts=f"{pages}{page}; SHA-256 {digest}",
        verdict=sentence(report),
        rows=tuple(table),
        pictures=tuple(shown),
        remarks=(*remarks(report), PAPER_TOO),
        made_by=f"Measured by tiler {__version__}. Right means: within {100 * FOREIGN_SCALE:g} %, in files of tiler "
        f"within {100 * SCALE:g} %.",
    )


def _caption(row: tuple[Check, dict[str, Check]]) -> tuple[str, ...]:
    check, by_axis = row
    sizes = " × ".join(f"{by_axis[axis].measured_mm or 0:.2f}" for axis in ("across", "down") if axis in by_axis)
    errors = ", ".join(f"{error(one.ratio or 0)} {axis}" for axis, one in by_axis.items())
    return (f"page {check.page}: {named(check)}", f"{sizes} mm", errors)
