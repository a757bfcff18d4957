"""Files of others: squares and ruler lines are found however they are drawn, and only what prints counts."""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO

import pytest
from pikepdf import Array, Dictionary, Name, Page, Pdf

from tests.chosen import each, some
from tests.proof.foreign import DRAWN, PAPERS, foreign_files, rescaled
from tiler.proof import Report, prove
from tiler.proof.report.wording import lines

LETTER = foreign_files("letter")
EACH = pytest.mark.parametrize("name", DRAWN)


def changed(data: bytes, change: Callable[[Pdf, Page], None]) -> Report:
    out = BytesIO()
    with Pdf.open(BytesIO(data)) as pdf:
        change(pdf, pdf.pages[0])
        pdf.save(out)
    return prove(out.getvalue())


def above(content: str) -> Callable[[Pdf, Page], None]:
    def change(pdf: Pdf, page: Page) -> None:
        page.contents_add(b"q", prepend=True)
        page.contents_add(f"Q q {content} Q".encode(), prepend=False)

    return change


def below(content: str) -> Callable[[Pdf, Page], None]:
    return lambda pdf, page: page.contents_add(content.encode(), prepend=True)


@pytest.mark.parametrize(("name", "paper"), each(DRAWN, PAPERS))
def test_a_true_file_is_true(name: str, paper: str) -> None:
    report = prove(DRAWN[name](PAPERS[paper]))
    assert report.verdict == "true-to-scale"
    assert {check.name for check in report.warned} <= {"assembly", "user-unit"}
    for check in report.sizes:
        assert check.ratio == pytest.approx(1, abs=2e-4)
        assert check.box is not None


FITTED = (2100 / 2159, 127 / 135, 16 / 17)
"""Page less margins over page, the smaller axis, closed forms: letter on A4, A4 on letter, 1/4 in margins."""


@pytest.mark.parametrize(
    ("name", "scale"),
    [
        (name, scale)
        for number, name in enumerate(DRAWN)
        for scale in some((0.996, FITTED[number % len(FITTED)], 1.004), 2, number % 2)
    ],
)
def test_a_scaled_file_is_off_by_its_factor(name: str, scale: float) -> None:
    report = prove(rescaled(LETTER[name], scale))
    assert report.verdict == "off-scale"
    assert report.scale == (pytest.approx(scale, abs=2e-4), pytest.approx(scale, abs=2e-4))


@pytest.mark.parametrize(("name", "factors"), each(DRAWN, [(0.99, 1.0), (1.0, 0.99), (1.01, 0.99)]))
def test_both_axes_are_measured_however_a_square_stands(name: str, factors: tuple[float, float]) -> None:
    """This test ensures that a square on its corner, which one axis turns into a rhombus, gives both factors."""
    across, down = factors
    report = prove(rescaled(LETTER[name], across, down))
    assert report.verdict == "off-scale"
    as_shown = (down, across) if name == "turned page" else (across, down)
    assert report.scale == (pytest.approx(as_shown[0], abs=2e-4), pytest.approx(as_shown[1], abs=2e-4))


@pytest.mark.parametrize(("name", "degrees"), each([name for name in DRAWN if name != "ruler lines"], [0.7, 4.0, -2.0]))
def test_a_turned_square_keeps_its_size(name: str, degrees: float) -> None:
    report = prove(rescaled(LETTER[name], 0.98, degrees=degrees))
    assert report.scale == (pytest.approx(0.98, abs=3e-4), pytest.approx(0.98, abs=3e-4))


HIDDEN = {
    "covered in white": above("1 g 0 -400 2000 3000 re f"),
    "covered in black": above("0 g 0 -400 2000 3000 re f"),
    "clipped away": below("0 0 1 1 re W n"),
    "clipped to its left half": below("0 -400 170 3000 re W n"),
}


@pytest.mark.parametrize(("name", "how"), each(DRAWN, HIDDEN))
def test_what_is_not_to_be_seen_does_not_count(name: str, how: str) -> None:
    report = changed(LETTER[name], HIDDEN[how])
    one_left = (name, how) == ("ruler lines", "clipped to its left half")
    assert report.verdict == ("incomplete" if one_left else "nothing-to-measure")


