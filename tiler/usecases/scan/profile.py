"""What a scan tells of the printer that printed the page, kept as its profile; lengths in mm."""

from __future__ import annotations

from tiler.errors import NothingToMeasureError
from tiler.proof.report.sentences import Says
from tiler.proof.report.verdict import Report
from tiler.sentence import Place
from tiler.usecases.printers.print_error import LINES
from tiler.usecases.printers.profiles import Printer, checked_printer

LENGTH = LINES["down"]

UNFIT = (
    Says.SCAN_DISAGREES,
    Says.SQUARES_DISAGREE,
    Says.MIRRORED,
    Says.RULER_ACROSS,
    Says.RULER_DOWN,
    Says.RULER_ASKEW,
)
"""What makes a scan tell nothing of the printer."""


def printer_of(name: str, report: Report) -> Printer:
    """Return the printer by the scan of a first page that it printed, told as what it makes of 20 cm.

    The error of the reading is that of the measuring and of the scanner together. Raises
    :class:`NothingToMeasureError` for a scan whose lengths do not agree.
    """
    scan = report.scan
    assert scan is not None
    for check in report.checks:
        if check.says in UNFIT:
            raise NothingToMeasureError(check.detail, Place(report.file))
    in_doubt = max(float(scan.numbers[error]) for error in ("error", "error_down")) / 100
    reading_error = LENGTH * (in_doubt + float(scan.numbers["scanner"]))
    across, down = (round(LENGTH * float(scan.numbers[axis]), 3) for axis in ("across", "down"))
    return checked_printer(name, (LENGTH, LENGTH), (across, down), round(reading_error, 2))
