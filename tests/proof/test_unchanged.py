"""The checksums of pages: kept by every save that changes nothing drawn, lost by any change of what is drawn.

SHA-256 is that of FIPS 180-4, here the standard library's own.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest
from pikepdf import Array, Pdf

from tests.catalog import bases
from tests.chosen import long
from tests.proof import faults as f
from tests.proof.conftest import changed
from tests.proof.test_faults import HARMLESS
from tiler.proof import Report, prove
from tiler.proof.report.wording import lines
from tiler.reading.pdf.document import Document as Reading
from tiler.sheets.document import Document

WRITTEN_ANEW = {"normalised", "MuPDF cleaned"}
"""Saves that write the content of pages in other words."""


def said(report: Report) -> str:
    return next(check.detail for check in report.checks if check.name == "unchanged")


def kept(document: Document, data: bytes) -> bool:
    """Tell whether the pages of a file have the checksums that are declared, without measuring them."""
    with Reading(data) as read:
        return (
            tuple(read.checksum(number) for number in range(1, read.page_count + 1)) == document.declaration.checksums
        )


@pytest.mark.parametrize(("name", "save"), HARMLESS.items(), ids=HARMLESS.keys())
def test_a_save_keeps_what_is_drawn_or_writes_it_anew(
    band_tiles: Document, name: str, save: Callable[[bytes], bytes]
) -> None:
    assert kept(band_tiles, save(band_tiles.data)) is (name not in WRITTEN_ANEW)


@pytest.mark.parametrize(("name", "since"), [("linearised", "unchanged"), ("MuPDF cleaned", "changed")])
def test_the_report_says_it_below_its_table(band_tiles: Document, name: str, since: str) -> None:
    report = prove(HARMLESS[name](band_tiles.data))
    assert report.verdict == "true-to-scale"
    assert any(line.startswith(f"What is drawn is {since} since it was drafted") for line in lines(report, 100))


@long
def test_our_pages_in_a_base_are_unchanged(band_tiles: Document) -> None:
    assert said(prove(bases.joined(bases.full(), band_tiles, 2))) == "unchanged since it was drafted"


def another_content(pdf: Pdf) -> None:
    """The same drawing, with a word more."""
    f.write(pdf, 2, [*f.read(pdf.pages[1]), f.code("n")])


def fonts(pdf: Pdf) -> list[object]:
    return list(pdf.pages[0].Resources.Font.values())


def another_program(pdf: Pdf) -> None:
    file = fonts(pdf)[0].FontDescriptor.FontFile2  # type: ignore[attr-defined]
    file.write(file.read_bytes() + b"\0\0\0\1")


def another_meaning(pdf: Pdf) -> None:
    meaning = fonts(pdf)[0].ToUnicode  # type: ignore[attr-defined]
    meaning.write(meaning.read_bytes() + b"% and more")


def other_widths(pdf: Pdf) -> None:
    fonts(pdf)[0].Widths[3] = 1  # type: ignore[attr-defined]


def another_form(pdf: Pdf) -> None:
    form = next(iter(pdf.pages[1].Resources.XObject.values()))
    form.write(form.read_bytes() + b"\nn")


def larger_form(pdf: Pdf) -> None:
    form = next(iter(pdf.pages[1].Resources.XObject.values()))
    form.BBox = Array([float(side) + (0.01 if side > 0 else 0) for side in form.BBox])


def another_state(pdf: Pdf) -> None:
    f.own_resources(pdf, 2).ExtGState["/More"] = f.Dictionary(LW=1)


CHANGES = [another_content, another_program, another_meaning, other_widths, another_form, larger_form, another_state]


@pytest.mark.parametrize("change", CHANGES)
def test_any_other_content_form_font_or_state_is_said(band_tiles: Document, change: f.Change) -> None:
    """This test ensures that each of them alone is seen, also where the print stays the same."""
    assert not kept(band_tiles, changed(band_tiles, change))


def test_a_page_taken_out_is_a_change(band_tiles: Document) -> None:
    assert said(prove(changed(band_tiles, f.lost_page(2)))).startswith("changed")


def test_a_false_checksum_changes_no_verdict(band_tiles: Document) -> None:
    """This test ensures that measuring decides: a wrong checksum spoils nothing, and a right one excuses nothing."""
    first = band_tiles.declaration.checksums[0].encode()

    def change(pdf: Pdf) -> None:
        pdf.attachments["tiler.json"] = band_tiles.declaration.to_bytes().replace(first, b"0" * 64)

    report = prove(changed(band_tiles, change))
    assert (report.verdict, report.failed, report.warned) == ("true-to-scale", (), ())
    assert said(report).startswith("changed")
    turned = prove(changed(band_tiles, f.with_entry("/UserUnit", 2)))
    assert (turned.verdict, said(turned)) == ("off-scale", "unchanged since it was drafted")
