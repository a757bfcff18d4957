"""``tiler verify``: measure a PDF, or the scan of a printed page, and say whether it is true to scale."""

from __future__ import annotations

import json
from pathlib import Path

import click

from tiler.commands.output.progress import page_progress
from tiler.commands.output.terminal import say, say_json
from tiler.commands.output.wrapping import width
from tiler.commands.typed import options
from tiler.commands.typed.length import LENGTH
from tiler.commands.typed.sheet import SHEET
from tiler.errors import SpecError, UnreadableError
from tiler.proof.report.record import Picture
from tiler.proof.report.wording import lines
from tiler.reading.limits import MOST_OBJECTS
from tiler.sentence import Place
from tiler.usecases.files.replace import Output, admitted
from tiler.usecases.scan.apart import Seen, prove_scan_apart
from tiler.usecases.verify.apart import Limits, prove_apart

PICTURES = (".png", ".jpg", ".jpeg", ".tif", ".tiff")


@click.command(epilog="Example: tiler verify crew.pdf")
@click.argument("pdf", type=options.FILE)
@click.option("--expect", type=LENGTH, help="Look for a test square with sides of this length, whatever labels say.")
@options.count("--only", 1, "NUMBER", "Take only the square of this number, as the report counts them.")
@click.option("--scan", is_flag=True, help=options.SCAN)
@click.option("--photo", is_flag=True, help="Measure page 1 in a photo with a bank card lying on it.")
@click.option("--sheet", type=SHEET, help="Of a photo without a card: letter, a4, or width x height of the paper.")
@options.dpi
@options.card
@options.ruler
@options.limits
@options.count("--object-limit", 1, "COUNT", "Read no more objects on one page.", default=MOST_OBJECTS)
@click.option(
    "--report",
    "report_file",
    type=options.FILE,
    metavar="FILE.pdf",
    help="Write one page with the verdict and pictures of the squares; of two languages, in the first.",
)
@options.language
@options.force
@options.as_json
def command(
    pdf: Path,
    expect: float | None,
    only: int | None,
    scan: bool,
    photo: bool,
    sheet: tuple[float, float, float] | None,
    dpi: float | None,
    card: bool,
    ruler: bool,
    time_limit: int,
    memory_limit: int,
    object_limit: int,
    report_file: Path | None,
    languages: tuple[str, ...] | None,
    force: bool,
    as_json: bool,
) -> int:
    """Measure PDF and say whether it is true to scale, whole and readable.

    A file of tiler is put together by its own register marks and measured line
    by line; in any other file the test squares are measured whose size is
    written beside them, or stated by --expect. The exit code is 0 when the file
    is true to scale, 3 when it is not or that is not decided, 4 when there is
    nothing to measure. A file that needs more than the limits is given up, with
    exit code 5.

    With --scan it is the print that is measured: page 1 on the glass of a
    flatbed scanner, or any square whose size its label or --expect tells. With
    --photo it is page 1 in a photo, taken from above with a bank card on it, or
    on a dark ground with all its edges in sight and --sheet.
    """
    if sheet and not photo:
        raise SpecError("goes with --photo, in which its edges are seen", Place("--sheet"))
    of_scans = {"--dpi": bool(dpi), "--card": card, "--ruler": ruler}
    refuse_mixed(scan, photo, of_scans, {"--expect": bool(expect), "--only": bool(only)})
    if not (scan or photo):
        refuse_picture(pdf)
    limits = Limits(time_limit, memory_limit * options.MB, object_limit)
    expected = (expect, f"{expect:g} mm" if expect else "", only) if expect or only else None
    pictures: list[Picture] | None = None
    output: Output | None = None
    if report_file:
        output = admitted(report_file, force, (pdf,), ".pdf")
        pictures = []
    if scan or photo:
        report = prove_scan_apart(pdf, Seen(dpi, card, photo, sheet, ruler), limits, expected, pictures)
    else:
        with page_progress("measuring") as progress:
            report = prove_apart(pdf, progress, expected, limits, pictures)
    if output:
        from tiler.usecases.verify.report import write_report

        write_report(pdf, report, pictures or [], output, languages)
    if as_json:
        say_json(json.dumps(report.to_json(), indent=2, ensure_ascii=False))
    else:
        first, *others = lines(report, width())
        say(first, bold=True)
        for line in others:
            say(line)
    return report.exit_code


def refuse_picture(file: Path) -> None:
    """Refuse a picture in the place of a PDF; raises :class:`UnreadableError`."""
    if file.suffix.lower() in PICTURES:
        raise UnreadableError(
            "is a picture; add --scan to measure the printed page in it, or --photo", Place(str(file))
        )


def refuse_mixed(scan: bool, photo: bool, of_scans: dict[str, bool], of_squares: dict[str, bool]) -> None:
    """Refuse options that do not go together; raises :class:`SpecError`."""
    if scan and photo:
        raise SpecError("does not go with --scan; say which of both the picture is", Place("--photo"))
    if photo and of_squares["--expect"]:
        raise SpecError("does not go with --photo, which shows page 1 with its own squares", Place("--expect"))
    if (scan or photo) and of_squares["--only"]:
        raise SpecError("does not go with a picture; crop it to the square that is meant", Place("--only"))
    for option, given in of_scans.items():
        if given and not scan:
            why = "a photo is measured by what lies in it, and has no resolution" if photo else ""
            raise SpecError(f"goes with --scan{'; ' * bool(why)}{why}", Place(option))
