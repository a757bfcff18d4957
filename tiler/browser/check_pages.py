"""The pages of Check a PDF: a file is sent, and what was measured in it is shown."""

from __future__ import annotations

from pathlib import Path

from flask import Blueprint, Response, make_response, render_template, request

from tiler.browser.kept import Kept
from tiler.browser.progress.pages import long_work_on
from tiler.browser.progress.work import current
from tiler.browser.proved import Checked, Expected, check_file
from tiler.browser.said import field_of, said
from tiler.browser.uploads import dpi_by, safe_name, sent
from tiler.commands.verify import refuse_mixed, refuse_picture
from tiler.errors import SpecError, TilerError
from tiler.lengths import parse_length
from tiler.sentence import Place
from tiler.usecases.scan.apart import Seen

FIELDS = ("pdf", "shows", "expect", "only", "dpi", "card", "ruler", "scan", "photo")
HEADS = ("page", "what", "should be", "across", "down", "")
SCAN, PHOTO = "scan", "photo"
SHOWS = {"": "The PDF itself", SCAN: "A scan of a printed page", PHOTO: "A photo of page 1 with a bank card on it"}
"""What a file may show."""

MOST_NUMBER = 9999


def check_pages() -> Blueprint:
    """Return the pages, with a memory of their own for what was found out."""
    pages, kept = Blueprint("check", __name__), Kept[Checked]()

    @pages.get("/check")
    def check() -> str:
        """Ask for a file."""
        return _asked()

    @pages.post("/check")
    def checked() -> Response:
        """Measure the file that was sent, and lead to what it is."""
        try:
            seen, expected = seen_by(request.form.get("shows", "")), _expected()

            def found(path: Path) -> str:
                return f"/check/{kept.put(check_file(path, expected, seen, current('Measuring')))}"

            def refuse(path: Path) -> None:
                if seen is None:
                    refuse_picture(path)

            return long_work_on("pdf", "file.pdf", found, "/check", refuse)
        except TilerError as fault:
            return make_response(_asked(fault), 400)

    @pages.get("/check/<key>")
    def told(key: str) -> str:
        """Show what was found out about a file."""
        return _asked(found=kept.get(key), key=key)

    @pages.get("/check/<key>/<name>")
    def report(key: str, name: str) -> Response:
        """Send the report to be saved, under whatever name the link has."""
        return sent(kept.get(key).report, safe_name(name, "report.pdf"), "application/pdf")

    return pages


def seen_by(shows: str) -> Seen | None:
    """Return how a printed page was taken by what the form says; None for a file itself."""
    card, ruler = bool(request.form.get("card")), bool(request.form.get("ruler"))
    dpi = dpi_by(request.form.get("dpi", ""))
    squares = {f"--{name}": bool(request.form.get(name, "").strip()) for name in ("expect", "only")}
    of_scans = {"--dpi": bool(dpi), "--card": card, "--ruler": ruler}
    refuse_mixed(shows == SCAN, shows == PHOTO, of_scans, squares)
    return Seen(dpi, card, shows == PHOTO, ruler=ruler) if shows in (SCAN, PHOTO) else None


def _expected() -> Expected:
    expect, only = request.form.get("expect", "").strip(), request.form.get("only", "").strip()
    side = float(parse_length(expect, None, Place("--expect"))) if expect else None
    if only and not (only.isdecimal() and 1 <= int(only[:9]) <= MOST_NUMBER):
        raise SpecError(f"{only[:20]!r} is no number of a square; write for instance 2", Place("--only"))
    return (side, f"{side:g} mm" if side else "", int(only) if only else None) if side or only else None


def _asked(fault: TilerError | None = None, found: Checked | None = None, key: str = "") -> str:
    field = (field_of(fault, FIELDS) or "pdf") if fault else ""
    return render_template(
        "check.html",
        here="/check",
        fault=said(str(fault)) if fault else "",
        field="shows" if field in (SCAN, PHOTO) else field,
        form=request.form,
        shows=SHOWS,
        found=found,
        key=key,
        heads=HEADS,
    )
