"""The report of a proof as a page for a release folder; it says what the verdict says and no more."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from datetime import date
from pathlib import Path

from tiler import __version__
from tiler.files import open_file
from tiler.languages.catalogue import noted
from tiler.languages.words import Number, Words, say, speaking, told
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.effect import error
from tiler.proof.report.record import Picture
from tiler.proof.report.size_table import named, rows_of
from tiler.proof.report.verdict import Report
from tiler.proof.report.wording import remarks, sentence
from tiler.proof.tolerances import FOREIGN_SCALE, SCALE
from tiler.sheets.reports.proof import ProofPage, SizeRow, SquarePicture, proof_page
from tiler.usecases.files.replace import Output, put

PRINT_IT_IS = noted(
    "This is a proof of the one print that the picture shows. Another paper or setting prints otherwise: hold a ruler "
    "to the squares of what you cut by."
)
PAPER_TOO = noted(
    "This is a proof of the file. What a printer makes of it is another matter: print at 100 % and hold a ruler to "
    "the printed square, across and down."
)


NOT_MEASURED = {
    CheckName.UNSEEN: noted("{size}, not to be seen; its place is drawn in grey"),
    CheckName.GUESS: noted("no size is said; it may be {size}"),
    CheckName.PASSED: noted("{size}, not counted"),
}
"""What is written under squares that were not measured."""


def write_report(
    source: Path,
    report: Report,
    pictures: Sequence[Picture],
    output: Output,
    languages: tuple[str, ...] | None = None,
    day: date | None = None,
) -> None:
    """Draw the page, in these languages or those of the file, and put it in place in one step; it is of today.

    Raises :class:`CannotWriteError`.
    """
    with speaking(*(languages or report.languages)):
        data = proof_page(_page(source, report, pictures, day or date.today()))
    put(output, data)


def _page(source: Path, report: Report, pictures: Sequence[Picture], day: date) -> ProofPage:
    rows = rows_of(report.sizes)
    pages = say("{count} page", "{count} pages", count=report.pages)
    if report.page_mm:
        wide, high = report.page_mm
        pages = say("{pages}, first page {wide:.1f} × {high:.1f} mm", pages=pages, wide=wide, high=high)
    with open_file(source, "file") as file:
        digest = hashlib.file_digest(file, "sha256").hexdigest()
    table = []
    for check, by_axis in rows:
        cells = [str(check.page), told(named(check))]
        cells.append(f"{check.box.x0:.0f}, {check.box.y0:.0f} mm" if check.box else "–")
        nominal = check.nominal_mm or 0
        cells.append(told(Number(f"{nominal / 25.4:.3f} in  {nominal:.2f} mm")))
        for axis in ("across", "down"):
            one = by_axis.get(axis)
            cells.append(told(Number(f"{one.measured_mm or 0:.2f} mm  {error(one.ratio or 0)}")) if one else "–")
        table.append(SizeRow(tuple(cells), any(one.status is Status.FAIL for one in by_axis.values())))
    shown = [
        SquarePicture(picture.png, picture.width, picture.height, caption(picture, rows, report.checks))
        for picture in pictures
    ]
    return ProofPage(
        file=source.name,
        facts=say("measured on {day}; {pages}; SHA-256 {digest}", day=day.isoformat(), pages=pages, digest=digest),
        verdict=told(sentence(report)),
        rows=tuple(table),
        pictures=tuple(shown),
        remarks=(*map(told, remarks(report)), say(PRINT_IT_IS if report.scan else PAPER_TOO)),
        made_by=say(
            "Measured by {program}. Right means: within {foreign:g} %, in files of tiler within {own:g} %.",
            program=f"tiler {__version__}",
            foreign=100 * FOREIGN_SCALE,
            own=100 * SCALE,
        ),
    )


def caption(
    picture: Picture, rows: Sequence[tuple[Check, dict[str, Check]]], checks: Sequence[Check]
) -> tuple[str, ...]:
    """Return what stands below the picture of a square: its name, its sizes and how far they are off."""
    if picture.page is not None:
        return (say("page {number}, with frames round what is shown", number=picture.page),)
    if picture.row is None:
        one = checks[picture.check or 0]
        return (say("page {number}: {what}", number=one.page, what=Words(NOT_MEASURED[one.name], size=one.label)),)
    check, by_axis = rows[picture.row]
    sizes = " × ".join(f"{by_axis[axis].measured_mm or 0:.2f}" for axis in ("across", "down") if axis in by_axis)
    errors = ", ".join(f"{told(error(one.ratio or 0))} {say(axis)}" for axis, one in by_axis.items())
    name = say("page {number}: {what}", number=check.page, what=named(check))
    return (name, told(Number(f"{sizes} mm")), errors)
