"""Files of ours that another program printed again: tags and declaration are gone, the squares decide."""

from __future__ import annotations

import pymupdf
import pytest

from tests.chosen import long
from tiler.proof import prove
from tiler.sheets.document import Document


@long
def test_a_reprint_at_true_size_passes_by_its_squares(letter: Document) -> None:
    with pymupdf.open(stream=letter.data) as pdf:
        report = prove(pdf.convert_to_pdf())
    assert report.verdict == "true-to-scale"
    assert [check.name for check in report.warned] == ["assembly"]
    assert {check.nominal_mm for check in report.sizes if check.name == "square"} == {50.8, 50.0}
    # the ruler lines across say their length; that down the first page has it too far away
    assert {check.nominal_mm for check in report.sizes if check.name == "rule"} == {152.4, 150.0, 50.8, 50.0}


def test_a_reprint_fitted_to_a4_is_off_scale(letter: Document) -> None:
    """This test ensures that letter pages fitted to A4 without margins come out at 2100/2159 (210 mm over 8.5 in)."""
    out = pymupdf.open()
    with pymupdf.open(stream=letter.data) as pdf:
        for source in pdf:
            page = out.new_page(width=595.27559, height=841.88976)
            page.show_pdf_page(page.rect, pdf, source.number)
        report = prove(out.tobytes())
    assert report.verdict == "off-scale"
    assert report.scale == pytest.approx((2100 / 2159, 2100 / 2159), abs=1e-4)
