"""``tiler printer``: what is known of a printer, and what it does to the pieces of a spec."""

from __future__ import annotations

import json
from pathlib import Path

import click
from click.core import ParameterSource

from tiler.commands.output.terminal import say, say_json
from tiler.commands.output.wrapping import tell
from tiler.commands.typed import options
from tiler.commands.typed.completion import printer_names
from tiler.commands.typed.length import LENGTH
from tiler.commands.typed.printer_folder import printer_folder
from tiler.draft.compute import figure_job
from tiler.draft.figures import Figures
from tiler.draft.spec.read import Job
from tiler.errors import SpecError
from tiler.lengths import both
from tiler.sentence import Place
from tiler.usecases.job import read_job
from tiler.usecases.printers.print_error import LengthDeviation, PieceDeviation, doubts, piece_errors
from tiler.usecases.printers.profiles import (
    READING_ERROR,
    Axis,
    Printer,
    checked_printer,
    load_printer,
    printers,
    remove_printer,
    save_printer,
)
from tiler.usecases.scan.apart import Seen, prove_scan_apart
from tiler.usecases.scan.profile import printer_of
from tiler.usecases.verify.apart import Limits


@click.group(epilog="Example: tiler printer add kitchen --nominal '15 cm' --across '14.9 cm' --down '14.8 cm'")
def command() -> None:
    """Store a printer's measured error, and see what it does to a piece."""


@command.command(
    short_help="Store what you measured on a page from the printer NAME.",
    epilog="Example: tiler printer add kitchen --nominal '15 cm' --across '14.9 cm' --down '14.8 cm'",
)
@click.argument("name")
@click.option("--nominal", type=LENGTH, help="State what the printed line or square should measure.")
@click.option("--across", type=LENGTH, help="State what it measures across the page.")
@click.option("--down", type=LENGTH, help="State what it measures down the page.")
@click.option(
    "--nominal-across",
    type=LENGTH,
    show_default="as --nominal",
    help="State what the line read across should measure, if it is another one.",
)
@options.reading_error(READING_ERROR)
@click.option("--scan", type=options.FILE, metavar="FILE", help=options.SCAN)
@options.dpi
@options.card
@options.ruler
@options.force
def add(
    name: str,
    nominal: float | None,
    across: float | None,
    down: float | None,
    nominal_across: float | None,
    reading_error: float,
    scan: Path | None,
    dpi: float | None,
    card: bool,
    ruler: bool,
    force: bool,
) -> None:
    """Store what you measured on the first page, printed at 100 % by the printer NAME.

    A longer line tells more: read the 15 cm line across and the 20 cm line down.
    Or lay the page on a flatbed scanner and name the scan with --scan: its
    squares and lines are measured, closer than a ruler is read.
    """
    read = {"--nominal": nominal, "--across": across, "--down": down}
    if scan is not None:
        said = click.get_current_context().get_parameter_source("reading_error") is ParameterSource.COMMANDLINE
        closely = reading_error if said else None
        for option, given in {**read, "--nominal-across": nominal_across, "--reading-error": closely}.items():
            if given is not None:
                raise SpecError("does not go with --scan, which measures the page itself", Place(option))
        printer = printer_of(name, prove_scan_apart(scan, Seen(dpi, card, ruler=ruler), Limits()))
    else:
        for option, used in (("--dpi", dpi), ("--card", card), ("--ruler", ruler)):
            if used:
                raise SpecError("goes with --scan", Place(option))
        if nominal is None or across is None or down is None:
            lacking = next(option for option, given in read.items() if given is None)
            raise SpecError(f"{lacking} is missing; add it, or name a scan of the page with --scan")
        printer = checked_printer(name, (nominal_across or nominal, nominal), (across, down), reading_error)
    path = save_printer(printer_folder(), printer, force)
    tell(f"{name}: {_in_short(printer)}. Stored in {path}.")
    for warning in doubts(printer):
        say(warning, err=True)


