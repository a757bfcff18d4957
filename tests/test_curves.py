"""This checks arc length, turning, corners, radius, parallels and joins against closed forms and published values."""

from cmath import exp, phase
from itertools import pairwise
from math import asinh, atan2, cos, degrees, dist, hypot, pi, radians, sin, sqrt, tan

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tests.chosen import long, over, tries
from tiler.curves import Affine, Bezier, Curve, EllipseArc, chain, crossing, line
from tiler.errors import SpecError

KAPPA = 0.552284749830793


def bezier(*points: tuple[float, float]) -> Curve:
    return Curve.through([Bezier(tuple(complex(*point) for point in points))])


def ellipse(a: float, b: float, sweep: float = 2 * pi) -> Curve:
    return Curve.through([EllipseArc(0j, complex(a), 1j * b, 0.0, sweep)])


def polyline(*points: tuple[float, float], closed: bool = False) -> Curve:
    return Curve.through((line(complex(*a), complex(*b)) for a, b in pairwise(points)), closed=closed)


GRID = st.builds(complex, st.integers(-20, 20), st.integers(-20, 20))
BEZIERS = st.lists(GRID, min_size=3, max_size=4).map(lambda points: Bezier(tuple(points)))
"""Curves of degree two and three by points on a grid; they may cross themselves, stand still or be a point."""


def quarter_of_neckline() -> Curve:
    return bezier((0, 0), (0, -80), (60, -100), (90, -100))


def chord_length(points: list[complex]) -> float:
    return sum(abs(b - a) for a, b in pairwise(points))


# Arc length


@pytest.mark.parametrize(
    ("a", "b", "perimeter"),
    # complete elliptic integral of the second kind: 4 a E(e^2), by scipy.special.ellipe
    [(2, 1, 9.68844822054768), (3, 2, 15.8654395892906), (90, 70, 504.620244995055)],
)
def test_a_whole_ellipse_has_the_length_of_the_elliptic_integral(a, b, perimeter):
    whole = ellipse(a, b)
    assert whole.length == pytest.approx(perimeter, rel=1e-12)
    assert whole.closed
    assert whole.turning_deg == pytest.approx(360)


def test_a_quarter_meridian_of_the_earth_has_its_published_length():
    # WGS84 quarter meridian, 10 001 965.7293 m (GeographicLib documentation); a = 6378137 m, f = 1 / 298.257223563
    a, f = 6378137.0, 1 / 298.257223563
    assert ellipse(a, a * (1 - f), pi / 2).length == pytest.approx(10_001_965.7293, abs=5e-5)


@pytest.mark.parametrize(
    ("curve", "length", "tolerance"),
    [
        # closed forms: the speed of the first is 3 (2 t^2 - 2 t + 1), that of the second t sqrt(4 + 9 t^2)
        (bezier((0, 0), (0, 1), (1, 2), (3, 2)), 4, 1e-14),
        (bezier((0, 0), (0, 0), (1 / 3, 0), (1, 1)), (13 * sqrt(13) - 8) / 27, 1e-14),
        # one cubic for a quarter circle, kappa = 4 (sqrt 2 - 1) / 3: longer than pi / 2 by 0.014029 %
        (bezier((1, 0), (1, KAPPA), (KAPPA, 1), (0, 1)), 1.57101669807386, 1e-13),
        # a cubic with a cusp, and a quadratic (fontTools' own test suite)
        (bezier((377, 469), (377, 468), (377, 472), (377, 472)), 3.32098765445, 1e-10),
        (bezier((210, 333), (289, 333), (326.5, 290.5)), 127.9225, 5e-7),
        # by adaptive quadrature of the closed integrand
        (quarter_of_neckline(), 150.72505465, 5e-11),
    ],
)
def test_bezier_curves_have_their_known_lengths(curve, length, tolerance):
    assert curve.length == pytest.approx(length, rel=tolerance)


