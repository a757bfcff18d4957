"""The shape of a contour band's piece: its cut lines, seam lines and end seams as polylines, in piece millimetres."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from math import dist, fsum

from tiler.box import Point, Subpath


@dataclass(frozen=True)
class Shape:
    """One piece as it is cut; its lines run from the left to the right, from the fold where there is one.

    ``lower`` is the cut edge along the seam line ``sewn``, ``upper`` the one along the ``finished`` edge.  A piece
    that is ``doubled`` has a straight edge, so that its finished edge is a fold: ``second`` is the seam line of the
    layer behind it.  ``ends`` are the end seams, the left one first where there is no fold; an end that is cut where it
    is sewn has none.  ``grain`` is the direction of CF.  ``turns`` says how the edge turns along the left and the right
    half of it, degrees.
    """

    lower: Subpath
    sewn: Subpath
    finished: Subpath
    upper: Subpath
    ends: tuple[Subpath, ...]
    grain: Point
    on_fold: bool
    second: Subpath = ()
    turns: tuple[float, ...] = ()

    @property
    def doubled(self) -> bool:
        """Whether the piece is folded along its finished edge, and so cut in one layer."""
        return bool(self.second)

    @property
    def layers(self) -> int:
        """How often it is cut for one band: the outside and the inside, or both in one."""
        return 1 if self.doubled else 2

    @property
    def outline(self) -> Subpath:
        """The cut line: closed, or from fold to fold."""
        around = (*self.lower, *reversed(self.upper))
        return around if self.on_fold else (*around, around[0])

    @property
    def length(self) -> float:
        """The extent of the piece across."""
        return max(x for x, _ in self.outline)

    @property
    def width(self) -> float:
        """The extent of the piece upwards."""
        return max(y for _, y in self.outline)

    @property
    def extents(self) -> tuple[float, float]:
        """How far the piece reaches across its grain and along it."""
        x, y = self.grain
        across, along = zip(*((u * y - v * x, u * x + v * y) for u, v in self.outline), strict=True)
        return max(across) - min(across), max(along) - min(along)

    @property
    def sewn_mm(self) -> float:
        """The seam line from end to end, or from the fold."""
        return length_of(self.sewn)

    @property
    def finished_mm(self) -> float:
        """The finished edge from end to end, or from the fold."""
        return length_of(self.finished)


@lru_cache(64)  # words are put in place along them
def length_of(points: Subpath) -> float:
    """Return the length of a polyline."""
    return fsum(dist(a, b) for a, b in pairwise(points))


def place_on(points: Subpath, along: float) -> tuple[Point, Point]:
    """Return the point so far along a polyline, and the direction there, of length 1."""
    # what is summed up may fall short of the whole by a rounding
    share = 1.0
    for a, b in _steps(points):
        step = dist(a, b)
        if along <= step:
            share = along / step
            break
        along -= step
    way = ((b[0] - a[0]) / step, (b[1] - a[1]) / step)
    return (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])), way


def _steps(points: Subpath) -> Iterator[tuple[Point, Point]]:
    return ((a, b) for a, b in pairwise(points) if a != b)
