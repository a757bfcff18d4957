"""Photos of printed pages: perspective and lens are taken out by the page's own marks, and a card tells the scale."""

from __future__ import annotations

import numpy as np
import pytest

from tests.chosen import long
from tests.proof.scanned import Photo, photographed
from tiler.box import Box
from tiler.errors import NothingToMeasureError
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says
from tiler.proof.report.verdict import Report
from tiler.proof.report.wording import sentence
from tiler.proof.scan.card import MADE
from tiler.proof.scan.judging import by_edges, by_photo, judged
from tiler.proof.scan.lens import Lens, Marks, fitted
from tiler.proof.scan.measured import Measured, Scale
from tiler.proof.scan.photo import THICK
from tiler.proof.scan.pixels.picture import Picture
from tiler.proof.scan.proving import prove_photo
from tiler.proof.scan.sheet import Sheet, _compared
from tiler.proof.scan.source import Source
from tiler.sheets.document import Document

TAKEN = Photo(tilt=18, towards=40, barrel=0.015, down=0.97, above=235, size=(1125, 1500), noise=2, blur=0.5)


@pytest.fixture(scope="module")
def photo(letter: Document) -> np.ndarray:
    return photographed(letter.data, TAKEN, dots=180)


@long
def test_a_photo_is_measured_by_the_card_in_it(photo: np.ndarray) -> None:
    """The photo is made by rays through a pinhole and a barrel of 1.5 %, onto the page and onto a card 0.76 mm above."""
    report, flat = prove_photo(Source(Picture(photo, None)), "photo.jpg")
    assert report.verdict == "off-scale"
    assert report.scale == pytest.approx(TAKEN.truth, rel=0.003)
    assert flat.size[1] > flat.size[0]