@EACH
def test_a_hidden_layer_does_not_count(name: str) -> None:
    def change(pdf: Pdf, page: Page) -> None:
        layer = pdf.make_indirect(Dictionary(Type=Name.OCG, Name="Test square"))
        pdf.Root.OCProperties = Dictionary(
            OCGs=Array([layer]), D=Dictionary(OFF=Array([layer]), Order=Array([layer]), BaseState=Name.ON)
        )
        page.Resources.Properties = Dictionary(L=layer)
        page.contents_add(b"/OC /L BDC", prepend=True)
        page.contents_add(b"EMC", prepend=False)

    assert changed(LETTER[name], change).verdict == "nothing-to-measure"


@EACH
def test_what_the_crop_box_cuts_off_does_not_count(name: str) -> None:
    def change(pdf: Pdf, page: Page) -> None:
        left, low, *_ = (min(float(page.MediaBox[i]), float(page.MediaBox[i + 2])) for i in (0, 1))
        page.CropBox = Array([left, low, left + 40, low + 40])

    assert changed(LETTER[name], change).verdict == "nothing-to-measure"


def test_a_covered_square_whose_label_is_to_be_seen_is_named() -> None:
    s = 50.8 * 72 / 25.4
    label = f"BT /F1 9 Tf 120 {300 + s + 5} Td (2 in) Tj ET"
    data = changed_page(f"100 300 {s} {s} re S 1 g 90 290 {s + 20} {s + 12} re f 0 g {label}")
    report = prove(data)
    assert report.verdict == "nothing-to-measure"
    (check,) = [check for check in report.warned if check.name == "unseen"]
    assert "50.80 × 50.80 mm" in check.detail
    assert "cannot be seen" in check.detail


@pytest.mark.parametrize("scale", [1.0, 0.97])
def test_a_square_that_is_an_annotation_counts_where_it_prints(scale: float) -> None:
    """ISO 32000-1, 12.5.5 and Table 165: an appearance is fitted into its rectangle; bit 3 says that it prints."""

    def change(flags: int) -> Callable[[Pdf, Page], None]:
        def stick(pdf: Pdf, page: Page) -> None:
            box = Array([0, 0, 74, 74])
            look = pdf.make_stream(b"1 1 72 72 re S", Type=Name.XObject, Subtype=Name.Form, BBox=box)
            end = 100 + 148 * scale
            rect = Array([100, 100, end, end])
            square = Dictionary(Type=Name.Annot, Subtype=Name.Square, Rect=rect, AP=Dictionary(N=look), F=flags)
            page.Annots = Array([square])

        return stick

    data = changed_page("BT /F1 9 Tf 110 250 Td (2 in) Tj ET")
    report = changed(data, change(4))
    assert report.verdict == ("true-to-scale" if scale == 1 else "off-scale")
    assert report.scale == (pytest.approx(scale, abs=1e-4), pytest.approx(scale, abs=1e-4))
    unprinted = changed(data, change(0))
    assert unprinted.verdict == "nothing-to-measure"
    assert any("annotations" in check.detail for check in unprinted.warned)


def changed_page(content: str) -> bytes:
    pdf = Pdf.new()
    pdf.add_blank_page(page_size=PAPERS["letter"])
    font = Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica)
    pdf.pages[0].Resources = Dictionary(Font=Dictionary(F1=font))
    pdf.pages[0].Contents = pdf.make_stream(content.encode())
    out = BytesIO()
    pdf.save(out)
    return out.getvalue()


def square(x: float, y: float, side: float) -> str:
    return f"{x} {y} {side * 72 / 25.4} {side * 72 / 25.4} re S "


def words(x: float, y: float, text: str) -> str:
    return f"BT /F1 9 Tf {x} {y} Td ({text}) Tj ET "


def sizes(content: str) -> set[tuple[float, float]]:
    report = prove(changed_page(content))
    return {(round(check.measured_mm or 0, 2), check.nominal_mm or 0) for check in report.sizes}


def test_squares_within_each_other_keep_their_own_labels() -> None:
    content = square(100, 300, 100) + square(130, 330, 76.2) + words(150, 400, "3 in") + words(110, 310, "10 cm")
    assert sizes(content) == {(76.2, 76.2), (100.0, 100.0)}
    shrunk = square(100, 300, 94.07) + square(130, 330, 71.68) + words(150, 400, "3 in") + words(110, 310, "10 cm")
    assert sizes(shrunk) == {(71.68, 76.2), (94.07, 100.0)}


