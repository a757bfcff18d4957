"""Why a file is off: the fit-to-page factors, computed from the papers' standard sizes.

Paper sizes: ISO 216:2007 (A4 210 × 297 mm), ANSI/ASME Y14.1 (letter 8.5 × 11 in).
Factor: page less margin over page, the smaller axis.
"""

from __future__ import annotations

import pytest

from tests.proof.conftest import changed
from tests.proof.faults import scaled, whole_pages
from tiler.proof import prove
from tiler.proof.report.causes import causes, fit_factor, in_words, paper_of
from tiler.proof.report.wording import lines
from tiler.sheets.document import Document

LETTER, A4 = (215.9, 279.4), (210.0, 297.0)


@pytest.mark.parametrize(
    ("page", "paper", "margin", "factor"),
    [
        (LETTER, A4, 0.0, 2100 / 2159),
        (A4, LETTER, 0.0, 127 / 135),
        (LETTER, LETTER, 6.35, 16 / 17),
        (LETTER, LETTER, 3.175, 0.970588235),
        (LETTER, LETTER, 25.4 / 6, 0.960784314),
    ],
)
def test_fit_factors(page: tuple[float, float], paper: tuple[float, float], margin: float, factor: float) -> None:
    assert fit_factor(page, paper, margin) == pytest.approx(factor, rel=1e-9)


def test_a_letter_page_refitted_to_a4_is_named() -> None:
    found = causes(0.972673, 0.972673, A4)
    assert [cause.words for cause in found] == ["refitted from Letter to A4, without margins"]
    assert in_words(found) == "What fits: refitted from Letter to A4, without margins (97.27 %)."


def test_two_causes_with_almost_one_factor_are_both_named() -> None:
    # A4 on letter 127/135 = 0.940741, letter with 1/4 in margins 16/17 = 0.941176: 0.04 mm apart on 100
    found = causes(0.9409, 0.9409, LETTER)
    words = {cause.words for cause in found}
    assert words >= {"refitted from A4 to Letter, without margins", "shrunk on Letter, with 1/4 in margins"}
    assert "cannot tell them apart" in in_words(found)


def test_the_page_rules_causes_out() -> None:
    assert not any("to A4" in cause.words for cause in causes(0.9409, 0.9409, LETTER))
    assert paper_of((279.4, 215.9)) == "letter"
    assert paper_of((200.0, 200.0)) is None


def test_units_and_single_axes_are_named() -> None:
    assert "1/96 in" in causes(0.75, 0.75, LETTER)[0].words
    assert "across only" in causes(0.98, 1.0, LETTER)[0].words
    assert "down the page only" in causes(1.0, 0.98, LETTER)[0].words
    assert "differently" in causes(0.98, 0.97, LETTER)[0].words


def test_nothing_is_invented() -> None:
    assert causes(1.0, 1.0, LETTER) == []
    assert in_words(causes(0.9512, 0.9512, LETTER)) == "This matches no common print setting."


def test_the_report_of_a_shrunk_file_says_what_fits_and_what_it_does(letter: Document) -> None:
    report = prove(changed(letter, whole_pages(scaled(16 / 17))))
    text = "\n".join(lines(report, 80))
    assert "shrunk on Letter, with 1/4 in margins (94.12 %)" in text
    # 20 in less 16/17 of it: 1.176 in; 50 cm: 2.94 cm
    assert "A 20 in strip prints 1.18 in short across" in text
    assert "a 50 cm strip 2.94 cm short" in text
