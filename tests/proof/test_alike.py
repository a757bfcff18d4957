"""Pages that a file has in common with one that was measured: noted again only where nothing at all has changed."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

import pytest
from pikepdf import Array, Dictionary, Name, Pdf

from tests.catalog import bases
from tiler.proof import Report, prove
from tiler.proof.alike import Alike
from tiler.reading.pdf.document import Document


def bare(pdf: Pdf) -> None:
    """Take off the links that are stuck on every page."""
    for page in pdf.pages:
        del page.Annots


@cache
def base() -> bytes:
    return bases.edited(bases.plain(), bare)


@cache
def measured() -> Alike:
    alike = Alike()
    prove(base(), alike=alike)
    return alike


def read_anew(data: bytes) -> list[int]:
    """Return the pages of a file that have to be read."""
    with Document(data) as document:
        return [number for number, page in measured().pages(document) if not hasattr(page, "named")]


def with_square(pdf: Pdf) -> None:
    """Draw a square that says 2 in and measures 1.9 on the third page."""
    side = 1.9 * 72
    square = f"q 1 w 100 100 {side} {side} re S Q BT /F1 9 Tf 110 120 Td (2 in) Tj ET".encode()
    page = pdf.pages[2]
    page.Contents = Array([page.Contents, pdf.make_stream(square)])
    page.Resources = pdf.pages[0].Resources


def with_note(pdf: Pdf) -> None:
    pdf.pages[2].Annots = pdf.make_indirect(
        Array([Dictionary(Type=Name.Annot, Subtype=Name.Square, Rect=[9, 9, 99, 99])])
    )


def turned(pdf: Pdf) -> None:
    pdf.pages[2].Rotate = 90


def larger(pdf: Pdf) -> None:
    pdf.pages[2].UserUnit = 2


def cropped(pdf: Pdf) -> None:
    pdf.pages[2].CropBox = [0, 0, 400, 400]


def in_form(pdf: Pdf) -> None:
    """Have the page draw a form as well."""
    form = pdf.make_stream(b"0 0 50 50 re S", {"/Type": Name.XObject, "/Subtype": Name.Form, "/BBox": [0, 0, 99, 99]})
    pdf.pages[2].Resources = Dictionary(XObject=Dictionary(Fx=form))


def test_only_a_page_with_something_to_measure_is_read_twice() -> None:
    assert read_anew(base()) == [1]


@pytest.mark.parametrize("change", [with_square, with_note, turned, larger, cropped, in_form])
def test_a_page_on_which_anything_changed_is_read_anew(change: Callable[[Pdf], None]) -> None:
    assert read_anew(bases.edited(base(), change)) == [1, 3]


def test_a_wrong_square_on_a_page_that_had_none_is_found() -> None:
    data = bases.edited(base(), with_square)
    known, alone = prove(data, alike=measured()), prove(data)
    assert known == alone
    assert known.verdict == "off-scale"
    assert {check.page for check in known.failed} == {3}


def test_a_page_with_what_is_stuck_on_it_is_read_every_time() -> None:
    assert read_anew(bases.plain()) == [1, 2, 3, 4, 5, 6]


@pytest.mark.parametrize("change", [bases.labelled, bases.furnished, bases.all_layers_off, bases.inherited])
def test_the_report_is_the_same_whatever_is_known(change: Callable[[Pdf], None]) -> None:
    def report(alike: Alike | None) -> Report:
        return prove(bases.edited(base(), bases.layered, change), alike=alike)

    assert report(measured()) == report(None)
