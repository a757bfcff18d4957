"""Labels of squares read in pictures: what is quite clear and fits the square, and nothing else."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.chosen import long
from tests.proof.scanned import Scanned, as_source, scanned
from tests.reading.files import labelled_square, pdf
from tiler.errors import NothingToMeasureError
from tiler.proof.report.verdict import Report
from tiler.proof.scan.proving import prove_scan
from tiler.sheets.document import Document

AROUND = Scanned(dpi=150, turn=1.2, noise=4, blur=0.3, paper=235, ink=30, part=(0.6, 0.02, 1.0, 0.32))
"""The square of 2 in stands here."""


def proved(label: str, side: float = 144.0, how: Scanned = AROUND) -> Report:
    drawn = labelled_square(side, label, at=(410.0, 590.0))
    return prove_scan(as_source(scanned(pdf(drawn), how), how.dpi), "page.png")


@long
@pytest.mark.parametrize(
    ("label", "side", "words", "nominal"),
    [
        ("2 in", 144.0, "2 in", 50.8),
        ("2 inch", 144.0, "2 inch", 50.8),
        ('2"', 144.0, '2"', 50.8),
        ("5 cm", 141.732, "5 cm", 50.0),
        ("50mm", 141.732, "50mm", 50.0),
        ("1 in", 72.0, "1 in", 25.4),
        ("2 in x 2 in", 144.0, "2 in x 2 in", 50.8),
        ("test square 5 cm", 141.732, "5 cm", 50.0),
    ],
)
def test_a_clear_label_says_what_its_square_should_measure(label: str, side: float, words: str, nominal: float) -> None:
    """Helvetica as PDFium draws it, at 12 points: common practice."""
    report = proved(label, side)
    assert {(one.label, one.nominal_mm) for one in report.sizes} == {(f"{words} as read", nominal)}
    assert report.scale == pytest.approx((1, 1), rel=0.002)


def test_a_square_is_off_by_what_is_read() -> None:
    report = proved("2 in", how=replace(AROUND, down=0.97))
    assert (report.verdict, report.scale) == ("off-scale", pytest.approx((1, 0.97), rel=0.002))


@long
@pytest.mark.parametrize(("quarters", "part"), [(1, (0.88, 0.464, 1.28, 0.764)), (2, (0.0, 0.68, 0.4, 0.98))])
def test_a_label_is_read_whichever_way_it_lies(quarters: int, part: tuple[float, float, float, float]) -> None:
    how = replace(AROUND, turn=90 * quarters + 0.8, down=0.97, part=part)
    report = proved("2 in", how=how)
    assert report.scale == pytest.approx((1, 0.97), rel=0.002)
    assert f"turned by {90 * quarters} degrees" in " ".join(check.detail for check in report.warned)


@long
@pytest.mark.parametrize(
    ("label", "side"),
    [
        # two sizes leave open which is meant
        ("2 in / 5 cm", 144.0),
        # what fits no side within 6 % is another size, or the resolution is another one
        ("2 in", 160.0),
        ("5 cm", 160.0),
        # no unit, or more than a size
        ("2", 144.0),
        ("size 10", 144.0),
        ("cut 2", 144.0),
        ("cut 2 in pairs", 144.0),
        ("1/2 in seam", 144.0),
        ("2 x 5 cm", 141.732),
    ],
)
def test_what_may_be_meant_otherwise_is_not_read(label: str, side: float) -> None:
    with pytest.raises(NothingToMeasureError, match="no clear label is read in the picture: say with --expect"):
        proved(label, side)


def test_what_is_too_blurred_to_be_clear_is_not_read() -> None:
    with pytest.raises(NothingToMeasureError, match=r"say with --expect|is blurred"):
        proved("5 cm", 141.732, replace(AROUND, blur=2.6))


@long
def test_a_test_square_that_stands_alone_is_read(letter: Document) -> None:
    """The first page is cropped to its square of 2 in, whose label is "2 in × 2 in"."""
    how = Scanned(dpi=150, across=0.97, down=0.97, turn=0.5, part=(0.1, 0.18, 0.42, 0.45))
    report = prove_scan(as_source(scanned(letter.data, how), 150), "page.png")
    assert {one.label for one in report.sizes} == {"2 in x 2 in as read"}
    assert report.scale == pytest.approx((0.97, 0.97), rel=0.002)
