"""A file that states one thing and draws another: each statement is held against the pages."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from pikepdf import Pdf

from tests.proof.conftest import proved
from tiler.box import Box
from tiler.declaration import Declaration, Mark
from tiler.drawn import Notch, Piece
from tiler.printed import Line, Word
from tiler.proof import Report
from tiler.sheets.document import Document

Restate = Callable[[Declaration], Declaration]


def restated(document: Document, restate: Restate) -> Report:
    """Prove the file with another declaration attached."""
    data = restate(document.declaration).to_bytes()

    def change(pdf: Pdf) -> None:
        pdf.attachments["tiler.json"] = data

    return proved(document, change)


def piece(**changes: Any) -> Restate:
    """Change the first piece."""
    return lambda declared: replace(declared, pieces=(replace(declared.pieces[0], **changes), *declared.pieces[1:]))


def of_piece(how: Callable[[Piece], dict[str, Any]]) -> Restate:
    return lambda declared: piece(**how(declared.pieces[0]))(declared)


def longer(one: Piece) -> dict[str, Any]:
    return {"cut_length_mm": one.cut_length_mm + 0.1}


def wider(one: Piece) -> dict[str, Any]:
    return {"cut_width_mm": one.cut_width_mm - 0.1}


def notch_elsewhere(one: Piece) -> dict[str, Any]:
    first, *others = one.notches
    return {"notches": (Notch(first.name, first.at_mm + 0.1), *others)}


def one_part_less(one: Piece) -> dict[str, Any]:
    return {"parts": one.parts[:-1]}


def elsewhere(one: Piece) -> dict[str, Any]:
    return {"at": (one.at[0] + 0.1, one.at[1])}


def out_of_the_windows(one: Piece) -> dict[str, Any]:
    return {"bounds": replace(one.bounds, x1=one.bounds.x1 + 300)}


def square_label(declared: Declaration) -> Declaration:
    return replace(declared, squares=tuple(replace(square, label="9 cm") for square in declared.squares))


def one_mark_more(declared: Declaration) -> Declaration:
    return replace(declared, marks=(*declared.marks, Mark(("A1", "A2"), (190.0, 100.0))))


def one_square_less(declared: Declaration) -> Declaration:
    return replace(declared, squares=declared.squares[:1])


def one_rule_less(declared: Declaration) -> Declaration:
    return replace(declared, rules=declared.rules[:-1])


def one_page_more(declared: Declaration) -> Declaration:
    last = declared.pages[-1]
    return replace(declared, pages=(*declared.pages, replace(last, number=last.number + 1, code="Z9")))


def another_paper(declared: Declaration) -> Declaration:
    return replace(declared, page_width_mm=declared.page_width_mm + 1)


def window_elsewhere(declared: Declaration) -> Declaration:
    pages = [
        replace(page, window=page.window.moved(3.0, 0.0)) if page.code == "A2" and page.window else page
        for page in declared.pages
    ]
    return replace(declared, pages=tuple(pages))


def frame_elsewhere(declared: Declaration) -> Declaration:
    frame = Box(12.0, 12.0, 180.0, 250.0)
    return replace(declared, pages=tuple(replace(page, frame=frame if page.frame else None) for page in declared.pages))


STATEMENTS: dict[str, tuple[Restate, str]] = {
    "longer": (of_piece(longer), "piece"),
    "wider": (of_piece(wider), "piece"),
    "not on fold": (piece(cut="full-loop"), "piece"),
    "notch elsewhere": (of_piece(notch_elsewhere), "notch"),
    "one part less": (of_piece(one_part_less), "stray"),
    "piece elsewhere": (of_piece(elsewhere), "piece"),
    "piece beyond the windows": (of_piece(out_of_the_windows), "coverage"),
    "square with another label": (square_label, "square-label"),
    "one mark more": (one_mark_more, "register-marks"),
    "one square less": (one_square_less, "square-place"),
    "one rule less": (one_rule_less, "rule-place"),
    "one page more": (one_page_more, "pages"),
    "another paper": (another_paper, "page-size"),
    "window elsewhere": (window_elsewhere, "assembly"),
    "frame elsewhere": (frame_elsewhere, "frame"),
}


@pytest.mark.parametrize(("restate", "check"), STATEMENTS.values(), ids=STATEMENTS.keys())
def test_a_false_statement_is_found(tiles: Document, restate: Restate, check: str) -> None:
    report = restated(tiles, restate)
    assert check in {one.name for one in report.failed}
    assert int(report.exit_code) == 3


def test_a_true_statement_passes(tiles: Document) -> None:
    assert restated(tiles, lambda declared: declared).failed == ()


def of_forms(declared: Declaration) -> Declaration:
    """Declare a polyline without a point in every form."""
    forms = [replace(form, marks=(*form.marks, Line(lines=((),), weight=0.3))) for form in declared.forms]
    return replace(declared, forms=tuple(forms))


def of_pages(declared: Declaration) -> Declaration:
    """Number a page as there is none."""
    return replace(declared, pages=(*declared.pages[:-1], replace(declared.pages[-1], number=999_999)))


def of_parts(declared: Declaration) -> Declaration:
    """Declare a polyline without a point in every part of the first piece."""
    return of_piece(lambda one: {"parts": tuple(replace(part, subpaths=((),)) for part in one.parts)})(declared)


def of_sizes(**changes: Any) -> Restate:
    """Change the first square and the first ruler line."""
    return lambda declared: replace(
        declared,
        squares=(replace(declared.squares[0], **changes), *declared.squares[1:]),
        rules=(replace(declared.rules[0], **changes), *declared.rules[1:]),
    )


def of_words(declared: Declaration) -> Declaration:
    """Declare a word of signs that no font has."""
    first = (*declared.printed[0], Word("\x00\x1b", (20.0, 20.0), 9.0))
    return replace(declared, printed=(first, *declared.printed[1:]))


ODD = {
    "a line without a point": of_forms,
    "a part without a point": of_parts,
    "a page that is not there": of_pages,
    "a size of nothing": of_sizes(nominal_mm=0.0),
    "a size of next to nothing": of_sizes(nominal_mm=0.0001),
    "a size without a label": of_sizes(label=" "),
    "a word that cannot be set": of_words,
}


@pytest.mark.parametrize("restate", ODD.values(), ids=ODD)
def test_what_no_file_of_ours_declares_is_no_fault_of_the_proof(band_tiles: Document, restate: Restate) -> None:
    assert restated(band_tiles, restate).pages == restated(band_tiles, lambda declared: declared).pages