def test_the_quarter_circle_of_one_cubic_is_too_long_by_its_known_share():
    share = bezier((1, 0), (1, KAPPA), (KAPPA, 1), (0, 1)).length / (pi / 2) - 1
    assert share == pytest.approx(0.00014029, abs=5e-9)


@over("sharpness", [1.0, 0.3, 0.1, 1e-2, 1e-3, 1e-4, 1e-6, 1e-8, 0.0])
def test_a_parabola_is_measured_however_sharply_it_bends(sharpness):
    # (b p s, b^2 s^2 / 2) for s from -1 to 1: the integral of sqrt(p^2 + x^2) from -b to b; for p = 0 down and up again
    b, p = 1.0, sharpness
    curve = bezier((-b * p, b * b / 2), (0, -b * b / 2), (b * p, b * b / 2))
    q = sqrt(b * b + p * p)
    expected = b * q + p * p * asinh(b / p) if p else b * b
    assert curve.length == pytest.approx(expected, rel=1e-10)


@pytest.mark.parametrize("height", [0.5, 0.2, 1e-2, 1e-4, 1e-7, 0.0])
def test_a_flat_ellipse_tends_to_twice_its_long_axis(height):
    # lies between the perimeters of the rhombus in it and of the rectangle around it
    length = ellipse(1, height).length
    assert 4 * hypot(1, height) * (1 - 1e-12) <= length <= 4 + 4 * height + 1e-12


@long
@given(BEZIERS)
def test_any_curve_is_as_long_as_its_two_parts(whole: Bezier) -> None:
    parts = sum(Curve.through([whole.part(a, b)]).length for a, b in ((0, 0.37), (0.37, 1)))
    assert Curve.through([whole]).length == pytest.approx(parts, rel=1e-9, abs=1e-9)


@given(BEZIERS)
def test_any_curve_is_a_little_longer_than_its_chords(segment: Bezier) -> None:
    whole = Curve.through([segment])
    chords = chord_length(whole.chords(1e-5))
    assert chords <= whole.length * (1 + 1e-12)
    assert whole.length == pytest.approx(chords, rel=1e-3)


def test_an_arc_is_measured_by_its_two_half_diameters_alone():
    # a circle pressed by an affine map is the ellipse of the same axes
    circle = Curve.through([EllipseArc(5 + 3j, 1 + 0j, 1j, 0.3, 2 * pi)])
    pressed = circle.mapped(Affine(a=90 * cos(0.4), b=90 * sin(0.4), c=-70 * sin(0.4), d=70 * cos(0.4), e=11, f=-3))
    assert pressed.length == pytest.approx(504.620244995055, rel=1e-12)  # 4 a E(e^2)
    assert pressed.turning_deg == pytest.approx(360)


# Turning and corners


def test_the_quarter_of_a_neckline_turns_by_a_right_angle():
    assert quarter_of_neckline().turning_deg == pytest.approx(90)
    assert quarter_of_neckline().reversed().turning_deg == pytest.approx(-90)
    assert quarter_of_neckline().reversed().turn.total_deg == pytest.approx(90)


def test_what_an_s_curve_turns_one_way_it_turns_back():
    assert bezier((0, 0), (50, 0), (50, 80), (100, 80)).turning_deg == pytest.approx(0)


def test_a_loop_turns_by_more_than_half_a_circle():
    # directions at the ends are 45 and -45 degrees, and the loop goes round the long way
    assert bezier((0, 0), (200, 200), (-100, 200), (100, 0)).turning_deg == pytest.approx(270)
    assert bezier((0, 0), (60, 60), (40, 60), (100, 0)).turning_deg == pytest.approx(-90)


@long
@settings(max_examples=tries(100))
@given(BEZIERS)
def test_turning_is_the_sum_of_many_small_turns(segment: Bezier) -> None:
    curve = Curve.through([segment])
    steps = [segment.velocity(k / 4000) for k in range(4000)] + [segment.velocity(1)]
    turns = [degrees(phase(b * a.conjugate())) for a, b in pairwise(steps)]
    # where it stands still on its way it turns at once
    assume(all(steps) and max(abs(turn) for turn in turns) < 90)
    closing = degrees(phase(steps[0] * steps[-1].conjugate())) if curve.closed else 0.0
    assert curve.turning_deg == pytest.approx(sum(turns) + closing, abs=1e-6)


