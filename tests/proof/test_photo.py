"""Photos of printed pages: perspective and lens are taken out by the page's own marks, and a card tells the scale."""

from __future__ import annotations

import numpy as np
import pytest

from tests.proof.scanned import Photo, photographed
from tiler.errors import NothingToMeasureError
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says
from tiler.proof.report.verdict import Report
from tiler.proof.report.wording import sentence
from tiler.proof.scan.card import MADE
from tiler.proof.scan.judging import by_photo
from tiler.proof.scan.lens import Lens, Marks, fitted
from tiler.proof.scan.measured import Scale
from tiler.proof.scan.photo import THICK
from tiler.proof.scan.pixels.picture import Picture
from tiler.proof.scan.proving import prove_photo
from tiler.proof.scan.source import Source
from tiler.sheets.document import Document

TAKEN = Photo(tilt=18, towards=40, barrel=0.015, down=0.97, above=235, size=(1125, 1500), noise=2, blur=0.5)


@pytest.fixture(scope="module")
def photo(letter: Document) -> np.ndarray:
    return photographed(letter.data, TAKEN, dots=180)


def test_a_photo_is_measured_by_the_card_in_it(photo: np.ndarray) -> None:
    """The photo is made by rays through a pinhole and a barrel of 1.5 %, onto the page and onto a card 0.76 mm above."""
    report, flat = prove_photo(Source(Picture(photo, None)), "photo.jpg")
    assert report.verdict == "off-scale"
    assert report.scale == pytest.approx(TAKEN.truth, rel=0.003)
    assert flat.size[1] > flat.size[0]


def test_a_photo_without_a_card_is_refused(photo: np.ndarray) -> None:
    """The card lies in the lower part."""
    with pytest.raises(NothingToMeasureError, match="no bank card with sharp edges is found in the photo"):
        prove_photo(Source(Picture(photo[: len(photo) * 58 // 100], None)), "photo.jpg")


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
