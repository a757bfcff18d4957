"""Squares of any PDF: sizes come from the words at a square, and only what is to be seen counts."""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO

import pytest
from reportlab.pdfgen.canvas import Canvas

from tests.chosen import each
from tiler.errors import ExitCode
from tiler.proof import Expected, Report, prove

PT = 72 / 25.4
Draw = Callable[[Canvas, float], None]


def by_rect(canvas: Canvas, side: float) -> None:
    canvas.rect(100, 300, side * PT, side * PT)


def by_lines(canvas: Canvas, side: float) -> None:
    x, y, s = 100, 300, side * PT
    canvas.line(x, y, x + s, y)
    canvas.line(x + s, y + s, x, y + s)
    canvas.line(x, y + s, x, y)
    canvas.line(x + s, y, x + s, y + s)


def by_path(canvas: Canvas, side: float) -> None:
    x, y, s = 100, 300, side * PT
    path = canvas.beginPath()
    path.moveTo(x, y + s)
    for corner in ((x, y), (x + s, y), (x + s, y + s), (x, y + s)):
        path.lineTo(*corner)
    canvas.drawPath(path)


def page(draw: Draw, side: float, label: str, place: tuple[float, float] = (110, 320), scale: float = 1.0) -> bytes:
    out = BytesIO()
    canvas = Canvas(out, pagesize=(612, 792))
    canvas.scale(scale, scale)
    draw(canvas, side)
    canvas.setFont("Helvetica", 9)
    canvas.drawString(*place, label)
    canvas.save()
    return out.getvalue()


def measured(report: Report) -> list[tuple[float, float]]:
    return [(check.measured_mm or 0, check.nominal_mm or 0) for check in report.sizes]


LABELS = [
    # 1 in = 25.4 mm exactly (NIST SP 811, App. B)
    ("2 in", 50.8),
    ("2 inches", 50.8),
    ('2" x 2"', 50.8),
    ("1 inch test square", 25.4),
    ("1 1/2 in square", 38.1),
    ("5 cm", 50.0),
    ("5,08 cm x 5,08 cm", 50.8),
    ("50 mm", 50.0),
    ("10 centimetres", 100.0),
    ("print so that this is 4 x 4 inches", 101.6),
]


@pytest.mark.parametrize(("draw", "labelled"), each([by_rect, by_lines, by_path], LABELS))
def test_a_square_is_measured_against_its_label(draw: Draw, labelled: tuple[str, float]) -> None:
    label, side = labelled
    report = prove(page(draw, side, label))
    assert report.verdict == "true-to-scale"
    assert [check.name for check in report.warned] == ["assembly"]
    for size, nominal in measured(report):
        assert nominal == pytest.approx(side, abs=1e-9)
        assert size == pytest.approx(side, abs=0.001)


def test_a_label_may_stand_beside_its_square() -> None:
    report = prove(page(by_rect, 50.8, "2 in", (100 + 50.8 * PT + 8, 340)))
    assert report.verdict == "true-to-scale"


def test_the_nominal_size_is_never_the_nearest_round_number() -> None:
    """This test ensures that a 2 in square at 98.425 %, exactly 5 cm large, is found off scale (5 / 5.08)."""
    report = prove(page(by_rect, 50.8, "2 in", scale=5 / 5.08))
    assert report.verdict == "off-scale"
    assert report.exit_code is ExitCode.OFF_SCALE
    assert report.scale == pytest.approx((5 / 5.08, 5 / 5.08), abs=1e-5)


@pytest.mark.parametrize(
    ("factor", "cause"),
    # page less margins over page, the smaller axis: closed forms
    [(2100 / 2159, "letter on A4"), (127 / 135, "A4 on letter"), (16 / 17, "1/4 in margins"), (0.996, "0.4 %")],
)
def test_a_fitted_page_is_off_scale_by_its_factor(factor: float, cause: str) -> None:
    report = prove(page(by_rect, 50.8, "2 in", scale=factor))
    assert report.verdict == "off-scale", cause
    assert report.scale == pytest.approx((factor, factor), abs=1e-5)


@pytest.mark.parametrize(("factor", "verdict"), [(1.0024, "true-to-scale"), (1.0026, "off-scale")])
def test_a_quarter_of_a_percent_is_allowed(factor: float, verdict: str) -> None:
    assert prove(page(by_rect, 50.8, "2 in", scale=factor)).verdict == verdict


def invisible(canvas: Canvas, side: float) -> None:
    canvas.setStrokeGray(1)
    by_rect(canvas, side)


def covered(canvas: Canvas, side: float) -> None:
    by_rect(canvas, side)
    canvas.setFillGray(1)
    canvas.rect(90, 290, 200, 100, stroke=0, fill=1)
    canvas.setFillGray(0)


def clipped(canvas: Canvas, side: float) -> None:
    canvas.saveState()
    path = canvas.beginPath()
    path.rect(100 + side, 0, 500, 700)
    canvas.clipPath(path, stroke=0)
    by_rect(canvas, side)
    canvas.restoreState()


@pytest.mark.parametrize("draw", [invisible, covered, clipped])
def test_a_square_that_is_not_to_be_seen_does_not_count(draw: Draw) -> None:
    report = prove(page(draw, 50.8, "2 in"))
    assert report.verdict == "nothing-to-measure"
    assert report.exit_code is ExitCode.NOTHING_TO_MEASURE


@pytest.mark.parametrize("label", ["test square", "see page 2 in the booklet", "20 in"])
def test_a_square_without_a_size_is_nothing_to_measure(label: str) -> None:
    assert prove(page(by_rect, 50.8, label)).verdict == "nothing-to-measure"


def test_a_label_without_a_square_is_nothing_to_measure() -> None:
    assert prove(page(lambda canvas, side: None, 50.8, "2 in")).verdict == "nothing-to-measure"
    # an oblong is no square, whatever is written on it
    assert prove(page(lambda canvas, side: canvas.rect(100, 300, 144, 200), 50.8, "2 in")).verdict == (
        "nothing-to-measure"
    )


@pytest.mark.parametrize("draw", [by_rect, by_lines, by_path])
def test_what_the_person_expects_stands_in_for_a_label(draw: Draw) -> None:
    data = page(draw, 50.8, "sew here")
    report = prove(data, expected=Expected(50.8, "2 in"))
    assert report.verdict == "true-to-scale"
    assert measured(report) == [(pytest.approx(50.8), 50.8)] * 2
    # 16/17: letter with 1/4 in margins
    shrunk = prove(page(draw, 50.8, "sew here", scale=16 / 17), expected=Expected(50.8, "2 in"))
    assert shrunk.verdict == "off-scale"
    assert shrunk.scale == (pytest.approx(16 / 17, abs=1e-4), pytest.approx(16 / 17, abs=1e-4))


def test_a_square_of_quite_another_size_is_not_the_expected_one() -> None:
    assert prove(page(by_rect, 80.0, "pocket"), expected=Expected(50.8, "2 in")).verdict == "nothing-to-measure"


def test_a_guess_is_proposed_and_never_gives_true_to_scale() -> None:
    report = prove(page(by_rect, 50.0, "sew here"))
    assert (report.verdict, report.exit_code) == ("nothing-to-measure", ExitCode.NOTHING_TO_MEASURE)
    (check,) = report.warned
    assert check.name == "guess"
    assert '--expect "5 cm"' in check.detail


def test_no_size_is_guessed_far_from_a_round_one() -> None:
    # 67 mm is 5.5 % from 2 1/2 in and 4.3 % from 7 cm; a guess goes no further than 2 %
    assert prove(page(by_rect, 67.0, "sew here")).checks == ()
