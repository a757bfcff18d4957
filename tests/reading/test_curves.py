"""This checks that the curves of a PDF page keep their Bézier segments and their true size (ISO 32000-1).

Operators are those of Table 59 (path construction), boxes those of Table 30; one unit is 1/72 in.
"""

import pytest

from tests.reading.files import LETTER, pdf
from tiler.curves import Bezier, Curve
from tiler.errors import UnreadableError
from tiler.reading.pdf.curves import curves_of
from tiler.reading.pdf.document import Document

MM = 25.4 / 72

# The quarter of a neckline with its known length of 150.72505465 mm and turn of 90 degrees, written in PDF units
NECK = "0 0 m 0 -226.771654 170.078740 -283.464567 255.118110 -283.464567 c S"
NECK_MM = 150.72505465


def page(content: str, **options) -> list[Curve]:
    with Document(pdf(content, **options)) as document:
        return list(curves_of(next(document.pages()).strokes))


def bounds(curve: Curve) -> tuple[float, ...]:
    box = curve.bounds
    return tuple(side / MM for side in (box.x0, box.y0, box.x1, box.y1))


def test_a_curve_keeps_its_control_points():
    (curve,) = page("q 1 0 0 1 100 400 cm " + NECK + " Q")
    assert [type(segment) for segment in curve.segments] == [Bezier]
    assert curve.length == pytest.approx(NECK_MM, rel=1e-7)
    assert curve.turning_deg == pytest.approx(90, abs=1e-5)


def test_all_operators_of_path_construction():
    curves = page(
        "10 10 m 40 50 l S "  # a line of 50
        "10 10 m 10 10 40 50 40 50 c S "  # the same as a curve
        "10 10 m 40 50 40 50 v S "  # v and y take an end for a control point
        "10 10 m 10 10 40 50 y S "
        "10 10 30 40 re S "
        "10 10 m 40 10 l 40 50 l h S "
        "10 10 m 40 10 l 40 50 l s "
        "10 10 m 40 10 l 40 50 l 10 10 l S "
        "10 10 m 40 50 l h S"  # a line that is closed is drawn once
    )
    units = [curve.length / MM for curve in curves]
    assert units == pytest.approx([50, 50, 50, 50, 140, 120, 120, 120, 50])
    assert [curve.closed for curve in curves] == [False] * 4 + [True] * 4 + [False]


def test_every_subpath_is_a_curve_and_nothing_is_joined():
    curves = page("0 0 m 30 40 l 30 40 m 60 80 l 100 0 30 40 re 200 0 m 260 80 l S 60 80 m 90 120 l S")
    assert [curve.length / MM for curve in curves] == pytest.approx([50, 50, 140, 100, 50])


def test_what_follows_a_closed_subpath_begins_where_it_began():
    # ISO 32000-1, Table 59, h: the current point is then the start of the closed subpath
    curves = page("0 0 m 30 0 l 30 40 l h 6 8 l S")
    assert [curve.length / MM for curve in curves] == pytest.approx([120, 10])


def test_a_path_is_painted_in_every_way_or_not_at_all():
    one = "0 0 m 30 0 l 30 40 l h "
    assert len(page(one.join(["", "S ", "s ", "f ", "F ", "f* ", "B ", "B* ", "b ", "b* "]))) == 9
    assert page(one + "n " + one + "W n") == []


def test_a_path_that_does_not_move_has_no_length():
    (dot,) = page("20 20 m 20 20 l S")
    assert (dot.length, dot.closed) == (0, False)


@pytest.mark.parametrize(
    ("matrix", "factor"),
    [
        ("1 0 0 1 30 40", 1.0),
        ("0 1 -1 0 300 40", 1.0),
        ("-1 0 0 1 300 40", 1.0),
        ("0.6 0.8 -0.8 0.6 300 300", 1.0),
        ("2.5 0 0 2.5 0 0", 2.5),
        ("0 -0.1 0.1 0 0 0", 0.1),
    ],
)
def test_transforms_that_keep_the_shape_scale_the_length(matrix, factor):
    (curve,) = page(f"q {matrix} cm {NECK} Q")
    assert curve.length == pytest.approx(factor * NECK_MM, rel=1e-6)
    assert abs(curve.turning_deg) == pytest.approx(90, abs=1e-3)


def test_a_transform_that_shears_and_stretches_is_followed():
    # (x, y) -> (2 x + y, 3 y) carries (0, 0)-(30, 40) to (0, 0)-(100, 120)
    (curve,) = page("q 2 0 1 3 0 0 cm 0 0 m 30 40 l S Q")
    assert curve.length / MM == pytest.approx((100**2 + 120**2) ** 0.5)


def test_transforms_follow_each_other_and_are_restored():
    curves = page("q 2 0 0 2 0 0 cm q 3 0 0 3 0 0 cm 0 0 m 30 40 l S Q 0 0 m 30 40 l S Q 0 0 m 30 40 l S")
    assert [curve.length / MM for curve in curves] == pytest.approx([300, 100, 50])


def test_curves_in_nested_forms_are_followed():
    forms = {
        "Inner": ("2 0 0 2 10 0", "0 0 m 30 40 l S"),
        "Outer": ("0 3 -3 0 0 0", "q 1 0 0 1 100 0 cm /Inner Do Q 0 0 m 3 4 l S"),
    }
    curves = page("q 0.5 0 0 0.5 200 0 cm /Outer Do Q /Inner Do", forms=forms)
    assert [curve.length / MM for curve in curves] == pytest.approx([150, 7.5, 100])
    # inner: (0, 0) -> (10, 0) -> +100 -> turned and 3 times -> (0, 330) -> half, moved by 200
    assert bounds(curves[0])[:2] == pytest.approx((200 - 120, 165))


@pytest.mark.parametrize(
    ("rotate", "place"),
    # a clockwise quarter turn brings (x, y) of a 612 x 792 page to (y, 612 - x)
    [
        (0, (100, 130, 220, 200)),
        (90, (130, 392, 200, 512)),
        (180, (392, 592, 512, 662)),
        (270, (592, 100, 662, 220)),
        (-90, (592, 100, 662, 220)),
    ],
)
@pytest.mark.parametrize("media", [LETTER, (612, 792, 0, 0), (0, 792, 612, 0), (-50, -60, 562, 732)])
def test_pages_are_measured_as_they_are_shown(rotate, place, media):
    left, foot = min(media[0], media[2]), min(media[1], media[3])
    content = f"q 1 0 0 1 {left} {foot} cm 100 200 m 100 150 160 130 220 130 c S Q"
    (curve,) = page(content, media=media, Rotate=rotate)
    assert bounds(curve) == pytest.approx(place, abs=1e-3)
    assert curve.turning_deg == pytest.approx(90)


def test_a_user_unit_multiplies_lengths():
    (curve,) = page("100 200 m 130 240 l S", UserUnit=2.5)
    assert curve.length == pytest.approx(125 * MM)
    assert bounds(curve) == pytest.approx((250, 500, 325, 600))


def test_coordinates_beyond_all_measure_are_refused():
    with pytest.raises(UnreadableError, match="further than 10 km"):
        page(f"0 0 m {'9' * 30} 0 l S")
