"""The pages of Check a PDF: a file is measured in a process apart, and its verdict told as ``tiler verify`` does."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from flask import Blueprint, Response, make_response, render_template, request

from tiler.browser.kept import Kept
from tiler.browser.said import field_of, said
from tiler.browser.uploads import sent, uploaded
from tiler.errors import SpecError, TilerError
from tiler.lengths import parse_length
from tiler.proof.report.check import Status
from tiler.proof.report.effect import error
from tiler.proof.report.record import Picture
from tiler.proof.report.size_table import named, rows_of
from tiler.proof.report.verdict import Report, Verdict
from tiler.proof.report.wording import remarks, sentence
from tiler.sentence import Place
from tiler.usecases.files.replace import admitted
from tiler.usecases.verify.apart import prove_apart
from tiler.usecases.verify.report import write_report

FIELDS = ("pdf", "expect", "only")
HEADS = ("page", "what", "should be", "across", "down", "")
MOST_NUMBER = 9999

KINDS = {Verdict.TRUE: "true", Verdict.COMPENSATED: "true", Verdict.OFF: "wrong", Verdict.INCOMPLETE: "wrong"}
"""How a verdict looks; any other one is open."""


@dataclass(frozen=True)
class Checked:
    """What was found out about a file: verdict, table, remarks, and the report as a PDF."""

    name: str
    kind: str
    verdict: str
    rows: tuple[tuple[str, ...], ...]
    remarks: tuple[str, ...]
    report: bytes


def check_pages() -> Blueprint:
    """Return the pages, with a memory of their own for the reports."""
    pages, kept = Blueprint("check", __name__), Kept[Checked]()

    @pages.get("/check")
    def check() -> str:
        """Ask for a file."""
        return render_template("check.html", here="/check")

    @pages.post("/check")
    def checked() -> Response:
        """Measure the file that was sent, and tell what it is."""
        try:
            found = _check()
        except TilerError as fault:
            told = said(str(fault))
            page = render_template("check.html", here="/check", fault=told, field=field_of(fault, FIELDS) or "pdf")
            return make_response(page, 400)
        key = kept.put(found)
        return make_response(render_template("check.html", here="/check", found=found, key=key, heads=HEADS))

    @pages.get("/check/<key>/<name>")
    def report(key: str, name: str) -> Response:
        """Send the report to be saved, under whatever name the link has."""
        return sent(kept.get(key).report, name, "application/pdf")

    return pages


def _check() -> Checked:
    expect, only = request.form.get("expect", "").strip(), request.form.get("only", "").strip()
    side = float(parse_length(expect, None, Place("--expect"))) if expect else None
    if only and not (only.isdecimal() and 1 <= int(only[:9]) <= MOST_NUMBER):
        raise SpecError(f"{only[:20]!r} is no number of a square; write for instance 2", Place("--only"))
    expected = (side, f"{side:g} mm" if side else "", int(only) if only else None) if side or only else None
    pictures: list[Picture] = []
    with uploaded("pdf", "file.pdf") as path:
        report = prove_apart(path, None, expected, pictures=pictures)
        page = _report(path, report, pictures)
    return Checked(
        path.name,
        KINDS.get(report.verdict, "open"),
        str(sentence(report)),
        tuple(_rows(report)),
        tuple(map(str, remarks(report))),
        page,
    )


def _report(source: Path, report: Report, pictures: list[Picture]) -> bytes:
    output = admitted(source.with_name(f"report-of-{source.stem}.pdf"), False, (source,), ".pdf")
    write_report(source, report, pictures, output)
    return output.path.read_bytes()


def _rows(report: Report) -> Iterator[tuple[str, ...]]:
    for check, by_axis in rows_of(report.sizes):
        sizes = [
            f"{by_axis[axis].measured_mm or 0:.2f} mm {error(by_axis[axis].ratio or 0)}" if axis in by_axis else "–"
            for axis in ("across", "down")
        ]
        wrong = any(one.status is Status.FAIL for one in by_axis.values())
        open_ = any(one.status is Status.WARN for one in by_axis.values())
        nominal = f"{(check.nominal_mm or 0) / 25.4:.3f} in {check.nominal_mm or 0:.2f} mm"
        yield str(check.page), str(named(check)), nominal, *sizes, "open" if open_ else "wrong" if wrong else "right"
