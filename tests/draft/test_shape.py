"""This checks necklines described by a shape: length, curve angle and corners from the curve itself."""

from math import acos, atan2, cos, degrees, hypot, log, pi, radians, sin, sqrt, tan
from typing import Any

import pytest

from tests.specs import Table, shaped, table
from tiler.errors import SpecError

IN = 25.4


def shape(kind: str, width: float, front: float, back: float, **keys: Any) -> Table:
    return shaped(kind, f"{width} mm", f"{front} mm", f"{back} mm", **keys)


def ramanujan(a, b):
    # Ramanujan's second approximation of an ellipse's perimeter: good to 1e-10 for axes this alike
    h = ((a - b) / (a + b)) ** 2
    return pi * (a + b) * (1 + 3 * h / (10 + sqrt(4 - 3 * h)))


@pytest.mark.parametrize(
    ("half", "depth", "perimeter"),
    [
        # perimeters by 4 a E(e^2), the complete elliptic integral of the second kind
        (2, 1, 9.68844822054768),
        (3, 2, 15.8654395892906),
        (90, 70, 504.620244995055),
        (70, 90, 504.620244995055),
        (80, 80, 2 * pi * 80),
    ],
)
def test_an_even_scoop_is_an_ellipse(figure, half, depth, perimeter):
    # level shoulders are met squarely by a quarter of the ellipse, and the whole turns by a full circle
    edge = shape("scoop", 2 * half, depth, depth, shoulder_slope=0)
    strip = figure(finished_width="0.1 mm", edge=edge)
    assert strip.edge.edge_mm == pytest.approx(perimeter, rel=1e-9)
    assert strip.edge.turning_deg == pytest.approx(360)


def trued(n, d, sigma):
    """Give half of a trued scoop by Simpson's rule along its published parameter, mm."""
    k = acos(1 / (n / (d * tan(radians(sigma))) - 1))
    a, b = n / sin(k), d / (1 - cos(k))
    steps = 1000
    speeds = [hypot(a * cos(k * i / steps), b * sin(k * i / steps)) for i in range(steps + 1)]
    # at its end it leans by the slope, so that it meets the shoulder seam squarely
    assert degrees(atan2(b * sin(k), a * cos(k))) == pytest.approx(90 - sigma)
    return k / steps / 3 * (speeds[0] + speeds[-1] + 4 * sum(speeds[1:-1:2]) + 2 * sum(speeds[2:-1:2]))


def test_a_scoop_is_trued_where_it_can_be(figure):
    # C: n > 2 d tan(sigma) in front, 80 > 2 x 90 x tan(20) = 65.5, and behind
    strip = figure(edge=shape("scoop", 160, 90, 30))
    front, back = strip.edge.parts
    assert front.edge_mm == pytest.approx(trued(80, 90, 20), rel=1e-8)
    assert back.edge_mm == pytest.approx(trued(80, 30, 20), rel=1e-8)
    # all of the turning is smooth: W = w x 280 degrees
    assert strip.ratio.flat_limit == pytest.approx(1 - 12.7 * radians(280) / strip.edge.edge_mm)
    assert strip.edge.turning_deg == pytest.approx(280)


def test_a_scoop_that_is_too_deep_is_not_trued(figure):
    # C: 80 < 2 x 120 x tan(20) = 87.4: a quarter ellipse in front, whose lean of 0 makes a corner of -20 degrees
    w = 12.7
    strip = figure(edge=shape("scoop", 160, 120, 30))
    assert strip.edge.parts[0].edge_mm == pytest.approx(ramanujan(80, 120) / 4, rel=1e-7)
    taken_up = w * (pi + radians(140)) - 2 * 2 * w * tan(radians(10))
    assert strip.ratio.flat_limit == pytest.approx(1 - taken_up / strip.edge.edge_mm)
    assert strip.edge.turning_deg == pytest.approx(280)


