"""This checks lines beside a drawn one against Steiner's formula, closed forms, and the offsets of another library."""

from cmath import exp
from itertools import pairwise
from math import hypot, pi, radians, sqrt, tan

import pytest
from shapely import LineString, Point

from tiler.curves import Bezier, Curve, EllipseArc, line
from tiler.curves.parallel import cut_at, length, parallel, stations, turned_back

EXACT = 0.01
"""How exact a parallel is, mm."""

QUARTER = Curve.through([Bezier((0j, -80j, 60 - 100j, 90 - 100j))])
TAIL = Curve.through([Bezier((0j, 40 + 0j, 50 - 60j, 110 - 60j)), Bezier((110 - 60j, 170 - 60j, 180 + 0j, 220 + 0j))])
"""It turns both ways, as the hem of a shirt does."""


def arc(radius: float, sweep: float) -> Curve:
    return Curve.through([EllipseArc(1j * radius, complex(radius), 1j * radius, -pi / 2, sweep)])


@pytest.mark.parametrize(("off", "long"), [(10, 135.01709138), (-10, 166.43301792), (0, 150.72505465)])
def test_a_cubic_has_parallels_of_the_length_of_its_closed_form(off, long):
    # length 150.72505465 less the distance times a quarter turn (Steiner)
    assert length(parallel(stations(QUARTER, off), off)) == pytest.approx(long, abs=EXACT)


@pytest.mark.parametrize("off", [-60.0, -8.0, 15.0, 90.0])
def test_a_circle_has_circles_beside_it(off):
    points = parallel(stations(arc(140, radians(200)), off), off)
    assert length(points) == pytest.approx((140 - off) * radians(200), abs=EXACT)
    assert all(abs(abs(point - 140j) - (140 - off)) < 1e-9 for point in points)
    # the middle of a chord strays furthest
    assert all(140 - off - abs((a + b) / 2 - 140j) < EXACT for a, b in pairwise(points))


@pytest.mark.parametrize("off", [-30.0, 20.0])
def test_an_ellipse_has_a_parallel_of_the_length_of_steiners_formula_and_its_points(off):
    whole = Curve.through([EllipseArc(0j, 90 + 0j, 70j, 0.0, 2 * pi)])
    legs = stations(whole, off)
    points = parallel(legs, off)
    # 504.620244995055 by scipy.special.ellipe; a whole turn takes 2 pi off for each mm
    assert length(points) == pytest.approx(504.620244995055 - 2 * pi * off, abs=EXACT)
    # the closed form of the point: x - d x b / (a n), y - d y a / (b n), n = sqrt(x^2 b^2 / a^2 + y^2 a^2 / b^2)
    for station, point in zip(legs[0], points, strict=True):
        x, y = station.at.real, station.at.imag
        n = hypot(x * 70 / 90, y * 90 / 70)
        assert abs(point - complex(x - off * x * 70 / (90 * n), y - off * y * 90 / (70 * n))) < 1e-9


@pytest.mark.parametrize("curve", [QUARTER, TAIL, arc(120, radians(150))], ids=["cubic", "tail", "arc"])
@pytest.mark.parametrize("off", [-12.0, 9.0])
def test_another_library_draws_the_same_parallels(curve, off):
    points = parallel(stations(curve, off), off)
    dense = LineString([(z.real, z.imag) for z in curve.chords(0.000002)])
    theirs = dense.offset_curve(off, quad_segs=256)
    # each point of ours lies on theirs, and each of theirs on ours
    ours = LineString([(z.real, z.imag) for z in points])
    assert max(theirs.distance(Point(z.real, z.imag)) for z in points) < EXACT
    assert ours.hausdorff_distance(theirs) < EXACT
    assert all(
        abs(dense.distance(Point((a + b).real / 2, (a + b).imag / 2)) - abs(off)) < EXACT for a, b in pairwise(points)
    )


def test_arms_of_a_corner_meet_on_its_middle_line():
    # a corner of phi: the inside of each arm is shorter by d tan(phi / 2), the outside longer
    phi = radians(50)
    bent = Curve.through([line(0j, 80 + 0j), line(80 + 0j, 80 + 60 * exp(1j * phi))])
    for off in (10.0, -10.0):
        points = parallel(stations(bent, off), off)
        assert length(points) == pytest.approx(140 - 2 * off * tan(phi / 2), abs=1e-9)
        assert min(abs(point - complex(80 - off * tan(phi / 2), off)) for point in points) < 1e-9


def test_arms_that_bend_are_cut_where_they_cross():
    # two circles of 100 mm whose parallels 15 mm inside have 85 mm; both are mirrored about the corner's middle line
    left = EllipseArc(100j, 100 + 0j, 100j, -pi / 2, radians(40))
    turn = exp(1j * radians(40 + 30))
    right = EllipseArc(left.end + 100j * turn, 100 * turn, 100j * turn, -pi / 2, radians(40))
    bent = Curve.through([left, right])
    assert [round(one.turn_deg) for one in bent.corners] == [30]
    points = parallel(stations(bent, 15), 15)
    # where both circles of 85 mm meet: on the line through the corner that parts their centres
    one, other = 100j, left.end + 100j * turn
    apart = abs(other - one)
    foot, high = (one + other) / 2, sqrt(85**2 - apart**2 / 4)
    meeting = [foot + sign * high * 1j * (other - one) / apart for sign in (1, -1)]
    assert min(abs(point - place) for point in points for place in meeting) < EXACT


def test_chords_of_a_curve_have_a_parallel_without_steps():
    places = [140j + 140 * exp(1j * (k / 60 - 1) * pi / 2) for k in range(61)]
    chords = Curve.through(line(a, b) for a, b in pairwise(places))
    assert chords.corners == ()
    points = parallel(stations(chords, 40), 40)
    # each chord of 140 mm is 100 mm long there, in proportion
    assert length(points) == pytest.approx(chords.length - 40 * 2 * 59 * tan(pi / 240), abs=1e-6)


@pytest.mark.parametrize(("off", "where"), [(49.0, None), (51.0, 0.0), (-51.0, None)])
def test_a_parallel_beyond_the_radius_runs_backwards(off, where):
    found = turned_back(stations(arc(50, radians(90)), off), off)
    assert found == where if where is None else found == pytest.approx(where, abs=3.0)


def test_a_parallel_of_a_bend_that_turns_the_other_way_runs_backwards_there():
    # the tail bends to the right first: to its right no band can be wider than its radius there
    assert turned_back(stations(TAIL, 5), 5) is None
    at = turned_back(stations(TAIL, 80), 80)
    assert at is not None
    assert 60 < at < 190


@pytest.mark.parametrize(("foot", "last"), [(30.0, 30.0), (120.0, 120.0)])
def test_an_end_is_cut_or_lengthened_to_a_line(foot, last):
    points = cut_at([0j, 50 + 0j, 100 + 0j], complex(foot), 1 + 2j, -1 + 0j)
    assert points[-1] == pytest.approx(complex(last))
    assert points[0] == 0
