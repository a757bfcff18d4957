"""The pages of My printer: what the ruler showed, both ways; kept, listed and removed as by ``tiler printer``."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

from flask import Blueprint, Response, make_response, redirect, render_template, request

from tiler.browser.progress.pages import long_work_on
from tiler.browser.said import field_of, said
from tiler.browser.uploads import dpi_by
from tiler.errors import SpecError, TilerError
from tiler.lengths import both, parse_length
from tiler.sentence import Place
from tiler.usecases.printers.print_error import LINES, doubts
from tiler.usecases.printers.profiles import (
    READING_ERROR,
    Axis,
    Printer,
    checked_printer,
    printers,
    profile_path,
    remove_printer,
    save_printer,
)
from tiler.usecases.scan.apart import Seen, prove_scan_apart
from tiler.usecases.scan.profile import printer_of
from tiler.usecases.verify.apart import Limits

FIELDS = ("name", "nominal-across", "across", "nominal-down", "down", "reading-error", "force", "scan", "dpi", "ruler")
USUAL = {
    "nominal-across": f"{LINES['across'] / 10:g} cm",
    "nominal-down": f"{LINES['down'] / 10:g} cm",
    "reading-error": f"{READING_ERROR:g} mm",
}
"""What the form begins with: the longest lines of the first page, read by a ruler."""


class Known(NamedTuple):
    """A printer as it is listed: its name, a row for each axis, and what is to be said of it."""

    name: str
    rows: tuple[tuple[str, str, str, str], ...]
    doubts: tuple[str, ...]


def printer_pages(folder: Path) -> Blueprint:
    """Return the pages about the printers that are kept in a folder."""
    pages = Blueprint("printers", __name__)

    @pages.get("/printers")
    def listed() -> str:
        """List the printers, and ask for another one."""
        return _page(folder, USUAL)

    @pages.post("/printers")
    def add() -> Response:
        """Keep what was read of a printer."""
        try:
            save_printer(folder, _read(), force=bool(request.form.get("force")))
        except TilerError as fault:
            return make_response(_page(folder, request.form, fault), 400)
        return make_response(redirect("/printers", 303))

    @pages.post("/printers/scan")
    def scanned() -> Response:
        """Keep what the scan of a page tells of a printer."""
        name, force = request.form.get("name", "").strip(), bool(request.form.get("force"))
        try:
            # said before the page is measured, which takes its time
            profile_path(folder, name)
            card, ruler = bool(request.form.get("card")), bool(request.form.get("ruler"))
            seen = Seen(dpi_by(request.form.get("dpi", "")), card, ruler=ruler)

            def kept(path: Path) -> str:
                save_printer(folder, printer_of(name, prove_scan_apart(path, seen, Limits())), force=force)
                return "/printers"

            return long_work_on("scan", "scan.png", kept, "/printers")
        except TilerError as fault:
            return make_response(_page(folder, USUAL | {"name": name}, fault, of_scan=True), 400)

    @pages.post("/printers/remove")
    def remove() -> Response:
        """Forget a printer."""
        try:
            remove_printer(folder, request.form.get("name", ""))
        except TilerError as fault:
            return make_response(_page(folder, USUAL, fault), 400)
        return make_response(redirect("/printers", 303))

    return pages


def _read() -> Printer:
    across, down, should_across, should_down, closely = map(
        _length, ("across", "down", "nominal-across", "nominal-down", "reading-error")
    )
    name = request.form.get("name", "").strip()
    return checked_printer(name, (should_across, should_down), (across, down), closely)


def _length(field: str) -> float:
    text = request.form.get(field, "").strip()
    if not text:
        raise SpecError("is missing; write what the ruler showed, for instance 14.9 cm", Place(f"--{field}"))
    return float(parse_length(text, None, Place(f"--{field}")))


def _page(folder: Path, form: dict[str, str], fault: TilerError | None = None, of_scan: bool = False) -> str:
    found = list(printers(folder))
    # of the name it is said in the words of the command's help
    told, field = said(str(fault).replace("NAME: ", "--name: ")) if fault else "", ""
    if fault:
        of_name = str(fault).startswith("NAME: ") or not of_scan
        field = field_of(fault, FIELDS) or ("name" if of_name else "scan")
    return render_template(
        "printers.html",
        here="/printers",
        form=form,
        fault=told,
        field=field,
        of_scan=of_scan,
        known=[_known(one) for one in found if isinstance(one, Printer)],
        damaged=[str(one) for one in found if isinstance(one, TilerError)],
    )


def _known(printer: Printer) -> Known:
    rows = tuple((way, *_row(axis)) for way, axis in (("across", printer.across), ("down", printer.down)))
    return Known(printer.name, rows, tuple(doubts(printer)))


def _row(axis: Axis) -> tuple[str, str, str]:
    read = f"{axis.measured:.1f} mm, to ± {axis.reading_error:g} mm"
    return both(axis.nominal, "cm"), read, f"{100 * axis.scale:.2f} % ± {100 * axis.doubt:.2f} %"
