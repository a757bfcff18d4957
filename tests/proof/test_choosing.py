"""Which square is the test square, and what stays open: never a false "true", never a false "off"."""

from __future__ import annotations

import json
from io import BytesIO

import pytest
from pikepdf import Array, Pdf

from tests.proof.test_foreign import changed_page, square, words
from tiler.errors import ExitCode, SpecError
from tiler.proof import Expected, Report, prove
from tiler.proof.report.wording import sentence

MM = 72 / 25.4


def rect(x: float, y: float, wide: float, high: float, weight: float = 1) -> str:
    return f"{weight} w {x} {y} {wide * MM} {high * MM} re S "


def ring(x: float, y: float, outer: float, line: float) -> str:
    """A square as an outline that was turned into a shape; ``outer`` is its outer edge, mm."""
    t, s = line * MM, outer * MM
    return f"{x} {y} {s} {s} re {x + t} {y + t} {s - 2 * t} {s - 2 * t} re f* "


def shown(content: str, **expected: object) -> Report:
    return prove(changed_page(content), expected=Expected(**expected) if expected else None)  # type: ignore[arg-type]


def details(report: Report) -> str:
    return "\n".join(check.detail for check in report.checks)


@pytest.mark.parametrize("side", [50.8, 50.0, 49.0])
def test_a_label_with_two_sizes_is_not_decided(side: float) -> None:
    """5 cm are 1.57 % less than 2 in (NIST SP 811, App. B): which is meant nobody can tell from the square."""
    report = shown(square(100, 300, side) + words(110, 310, "2 in / 5 cm"))
    assert (report.verdict, report.exit_code) == ("undecided", ExitCode.OFF_SCALE)
    for stated in (50.8, 50.0):
        error = 100 * (side / stated - 1)
        assert f"{abs(error):.2f} %" in details(report)
    assert report.to_json()["scale"] is not None
    decided = shown(square(100, 300, side) + words(110, 310, "2 in / 5 cm"), side=50.8, words="2 in")
    assert decided.verdict == ("true-to-scale" if side == 50.8 else "off-scale")
    assert decided.scale == (pytest.approx(side / 50.8, abs=1e-4), pytest.approx(side / 50.8, abs=1e-4))


@pytest.mark.parametrize("label", ["2 in (5.08 cm)", "25.4 mm = 1 in", "2 in x 2 in"])
def test_exact_equivalents_are_one_size(label: str) -> None:
    side = 25.4 if "25" in label else 50.8
    assert shown(square(100, 300, side) + words(110, 310, label)).verdict == "true-to-scale"


def test_two_sizes_on_two_lines_of_a_label_are_not_decided() -> None:
    content = square(100, 300, 50.8) + words(110, 330, "2 inches") + words(110, 319, "5 cm")
    assert shown(content).verdict == "undecided"


def test_what_is_expected_wins_over_the_label() -> None:
    content = square(100, 300, 50.8) + words(110, 310, "5 cm")
    assert shown(content).scale == (pytest.approx(1.016), pytest.approx(1.016))
    assert shown(content, side=50.8, words="2 in").verdict == "true-to-scale"


def test_what_is_expected_is_the_square_whose_label_says_it_too() -> None:
    content = square(100, 300, 50.8) + words(110, 310, "2 in test square")
    content += square(300, 300, 50) + words(310, 310, "5 cm test square") + square(100, 100, 53)
    report = shown(content, side=50.8, words="2 in")
    assert [check.label for check in report.sizes] == ["2 in as expected"] * 2
    assert report.verdict == "true-to-scale"


def test_squares_that_disagree_are_named_and_one_can_be_taken() -> None:
    content = square(100, 300, 50.8) + words(110, 310, "2 in") + square(300, 300, 97) + words(310, 310, "10 cm")
    report = shown(content)
    assert report.verdict == "undecided"
    assert "square 1 (10 cm) is off by \N{MINUS SIGN}3.00 %" in details(report)
    assert "square 2 (2 in) is off by 0.00 %" in details(report)
    assert shown(content, only=2).verdict == "true-to-scale"
    assert shown(content, only=1).scale == (pytest.approx(0.97), pytest.approx(0.97))
    with pytest.raises(SpecError, match="2 squares"):
        shown(content, only=3)


