"""Lines at a constant distance from a drawn one: its true parallels, as polylines; mm.

A parallel at the distance d lies d to the left of the line, to the right where d is negative.  Its points
are those of the line moved along the normal, so dense that its chords stray from the exact parallel by
:data:`STRAY` at most.  At a sharp corner the parallels of both arms are cut or lengthened to where they meet.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise
from math import fsum

from tiler.curves.curve import Curve, Segment

STRAY = 0.004
"""How far a chord may lie from the line or its parallel, mm."""

FIRST = 8
"""A bent segment begins with so many steps, so that none hides between two places that look straight."""

AT_END = 1.0
"""The first step of a bent segment and its last one are no longer, mm: by them it is seen how it runs on."""

DEEPEST = 14
"""How often a step is halved."""

SHORTEST = 0.3
"""A shorter last step is put together with the one before, mm."""

NOISE = 1e-9


@dataclass(frozen=True)
class Station:
    """A point of the line, and the way from it to its like on the parallel at the distance 1."""

    at: complex
    across: complex

    @property
    def onward(self) -> complex:
        """The direction of the line, and of all its parallels."""
        return -1j * self.across

    def moved(self, distance: float) -> complex:
        """Return its like on the parallel at a distance."""
        return self.at + distance * self.across


Leg = tuple[Station, ...]
"""The stations between two sharp corners."""


def stations(curve: Curve, *distances: float) -> tuple[Leg, ...]:
    """Return the stations of a line, leg by leg, dense enough for its parallels at these distances."""
    along = list(accumulate(curve.lengths))
    sharp = sorted({min(range(len(along)), key=lambda i: abs(along[i] - one.along_mm)) for one in curve.corners})
    ends = [0, *(index + 1 for index in sharp if index < len(along) - 1), len(along)]
    return tuple(tuple(_leg(curve.segments[first:last], distances)) for first, last in pairwise(ends))


def _leg(segments: Sequence[Segment], distances: Sequence[float]) -> Iterator[Station]:
    for index, segment in enumerate(segments):
        own = list(_along(segment, distances))
        if index:
            own[0] = Station(own[0].at, _mitred(segments[index - 1].arrival, segment.departure))
        if index < len(segments) - 1:
            own.pop()
        yield from own


def _mitred(before: complex, then: complex) -> complex:
    """Return the way across a joint that is no corner: where the normals of both sides would lead to."""
    one, other = _normal(before), _normal(then)
    middle = one + other
    return 2 * middle / abs(middle) ** 2


def _normal(direction: complex) -> complex:
    return 1j * direction / abs(direction)


def _along(segment: Segment, distances: Sequence[float]) -> Iterator[Station]:
    first = Station(segment.start, _normal(segment.departure))
    last = Station(segment.end, _normal(segment.arrival))
    yield first
    if segment.straight:
        yield last
        return

    def station(t: float) -> Station:
        if t in (0.0, 1.0):
            return last if t else first
        return Station(segment.at(t), _normal(segment.velocity(t)))

    def halved(t0: float, t1: float, one: Station, other: Station, depth: int) -> Iterator[Station]:
        t = (t0 + t1) / 2
        middle = station(t)
        at_end = (t0 == 0.0 or t1 == 1.0) and abs(other.at - one.at) > AT_END
        if depth and (at_end or any(_strays(one.moved(d), middle.moved(d), other.moved(d)) for d in (0.0, *distances))):
            yield from halved(t0, t, one, middle, depth - 1)
            yield from halved(t, t1, middle, other, depth - 1)
        else:
            yield other

    for step in range(FIRST):
        t0, t1 = step / FIRST, (step + 1) / FIRST
        yield from halved(t0, t1, station(t0), station(t1), DEEPEST)


def _strays(one: complex, middle: complex, other: complex) -> bool:
    """Tell whether a chord strays from the line: a bend is furthest from its chord near its middle."""
    chord = other - one
    if not chord:
        return abs(middle - one) > STRAY
    # three quarters, since no bend is quite even
    return abs(((middle - one) * chord.conjugate()).imag) > 0.75 * STRAY * abs(chord)


def turned_back(legs: Sequence[Leg], distance: float) -> float | None:
    """Return how far along the line its parallel first runs backwards, mm: it bends more sharply there than that.

    None where it runs forwards all along.
    """
    along = 0.0
    for leg in legs:
        for one, other in pairwise(leg):
            step = other.at - one.at
            if ((other.moved(distance) - one.moved(distance)) * step.conjugate()).real < -NOISE:
                return along + abs(step) / 2
            along += abs(step)
    return None


def parallel(legs: Sequence[Leg], distance: float) -> list[complex]:
    """Return the parallel at a distance, its legs cut or lengthened to where they meet."""
    found = [station.moved(distance) for station in legs[0]]
    for before, leg in pairwise(legs):
        own = [station.moved(distance) for station in leg]
        found = _met(found, own, before[-1].onward, leg[0].onward)
    return found


def length(points: Sequence[complex]) -> float:
    """Return the length of a polyline."""
    return fsum(abs(b - a) for a, b in pairwise(points))


def cut_at(points: Sequence[complex], foot: complex, along: complex, inward: complex) -> list[complex]:
    """Return a polyline whose end is cut or lengthened to the line through ``foot`` in the direction ``along``.

    ``inward`` is the direction of the end back along the polyline, to the side of that line on which it stays.
    """
    sign = 1.0 if (inward * along.conjugate()).imag > 0 else -1.0
    kept = len(points)
    while kept > 1 and sign * ((points[kept - 1] - foot) * along.conjugate()).imag <= NOISE:
        kept -= 1
    # an end that is too short runs straight on
    way = points[kept] - points[kept - 1] if kept < len(points) else -inward
    end = _meeting(points[kept - 1], way, foot, along)
    # no last step so short that its direction is lost when it is written
    kept -= kept > 1 and abs(end - points[kept - 1]) < SHORTEST
    return [*points[:kept], end]


def _met(one: Sequence[complex], other: Sequence[complex], way: complex, onward: complex) -> list[complex]:
    """Join two legs where they cross, nearest to their corner; else where their ends, lengthened, meet."""
    for reach in range(2, max(len(one), len(other)) + 1):
        # the corner is left in steps along both
        for i in range(max(0, len(one) - reach), len(one) - 1):
            for j in range(min(reach, len(other)) - 1):
                if len(one) - 1 - i != reach - 1 and j != reach - 2:
                    continue
                place = _crossed(one[i], one[i + 1], other[j], other[j + 1])
                if place is not None:
                    return [*one[: i + 1], place, *other[j + 1 :]]
    place = _meeting(one[-1], way, other[0], onward)
    return [*one, place, *other]


def _crossed(a: complex, b: complex, c: complex, d: complex) -> complex | None:
    ab, cd = b - a, d - c
    area = (ab.conjugate() * cd).imag
    if not area:
        return None
    t = ((c - a).conjugate() * cd).imag / area
    u = ((c - a).conjugate() * ab).imag / area
    return a + t * ab if -NOISE <= t <= 1 + NOISE and -NOISE <= u <= 1 + NOISE else None


def _meeting(one: complex, way: complex, other: complex, along: complex) -> complex:
    """Return where two lines meet; the end of the first where they run alongside each other."""
    area = (way.conjugate() * along).imag
    return one + way * ((other - one).conjugate() * along).imag / area if abs(area) > NOISE else one