def test_a_scoop_at_the_limit_is_the_arc_of_a_parabola(figure):
    # n = 2 d tan(sigma): just before it the arc is a parabola, just after it a quarter ellipse
    depth = 40 / tan(radians(20))
    before, after = (figure(edge=shape("scoop", 160, round(depth * share, 6), 30)) for share in (1 - 1e-6, 1 + 1e-6))
    assert before.edge.turning_deg == pytest.approx(after.edge.turning_deg) == pytest.approx(280)
    # (2 p t, p t^2) with p t = 40, p t^2 = depth: closed form of a parabola's arc
    t = depth / 40
    arc = 40 * (sqrt(1 + t * t) + log(t + sqrt(1 + t * t)) / t)
    assert before.edge.parts[0].edge_mm == pytest.approx(arc, rel=1e-5)
    assert after.edge.parts[0].edge_mm == pytest.approx(ramanujan(80, depth) / 4, rel=1e-5)


def test_a_vee_has_straight_arms_and_a_point(figure):
    half, front, w = 85, 200, 12.7
    strip = figure(edge=shape("vee", 2 * half, front, 60))
    assert strip.edge.parts[0].edge_mm == pytest.approx(hypot(half, front))
    assert strip.edge.parts[1].edge_mm == pytest.approx(trued(85, 60, 20), rel=1e-8)
    assert strip.edge.turning_deg == pytest.approx(280)
    # C: phi = 180 - 2 beta at the point, 140 degrees smooth behind, beta - sigma at each shoulder
    beta = degrees(atan2(half, front))
    taken_up = w * radians(140) + 2 * w * tan(radians(90 - beta)) + 4 * w * tan(radians(beta - 20) / 2)
    assert strip.ratio.flat_limit == pytest.approx(1 - taken_up / strip.edge.edge_mm)


def test_a_square_has_two_right_angles_with_a_mark_at_each(figure):
    w = 12.7
    strip = figure(edge=shape("square", 200, 120, 60), cut="full-loop", ratio=0.8, ease="even")
    front, back = strip.edge.parts
    assert front.edge_mm == pytest.approx(100 + 120)
    taken_up = w * radians(140) + 2 * 2 * w * tan(radians(45)) - 2 * 2 * w * tan(radians(10))
    assert strip.ratio.flat_limit == pytest.approx(1 - taken_up / strip.edge.edge_mm)
    middle = 6.35 + 0.8 * (220 + back.edge_mm)
    assert [(notch.name, pytest.approx(notch.at_mm)) for notch in strip.notches] == [
        ("CB", 6.35),
        ("shoulder", middle - 0.8 * 220),
        ("corner", middle - 80),
        ("CF", middle),
        ("corner", middle + 80),
        ("shoulder", middle + 0.8 * 220),
        ("CB", 2 * middle - 6.35),
    ]
    assert strip.instructions[0].startswith("Stay-stitch every corner of the garment")


def test_a_shape_stated_on_the_cut_edge_gains_its_allowance_times_its_turn(figure):
    # Steiner's parallel curves: a circle of radius 80 becomes one of 90 where the shoulders do not slope
    stated = shape("scoop", 160, 80, 80, measured_on="cut-edge", garment_allowance="10 mm", shoulder_slope=0)
    strip = figure(edge=stated)
    assert strip.edge.edge_mm == pytest.approx(2 * pi * 90)


def test_a_square_on_the_cut_edge_is_a_larger_square_in_front(figure):
    # each leg runs on to the corner of the parallel line; at the shoulders the lean of 20 degrees takes d tan(10) off
    strip = figure(edge=shape("square", 200, 120, 60, measured_on="cut-edge", garment_allowance="10 mm"))
    assert strip.edge.parts[0].edge_mm == pytest.approx((100 + 10) + (120 + 10 - 10 * tan(radians(10))))
    inside = shape("square", 20, 120, 60)
    with pytest.raises(SpecError, match="nothing is left of it on the seam line"):
        figure(edge=inside, finished_width="5 mm", replaces=table(finish="folded-band", finished_width="20 mm"))