@command.command("list", epilog="Example: tiler printer list")
def list_() -> None:
    """List the printers and their errors."""
    found = list(printers(printer_folder()))
    if not found:
        say("No printer is stored yet; tiler printer add stores one.")
    for printer in found:
        if isinstance(printer, Printer):
            tell(f"{printer.name}: {_in_short(printer)}")
        else:
            tell(f"tiler: {printer}", err=True)


@command.command(epilog="Example: tiler printer remove kitchen")
@click.argument("name", shell_complete=printer_names)
def remove(name: str) -> None:
    """Forget the printer NAME."""
    say(f"Removed {remove_printer(printer_folder(), name)}.")


@command.command(
    short_help="Show the readings of the printer NAME, and their effect.",
    epilog="Example: tiler printer show kitchen --for examples/saltmarsh-crew.toml",
)
@click.argument("name", shell_complete=printer_names)
@click.option("--for", "spec", type=options.FILE, metavar="SPEC", help="Judge the pieces of this spec.")
@options.as_json
def show(name: str, spec: Path | None, as_json: bool) -> None:
    """Show the readings of the printer NAME, and what its error would do to the pieces of a spec.

    What follows ± is the doubt of the reading: half a millimetre in 5 cm is 1 %,
    and 1 % of a strip of 50 cm is 5 mm.
    """
    printer = load_printer(printer_folder(), name)
    errors, units = _errors_in(spec, printer) if spec else ([], "cm")
    warnings = list(doubts(printer))
    if as_json:
        tree = _tree(printer)
        if spec:
            tree["pieces"] = [error.to_json() for error in errors]
        say_json(json.dumps({**tree, "warnings": warnings}, indent=2, ensure_ascii=False))
        return
    say(printer.name, bold=True)
    for word, axis in (("across", printer.across), ("down", printer.down)):
        read = f"{both(axis.nominal, 'cm')} reads {axis.measured:.1f} mm, to ± {axis.reading_error:g} mm"
        tell(f"  {word}: {read}: {_share(axis)}")
    for error in errors:
        tell(effect_words(error, units))
    for warning in warnings:
        tell(warning, err=True)


def _errors_in(spec: Path, printer: Printer) -> tuple[list[PieceDeviation], str]:
    """Return the errors of the pieces of a spec, and its unit."""
    job = read_job(spec)
    return errors_of(job, figure_job(job), printer), job.edition.units


def errors_of(job: Job, figures: tuple[Figures, ...], printer: Printer) -> list[PieceDeviation]:
    """Return the errors of the pieces of a job, laid out as they would be drawn."""
    from tiler.usecases.draft import Wishes, draw_job

    return piece_errors(figures, draw_job(job, figures, Wishes()).declaration.pieces, printer)


def effect_words(error: PieceDeviation, units: str) -> str:
    """Say what a printer does to a piece."""
    size = f", size {error.size}" if error.size else ""
    strip = f"the strip of {both(error.strip.length, units)} would come out {_wrong(error.strip)}"
    return f"{error.name}{size}: {strip}, its width {_wrong(error.width)}."


def _wrong(of: LengthDeviation) -> str:
    way = "short" if of.error < 0 else "long"
    digits = 0 if of.doubt >= 1 else 1
    return f"{abs(of.error):.{digits}f} mm ± {of.doubt:.{digits}f} mm {way}"


def _in_short(printer: Printer) -> str:
    return f"across {_share(printer.across)}, down {_share(printer.down)}"


def _share(axis: Axis) -> str:
    return f"{100 * axis.scale:.2f} % ± {100 * axis.doubt:.2f} %"


def _tree(printer: Printer) -> dict[str, object]:
    return {
        "name": printer.name,
        "reading_error_mm": printer.across.reading_error,
        **{
            word: {
                "nominal_mm": axis.nominal,
                "measured_mm": axis.measured,
                "scale": round(axis.scale, 6),
                "uncertainty": round(axis.doubt, 6),
                "decides": axis.decides,
            }
            for word, axis in (("across", printer.across), ("down", printer.down))
        },
    }
