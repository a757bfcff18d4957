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
    """What an edge turns: smoothly, and at sharp corners; degrees, bending inwards is positive.

    A part of an edge may end in a corner that it shares with its neighbour:
    ``shares`` says how much of each corner is its own; without, all of it.
    """

    smooth_deg: float
    corners_deg: tuple[float, ...] = ()
    shares: tuple[float, ...] = ()

    @property
    def total_deg(self) -> float:
        """The whole turn, corners included."""
        return self.smooth_deg + fsum(share * corner for corner, share in self._shared())

    def change(self, distance: float) -> float:
        """Return by how much a parallel line at ``distance`` mm differs in length, mm."""
        return smooth_change(self.smooth_deg, distance) + fsum(
            share * corner_change((corner,), distance) for corner, share in self._shared()
        )

    def without(self, corner_deg: float) -> Turn:
        """Return the turn less one corner of this angle, if there is one."""
        if corner_deg not in self.corners_deg:
            return self
        index = self.corners_deg.index(corner_deg)
        return Turn(
            self.smooth_deg,
            self.corners_deg[:index] + self.corners_deg[index + 1 :],
            self.shares[:index] + self.shares[index + 1 :],
        )

    def _shared(self) -> Iterable[tuple[float, float]]:
        return zip(self.corners_deg, self.shares or (1.0,) * len(self.corners_deg), strict=True)


def smooth_change(turning_deg: float, distance: float) -> float:
    """Return the change in length along a smooth turn, mm (Steiner)."""
    return distance * radians(turning_deg)


def corner_change(corners_deg: Iterable[float], distance: float) -> float:
    """Return the change in length at corners that stay sharp, mm."""
    return fsum(2 * distance * tan(radians(corner) / 2) for corner in corners_deg)
