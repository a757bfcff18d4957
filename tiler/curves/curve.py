"""A drawn line from end to end: its length and how it turns; mm, degrees.

A point of the plane is a complex number x + iy, y up.  Turning is counterclockwise
positive along the line; what a sewist needs is the net turn without its sign, which
:attr:`Curve.turn` gives.  A parallel line follows from length and turn alone
(Steiner's formula, see ``tiler.turn``).
"""

from __future__ import annotations

from cmath import phase
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate, pairwise
from math import ceil, copysign, degrees, fsum, sqrt

from tiler.box import Box
from tiler.curves.affine import Affine
from tiler.curves.bezier import Bezier, line
from tiler.curves.ellipse import EllipseArc
from tiler.turn import Turn

Segment = Bezier | EllipseArc

LEAST_CORNER = 1.0
"""A smaller jump of the direction, degrees, is taken for a smooth joint."""

CHORD_CORNER = 10.0
"""Lines that follow each other with even jumps below this, degrees, are a curve written in chords."""

FURTHEST = 1e7
"""10 km: a file that draws further than this has a fault, mm."""

CLOSES = 0.01
"""A line whose ends are nearer than this is closed, mm."""


@dataclass(frozen=True)
class Corner:
    """A sharp corner: its place, its signed turn in degrees, and the distance from the start of the line."""

    at: complex
    turn_deg: float
    along_mm: float


@dataclass(frozen=True)
class Curve:
    """A line through segments that follow each other; build it with :meth:`through`."""

    segments: tuple[Segment, ...]
    closed: bool = False

    @classmethod
    def through(cls, segments: Iterable[Segment], *, closed: bool = False) -> Curve:
        """Join segments: those without length are left out, cusps become joints, ``closed`` draws the closing line."""
        given = list(segments)
        if closed and abs(given[-1].end - given[0].start) > CLOSES / 10:
            given.append(line(given[-1].end, given[0].start))
        kept = [part for segment in given if segment.reach() > CLOSES / 1e4 for part in _between_cusps(segment)]
        whole = cls(tuple(kept or given[:1]))
        if abs(whole.end - whole.start) <= CLOSES and any(part.reach() > CLOSES for part in kept):
            return cls(whole.segments, True)
        return whole

    @staticmethod
    def sane(segments: Iterable[Segment]) -> bool:
        """Tell whether segments out of a file can be built into a line at all."""
        return all(segment.within(FURTHEST) for segment in segments)

    @property
    def start(self) -> complex:
        """Where the line begins."""
        return self.segments[0].start

    @property
    def end(self) -> complex:
        """Where the line ends."""
        return self.segments[-1].end

    @cached_property
    def lengths(self) -> tuple[float, ...]:
        """The length of every segment."""
        return tuple(segment.length() for segment in self.segments)

    @property
    def length(self) -> float:
        """The arc length."""
        return fsum(self.lengths)

    @cached_property
    def bounds(self) -> Box:
        """The least upright rectangle around the line."""
        left, foot, right, top = zip(*(segment.extent() for segment in self.segments), strict=True)
        return Box(min(left), min(foot), max(right), max(top))

    @cached_property
    def _jumps(self) -> tuple[float, ...]:
        """The jump of the direction after every segment, degrees; after the last one only where the line closes."""
        following = self.segments[1:] + (self.segments[:1] if self.closed else ())
        return tuple(
            degrees(phase(then.departure * before.arrival.conjugate()))
            for before, then in zip(self.segments, following, strict=False)
        )

    @cached_property
    def turning_deg(self) -> float:
        """The whole signed turn, corners included."""
        return fsum((*(degrees(segment.turning()) for segment in self.segments), *self._jumps))

    @cached_property
    def corners(self) -> tuple[Corner, ...]:
        """The sharp corners in order."""
        return tuple(
            Corner(self.segments[index].end, jump, along)
            for index, (jump, along) in enumerate(zip(self._jumps, accumulate(self.lengths), strict=False))
            if abs(jump) > LEAST_CORNER and not self._is_chord(index)
        )

    def _is_chord(self, index: int) -> bool:
        """Tell whether a joint belongs to a curve that is written in chords."""
        jump, last = self._jumps[index], len(self._jumps) - 1
        if abs(jump) >= CHORD_CORNER or not self._of_lines(index):
            return False
        beside = [near % (last + 1) if self.closed else near for near in (index - 1, index + 1)]
        return any(
            0 <= near <= last and 1 / 3 < self._jumps[near] / jump < 3 and self._of_lines(near) for near in beside
        )

    def _of_lines(self, index: int) -> bool:
        return self.segments[index].straight and self.segments[(index + 1) % len(self.segments)].straight

    @property
    def turn(self) -> Turn:
        """The net turn without its sign; corners that turn the other way are negative."""
        sign = copysign(1.0, round(self.turning_deg, 9))
        sharp = tuple(corner.turn_deg for corner in self.corners)
        return Turn(sign * (self.turning_deg - fsum(sharp)), tuple(sign * angle for angle in sharp))

    def reversed(self) -> Curve:
        """Return the same line run the other way."""
        return Curve(tuple(segment.reversed() for segment in reversed(self.segments)), self.closed)

    def mapped(self, affine: Affine) -> Curve:
        """Return the line carried by a map."""
        return Curve(tuple(segment.mapped(affine) for segment in self.segments), self.closed)

    def chords(self, stray: float) -> list[complex]:
        """Return points along the line whose chords stray from it by ``stray`` at most."""
        points = [self.start]
        for segment in self.segments:
            # a chord over a step h strays by h^2 / 8 of the second derivative at most
            count = 1 if segment.straight else max(1, ceil(sqrt(segment.bend() / (8 * stray))))
            points += [segment.at(k / count) for k in range(1, count)]
            points.append(segment.end)
        return points


def _between_cusps(segment: Segment) -> Sequence[Segment]:
    stops = segment.cusps()
    return [segment.part(a, b) for a, b in pairwise((0.0, *stops, 1.0))] if stops else (segment,)
