"""What a piece of a contour band looks like: the parallels of its way, cut at its ends; mm.

A point of the plane is a complex number x + iy, y up.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import radians, tan

from tiler.box import Subpath
from tiler.curves.parallel import Leg, cut_at, parallel, stations
from tiler.draft.contour.crossings import CrossingError, called, check_lines
from tiler.draft.contour.pattern import Way
from tiler.draft.contour.shape import Shape

EXACT = 0.01
"""What lies less far over a line is a rounding, mm."""

NEAR = 1e-3
"""Share of an end seam at its ends where the cut edges pass it."""


@dataclass(frozen=True)
class Bands:
    """The widths of a band beside the stated line, to its left: seam line, finished edge and both cut edges, mm.

    ``seam`` is where the seam line lies, ``width`` the finished width, ``allowance`` that of both long edges,
    ``joins`` that of the end seams, and ``ends`` that of the ends of a band that is no ring.
    """

    seam: float
    width: float
    allowance: float
    joins: float
    ends: float = 0.0

    def beyond(self, way: Way) -> tuple[float, float]:
        """Return the allowance of the left and of the right end of a piece."""
        left, right = (self.ends if is_end else self.joins for is_end in way.open)
        return left, right

    @property
    def all(self) -> tuple[float, float, float, float]:
        """Cut edge, seam line, finished edge and the other cut edge."""
        return (
            self.seam - self.allowance,
            self.seam,
            self.seam + self.width,
            self.seam + self.width + self.allowance,
        )


def shape_of(way: Way, bands: Bands, on_fold: bool, units: str) -> Shape:
    """Return the piece that follows a way; raises :class:`CrossingError` where its lines would cross."""
    legs = stations(way.curve, *bands.all)
    check_lines(legs, bands.all, way.part, way.begins, units)
    ends = _ends(way)
    straight = all(segment.straight for segment in way.curve.segments) and not way.curve.corners
    doubled = straight and way.lean == (0.0, 0.0)
    distances = list(bands.all)
    if doubled:
        second = bands.seam + 2 * bands.width
        distances = [*distances[:3], second + bands.allowance, second]
    sewn = {bands.seam, bands.seam + bands.width, *distances[4:]}
    beyond = bands.beyond(way)
    lines = [_line(legs, d, ends, way.folded, (0.0, 0.0) if d in sewn else beyond) for d in distances]
    seams = _end_seams(lines, ends, way.folded)
    _check_ends(lines, seams, way)
    # of an end that stays raw the cut line is the end
    kept = [seam for seam, by in zip(seams, beyond[-len(seams) :], strict=True) if by]
    return _framed(lines, kept, way, on_fold)


@dataclass(frozen=True)
class End:
    """An end of a way: its foot, the direction of its seam away from the edge, and the way inwards."""

    foot: complex
    across: complex
    inward: complex

    def beyond(self, by: float) -> complex:
        """Return the foot of the cut line so far beyond the end seam."""
        out = -self.inward
        straight_out = out - self.across * (out * self.across.conjugate()).real / abs(self.across) ** 2
        return self.foot + by * straight_out / abs(straight_out)


def _ends(way: Way) -> tuple[End, End]:
    begin, last = way.curve.segments[0].departure, way.curve.segments[-1].arrival
    begin, last = begin / abs(begin), last / abs(last)
    left = End(way.curve.start, 1j if way.folded else 1j * begin + tan(radians(way.lean[0])) * begin, begin)
    # an end that leans outwards at a corner which bends inwards is shorter on the inside
    right = End(way.curve.end, 1j * last - tan(radians(way.lean[1])) * last, -last)
    return left, right


def _line(
    legs: Sequence[Leg], distance: float, ends: tuple[End, End], folded: bool, beyond: tuple[float, float]
) -> list[complex]:
    """Return a parallel from end seam to end seam, or to the cut lines beyond them."""
    left, right = ends
    points = cut_at(parallel(legs, distance), right.beyond(beyond[1]), right.across, right.inward)
    back = cut_at(points[::-1], left.foot if folded else left.beyond(beyond[0]), left.across, left.inward)
    return back[::-1]


def _check_ends(lines: Sequence[Sequence[complex]], seams: Sequence[tuple[complex, complex]], way: Way) -> None:
    """Refuse a piece that reaches over the fold at its centre, or over one of its own end seams."""
    crossed = ""
    if way.folded and any(z.real < way.curve.start.real - EXACT for line in lines for z in line):
        crossed = "the centre"
    elif any(_over(line, seam) for line in (lines[0], *lines[3:4]) for seam in seams):
        crossed = "its own end seam"
    if crossed:
        raise CrossingError(
            f"the band would cross {crossed} along the {called(way.part)}",
            "finished-width",
            "give the edge in more parts",
        )


def _over(line: Sequence[complex], seam: tuple[complex, complex]) -> bool:
    """Tell whether a cut edge crosses an end seam anywhere but at that seam's own end."""
    foot, top = seam
    across = top - foot
    for one, other in pairwise(line):
        sides = [(across.conjugate() * (z - foot)).imag for z in (one, other)]
        if sides[0] * sides[1] < 0:
            place = one + (other - one) * sides[0] / (sides[0] - sides[1])
            share = ((place - foot) * across.conjugate()).real / abs(across) ** 2
            # each cut edge passes an end seam at one of its ends
            if NEAR < share < 1 - NEAR:
                return True
    return False


def _end_seams(
    lines: Sequence[Sequence[complex]], ends: tuple[End, End], folded: bool
) -> list[tuple[complex, complex]]:
    """Return the end seams, from cut edge to cut edge; none at a fold."""
    seams = []
    for end, index in zip(ends, (0, -1), strict=True):
        if folded and index == 0:
            continue
        # the cut edges run on beyond it
        runs = [points if index else points[::-1] for points in (lines[0], lines[3])]
        feet = [cut_at(run, end.foot, end.across, end.inward)[-1] for run in runs]
        seams.append((feet[0], feet[1]))
    return seams


def _framed(lines: Sequence[Sequence[complex]], seams: Sequence[Sequence[complex]], way: Way, on_fold: bool) -> Shape:
    """Put a piece into its own coordinates: the fold at x = 0, its lowest point at y = 0."""
    if way.folded and not on_fold:
        centre = way.curve.start.real
        lines = [[*(complex(2 * centre - z.real, z.imag) for z in reversed(line[1:])), *line] for line in lines]
        mirrored = [tuple(complex(2 * centre - z.real, z.imag) for z in seam) for seam in seams]
        seams = [*mirrored, *seams]
    every = [z for line in (lines[0], lines[3]) for z in line]
    x = way.curve.start.real if way.folded and on_fold else min(z.real for z in every)
    y = min(z.imag for z in every)
    lower, sewn, finished, upper, *second = (_points(line, x, y) for line in lines)
    grain = way.up if way.up.imag >= 0 else -way.up
    return Shape(
        lower,
        sewn,
        finished,
        upper,
        tuple(_points(seam, x, y) for seam in seams),
        (grain.real, grain.imag),
        way.folded and on_fold,
        second[0] if second else (),
    )


def _points(line: Sequence[complex], x: float, y: float) -> Subpath:
    """Return a line in piece millimetres, to what a record keeps, each point once."""
    kept: list[tuple[float, float]] = []
    for z in line:
        point = (round(z.real - x, 4) + 0.0, round(z.imag - y, 4) + 0.0)
        if not kept or point != kept[-1]:
            kept.append(point)
    return tuple(kept)
