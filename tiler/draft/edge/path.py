"""The way along a drawn edge: how far, and how much it turns on each step; mm and radians.

A path runs like its curve.  A step is smooth, or it is a sharp corner and has no length.  On a
line at the distance d, on the outside of the bends, a smooth step that turns by theta is longer
by d theta, and the straight ways to a corner of phi are longer by d tan(phi / 2) each.
"""

from __future__ import annotations

from cmath import phase, rect
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate, pairwise
from math import radians, sin, tan

from tiler.curves import Curve

STEPS = 24
"""A bent segment is sampled in so many steps."""

SMOOTH = radians(4)
"""A bend is drawn in steps that turn by no more."""

FINEST = 64
"""A path is not told in steps shorter than this part of it."""


@dataclass(frozen=True)
class Step:
    """A step along the edge: length and smooth turn, or the angle of a corner; ``leg`` counts the corners before."""

    length_mm: float
    smooth: float
    corner_deg: float = 0.0
    leg: int = 0


Path = tuple[Step, ...]


def path_of(curve: Curve, sign: float = 1.0) -> Path:
    """Return the path along a curve; ``sign`` is -1 where its bends inward turn clockwise."""
    along = list(accumulate(curve.lengths))
    sharp = {min(range(len(along)), key=lambda i: abs(along[i] - one.along_mm)): one for one in curve.corners}
    steps: list[Step] = []
    leg = 0
    for index in range(len(curve.segments)):
        # what a joint turns that is no corner belongs to the bend, as in a curve that is written in chords
        if index and index - 1 not in sharp:
            steps.append(Step(0.0, sign * _jump(curve, index), leg=leg))
        steps += [Step(length, sign * turn, leg=leg) for length, turn in _sampled(curve, index)]
        if index in sharp and index < len(curve.segments) - 1:
            steps.append(Step(0.0, 0.0, sign * sharp[index].turn_deg, leg))
            leg += 1
    return tuple(_coarser(steps, curve.length / FINEST))


def at_distance(path: Path, distance: float, start_deg: float, end_deg: float) -> Path:
    """Return the path of the line at ``distance`` mm; ``start_deg`` and ``end_deg`` are the corners at its joints."""
    if not distance:
        return path
    corners = [start_deg, *(step.corner_deg for step in path if step.corner_deg), end_deg]
    reach = [distance * tan(radians(corner) / 2) for corner in corners]
    last = path[-1].leg
    moved = [replace(step, length_mm=max(0.0, step.length_mm + distance * step.smooth)) for step in path]
    for leg in range(last + 1):
        own = [index for index, step in enumerate(moved) if step.leg == leg and not step.corner_deg]
        for index, more in ((own[0], reach[leg]), (own[-1], reach[leg + 1])):
            moved[index] = replace(moved[index], length_mm=max(0.0, moved[index].length_mm + more))
    return tuple(moved)


def points_along(path: Path, heading: float) -> Iterator[tuple[complex, bool]]:
    """Yield the points along a path from the centre, each with whether it is a corner: every smooth step is an arc."""
    at = 0j
    yield at, False
    for step in path:
        count = max(1, round(abs(step.smooth) / SMOOTH))
        length, turn = step.length_mm / count, step.smooth / count
        for _ in range(count if step.length_mm else 0):
            chord = length * (sin(turn / 2) / (turn / 2) if turn else 1.0)
            at += rect(chord, heading + turn / 2)
            heading += turn
            yield at, False
        if not step.length_mm:
            heading += step.smooth
        if step.corner_deg:
            heading += radians(step.corner_deg)
            yield at, True


def _jump(curve: Curve, index: int) -> float:
    before, then = curve.segments[index - 1], curve.segments[index]
    return phase(then.departure * before.arrival.conjugate())


def _sampled(curve: Curve, index: int) -> Iterator[tuple[float, float]]:
    """Yield length and turn of steps along a segment."""
    segment, length = curve.segments[index], curve.lengths[index]
    if segment.straight:
        yield length, 0.0
        return
    stops = [k / STEPS for k in range(STEPS + 1)]
    ways = [segment.departure, *(segment.velocity(t) for t in stops[1:-1]), segment.arrival]
    chords = [abs(b - a) for a, b in pairwise(segment.at(t) for t in stops)]
    for chord, (before, then) in zip(chords, pairwise(ways), strict=True):
        yield length * chord / sum(chords), phase(then * before.conjugate())


def _coarser(steps: Sequence[Step], least: float) -> Iterable[Step]:
    """Yield the steps, short smooth ones put together."""
    held: Step | None = None
    for step in steps:
        if step.corner_deg:
            yield from [held] if held else []
            held = None
            yield step
            continue
        held = (
            replace(step, length_mm=held.length_mm + step.length_mm, smooth=held.smooth + step.smooth) if held else step
        )
        if held.length_mm >= least:
            yield held
            held = None
    yield from [held] if held else []