@long
def test_a_photo_without_a_card_is_refused(photo: np.ndarray) -> None:
    """The card lies in the lower part."""
    with pytest.raises(NothingToMeasureError, match="no bank card with sharp edges is found in the photo"):
        prove_photo(Source(Picture(photo[: len(photo) * 58 // 100], None)), "photo.jpg")


SEEN_WHOLE = Photo(tilt=9, towards=130, barrel=0.01, across=0.97, down=0.97, above=340, card=None, size=(960, 1280))


@pytest.fixture(scope="module")
def whole(letter: Document) -> np.ndarray:
    return photographed(letter.data, SEEN_WHOLE, dots=150)


@long
def test_the_edges_of_a_sheet_show_a_page_that_was_fitted_to_it(whole: np.ndarray) -> None:
    """A sheet is known to 2 mm by its name (ISO 216), and this print is off by 3 %."""
    report, _ = prove_photo(Source(Picture(whole, None)), "photo.jpg", Sheet(215.9, 279.4, 2.0))
    assert report.verdict == "off-scale"
    assert report.scale == pytest.approx(SEEN_WHOLE.truth, rel=0.003)
    assert any(check.says is Says.BY_SHEET for check in report.checks)


@long
def test_a_sheet_that_is_not_seen_whole_decides_nothing(whole: np.ndarray) -> None:
    """Its lower edge lies beyond the picture."""
    high = len(whole) * 74 // 100
    with pytest.raises(NothingToMeasureError, match="neither a bank card nor the four edges of the sheet"):
        prove_photo(Source(Picture(whole[:high], None)), "photo.jpg", Sheet(215.9, 279.4, 2.0))


def test_a_sheet_of_another_size_or_that_lies_uneven_is_none() -> None:
    """Corners as a page laid flat would show them, 4 pixels to the mm."""
    letter, a4 = Sheet(215.9, 279.4, 0.5), Sheet(210.0, 297.0, 0.5)
    corners = 4 * np.array([[0.0, 0.0], [215.9, 0.0], [215.9, 279.4], [0.0, 279.4]]) / 0.97
    found = _compared(corners, 4.0, 0.1, letter)
    assert found is not None
    assert (found.across, found.down) == pytest.approx((1 / 0.97, 1 / 0.97))
    # counted from any corner, either way round
    for other in (np.roll(corners, 1, axis=0), corners[::-1]):
        again = _compared(other, 4.0, 0.1, letter)
        assert again is not None
        assert (again.across, again.down) == pytest.approx((1 / 0.97, 1 / 0.97))
    assert _compared(corners, 4.0, 0.1, a4) is None
    for lifted in ([0, 8, 0, 0], [0, 0, 14, 14]):
        uneven = corners + np.array([[one, 0] for one in lifted])
        assert _compared(uneven, 4.0, 0.1, letter) is None


@pytest.mark.parametrize(
    ("ratio", "off", "verdict"),
    [
        # by its name a sheet of 210 mm may be 1.1 % otherwise, with its edges; measured with a ruler 0.38 %
        (1.0, 2.0, "undecided"),
        (0.99, 2.0, "undecided"),
        (0.98, 2.0, "off-scale"),
        (0.99, 0.5, "off-scale"),
        (0.996, 0.5, "undecided"),
        (1.0, 0.5, "true-to-scale"),
        (0.9985, 0.5, "undecided"),
    ],
)
def test_what_a_sheet_may_be_otherwise_is_never_taken_for_the_print(ratio: float, off: float, verdict: str) -> None:
    share = Sheet(210.0, 297.0, off).share
    scales = {axis: Scale(ratio, 0.0003, 0.0) for axis in ("across", "down")}
    sizes = [
        Measured("square", "5 cm", axis, 50.0, 50.0 * ratio, 0.01, (0.0, 0.0, 1.0, 1.0)) for axis in ("across", "down")
    ]
    checks = judged(sizes, [Box(0, 0, 50, 50)] * 2, scales, dict.fromkeys(scales, share))
    assert Report("photo.jpg", 1, tuple(by_edges(checks, scales, share))).verdict == verdict


def test_what_a_photo_tells_too_coarsely_decides_nothing() -> None:
    """Half a percent is what page 1 asks of its long lines: 1 mm on 20 cm."""
    wrong = Check(CheckName.SQUARE, Status.FAIL, Says.SIZE, 1, 49.0, 50.0, label="5 cm", axis="down")
    for error, verdict in ((0.001, "off-scale"), (0.0013, "undecided")):
        scales = {"across": Scale(1.0, 0.0001, 0.0), "down": Scale(0.98, error, 0.0)}
        report = Report("photo.jpg", 1, tuple(by_photo([wrong], scales, MADE + THICK)))
        assert (report.verdict, report.exit_code) == (verdict, 3)
    assert sentence(report).startswith("Not decided: the photo tells a length to ± 0.51 % only")


def test_lens_and_plane_are_found_from_lines_and_ticks() -> None:
    """The marks are made by the model itself, so it is found again to the last digits."""
    matrix = np.array([[160.0, 12.0, 70.0], [9.0, -150.0, -60.0], [0.11, -0.07, 1.0]])
    true = Lens(np.array([1500.0, 1000.0]), 1800.0, 0.021, matrix)
    places = np.linspace(0, 150, 31)
    lines = [(1, y, np.column_stack([places, np.full(31, y)])) for y in (0.0, -50.0, -90.0)]
    lines += [(0, x, np.column_stack([np.full(31, x), -places])) for x in (0.0, 50.0, 105.0)]
    ticks = [(0, places, np.column_stack([places + 4.0, np.full(31, -120.0)]))]
    pixels = np.concatenate([true.pixels(page) for _, _, page in (*lines, *ticks)])
    axis = np.concatenate([np.full(31, axis) for axis, _, _ in (*lines, *ticks)])
    known = np.concatenate([np.zeros(31) + known for _, known, _ in (*lines, *ticks)])
    group = np.append(np.full(31 * 6, -1.0), np.zeros(31))
    start = Lens(true.middle, true.radius, 0.0, matrix + np.diag([3.0, 2.0, 0.0]))
    found, covariance = fitted(start, Marks(pixels, axis, known, group), bent=True)
    assert found.bend == pytest.approx(0.021, abs=1e-5)
    assert found.to_page == pytest.approx(matrix, rel=1e-3)
    assert np.diag(covariance).max() < 1e-3
    assert true.page(true.pixels(lines[0][2])) == pytest.approx(lines[0][2], abs=1e-6)
