"""A neckline along the curves of its halves: its legs, its corners, its path.

Millimetres and degrees.  A half runs from the centre to the neck point, with
the centre line upright and the shoulder to the right; it turns to the left as it
bends inwards.  A half that does not leave the centre at a right angle has a
corner there with its mirror image.  Front and back meet at the shoulder, whose
seam slopes by sigma: what both lean away from the upright, less 2 sigma, is the
corner there, so that the whole edge turns by 360 - 4 sigma (Gauss-Bonnet).
"""

from __future__ import annotations

from cmath import phase
from dataclasses import dataclass
from itertools import accumulate, pairwise
from math import degrees, fsum

from tiler.curves import Curve
from tiler.draft.edge.path import path_of
from tiler.draft.edge.seam_line import Leg, MeasuredPart
from tiler.turn import Turn

LEAST_POINT = 10.0
"""Halves that meet at CF at a flatter angle, degrees, make no point that is clipped or mitred."""

NOISE = 1e-9


@dataclass(frozen=True)
class DrawnNeckline:
    """What two half curves say: the parts, the turn of the whole edge, and the corner at CF where there is one."""

    parts: tuple[MeasuredPart, MeasuredPart]
    turn: Turn
    point_deg: float | None


def along(front: Curve, back: Curve, shoulder_slope: float) -> DrawnNeckline:
    """Measure a neckline along its two half curves."""
    shoulder = _corner(_lean(front) + _lean(back) - 2 * shoulder_slope)
    points = [_at_centre(half) for half in (front, back)]
    inner = [corner.turn_deg for half in (front, back) for corner in half.corners]
    sharp = [angle for angle in (*points, *2 * inner, shoulder, shoulder) if angle]
    parts = (
        MeasuredPart("front-half", _legs(front, points[0], shoulder), path_of(front), points[0], shoulder, curve=front),
        MeasuredPart("back-half", _legs(back, points[1], shoulder), path_of(back), points[1], shoulder, curve=back),
    )
    smooth = 2 * fsum(leg.turn.smooth_deg for part in parts for leg in part.legs)
    return DrawnNeckline(parts, Turn(smooth, tuple(sharp)), points[0] if points[0] > LEAST_POINT else None)


def _at_centre(half: Curve) -> float:
    return _corner(2 * degrees(phase(half.segments[0].departure)))


def _lean(half: Curve) -> float:
    return 90 - degrees(phase(half.segments[-1].arrival))


def _corner(angle: float) -> float:
    return angle if abs(angle) > NOISE else 0.0


def _legs(half: Curve, centre: float, shoulder: float) -> tuple[Leg, ...]:
    """Cut a half at its sharp corners; each leg owns half of the corner at either end."""
    sharp = half.corners
    stops = [centre, *(corner.turn_deg for corner in sharp), shoulder]
    ends = [0, *(_segment_before(half, corner.along_mm) for corner in sharp), len(half.segments)]
    legs = []
    for (first, last), both in zip(pairwise(ends), pairwise(stops), strict=True):
        own = Curve(half.segments[first:last])
        corners = tuple(angle for angle in both if angle)
        legs.append(Leg(own.length, Turn(own.turning_deg, corners, (0.5,) * len(corners))))
    return tuple(legs)


def _segment_before(half: Curve, along_mm: float) -> int:
    return 1 + next(index for index, end in enumerate(accumulate(half.lengths)) if end >= along_mm - 1e-9)