def test_a_frame_round_a_square_and_its_label_is_not_the_test_square() -> None:
    inner = square(110, 322, 50.8) + words(120, 312, "2 in test square")
    assert sizes(square(100, 300, 60) + inner) == {(50.8, 50.8)}
    assert sizes(square(100, 300, 54) + square(103, 312, 47.79) + words(110, 303, "2 in")) == {(47.79, 50.8)}


def test_neighbouring_squares_keep_their_own_labels() -> None:
    content = square(100, 300, 50.8) + square(260, 300, 50) + words(150, 350, "2 in") + words(300, 350, "5 cm")
    assert sizes(content) == {(50.8, 50.8), (50.0, 50.0)}


@pytest.mark.parametrize("name", ["rectangle", "turned by 45°"])
def test_a_sheared_square_fails_although_its_sides_are_right(name: str) -> None:
    def change(pdf: Pdf, page: Page) -> None:
        page.contents_add(b"q 1 0 0.02 1 0 0 cm", prepend=True)
        page.contents_add(b" Q", prepend=False)

    report = changed(LETTER[name], change)
    assert report.verdict == "off-scale"
    assert "lean" in report.failed[0].detail


def test_a_ruler_line_along_one_axis_does_not_prove_the_other() -> None:
    ticks = " ".join(f"{100 + i * 72} 300 m {100 + i * 72} 306 l S" for i in range(5))
    report = prove(changed_page(f"100 300 m 388 300 l S {ticks} {words(110, 285, '4 in')}"))
    assert report.verdict == "incomplete"
    assert [check.name for check in report.failed] == ["axis"]
    assert "down the page" in report.failed[0].detail


def test_a_ruler_line_is_read_by_its_numbers() -> None:
    step = 10 * 72 / 25.4
    across = f"100 300 m {100 + 8 * step} 300 l S " + "".join(
        f"{100 + i * step} 300 m {100 + i * step} 292 l S {words(98 + i * step, 282, str(i))}" for i in range(9)
    )
    down = f"60 300 m 60 {300 + 12 * step} l S " + "".join(
        f"60 {300 + i * step} m 52 {300 + i * step} l S {words(40, 297 + i * step, str(i))}" for i in range(13)
    )
    unit = words(104 + 8 * step, 290, "cm") + words(64, 304 + 12 * step, "cm")
    report = prove(changed_page(across + down + unit))
    assert report.verdict == "true-to-scale"
    assert {round(check.measured_mm or 0, 2) for check in report.sizes} == {80.0, 120.0}
    assert prove(rescaled(changed_page(across + down + unit), 0.97)).scale == (
        pytest.approx(0.97, abs=1e-4),
        pytest.approx(0.97, abs=1e-4),
    )


def test_every_square_is_reported_with_place_error_and_what_it_does() -> None:
    """This test ensures that −5.93 % (127/135) is told as 20 in × 0.0593 = 1.19 in and 50 cm × 0.0593 = 2.96 cm."""
    report = prove(rescaled(LETTER["rectangle"], 127 / 135))
    assert [check.detail for check in report.sizes] == [
        f"2 in {axis}, 38 mm from the left and 141 mm from the foot, −5.93 %, "
        "a 20 in strip prints 1.19 in short, a 50 cm strip 2.96 cm short"
        for axis in ("across", "down")
    ]


@pytest.mark.parametrize(
    ("unit", "cause"), [(2.0, "enlarged by a UserUnit of 2"), (0.5, "drawn for a UserUnit of 2 and shown without it")]
)
def test_a_unit_that_was_added_or_lost_is_off_scale_and_named(unit: float, cause: str) -> None:
    """ISO 32000-1, Table 30: UserUnit multiplies the unit of 1/72 in."""

    def change(pdf: Pdf, page: Page) -> None:
        page.UserUnit = unit

    report = changed(LETTER["rectangle"], change)
    assert report.verdict == "off-scale"
    assert report.scale == (pytest.approx(unit, abs=1e-4), pytest.approx(unit, abs=1e-4))
    assert cause in "\n".join(lines(report, 80))
