"""How far an edge turns, and how its length changes on a parallel line.

Angles are degrees, lengths millimetres.  A line that runs at the distance d
beside a curve is longer by d times the angle (radians) through which the curve
turns (Steiner's formula for parallel curves).  At a corner that turns by phi
and stays sharp both legs run on to their meeting point, which gives
2 d tan(phi / 2) instead of d phi.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import fsum, radians, tan


@dataclass(frozen=True)
class Turn:
    """What an edge turns: smoothly, and at sharp corners; degrees, bending inwards is positive."""

    smooth_deg: float
    corners_deg: tuple[float, ...] = ()

    @property
    def total_deg(self) -> float:
        """The whole turn, corners included."""
        return self.smooth_deg + fsum(self.corners_deg)

    def change(self, distance: float) -> float:
        """Give by how much a parallel line at ``distance`` mm differs in length, mm."""
        return smooth_change(self.smooth_deg, distance) + corner_change(self.corners_deg, distance)


def smooth_change(turning_deg: float, distance: float) -> float:
    """Give the change in length along a smooth turn, mm (Steiner)."""
    return distance * radians(turning_deg)


def corner_change(corners_deg: Iterable[float], distance: float) -> float:
    """Give the change in length at corners that stay sharp, mm."""
    return fsum(2 * distance * tan(radians(corner) / 2) for corner in corners_deg)
