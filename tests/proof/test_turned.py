"""Pages that are turned: by what viewers are asked for (ISO 32000-1, 7.7.3.3), by what is drawn, or by both."""

from __future__ import annotations

from io import BytesIO

import pikepdf
import pymupdf
import pytest
from pikepdf import Array, Pdf
from pypdf import PdfReader, PdfWriter

from tests.chosen import long
from tests.proof import faults as f
from tests.proof.conftest import proved
from tiler.proof import prove
from tiler.sheets.document import Document

A1, A2 = 2, 3


def flattened(quarters: int, *, and_back: bool = False) -> f.Change:
    """Turn all that is drawn counterclockwise, and the page with it; ``and_back`` lets viewers turn it back."""

    def change(pdf: Pdf) -> None:
        for number, page in enumerate(pdf.pages, 1):
            wide, high = float(page.MediaBox[2]), float(page.MediaBox[3])
            matrix = {
                1: (0, 1, -1, 0, high, 0),
                2: (-1, 0, 0, -1, wide, high),
                3: (0, -1, 1, 0, 0, wide),
            }[quarters]
            f.write(pdf, number, f.wrapped(f.read(page), matrix))
            if quarters % 2:
                page.MediaBox = Array([0, 0, high, wide])
            if and_back:
                page.Rotate = 90 * quarters

    return change


TURNED = {
    **{f"asked for {degrees}": (f.with_entry("/Rotate", degrees), degrees) for degrees in (90, 180, 270, -90)},
    **{f"drawn {90 * quarters}": (flattened(quarters), 360 - 90 * quarters) for quarters in (1, 2, 3)},
}


@pytest.mark.parametrize(("change", "degrees"), TURNED.values(), ids=TURNED.keys())
def test_a_turned_page_is_true_and_warned_of(one_band: Document, change: f.Change, degrees: int) -> None:
    """This test ensures that lengths decide and that it is said how the page lies."""
    report = proved(one_band, change)
    assert report.failed == ()
    assert report.verdict == "true-to-scale"
    assert {check.detail for check in report.warned} == {f"the page is turned by {degrees % 360} degrees"}
    assert [check.page for check in report.warned] == [1, 2, 3]


@pytest.mark.parametrize("quarters", [1, 2, 3])
def test_what_is_drawn_turned_and_shown_upright_is_upright(one_band: Document, quarters: int) -> None:
    report = proved(one_band, flattened(quarters, and_back=True))
    assert (report.failed, report.warned) == ((), ())


def test_one_turned_page_among_others_is_named(letter: Document) -> None:
    report = proved(letter, f.with_entry("/Rotate", 90, [A2]))
    assert report.verdict == "true-to-scale"
    assert [(check.name, check.page) for check in report.warned] == [("rotation", A2)]


@long
@pytest.mark.parametrize("turn", [f.with_entry("/Rotate", 90), flattened(1)], ids=["asked for", "drawn"])
def test_faults_are_found_on_turned_pages_as_well(one_band: Document, turn: f.Change) -> None:
    """This test ensures that a turned page is held against the same declaration, line by line and in all its ink."""
    off = proved(one_band, f.both(f.whole_pages(f.scaled(0.996, 1.0)), turn))
    assert off.verdict == "off-scale"
    assert {check.axis for check in off.failed if check.name == "square"} == {"across"}
    added = proved(one_band, f.both(f.over(A1, (196, 230, 6, 1), 0.0), turn))
    assert {(check.name, check.page) for check in added.failed} == {("ink", A1)}
    covered = proved(one_band, f.both(f.over(1, (30, 190, 30, 30)), turn))
    assert {(check.name, check.page) for check in covered.failed} == {("ink", 1)}
    cropped = proved(one_band, f.both(turn, f.with_box("/CropBox", lambda box: [5, 5, *box[2:]])))
    assert "boxes" in {check.name for check in cropped.failed}


def by_pymupdf(data: bytes) -> bytes:
    with pymupdf.open(stream=data) as pdf:
        for page in pdf:
            page.set_rotation(90)
        return bytes(pdf.tobytes())


def by_pypdf(data: bytes) -> bytes:
    """Turn every page, and draw it turned instead of asking for it."""
    writer = PdfWriter(clone_from=PdfReader(BytesIO(data)))
    for page in writer.pages:
        page.rotate(90)
        page.transfer_rotation_to_content()
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


@pytest.mark.parametrize("turn", [by_pymupdf, by_pypdf])
def test_pages_that_common_programs_turn_are_true(one_band: Document, turn: object) -> None:
    report = prove(turn(one_band.data))  # type: ignore[operator]
    assert report.failed == ()
    assert {check.name for check in report.warned} == {"rotation"}


def test_a_page_of_somebody_else_put_behind_ours_warns(one_band: Document) -> None:
    out = BytesIO()
    with pikepdf.open(BytesIO(one_band.data)) as pdf, pikepdf.new() as other:
        other.add_blank_page(page_size=(400, 300))
        pdf.pages.append(other.pages[0])
        pdf.save(out)
    report = prove(out.getvalue())
    assert report.verdict == "true-to-scale"
    assert {check.name for check in report.warned} == {"pages"}
