"""This checks the point of a vee that was measured with a tape."""

from math import atan2, degrees

import pytest

from tests.specs import armhole, curved, neckline, shaped, straight, table
from tiler.errors import SpecError

# C: tan beta = 3.5 / 8, the arm is the hypotenuse, phi = 180 - 2 beta
BETA = degrees(atan2(3.5, 8))
ARM = 8.7321245983


@pytest.mark.parametrize(
    "point",
    [
        table(neck_width=7, front_depth=8),
        table(point_angle=2 * BETA),
        table(point_angle=f"{2 * BETA:.8f} deg"),
        table(corners=[180 - 2 * BETA]),
    ],
)
def test_three_ways_to_the_same_point(figure, point):
    drawn = figure(edge=shaped("vee", 7, 8, 1), corner="mitre")
    back = drawn.edge.parts[1].edge_mm / 25.4
    taped = figure(edge=neckline(ARM, f"{back:.6f} in", **point), corner="mitre")
    for own, other in zip(taped.end.seam, drawn.end.seam, strict=True):
        assert own == pytest.approx(other)
    assert taped.edge.turning_deg == pytest.approx(280)
    # the drawn one has its 3.6 degrees at the shoulders as corners, the measured one has them smooth
    assert taped.loop_mm == pytest.approx(drawn.loop_mm, rel=1e-3)
    assert taped.edge.ease == "by-curve"


def test_the_lengths_of_a_vee_hold_for_an_edge_measured_whole(figure):
    whole = figure(edge=table(kind="neckline", whole=25, neck_width=7, front_depth=8), corner="mitre")
    assert whole.pointed
    assert figure(edge=curved(25, 280, point_angle=47), corner="mitre").pointed


def test_arms_are_measured_between_their_seams(figure):
    edge = neckline(ARM + 0.75, 4.5, neck_width=7, front_depth=8, end_allowance="3/4")
    assert figure(edge=edge, corner="mitre").edge.parts[0].edge_mm == pytest.approx(ARM * 25.4)


@pytest.mark.parametrize(
    ("edge", "expected"),
    [
        (neckline(ARM, 4, neck_width=7), "edge.front-depth: is missing; write front-depth"),
        (neckline(ARM, 4, front_depth=7), "edge.neck-width: is missing; write neck-width"),
        (neckline(ARM, 4, neck_width=True, front_depth=8), "edge.neck-width: "),
        (neckline(ARM, 4, neck_width=0, front_depth=8), "edge.neck-width: 0 is zero"),
        (neckline(ARM, 4, neck_width=7, front_depth="47 deg"), "edge.front-depth: '47 deg' is an angle"),
        (neckline(ARM, 4, neck_width=0.5, front_depth=8), "edge.front-depth: makes a slit rather than a vee"),
        (neckline(ARM, 4, neck_width=17, front_depth=0.5), "edge.front-depth: makes no point"),
        (neckline(7, 4, neck_width=7, front_depth=8), "has only 7 in (17.8 cm) for it; check the three lengths"),
        (neckline(10, 4, neck_width=7, front_depth=8), "a rounded neckline has no point, so leave neck-width"),
        (neckline(ARM, 4, point_angle=47, corners=[133]), "edge.point-angle: contradicts corners"),
        (neckline(ARM, 4, point_angle=47, neck_width=7, front_depth=8), "edge.neck-width: contradicts point-angle"),
        (neckline(ARM, 4, point_angle=47, front_depth=8), "edge.front-depth: contradicts point-angle"),
        (neckline(ARM, 4, point_angle=5), "edge.point-angle: "),
        (neckline(ARM, 4, point_angle=180), "edge.point-angle: "),
        (neckline(ARM, 4, point_angle="7 in"), "edge.point-angle: '7 in' is "),
        (neckline(ARM, 4, point_angle=[47]), "edge.point-angle: "),
        (armhole(8, 9, point_angle=47), 'edge.point-angle: has no meaning for an edge of kind "armhole"'),
        (armhole(8, 9, neck_width=7, front_depth=8), "edge.neck-width: is for the vee of a neckline"),
        (curved(20, 280, neck_width=7, front_depth=8), "edge.neck-width: is for the vee of a neckline"),
        (straight(20, point_angle=47), "edge.point-angle: has no meaning for a straight edge"),
        (straight(20, neck_width=7), "edge.neck-width: is for the vee of a neckline"),
    ],
)
def test_a_point_that_cannot_be_gets_one_sentence(figure, edge, expected):
    with pytest.raises(SpecError) as caught:
        figure(edge=edge)
    assert expected in str(caught.value)
    assert "\n" not in str(caught.value)


def test_a_missing_angle_is_asked_for_without_a_number_to_copy(figure):
    with pytest.raises(SpecError) as caught:
        figure(edge=neckline(9, 4), corner="mitre")
    said = str(caught.value)
    assert "measure neck-width and front-depth, or point-angle, or leave corner out" in said
    assert not any(sign.isdigit() for sign in said.split("corner: ")[1])