def test_corners_are_jumps_of_the_direction():
    square = polyline((0, 0), (10, 0), (10, 10), (0, 10), closed=True)
    assert [corner.turn_deg for corner in square.corners] == pytest.approx([90] * 4)
    assert [corner.along_mm for corner in square.corners] == pytest.approx([10, 20, 30, 40])
    assert square.turn.smooth_deg == pytest.approx(0)
    ring = polyline((0, 0), (10, 0), (10, 10), (0, 10), (0, 0))
    assert ring.closed
    assert len(ring.corners) == 4


def test_a_corner_against_the_net_turn_is_negative():
    vee = polyline((0, 0), (10, -20), (20, 0), (21, 0.5))
    assert vee.turn.corners_deg[0] > 0 > vee.turn.corners_deg[1]
    assert vee.mapped(Affine(a=-1)).turn.corners_deg == pytest.approx(vee.turn.corners_deg)


def test_a_jump_below_one_degree_is_a_smooth_joint():
    bent = polyline((0, 0), (100, 0), (200, 100 * tan(pi / 180 * 0.9)))
    assert bent.corners == ()
    assert bent.turning_deg == pytest.approx(0.9)


def test_a_curve_that_is_written_in_chords_has_no_corners():
    quarter = [(100 * cos(k * pi / 60), 100 * sin(k * pi / 60)) for k in range(31)]
    chords = polyline((100, -50), *quarter, (-50, 100))
    assert chords.corners == ()
    assert chords.turning_deg == pytest.approx(90)
    hexagon = polyline(*((cos(k * pi / 3), sin(k * pi / 3)) for k in range(6)), closed=True)
    assert len(hexagon.corners) == 6


def test_a_cusp_is_a_corner_that_runs_back():
    cusp = bezier((377, 469), (377, 468), (377, 472), (377, 472))
    assert [abs(corner.turn_deg) for corner in cusp.corners] == pytest.approx([180])


def test_a_control_point_on_its_end_does_not_bend_the_curve():
    assert bezier((0, 0), (0, 0), (50, 100), (100, 100)).turning_deg == pytest.approx(-degrees(atan2(100, 50)))
    # the same but for the rounding of a file with two decimals
    chain_of_two = Curve.through([line(-50 - 100j, 0j), Bezier((0j, 0.0005 - 0.0005j, 50 + 100j, 100 + 100j))])
    assert chain_of_two.corners == ()


# Parallel lines and radius


def parallel(curve: Curve, distance: float) -> float:
    """Give the length at a distance outside the net turn, as an edge's seam line follows from its cut edge; mm."""
    return curve.length + curve.turn.change(distance)


@pytest.mark.parametrize(("distance", "length"), [(-10, 135.01709138), (10, 166.43301792)])
def test_the_neckline_has_its_known_parallels(distance, length):
    # L + d theta (Steiner), with L = 150.72505465 and theta = 90 degrees
    assert parallel(quarter_of_neckline(), distance) == pytest.approx(length, abs=5e-9)


def test_a_parallel_line_is_as_long_as_the_one_that_is_drawn_point_by_point():
    curve, steps = quarter_of_neckline(), 20000
    (segment,) = curve.segments
    drawn = []
    for k in range(steps + 1):
        speed = segment.velocity(k / steps)
        drawn.append(segment.at(k / steps) + 10 * (-1j) * speed / abs(speed))
    assert parallel(curve, 10) == pytest.approx(chord_length(drawn), rel=1e-7)


