"""Corners: how the strip meets a sharp corner of the edge, and what its ends look like.

Millimetres.  At a corner that turns by phi the seam lines of its two arms enclose
the angle 2 beta = 180 - phi.  What lies d inside the seam line is shorter by
d / tan(alpha) on each arm, what lies outside it longer:

- mitre:  both ends meet on the middle line of the corner, alpha = beta, so that
          d / tan(alpha) = d tan(phi / 2);
- lapped: each end is sewn into the seam of the other arm, alpha = 2 beta.

An end seam allowance j adds j / sin(alpha) along the edge.  A band's raw edges lie s
outside the seam line, its fold w inside.  The first layer of a binding keeps its
full length up to the seam line, where the end seam stops; from there the strip runs
w inside to the garment's edge and back behind it.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from math import hypot, radians, sin, tan

from tiler.box import Point
from tiler.draft.strip.finish import Allowances, Finish, Profile, lies_inside
from tiler.languages.catalogue import noted
from tiler.languages.words import Words
from tiler.lengths import both
from tiler.paper import IN

FLATTEST_LAP = 60.0
"""A corner that turns by less, degrees, cannot be lapped: the ends would run along the seam."""

PIVOTED = noted(
    "Sew the end seam: stop and pivot at the fold, clip there and press it open. Lay the point notch on the clip and "
    "sew from there to either side."
)
PIVOTED_AS_DRAWN = noted(
    "Sew the end seam only as far as it is drawn: stop and pivot at the fold, clip there and press it open. Lay the "
    "point notch on the clip and sew from there to either side."
)
"""Of an end seam that stops before the long edges."""

MARK_DEPTH = 3.0
"""How deep a mark on a slanted end is cut, mm; no deeper than half of its allowance."""

MARKS_APART = 3.0
"""Between the two cuts of a double one."""

STAY_STITCHED = float(IN)
"""How far to each side of a corner the garment is stay-stitched: ours."""


class Corner(StrEnum):
    """How the strip meets the corner; without, it runs round."""

    NONE = "none"
    MITRE = "mitre"
    LAPPED = "lapped"


@dataclass(frozen=True)
class StripEnd:
    """An end of the strip: its end seam as points (y, reach), from the lower to the upper long edge.

    ``reach`` is how far the end seam lies beyond the end of the sewn length;
    ``allowance_along`` is its seam allowance along the strip; the end seam begins
    and stops ``open_below`` from the long edges that are sewn first.
    """

    style: Corner
    seam: Profile
    allowance_along: float
    open_below: float = 0.0

    @property
    def longest(self) -> float:
        """How far the cut end lies beyond the end of the sewn length where it is longest."""
        return max(reach for _, reach in self.seam) + self.allowance_along

    @property
    def depth(self) -> float:
        """How much shorter the strip is at one height than at another."""
        reaches = [reach for _, reach in self.seam]
        return max(reaches) - min(reaches)

    def marks(self, double: bool) -> tuple[tuple[Point, Point], ...]:
        """Return the cuts of a mark in the middle of the end, square to it: (reach, y) from the cut edge inward."""
        (reach, y), (along, up), allowance = self._middle
        depth = min(MARK_DEPTH, allowance / 2)
        places = (-MARKS_APART / 2, MARKS_APART / 2) if double else (0.0,)

        def point(at: float, out: float) -> Point:
            return (reach + at * along + out * up, y + at * up - out * along)

        return tuple((point(at, allowance), point(at, allowance - depth)) for at in places)

    @property
    def mark_beyond(self) -> float:
        """How far the middle of such a mark lies beyond the end of the sewn length."""
        ((outer, inner),) = self.marks(double=False)
        return (outer[0] + inner[0]) / 2

    @property
    def _middle(self) -> tuple[Point, Point, float]:
        """Return the middle of the end seam, its direction, both as (reach, y), and the allowance square to it."""
        (low, first), (high, last) = self.seam[0], self.seam[-1]
        far = hypot(last - first, high - low)
        along, up = (last - first) / far, (high - low) / far
        return ((first + last) / 2, (low + high) / 2), (along, up), self.allowance_along * up

    def reach_between(self, low: float, high: float) -> float:
        """Return the least reach of the end seam over a range of y."""
        inside = [reach for y, reach in self.seam if low <= y <= high]
        return min(inside + [self._reach_at(y) for y in (low, high)])

    def _reach_at(self, y: float) -> float:
        for (y0, reach0), (y1, reach1) in pairwise(self.seam):
            if y0 <= y <= y1:
                return reach0 + (reach1 - reach0) * (y - y0) / (y1 - y0)
        return self.seam[0 if y < self.seam[0][0] else -1][1]


def straight_end(width: float, join: float, beyond: float = 0.0) -> StripEnd:
    """Return the end of a strip that is cut square, so far ``beyond`` the sewn length, mm."""
    return StripEnd(Corner.NONE, ((0.0, beyond), (width, beyond)), join)


def slanted_end(
    style: Corner, point_deg: float, join: float, finish: Finish, width: float, extra: Allowances
) -> StripEnd:
    """Return the end of a mitred or lapped strip of the finished width ``width`` at a corner of ``point_deg``."""
    alpha = radians(180 - point_deg) / (2 if style is Corner.MITRE else 1)
    seam = tuple((y, -inside / tan(alpha)) for y, inside in lies_inside(finish, width, extra))
    return StripEnd(style, seam, join / sin(alpha), 0.0 if finish.is_band else width)


def corner_instructions(style: Corner, corners: int, finish: Finish, units: str) -> tuple[str, ...]:
    """Say how a garment with ``corners`` inward corners is prepared, and how the strip is sewn to them."""
    if not corners:
        return ()
    reach = both(STAY_STITCHED, units)
    prepare = Words(
        "Stay-stitch the garment's corner on the seam line, {reach} to each side, and clip the allowance to that "
        "stitching.",
        "Stay-stitch every corner of the garment on the seam line, {reach} to each side, and clip the allowance to "
        "that stitching.",
        count=corners,
        reach=reach,
    )
    match style:
        case Corner.NONE:
            return (prepare, Words("Spread the clipped corner straight when the strip is sewn on."))
        case Corner.MITRE:
            return (prepare, Words(PIVOTED if finish.is_band else PIVOTED_AS_DRAWN))
        case Corner.LAPPED:
            return (
                prepare,
                Words(
                    "Leave the strip open: sew each arm up to the clip, lay one end over the other, women's right over "
                    "left or as the pattern says, and sew each slanted end into the seam of the other arm."
                ),
            )
