"""Straight sides: what on a page may be the side of a square or a ruler line; mm, points as complex numbers.

A side may be a line, a part of a path, a Bézier segment whose control points lie on
it, or a thin filled bar, whose middle then counts.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from tiler.proof.tolerances import VECTOR
from tiler.reading.pdf.strokes import Stroke

MEET = 0.3
"""Ends that are nearer than this meet."""

THIN = 4.0
"""A filled bar that is no thicker than this is a line."""

SLIM = 4.0
"""A bar is at least so many times longer than thick."""

DASH_GAP = 4.0
"""Dashes that are drawn one by one are no further apart than this."""

LEAST_DASHES = 5
"""Fewer parts with gaps between them are lines of their own."""

BEND = 0.002
"""Two segments whose directions differ by less than this are one straight side, radians."""

FURTHEST = 1e5
"""Coordinates beyond this belong to nothing that is printed, mm."""


@dataclass(frozen=True, slots=True)
class Side:
    """A straight side from one end to the other.

    ``weight`` is the thickness of a bar, 0 where a pen draws it, and ``pen`` the pen's; ``gap`` the
    longest gap of its dashes; ``edge`` marks the border of a filled area.
    """

    start: complex
    end: complex
    weight: float = 0.0
    gap: float = 0.0
    edge: bool = False
    pen: float = 0.0

    @property
    def length(self) -> float:
        """Distance of the ends."""
        return abs(self.end - self.start)

    @property
    def direction(self) -> complex:
        """Unit vector along the side."""
        return (self.end - self.start) / self.length

    def turned(self) -> Side:
        """Return the side from its other end."""
        return Side(self.end, self.start, self.weight, self.gap, self.edge, self.pen)


def straight_runs(stroke: Stroke) -> list[list[complex]]:
    """Return the straight parts of a stroke, each as its corner points; curves part them."""
    controls = dict(stroke.curves)
    points = [complex(x, y) for x, y in stroke.points]
    if any(max(abs(point.real), abs(point.imag)) > FURTHEST for point in points):
        return []
    runs = [points[:1]]
    for index in range(1, len(points)):
        before, here = points[index - 1], points[index]
        if index in controls and not _straight(before, [complex(x, y) for x, y in controls[index]], here):
            runs.append([here])
        elif abs(here - before) > VECTOR / 2:
            _append(runs[-1], here)
    # a path that begins in the middle of a side
    if len(runs) > 1 and runs[0][0] == runs[-1][-1]:
        first = runs.pop(0)
        for point in first[1:]:
            _append(runs[-1], point)
    return [run for run in runs if len(run) > 1]


def corners_of(stroke: Stroke) -> list[complex] | None:
    """Return the corners of a closed path of straight sides; None when it is none.

    A filled path closes by itself (ISO 32000-1, 8.5.3.3.1).
    """
    runs = straight_runs(stroke)
    if len(runs) != 1:
        return None
    corners = runs[0]
    if abs(corners[0] - corners[-1]) <= MEET and len(corners) > 3:
        corners = corners[:-1]
    elif not stroke.filled or stroke.stroked:
        return None
    if len(corners) > 2 and _collinear(corners[-1], corners[0], corners[1]):
        corners = corners[1:]
    if len(corners) > 2 and _collinear(corners[-2], corners[-1], corners[0]):
        corners = corners[:-1]
    return corners


def sides_of(stroke: Stroke, least: float) -> list[Side]:
    """Return the sides of a stroke that are no shorter than ``least``; of a filled shape only a thin bar counts."""
    if not stroke.stroked:
        bar = _bar(stroke) if stroke.filled else None
        return [bar] if bar and bar.length >= least else []
    return [
        Side(a, b, gap=stroke.gap, pen=stroke.weight)
        for run in straight_runs(stroke)
        for a, b in pairwise(run)
        if abs(b - a) >= least
    ]


def joined_sides(sides: Sequence[Side]) -> list[Side]:
    """Return the upright and level sides that others make up which follow each other on one line.

    They touch, or they are the dashes of a line that a program has taken apart.
    """
    rows: dict[tuple[bool, int], list[tuple[float, float, Side]]] = {}
    for side in sides:
        run = side.end - side.start
        level = abs(run.imag) <= VECTOR
        if level or abs(run.real) <= VECTOR:
            at = (side.start.imag + side.end.imag) / 2 if level else (side.start.real + side.end.real) / 2
            low, high = sorted((side.start.real, side.end.real) if level else (side.start.imag, side.end.imag))
            rows.setdefault((level, round(at / (2 * VECTOR))), []).append((low, high, side))
    return [
        joined
        for (level, _), row in rows.items()
        for most in (MEET, DASH_GAP)
        for joined in _joined(sorted(row, key=lambda one: one[:2]), level, most)
    ]


def _joined(row: Sequence[tuple[float, float, Side]], level: bool, most: float) -> Iterator[Side]:
    begin, end = 0, row[0][1]
    for index in range(1, len(row) + 1):
        if index < len(row) and row[index][0] - end <= most:
            end = max(end, row[index][1])
            continue
        parts = row[begin:index]
        gaps = [two[0] - one[1] for one, two in pairwise(parts)]
        dashed = most > MEET and len(parts) >= LEAST_DASHES and max(gaps) - min(gaps) <= MEET and min(gaps) > 0
        if dashed or (most <= MEET and len(parts) > 1):
            side = parts[0][2]
            at = side.start.imag if level else side.start.real
            a, b = (
                (complex(parts[0][0], at), complex(end, at)) if level else (complex(at, parts[0][0]), complex(at, end))
            )
            yield Side(a, b, weight=side.weight, gap=max(gaps) if dashed else side.gap, pen=side.pen)
        if index < len(row):
            begin, end = index, row[index][1]


def _bar(stroke: Stroke) -> Side | None:
    corners = corners_of(stroke)
    if corners is None or len(corners) != 4:
        return None
    a, b, c, d = corners
    if abs(b - a) < abs(d - a):
        a, b, c, d = b, c, d, a
    along, other = b - a, c - d
    direction = along / abs(along)
    thick = abs(((d - a) / direction).imag)
    # both long sides run the same way; the ends may be mitred, as the borders of a box are
    even = abs((other / direction).imag) <= VECTOR
    mitred = abs(along + -other) <= 2 * thick + VECTOR
    if not 0 < thick <= THIN or abs(along) < SLIM * thick or not even or not mitred:
        return None
    return Side((a + d) / 2, (b + c) / 2, weight=thick)


def _append(run: list[complex], point: complex) -> None:
    if len(run) > 1 and _collinear(run[-2], run[-1], point):
        run[-1] = point
    else:
        run.append(point)


def _collinear(a: complex, b: complex, c: complex) -> bool:
    one, two = b - a, c - b
    along = one.real * two.real + one.imag * two.imag
    return along > 0 and abs(one.real * two.imag - one.imag * two.real) <= BEND * along


def _straight(start: complex, controls: Sequence[complex], end: complex) -> bool:
    chord = end - start
    length = abs(chord)
    if length == 0:
        return False
    for control in controls:
        away = (control - start) / chord
        if abs(away.imag) * length > VECTOR / 2 or not -0.001 <= away.real <= 1.001:
            return False
    return True
