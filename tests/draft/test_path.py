"""This checks the way along a drawn edge: what it is long and what it turns, on the line and beside it."""

from itertools import pairwise
from math import fsum, pi, radians

import pytest

from tiler.curves import Bezier, Curve, EllipseArc, line
from tiler.draft.edge.path import at_distance, path_of


def long(path):
    return fsum(step.length_mm for step in path)


# the cubic of the published facts: its length, and those of its parallels at 10 mm on either side; it turns by 90 degrees
CUBIC = Curve.through([Bezier((0j, -80j, 60 - 100j, 90 - 100j))])


@pytest.mark.parametrize(("distance", "length"), [(0, 150.72505465), (-10, 135.01709138), (10, 166.43301792)])
def test_a_curve_and_its_parallels(distance, length):
    path = at_distance(path_of(CUBIC), distance, 0.0, 0.0)
    assert long(path) == pytest.approx(length, abs=1e-6)
    assert fsum(step.smooth for step in path) == pytest.approx(radians(90))


def test_it_turns_most_where_the_curve_bends_most():
    # closed form: an ellipse has its least radius b^2 / a at the end of the long axis; a step has the mean of its bend
    path = path_of(Curve.through([EllipseArc(0j, 90 + 0j, 30j, -pi / 2, pi)]))
    tightest = max(path, key=lambda step: step.smooth / step.length_mm)
    assert tightest.length_mm / tightest.smooth == pytest.approx(30 * 30 / 90, rel=0.07)


def test_corners_part_the_legs_and_their_arms_run_on_to_the_meeting_point():
    # a square front of 90 and 120 mm whose parallel at 10 mm has 90 + 10 and 120 + 10
    square = Curve.through([line(0j, 90 + 0j), line(90 + 0j, 90 + 120j)])
    path = at_distance(path_of(square), 10.0, 0.0, 0.0)
    assert [(step.leg, step.length_mm, step.corner_deg) for step in path] == [
        (0, pytest.approx(100), 0),
        (0, 0, pytest.approx(90)),
        (1, pytest.approx(130), 0),
    ]


def test_a_curve_that_is_written_in_chords_bends_smoothly():
    points = [EllipseArc(0j, 50 + 0j, 50j, 0.0, pi / 2).at(k / 30) for k in range(31)]
    path = path_of(Curve.through(line(a, b) for a, b in pairwise(points)))
    assert not any(step.corner_deg for step in path)
    assert fsum(step.smooth for step in path) == pytest.approx(radians(90 - 3))
