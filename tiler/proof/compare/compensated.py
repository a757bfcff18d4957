"""Files for one printer: the page as that printer's paper shows it, and whether every page names the printer; mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from tiler.box import Box, Point
from tiler.declaration import Declaration
from tiler.languages.proved import ONLY_FOR
from tiler.languages.words import say
from tiler.printed import Word
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says
from tiler.proof.seen.page import PageSeen
from tiler.reading.pdf.document import PageRead

POINT = 25.4 / 72

LEAST = 7 * POINT
"""The least size of type of the house, mm."""

SLIGHTLY = 0.98
"""Type that is drawn smaller for a printer has its size only on that printer's paper; a declared size is rounded."""


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


def names_printer(lines: Sequence[tuple[str, float]], printer: str) -> bool:
    """Tell whether lines of words name the printer, as a person reads them; they come with the size of their type, mm.

    The sentence may be broken over lines, and ends with one or at a dot between two facts.
    """
    wanted = say(ONLY_FOR, printer=printer)
    for start in range(len(lines)):
        said, least = "", LEAST
        for text, size in lines[start:]:
            said, least = f"{said} {text}".strip(), min(least, size)
            if said == wanted or said.startswith(f"{wanted} · "):
                if least >= LEAST * SLIGHTLY:
                    return True
                break
            if not wanted.startswith(said):
                break
    return False


def compare_printer(printer: str, declaration: Declaration, seen: Sequence[PageSeen]) -> Iterator[Check]:
    """Check that every page of ours names the printer that it is drawn for, and is declared to print that."""
    silent = [page.number for page in seen if page.tagged and not page.only_for]
    printed = (
        [(mark.text, mark.size * POINT) for mark in marks if isinstance(mark, Word)] for marks in declaration.printed
    )
    unsaid = [number for number, lines in enumerate(printed, 1) if not names_printer(lines, printer)]
    for number in silent:
        yield Check(CheckName.PRINTER, Status.FAIL, Says.PRINTER_UNNAMED, number, label=printer)
    for number in [] if silent else unsaid:
        yield Check(CheckName.PRINTER, Status.FAIL, Says.PRINTER_UNPRINTED, label=printer, numbers={"count": number})
    if not silent and not unsaid:
        factors = {"across": 100 * declaration.factor_across, "down": 100 * declaration.factor_down}
        yield Check(CheckName.PRINTER, Status.PASS, Says.PRINTER_NAMED, label=printer, numbers=factors)
