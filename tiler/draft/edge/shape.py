"""A neckline as a described shape: its two half curves, and what a change does to it.

Millimetres; a point is a complex number x + iy with y up, the neck points of the
shoulders at the height 0, and CF and CB at x = 0.  Every half runs from the
centre to the neck point.  With n the half of the neck width, d the depth and sigma
the slope of the shoulder:

- scoop:  an arc of an ellipse that leaves the centre squarely and meets the shoulder
          seam squarely ("trued"), in front and behind.  Where n > 2 d tan sigma it is
          (A sin t, B (1 - cos t)) for t from 0 to k, with cos k = 1 / (n / (d tan sigma) - 1),
          A = n / sin k, B = d / (1 - cos k).  A deeper one is the quarter of the ellipse with
          the semi-axes n and d, which has a corner at the shoulder;
- vee:    straight from the point at CF to the shoulder; the back is a scoop;
- square: straight across, then straight up; the back is a scoop.

Depths count from the neck points, whose seam slopes: a wider neckline has them
lower down the shoulder, and CF and CB with them.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import acos, atan2, cos, degrees, pi, radians, sin, tan

from tiler.curves import Curve, EllipseArc, line
from tiler.draft.spec.table import Table
from tiler.sentence import Key, joined

SHARPEST_POINT = 170.0
"""A vee that turns by more, degrees, is a slit."""

CHANGES = ("lower-front", "lower-back", "widen")
KEYS = ("shape", "neck-width", "front-depth", "back-depth", *CHANGES)


class Shape(StrEnum):
    """The front of a neckline; the back is a scoop."""

    SCOOP = "scoop"
    VEE = "vee"
    SQUARE = "square"


@dataclass(frozen=True)
class Outline:
    """A described neckline: from neck point to neck point, and its depths below them, mm."""

    shape: Shape
    neck_width_mm: float
    front_depth_mm: float
    back_depth_mm: float

    @property
    def point_deg(self) -> float:
        """The corner at CF that a vee of this size has: 180 degrees less the angle between its arms."""
        return 180 - 2 * degrees(atan2(self.neck_width_mm / 2, self.front_depth_mm))


@dataclass(frozen=True)
class Change:
    """What is done to a neckline: how much lower in front and behind, how much wider on each side, mm."""

    lower_front_mm: float = 0.0
    lower_back_mm: float = 0.0
    widen_mm: float = 0.0

    def of(self, outline: Outline) -> Outline:
        """Return the changed neckline."""
        return Outline(
            outline.shape,
            outline.neck_width_mm + 2 * self.widen_mm,
            outline.front_depth_mm + self.lower_front_mm,
            outline.back_depth_mm + self.lower_back_mm,
        )


def read_outline(table: Table) -> tuple[Outline, Change]:
    """Read a described neckline and its change; raises :class:`SpecError` when nothing is left of it."""
    sides = {"neck-width": '"7 in"', "front-depth": '"3 1/2 in"', "back-depth": '"1 in"'}
    hint = joined(", ", (Key(*side) for side in sides.items()))
    outline = Outline(
        table.word("shape", Shape),
        table.length("neck-width", hint),
        table.length("front-depth", hint),
        table.length("back-depth", hint),
    )
    change = Change(*(table.signed_length(key, 0.0) for key in CHANGES))
    changed = change.of(outline)
    for key, left in zip(CHANGES, (changed.front_depth_mm, changed.back_depth_mm, changed.neck_width_mm), strict=True):
        if left <= 0:
            table.refuse(key, "takes away the whole neckline; take a smaller change")
    for one in (outline, changed):
        if one.shape is Shape.VEE and one.point_deg > SHARPEST_POINT:
            table.refuse("front-depth", "makes a slit rather than a vee; widen the neckline or make it less deep")
    return outline, change


def halves(outline: Outline, slope: float) -> tuple[Curve, Curve]:
    """Return the front and the back half, from the centre to the neck point of shoulders with this slope, degrees."""
    half, depth = outline.neck_width_mm / 2, outline.front_depth_mm
    match outline.shape:
        case Shape.SCOOP:
            front = _scoop(half, depth, slope)
        case Shape.VEE:
            front = Curve.through([line(complex(0, -depth), complex(half, 0))])
        case Shape.SQUARE:
            corner = complex(half, -depth)
            front = Curve.through([line(complex(0, -depth), corner), line(corner, complex(half, 0))])
    return front, _scoop(half, outline.back_depth_mm, slope)


def _scoop(half: float, depth: float, slope: float) -> Curve:
    drop = depth * tan(radians(slope))
    ends = pi / 2 if drop <= 0 or half <= 2 * drop else acos(1 / (half / drop - 1))
    across, down = half / sin(ends), depth / (1 - cos(ends))
    centre = complex(0, down - depth)
    return Curve.through([EllipseArc(centre, complex(across, 0), complex(0, down), -pi / 2, ends)])
