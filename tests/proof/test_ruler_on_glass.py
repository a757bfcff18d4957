"""Rulers on the glass of a scanner: their graduation, its unit, and which axis they take out."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image, ImageDraw

from tests.chosen import long
from tests.proof.ruled import OnGlass
from tests.proof.scanned import INCH, Scanned, as_source, scanned, worn
from tests.reading.files import labelled_square, pdf
from tiler.errors import NothingToMeasureError
from tiler.proof.report.sentences import Says
from tiler.proof.report.verdict import Report
from tiler.proof.report.wording import sentence
from tiler.proof.scan.glass import by_rulers
from tiler.proof.scan.graduation import Graduation, graduations
from tiler.proof.scan.proving import prove_scan
from tiler.sheets.document import Document
from tiler.usecases.scan.profile import printer_of

OFF = (1.007, 0.994)
"""What the scanner makes of 1 mm across and down."""

DOTS = 150 / INCH


def found(ruler: OnGlass, size: tuple[int, int] = (170, 60), stated: float = 1.0) -> list[Graduation]:
    clean = np.full((round(size[1] * DOTS), round(size[0] * DOTS)), 245, np.uint8)
    lain = ruler.on(clean, (DOTS * OFF[0], DOTS * OFF[1]))
    how = Scanned(dpi=150, noise=5, blur=0.3, jpeg=75, paper=230, ink=30)
    return list(graduations(worn(lain, how, np.random.default_rng(1)), np.array([DOTS, DOTS]) * stated))


def made(ruler: OnGlass) -> float:
    angle = np.radians(ruler.turn)
    return float(np.hypot(np.cos(angle) * OFF[0], np.sin(angle) * OFF[1]))


@long
@pytest.mark.parametrize(
    ("ruler", "size"),
    [
        (OnGlass((5, 12), 1.5, "mm", 150, "clear"), (170, 60)),
        (OnGlass((5, 12), -2, "in", 150, "dark", hidden=(50, 20)), (170, 60)),
        (OnGlass((45, 5), 92, "in", 150, "steel", finer=True), (60, 170)),
        (OnGlass((25, 5), 40, "mm", 150, "wood", both=True), (130, 130)),
        # half of it lies beyond the edge of the picture
        (OnGlass((5, -2), 1.5, "mm", 150, "wood"), (170, 50)),
    ],
)
def test_a_graduation_is_measured_along_the_ruler(ruler: OnGlass, size: tuple[int, int]) -> None:
    """The length of a direction under an affine map, applied by PDFium: both units where both edges have one."""
    rulers = found(ruler, size)
    assert {one.unit for one in rulers} == ({"mm", "in"} if ruler.both else {ruler.unit})
    assert [one.factor for one in rulers] == pytest.approx([made(ruler)] * len(rulers), abs=0.0003)
    assert min(one.span for one in rulers) > 130


@pytest.mark.parametrize(
    ("ruler", "stated"),
    [
        # strokes without ranks could be anything
        (OnGlass((5, 12), 1.5, "mm", 150, even=True), 1.0),
        # where 1 mm looks as long as 1/16 in by what the picture states, ranks and pitch disagree
        (OnGlass((5, 12), 1.5, "mm", 150), 16 / INCH),
        (OnGlass((5, 12), 1.5, "in", 150), INCH / 16),
        # less than 5 cm of it
        (OnGlass((5, 12), 1.5, "mm", 50), 1.0),
    ],
)
def test_what_may_be_another_graduation_tells_nothing(ruler: OnGlass, stated: float) -> None:
    assert not found(ruler, (170, 50), stated)


def ruler(turn: float, factor: float) -> Graduation:
    return Graduation(
        "mm", factor, 0.0001, 0.001, np.array([np.cos(np.radians(turn)), np.sin(np.radians(turn))]), 150.0
    )


def along(turn: float) -> float:
    """What the scanner makes of 1 mm where it seems to lie so: (c/s1)² + (s/s2)² = 1/f²."""
    return float(1 / np.hypot(np.cos(np.radians(turn)) / OFF[0], np.sin(np.radians(turn)) / OFF[1]))


@pytest.mark.parametrize(
    ("turns", "told", "says"),
    [
        ((3,), (True, False), Says.RULER_ACROSS),
        ((-88,), (False, True), Says.RULER_DOWN),
        ((40,), (False, False), Says.RULER_ASKEW),
        ((45, 135), (False, False), Says.RULER_ASKEW),
        ((0, 91), (True, True), Says.SCANNER_BY_RULERS),
        ((2, 182, 60), (True, True), Says.SCANNER_BY_RULERS),
    ],
)
def test_each_ruler_takes_out_its_own_direction(turns: tuple[float, ...], told: tuple[bool, bool], says: Says) -> None:
    glass = by_rulers([ruler(turn, along(turn)) for turn in turns])
    assert glass
    assert (glass.told, glass.check.says) == (told, says)
    wanted = [off if known else 1.0 for off, known in zip(OFF, told, strict=True)]
    assert glass.factors == pytest.approx(wanted, abs=0.0004)
    assert [share < 0.005 for share in glass.shares] == list(told)


def test_rulers_that_disagree_tell_nothing() -> None:
    assert by_rulers([ruler(0, 1.0), ruler(1, 1.008)]) is None


PRINT = Scanned(dpi=150, turn=0.6, noise=4, part=(0.1, 0.16, 0.92, 0.47), scanner=(1.006, 0.992), bare=(45.0, 45.0))
BELOW = OnGlass((12, 94), 0.8, "mm", 150, "clear")
BESIDE = OnGlass((217, 4), 91, "in", 125, "steel")


def proved(document: Document, how: Scanned) -> Report:
    return prove_scan(as_source(scanned(document.data, how), how.dpi), "page.png", by_ruler=True)


@long
def test_two_rulers_take_out_the_error_of_the_scanner(letter: Document) -> None:
    report = proved(letter, replace(PRINT, lain=(BELOW, BESIDE)))
    assert report.verdict == "true-to-scale"
    assert report.scale == pytest.approx((1, 1), rel=0.001)
    off = proved(letter, replace(PRINT, down=0.995, lain=(BELOW, BESIDE)))
    assert (off.verdict, off.scale) == ("off-scale", pytest.approx((1, 0.995), rel=0.001))


@long
def test_one_ruler_leaves_the_other_axis_undecided(letter: Document) -> None:
    report = proved(letter, replace(PRINT, lain=(BELOW,)))
    assert report.verdict == "undecided"
    assert report.scale == pytest.approx((1, 0.992), rel=0.001)
    assert sentence(report).startswith("Not decided: a length of 100 mm measures 99.2")
    assert "lay two rulers at a right angle" in sentence(report)
    told = next(check.detail for check in report.warned if check.name == "scanner")
    assert re.search(r"is off by \+0[.](59|60|61) % across, which is taken out", told)
    with pytest.raises(NothingToMeasureError, match="tells nothing of the other way"):
        printer_of("kitchen", report)
    # the page lies turned by a quarter, so the ruler tells what is down the page
    turned = replace(PRINT, turn=90.6, across=0.97, part=(0.18, 0.1, 0.82, 0.92), lain=(replace(BELOW, at=(12, 168)),))
    report = proved(letter, turned)
    assert report.verdict == "off-scale"
    assert report.scale == pytest.approx((0.97 * 0.992, 1), rel=0.001)


def test_without_a_ruler_it_is_said_what_to_do(letter: Document) -> None:
    with pytest.raises(NothingToMeasureError, match="no ruler with millimetres or sixteenths of an inch is found"):
        proved(letter, replace(PRINT, bare=(0.0, 0.0)))


@long
def test_a_ruler_that_may_be_printed_with_the_square_tells_nothing() -> None:
    """Both are off by 1 %: by such a ruler the square would be right."""
    drawn = pdf(labelled_square(144.0, "2 in", at=(410.0, 590.0)))
    how = Scanned(dpi=150, turn=1.0, across=0.99, part=(0.6, 0.02, 1.0, 0.32), bare=(75.0, 45.0))
    for turn in (1.0, -89.0):
        printed = OnGlass((10, 90) if turn == 1 else (95, 130), turn, "mm", 130, "clear")
        with pytest.raises(NothingToMeasureError, match="may be printed with it"):
            proved_square(drawn, replace(how, lain=(printed,)))
    laid = OnGlass((10, 85), 4.0, "mm", 130, "clear")
    report = proved_square(drawn, replace(how, lain=(laid,)))
    assert report.scale == pytest.approx((0.99, 1), rel=0.002)


def proved_square(data: bytes, how: Scanned) -> Report:
    return prove_scan(as_source(scanned(data, how), how.dpi), "page.png", by_ruler=True)


@long
@pytest.mark.parametrize("turn", [-0.7, 1.5])
def test_squared_paper_is_no_ruler(turn: float) -> None:
    """Each fourth line of a grid of 1/16 in is darker, so its lines are seen further than those between."""
    step, wide = 600 / 16, 2800
    image = Image.new("L", (wide, wide), 255)
    draw = ImageDraw.Draw(image)
    for number in range(int(wide / step)):
        shade, at = (130 if number % 4 else 30), round(number * step)
        draw.line([at, 0, at, wide], fill=shade, width=4)
        draw.line([0, at, wide, at], fill=shade, width=4)
    grid = np.asarray(image.rotate(turn, Image.Resampling.BILINEAR, fillcolor=255).reduce(4))
    how = Scanned(dpi=150, noise=4, blur=0.5, jpeg=75, paper=235, ink=20)
    assert not list(graduations(worn(grid, how, np.random.default_rng(3)), np.array([DOTS, DOTS])))