def test_a_change_is_told_beside_what_was(figure):
    plain = figure(edge=shape("scoop", 160, 90, 30), ratio="flat")
    assert plain.before is None
    changed = figure(
        edge=shape("scoop", 160, 90, 30, lower_front="20 mm", lower_back="5 mm", widen="10 mm"),
        ratio="flat",
    )
    assert changed.edge.edge_mm == pytest.approx(2 * (trued(90, 110, 20) + trued(90, 35, 20)), rel=1e-8)
    assert changed.before is not None
    assert changed.before.edge_mm == plain.edge.edge_mm
    assert changed.before.loop_mm == plain.loop_mm
    assert changed.before.cut_length_mm == plain.cut_length_mm
    # the neck points move 10 mm out along a seam that slopes by 20 degrees
    assert changed.before.neck_drop_mm == pytest.approx(10 * tan(radians(20)))
    assert changed.to_json()["before_change"]["edge_mm"] == plain.edge.edge_mm
    assert "before_change" not in plain.to_json()


def test_a_neckline_that_was_too_small_for_the_strip_may_be_changed_all_the_same(figure):
    small, larger = shape("scoop", 40, 20, 10), shape("scoop", 40, 20, 10, lower_front="90 mm", widen="70 mm")
    with pytest.raises(SpecError, match="does not fit inside an edge"):
        figure(edge=small, finished_width="30 mm")
    assert figure(edge=larger, finished_width="30 mm").before is None


def test_a_neckline_may_be_raised_again(figure):
    raised = figure(edge=shape("scoop", 160, 90, 30, lower_front="-20 mm", widen="-5 mm"))
    assert raised.edge.edge_mm == figure(edge=shape("scoop", 150, 70, 30)).edge.edge_mm


def test_a_change_of_nothing_is_no_change(figure):
    assert figure(edge=shape("scoop", 160, 90, 30, lower_front="0 mm")).before is None


@pytest.mark.parametrize(
    ("edge", "expected"),
    [
        (table(kind="neckline", shape="round"), 'edge.shape: "round" is not known; known are scoop, vee, square'),
        (table(kind="neckline", shape="scoop"), "edge.neck-width: is missing; write neck-width"),
        (table(kind="armhole", shape="scoop"), 'edge.shape: is for a neckline, not for an edge of kind "armhole"'),
        (shape("scoop", 160, 90, 30, turning=280), "edge.turning: contradicts shape"),
        (shape("scoop", 160, 90, 30, corners=[20]), "edge.corners: contradicts shape"),
        (shape("scoop", 160, 90, 30, end_allowance=1), "edge.end-allowance: contradicts shape"),
        (shape("scoop", 160, 90, 30, front_half=7), "edge.front-half: contradicts shape"),
        (shape("scoop", 160, 90, 30, lower_front="-90 mm"), "edge.lower-front: takes away the whole neckline"),
        (shape("scoop", 160, 90, 30, lower_back="-30 mm"), "edge.lower-back: takes away the whole neckline"),
        (shape("scoop", 160, 90, 30, widen="-80 mm"), "edge.widen: takes away the whole neckline"),
        (shape("scoop", 160, 90, 30, widen="20 deg"), "edge.widen: '20 deg' is an angle"),
        (shape("vee", 10, 200, 30), "edge.front-depth: makes a slit rather than a vee"),
        (shape("scoop", 160, 0, 30), "edge.front-depth: '0 mm' is zero"),
        (table(kind="neckline", whole=20, back_depth=7), "edge.back-depth: belongs to an edge with a shape"),
        (shape("vee", 160, 200, 30, point_angle=47), "edge.point-angle: contradicts shape"),
        (table(kind="neckline", whole=20, lower_front=1), "edge.lower-front: belongs to an edge with a shape"),
        (table(kind="neckline", shape=["scoop"]), "edge.shape: must be a text in quotes, not a list"),
    ],
)
def test_a_shape_that_cannot_be_gets_one_sentence(figure, edge, expected):
    with pytest.raises(SpecError) as caught:
        figure(edge=edge)
    assert expected in str(caught.value)