@given(
    st.floats(5, 100), st.floats(5, 100), st.floats(-pi, pi), st.floats(0.1, 2 * pi), st.booleans(), st.floats(-4, 50)
)
def test_a_parallel_of_an_arc_is_longer_by_its_distance_times_its_turn(
    a: float, b: float, begin: float, sweep: float, back: bool, distance: float
) -> None:
    """Steiner's formula, with the parallel drawn point by point; inside, it holds up to the least radius of curvature."""
    distance = max(distance, -0.9 * min(a, b) ** 2 / max(a, b))
    arc, steps = EllipseArc(3 - 2j, complex(a), 1j * b, begin, -sweep if back else sweep), 2000
    speeds = [arc.velocity(k / steps) for k in range(steps + 1)]
    outward = 1j if back else -1j
    drawn = [arc.at(k / steps) + distance * outward * speed / abs(speed) for k, speed in enumerate(speeds)]
    assert parallel(Curve.through([arc]), distance) == pytest.approx(chord_length(drawn), rel=1e-4)


@given(
    st.lists(st.floats(20, 140), min_size=1, max_size=4),
    st.lists(st.floats(60, 90), min_size=5, max_size=5),
    st.floats(-2, 20),
)
def test_a_parallel_of_sharp_corners_runs_on_to_where_its_legs_meet(
    turns: list[float], legs: list[float], distance: float
) -> None:
    """Each leg of a polygon's parallel ends where it meets the next: d tan(phi / 2) further out."""
    turns = [turn * min(1.0, 300 / sum(turns)) for turn in turns]
    at, direction, points = 0j, 1 + 0j, [0j]
    for leg, turn in zip(legs, [*turns, 0.0], strict=False):
        at += leg * direction
        points.append(at)
        direction *= exp(1j * radians(turn))
    outward = [-1j * (b - a) / abs(b - a) for a, b in pairwise(points)]
    drawn = [points[0] + distance * outward[0]]
    for corner, (before, after) in zip(points[1:-1], pairwise(outward), strict=True):
        drawn.append(corner + distance * (before + after) / (1 + (before * after.conjugate()).real))
    drawn.append(points[-1] + distance * outward[-1])
    curve = polyline(*((one.real, one.imag) for one in points))
    assert parallel(curve, distance) == pytest.approx(chord_length(drawn), rel=1e-9)


def test_a_rounded_square_has_the_length_that_steiner_gives():
    # 10 x 10 square rounded off at 1: 40 + 2 pi
    corners = [
        EllipseArc(complex(x, y), 1 + 0j, 1j, k * pi / 2, pi / 2)
        for k, (x, y) in enumerate([(10, 10), (0, 10), (0, 0), (10, 0)])
    ]
    segments = []
    for before, after in zip([corners[-1], *corners], corners, strict=False):
        segments += [line(before.end, after.start), after]
    rounded = Curve.through(segments)
    assert rounded.length == pytest.approx(40 + 2 * pi, abs=1e-12)
    assert rounded.closed
    assert rounded.corners == ()
    assert parallel(rounded, 2) == pytest.approx(40 + 6 * pi)
    assert parallel(rounded, -1) == pytest.approx(40)


def test_a_square_that_stays_sharp_is_a_larger_square():
    square = polyline((0, 0), (0, 10), (10, 10), (10, 0), closed=True)
    assert parallel(square, 2) == pytest.approx(4 * 14)


# Bounds, maps, joins


def test_bounds_hold_the_curve_and_not_its_control_points():
    box = bezier((0, 0), (0, 100), (100, 100), (100, 0)).bounds
    assert (box.x0, box.y0, box.x1, box.y1) == pytest.approx((0, 0, 100, 75))
    box = Curve.through([EllipseArc(0j, 3 + 4j, -4 + 3j, 0.0, 2 * pi)]).bounds
    assert (box.x0, box.y0, box.x1, box.y1) == pytest.approx((-5, -5, 5, 5))


@given(st.floats(-pi, pi), st.floats(0.1, 6), st.booleans(), st.floats(0.01, 3), st.floats(0.1, 3))
def test_bounds_of_an_arc_hold_every_point_and_are_reached(
    begin: float, sweep: float, back: bool, tilt: float, width: float
) -> None:
    long, short = 3 * complex(cos(tilt), sin(tilt)), width * complex(-sin(tilt), cos(tilt))
    arc = EllipseArc(1 + 2j, long, short, begin, -sweep if back else sweep)
    points = [arc.at(k / 2000) for k in range(2001)]
    xs, ys = [point.real for point in points], [point.imag for point in points]
    assert arc.extent() == pytest.approx((min(xs), min(ys), max(xs), max(ys)), abs=1e-4)


