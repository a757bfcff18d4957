"""Files for one printer: the page as that printer's paper shows it, and whether every page names the printer; mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from tiler.box import Box, Point
from tiler.declaration import ONLY_FOR, Declaration
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says
from tiler.proof.seen.page import PageSeen
from tiler.reading.pdf.document import PageRead


def undone(page: PageRead, across: float, down: float) -> PageRead:
    """Return a page with all positions divided by the factors that it is drawn larger by; boxes stay as they are."""

    def point(at: Point) -> Point:
        return (at[0] / across, at[1] / down)

    strokes = tuple(
        replace(
            stroke,
            points=tuple(point(at) for at in stroke.points),
            curves=tuple((index, tuple(point(at) for at in controls)) for index, controls in stroke.curves),
        )
        for stroke in page.strokes
    )
    texts = tuple(
        replace(text, box=Box(*point((text.box.x0, text.box.y0)), *point((text.box.x1, text.box.y1))))
        for text in page.texts
    )
    return replace(page, strokes=strokes, texts=texts)


def said_printer(page: PageRead) -> str:
    """Return what the page says from the words on that begin the line for one printer; empty without them."""
    words = " ".join(text.text for text in page.texts)
    start = words.find(ONLY_FOR)
    return words[start : start + 2 * len(ONLY_FOR) + 60] if start >= 0 else ""


def compare_printer(printer: str, declaration: Declaration, seen: Sequence[PageSeen]) -> Iterator[Check]:
    """Check that every page of ours names the printer that it is drawn for."""
    silent = [page for page in seen if page.tagged and not page.only_for.startswith(f"{ONLY_FOR} {printer}")]
    for page in silent:
        yield Check(CheckName.PRINTER, Status.FAIL, Says.PRINTER_UNNAMED, page.number, label=printer)
    if not silent:
        factors = {"across": 100 * declaration.factor_across, "down": 100 * declaration.factor_down}
        yield Check(CheckName.PRINTER, Status.PASS, Says.PRINTER_NAMED, label=printer, numbers=factors)