@pytest.mark.parametrize(
    ("piece", "label"),
    [
        (rect(200, 100, 123, 123), "Pocket, cut 2, 12 cm"),
        (rect(200, 100, 91, 104), "10.4 cm"),
        (rect(200, 100, 26, 26), "Knopf 2,5 cm"),
        (rect(200, 100, 48, 48), "5 cm patch, sketch not to scale"),
        (rect(200, 100, 123, 123), "Poche, couper 2 x, 12 cm"),
    ],
)
@pytest.mark.parametrize("test", ["", "2 in test square"])
def test_a_piece_is_no_test_square(piece: str, label: str, test: str) -> None:
    drawn = (square(60, 550, 50.8) + words(66, 600, test)) if test else ""
    report = shown(drawn + piece + words(210, 120, label))
    assert report.verdict == ("true-to-scale" if test else "nothing-to-measure")
    assert "--only" in details(report)


def test_several_that_agree_outweigh_one_that_does_not() -> None:
    content = square(60, 500, 50.8) + words(66, 510, "2 in") + square(260, 500, 100) + words(266, 510, "10 cm")
    report = shown(content + square(60, 100, 123) + words(66, 110, "12 cm"))
    assert report.verdict == "true-to-scale"
    assert "12 cm" in details(report)


def test_a_second_square_of_a_common_size_is_not_passed_over() -> None:
    test = square(60, 500, 50.8) + words(66, 510, "2 in test square")
    assert shown(test + square(300, 500, 50.3) + words(310, 510, "2 in")).verdict == "undecided"
    # a size that few test squares have is more likely that of a piece
    assert shown(test + square(200, 100, 123) + words(210, 110, "12 cm")).verdict == "true-to-scale"


def test_a_rectangle_is_no_square_unless_words_say_so() -> None:
    assert shown(rect(100, 300, 50, 48) + words(110, 310, "cuff 5 cm")).verdict == "nothing-to-measure"
    stretched = shown(rect(100, 300, 50, 48) + words(110, 310, "test square 5 cm"))
    assert stretched.scale == (pytest.approx(1), pytest.approx(0.96))


@pytest.mark.parametrize(
    ("outer", "verdict"),
    [
        # line 0.6 mm: right on the outer edge, as a box of a style sheet is; on the middle; on the inner edge
        (50.0, "true-to-scale"),
        (50.6, "true-to-scale"),
        (51.2, "true-to-scale"),
        # no edge is right, and the line has no usual weight: it may be either
        (50.07, "undecided"),
        (47.0, "off-scale"),
    ],
)
def test_both_edges_of_an_outline_are_judged(outer: float, verdict: str) -> None:
    line = 0.6 if verdict == "true-to-scale" else 0.6123
    report = shown(ring(100, 300, outer, line) + words(110, 320, "5 cm"))
    assert report.verdict == verdict
    if verdict == "undecided":
        assert "outer edge" in details(report)
        assert "inner edge" in details(report)


@pytest.mark.parametrize(
    ("outer", "line", "label", "scale"),
    # one edge happens to be just right although the outer one, or the middle, is meant and off
    [
        (76.2, 0.3, "3 in", 1.004),
        (50.0, 0.2, "5 cm", 1.004),
        (100.0, 1.0, "10 cm", 1.01),
        (51.3, 0.5, "2 in", 1.01),
        (76.9668, 0.7668, "3 in", 0.99),
    ],
)
def test_an_edge_that_is_right_by_chance_makes_no_file_true(
    outer: float, line: float, label: str, scale: float
) -> None:
    report = shown(ring(100, 300, scale * outer, scale * line) + words(110, 320, label))
    assert report.verdict in ("undecided", "off-scale")


def test_the_weight_of_a_line_tells_which_edge_is_meant() -> None:
    """This test ensures that a 1 px border of a border box (CSS Backgrounds and Borders 3) at 97 % gives 97 %."""
    s, line = 0.97 * 50.8, 0.97 * 25.4 / 96
    report = shown(ring(100, 300, s, line) + words(110, 320, "2 in"))
    assert report.scale == (pytest.approx(0.97, abs=1e-4), pytest.approx(0.97, abs=1e-4))


def test_a_double_line_is_judged_by_both() -> None:
    content = rect(100, 300, 100, 100) + rect(100 + MM, 300 + MM, 98, 98) + words(150, 400, "10 cm")
    assert shown(content).verdict == "true-to-scale"


