"""This checks parallel curves against closed forms (Steiner; mitre of two straight legs)."""

from math import pi, sqrt

import pytest

from tiler.turn import Turn, corner_change


def test_a_square_rounded_off_at_one_has_the_length_that_steiner_gives():
    # 10 x 10 square, rounded off at distance 1: 40 + 2 pi = 46.283185 (Steiner's formula)
    assert 40 + Turn(360).change(1) == pytest.approx(46.283185, abs=5e-7)


@pytest.mark.parametrize("distance", [-3, 0, 1, 2.5, 40])
def test_a_circle_grows_by_two_pi_for_every_unit(distance):
    # circumference of concentric circles, 2 pi r
    assert 2 * pi * 50 + Turn(360).change(distance) == pytest.approx(2 * pi * (50 + distance))


@pytest.mark.parametrize("distance", [-3, 0, 1, 2.5])
def test_a_square_that_stays_sharp_is_a_larger_square(distance):
    # perimeter of the square of side 10 + 2 d
    assert 40 + Turn(0, (90, 90, 90, 90)).change(distance) == pytest.approx(4 * (10 + 2 * distance))


def test_a_triangle_that_stays_sharp_is_a_larger_triangle():
    # equilateral triangle of side a has inradius a / (2 sqrt 3); the parallel one has the inradius plus d
    side, d = 10.0, 1.5
    larger = (side / (2 * sqrt(3)) + d) * 2 * sqrt(3)
    assert 3 * side + Turn(0, (120, 120, 120)).change(d) == pytest.approx(3 * larger)


def test_a_small_corner_changes_as_much_as_a_smooth_turn():
    # 2 tan(x / 2) = x to third order
    assert corner_change([0.01], 7) == pytest.approx(Turn(0.01).change(7), rel=1e-8)


def test_a_corner_counts_in_the_whole_turn():
    assert Turn(147.3, (132.7,)).total_deg == pytest.approx(280)
