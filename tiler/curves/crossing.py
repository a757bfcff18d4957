"""Whether a line crosses, touches or retraces itself; mm.

Judged on chords that stray from the line by 0.005 mm at most, in the order of their
left or lower ends, so that only chords whose boxes meet are compared.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import accumulate, pairwise

from tiler.curves.curve import Curve

STRAY = 0.005
"""How far the chords may lie from the line, mm."""

LEAST_LOOP = 0.3
"""Places that are nearer than this along the line are one place, mm: more than two ends that meet with a gap."""

TURNED_BACK = 179.0
"""A corner of more degrees runs back on itself."""

Chord = tuple[complex, complex]


def crossing(curve: Curve) -> complex | None:
    """Return a place where the line meets itself, or None."""
    for corner in curve.corners:
        if abs(corner.turn_deg) > TURNED_BACK:
            return corner.at
    points = curve.chords(STRAY)
    chords = [(a, b) for a, b in pairwise(points) if a != b]
    ends = [0.0, *accumulate(abs(b - a) for a, b in chords)]
    for i, j in _neighbours(chords):
        between = ends[j] - ends[i + 1]
        if curve.closed:
            between = min(between, ends[i] + ends[-1] - ends[j + 1])
        if between > LEAST_LOOP:
            place = _meeting(chords[i], chords[j])
            if place is not None:
                return place
    return None


def _neighbours(chords: Sequence[Chord]) -> Iterator[tuple[int, int]]:
    """Yield pairs of chords, the earlier one first, whose boxes meet."""
    if sum(abs((b - a).real) for a, b in chords) > sum(abs((b - a).imag) for a, b in chords):
        # lines that run across are told apart by their height
        chords = [(1j * a, 1j * b) for a, b in chords]
    boxes = [
        (min(a.real, b.real), max(a.real, b.real), min(a.imag, b.imag), max(a.imag, b.imag), index)
        for index, (a, b) in enumerate(chords)
    ]
    open_boxes: list[tuple[float, float, float, float, int]] = []
    for box in sorted(boxes):
        left, _, foot, top, index = box
        open_boxes = [other for other in open_boxes if other[1] >= left]
        for _, _, low, high, other in open_boxes:
            if low <= top and foot <= high:
                yield min(index, other), max(index, other)
        open_boxes.append(box)


def _meeting(one: Chord, two: Chord) -> complex | None:
    (a, b), (c, d) = one, two
    first, second = _side(a, b, c), _side(a, b, d)
    if first * second < 0 and _side(c, d, a) * _side(c, d, b) < 0:
        return c + (d - c) * (first / (first - second))
    touching = (*(point for point in two if _holds(one, point)), *(point for point in one if _holds(two, point)))
    return touching[0] if touching else None


def _side(a: complex, b: complex, point: complex) -> float:
    return ((b - a).conjugate() * (point - a)).imag


def _holds(chord: Chord, point: complex) -> bool:
    a, b = chord
    if _side(a, b, point):
        return False
    return 0 <= ((b - a).conjugate() * (point - a)).real <= abs(b - a) ** 2