SHAPES = {
    "rectangle": rect(100, 300, 100, 50) + words(110, 320, "10 x 5 cm"),
    # ISO/IEC 7810, ID-1
    "bank card": rect(100, 300, 85.6, 53.98) + words(110, 330, "a bank card fits here"),
    "crosses": "".join(
        f"{x * MM - 9} {y * MM} m {x * MM + 9} {y * MM} l S {x * MM} {y * MM - 9} m {x * MM} {y * MM + 9} l S "
        for x in (40, 140)
        for y in (100, 200)
    )
    + words(200, 400, "test square 10 cm"),
    "thick": rect(100, 300, 100, 100, 4 * MM) + words(150, 400, "10 cm"),
    "pale": "0.91 G " + rect(100, 300, 50, 50, 0.5) + words(110, 320, "5 cm"),
    "far label": rect(100, 300, 50, 50) + words(100, 300 - 19 * MM, "test square 5 cm"),
    "no unit": rect(100, 300, 25.4, 25.4) + words(110, 310, "1 x 1"),
}


@pytest.mark.parametrize("name", SHAPES)
@pytest.mark.parametrize(("across", "down"), [(1.0, 1.0), (0.97, 0.97)])
def test_other_shapes_are_measured(name: str, across: float, down: float) -> None:
    report = shown(f"q {across} 0 0 {down} 0 0 cm {SHAPES[name]} Q")
    assert report.verdict == ("true-to-scale" if across == 1 else "off-scale")
    assert report.scale == (pytest.approx(across, abs=1e-3), pytest.approx(down, abs=1e-3))


def test_what_does_not_print_is_pale_below_eight_percent() -> None:
    report = shown("0.95 G " + rect(100, 300, 50, 50) + words(110, 320, "5 cm"))
    assert report.verdict == "nothing-to-measure"


def test_a_bar_measures_one_axis_and_the_scale_says_so() -> None:
    length = 97 * MM
    bar = f"100 300 m {100 + length} 300 l S 100 296 m 100 304 l S {100 + length} 296 m {100 + length} 304 l S "
    report = shown(bar + words(200, 306, "10 cm"))
    assert report.verdict == "off-scale"
    assert json.loads(json.dumps(report.to_json()))["scale"] == {"across": pytest.approx(0.97), "down": None}


def test_a_square_at_the_edge_of_a_cropped_page_is_measured_by_the_middles_of_its_lines() -> None:
    with Pdf.open(BytesIO(changed_page(rect(100, 300, 50, 50, 3) + words(110, 320, "5 cm")))) as pdf:
        pdf.pages[0].MediaBox = Array([100, 300, 100 + 50 * MM, 300 + 50 * MM])
        out = BytesIO()
        pdf.save(out)
    assert prove(out.getvalue()).verdict == "true-to-scale"


def test_the_verdict_says_which_pages_were_measured() -> None:
    with Pdf.open(BytesIO(changed_page(square(100, 300, 50.8) + words(110, 310, "2 in")))) as pdf:
        for _ in range(4):
            pdf.add_blank_page()
        with Pdf.open(BytesIO(changed_page(square(100, 300, 48) + words(110, 310, "5 cm")))) as wrong:
            pdf.pages.append(wrong.pages[0])
        out, true = BytesIO(), BytesIO()
        pdf.save(out)
        del pdf.pages[5]
        pdf.save(true)
    assert "(page 1 of 5 measured, 4 pages without anything to measure)" in sentence(prove(true.getvalue()))
    report = prove(out.getvalue())
    assert sentence(report).startswith("Off scale: on page 6, a length of 100 mm comes out at 96.00 mm")
    assert "(pages 1, 6 of 6 measured, 4 pages without anything to measure)" in sentence(report)
    assert [check.page for check in report.checks[:4]] == [6, 6, 1, 1]


def test_lines_that_touch_a_square_by_chance_are_no_ruler_line() -> None:
    hatching = "".join(f"{100 + step * 18} 300 m {100 + step * 18} 308 l S " for step in range(8))
    report = shown(square(100, 300, 50.8) + hatching + words(110, 320, "2 in test"))
    assert report.verdict == "true-to-scale"
    assert {check.name for check in report.sizes} == {"square"}