def test_a_line_without_length_has_none():
    dot = Curve.through([line(3 + 3j, 3 + 3j)])
    assert (dot.length, dot.turning_deg, dot.corners, dot.closed) == (0, 0, (), False)


def halves() -> tuple[Curve, Curve, Curve]:
    return polyline((0, 0), (10, 0)), polyline((10, 0.05), (10, 10)), polyline((0, 20), (10, 10.05))


def test_curves_are_joined_in_order_whichever_way_they_run():
    a, b, c = halves()
    for one in (a, a.reversed()):
        for two in (b, b.reversed()):
            for three in (c, c.reversed()):
                whole = chain([one, two, three], ["a", "b", "c"])
                assert whole.length == pytest.approx(a.length + b.length + c.length)
                assert (whole.start, whole.end) == (0j, 20j)
                assert [round(corner.turn_deg) for corner in whole.corners] == [90, 45]
    assert chain([a], ["a"]) is a


def test_ends_that_do_not_meet_are_refused_with_the_gap():
    a, b, c = halves()
    with pytest.raises(SpecError, match=r"c does not begin where a ends: the gap is 10\.05 mm"):
        chain([a, c, b], ["a", "c", "b"])
    with pytest.raises(SpecError, match=r"the gap is 0\.11 mm"):
        chain([a, polyline((10, 0.11), (10, 5))], ["a", "b"])


def test_a_closed_curve_has_no_ends_to_join():
    with pytest.raises(SpecError, match="ring is closed"):
        chain([ellipse(3, 2), halves()[0]], ["ring", "a"])


def test_a_chain_that_comes_back_is_closed():
    upper, lower = ellipse(5, 4, pi), Curve.through([EllipseArc(0j, -5 + 0j, -4j, 0.0, pi)])
    whole = chain([upper, lower], ["upper", "lower"])
    assert whole.closed
    assert whole.turning_deg == pytest.approx(360)


# Lines that meet themselves


@pytest.mark.parametrize(
    ("curve", "place"),
    [
        (polyline((0, 0), (10, 10), (10, 0), (0, 10)), 5 + 5j),
        (polyline((0, 0), (5, 5), (10, 10), (10, 0), (5, 5), (0, 10)), 5 + 5j),
        (polyline((0, 0), (10, 0), (10, 10), (5, 10), (5, 0)), 5 + 0j),
        (polyline((0, 0), (10, 0), (5, 0)), 10 + 0j),
        (polyline((0, 0), (10, 0), (10, 5), (3, 0), (20, -9)), None),
        # a symmetric loop crosses on its axis
        (bezier((0, 0), (200, 100), (-100, 100), (100, 0)), 50 + 30j),
        (ellipse(90, 70, 2 * pi + 0.5), None),
    ],
)
def test_a_line_that_meets_itself_is_found(curve, place):
    found = crossing(curve)
    assert found is not None
    if place is not None:
        assert dist((found.real, found.imag), (place.real, place.imag)) < 0.01


@pytest.mark.parametrize(
    "curve",
    [
        quarter_of_neckline(),
        ellipse(90, 70),
        ellipse(90, 70, 6.2),
        polyline((0, 0), (10, 0), (10, 10), (0, 10), closed=True),
        polyline((0, 0), (10, 0), (10, 10), (5, 10), (5, 0.1)),
        bezier((0, 0), (50, 0), (50, 80), (100, 80)),
        chain([polyline((0, 0), (10, 0)), polyline((9.95, 0), (9.95, 20))], ["a", "b"]),
    ],
)
def test_a_line_that_does_not_meet_itself_is_left_alone(curve):
    assert crossing(curve) is None
