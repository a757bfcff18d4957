"""Scans of printed pages: factors within a tenth of a percent, and no verdict on what cannot be told."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from tests.chosen import long
from tests.proof.scanned import Scanned, as_source, scanned, with_card
from tests.reading.files import labelled_square, pdf
from tiler.errors import NothingToMeasureError
from tiler.proof.foreign.any_pdf import Expected
from tiler.proof.report.verdict import Report
from tiler.proof.report.wording import lines, sentence
from tiler.proof.scan.card import card_on
from tiler.proof.scan.pixels.picture import Picture
from tiler.proof.scan.proving import prove_scan
from tiler.proof.scan.source import Source
from tiler.sheets.document import Document

UPPER = (0.1, 0.16, 0.92, 0.47)
"""The part of a first page with its squares and the ruler line across; that down the page is cut off."""

WORN = Scanned(dpi=150, turn=2.1, noise=6, blur=0.8, paper=225, ink=50, slope=0.2, dust=150, jpeg=60, part=UPPER)


def proved(document: Document, how: Scanned) -> Report:
    return prove_scan(as_source(scanned(document.data, how), how.dpi), "page.png")


@pytest.mark.parametrize(
    ("how", "tolerance"),
    [
        (replace(WORN, dpi=200), 0.001),
        (replace(WORN, dpi=150, turn=-3, across=0.97, down=0.97, dust=0), 0.002),
        (replace(WORN, down=0.985, shadow=0.35), 0.001),
        (replace(WORN, turn=181.5, across=1.008, dust=0, part=(0.08, 0.53, 0.9, 0.85)), 0.001),
    ],
)
def test_both_factors_are_measured_and_decide(letter: Document, how: Scanned, tolerance: float) -> None:
    """The factors are those that the page was laid with: an affine map, applied by PDFium."""
    report = proved(letter, how)
    assert report.scale == pytest.approx(how.truth, rel=tolerance)
    assert report.verdict == ("true-to-scale" if how.truth == (1, 1) else "off-scale")
    named = {check.label for check in report.sizes}
    assert {"2 in", "5 cm", "6 in", "15 cm"} <= named


@long
def test_a_whole_page_is_measured_by_its_long_lines_too(letter: Document) -> None:
    report = proved(letter, Scanned(dpi=150, turn=0.7))
    assert [check.label for check in report.sizes if check.axis == "down"] == ["2 in", "5 cm", "8 in", "20 cm"]
    assert sentence(report) == (
        "True to scale: 2 test squares and 4 ruler lines right across and down in the picture of the print."
    )
    assert any("error of the scanner itself is not known" in line for line in lines(report, 100))


def test_what_the_scanner_may_have_done_itself_is_not_decided(letter: Document) -> None:
    report = proved(letter, Scanned(dpi=150, down=0.9964, turn=0.5, part=UPPER))
    assert (report.verdict, report.exit_code) == ("undecided", 3)
    assert sentence(report).startswith("Not decided: a length of 100 mm measures 99.64 mm down, and so near")


@long
def test_a_mirror_image_and_a_turned_page_are_named(letter: Document) -> None:
    report = proved(letter, Scanned(dpi=150, turn=180, mirrored=True, part=(0.0, 0.5, 1.0, 0.83)))
    assert report.verdict == "incomplete"
    assert "as in a mirror" in report.first_failure()
    turned = proved(letter, Scanned(dpi=150, turn=90, down=0.98, part=(0.18, 0.1, 0.82, 0.92)))
    assert turned.scale == pytest.approx((1, 0.98), rel=0.001)
    assert "the page lies turned by 90 degrees in the picture" in [check.detail for check in turned.warned]


@long
def test_a_page_that_is_not_alike_everywhere_is_not_decided(letter: Document) -> None:
    """The lower part is stretched by 1 %, as a page that slips in the feed of a scanner is."""
    grey = scanned(letter.data, Scanned(dpi=150, part=(0.0, 0.0, 1.0, 0.9)))
    cut = len(grey) * 2 // 5
    rows = np.concatenate([np.arange(cut), cut + np.arange(0, len(grey) - cut - 1, 1 / 1.01).astype(int)])
    report = prove_scan(as_source(grey[rows], 150), "page.png")
    assert report.verdict == "undecided"
    assert "does not agree with the others" in sentence(report)


@long
def test_one_square_of_others_is_measured_by_what_is_expected() -> None:
    how = Scanned(dpi=150, turn=1.2, across=0.97, noise=5, part=(0.55, 0.0, 1.0, 0.4))
    source = as_source(scanned(pdf(labelled_square(144.0, "2 in")), how), how.dpi)
    report = prove_scan(source, "page.png", Expected(50.8, "2 in"))
    assert report.scale == pytest.approx((0.97, 1.0), rel=0.002)
    assert report.verdict == "off-scale"
    with pytest.raises(NothingToMeasureError, match="no square of about 10 cm is found"):
        prove_scan(source, "page.png", Expected(100, "10 cm"))


FULL = Scanned(dpi=150, part=UPPER)
REFUSED = {
    "resolution": (FULL, 300.0, "at 300 dots per inch the 2 in square would be 25.4 mm wide"),
    "coarse": (FULL, 60.0, "60 dots per inch are too coarse"),
    "cropped": (
        replace(FULL, part=(0.1, 0.18, 0.3, 0.45)),
        150.0,
        "the two test squares of a first page are not found",
    ),
    "blurred": (replace(FULL, blur=6), 150.0, "scan that page flat and whole|is blurred"),
    "black": (replace(FULL, paper=20, ink=20), 150.0, "the two test squares of a first page are not found"),
}


@pytest.mark.parametrize("name", REFUSED)
def test_what_cannot_be_measured_is_refused_with_what_to_do(letter: Document, name: str) -> None:
    how, stated, sentence_ = REFUSED[name]
    with pytest.raises(NothingToMeasureError, match=sentence_) as fault:
        prove_scan(as_source(scanned(letter.data, how), stated), "page.png")
    assert str(fault.value).startswith("page.png: ")


def test_without_a_resolution_it_is_asked_for() -> None:
    with pytest.raises(NothingToMeasureError, match="say it with --dpi"):
        prove_scan(Source(Picture(np.full((400, 400), 255, np.uint8), None)), "page.png")


CARD = Scanned(
    dpi=200,
    turn=0.8,
    noise=4,
    blur=0.8,
    part=(0.0, 0.16, 0.92, 0.92),
    scanner=(1.004, 0.996),
    card=(110.0, 173.0, 1.5, 70),
)


@long
def test_a_card_on_the_glass_takes_the_error_of_the_scanner_out(letter: Document) -> None:
    """The card is drawn by the sizes of ISO/IEC 7810 ID-1, with a shadow, and scanned with the page."""
    source = as_source(scanned(letter.data, CARD), CARD.dpi)
    report = prove_scan(source, "page.png", by_card=True)
    assert report.verdict == "true-to-scale"
    assert report.scale == pytest.approx((1, 1), rel=0.001)
    told = next(check.detail for check in report.checks if check.name == "scanner")
    assert "the picture is off by +0.4" in told
    assert "and -0.3" in told
    assert prove_scan(source, "page.png").verdict == "undecided"


@long
@pytest.mark.parametrize("shade", [(0.2, 3.0, 0.4), (0.35, 1.5, 1.5), (0.6, 3.0, 0.4), (0.6, 3.0, 1.5)])
def test_a_card_is_found_in_a_soft_shadow(shade: tuple[float, float, float]) -> None:
    """A shadow of 20 to 60 %, some millimetres soft and aside; the scanner is off by 0.4 % and -0.3 % itself."""
    dots = 200 / 25.4
    true = (1.004, 0.997)
    clean = np.full((620, 860), 240, np.uint8)
    lain = with_card(clean, (54.0, 40.0, 1.5, 50), (dots * true[0], dots * true[1]), shade)
    chance = np.random.default_rng(1)
    grey = np.clip(lain + chance.normal(0, 3, lain.shape), 0, 255).astype(np.uint8)
    card = card_on(grey, np.array([dots, dots]))
    assert card is not None
    assert (card.across, card.down) == pytest.approx(true, abs=0.0005)


@long
def test_a_shadow_as_dark_as_the_card_is_no_card() -> None:
    """Its sharp edge lies 1.5 mm beside that of the card."""
    dots = 200 / 25.4
    lain = with_card(np.full((620, 860), 240, np.uint8), (54.0, 40.0, 1.5, 90), (dots, dots), (0.62, 0.5, 1.5))
    assert card_on(lain, np.array([dots, dots])) is None


def test_without_a_card_there_is_nothing_to_go_by(letter: Document) -> None:
    source = as_source(scanned(letter.data, replace(FULL, part=(0.1, 0.18, 0.7, 0.45))), 150)
    with pytest.raises(NothingToMeasureError, match="no bank card with sharp edges"):
        prove_scan(source, "page.png", by_card=True)
