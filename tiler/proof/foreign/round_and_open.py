"""Circles with a stated diameter, and squares that only marks at their corners show; mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import cos, hypot, pi, sin

from tiler.proof.foreign.quadrangle import LEAST, LOPSIDED, MOST, Quadrangle, Shape
from tiler.proof.foreign.sides import MEET, Side, sides_of
from tiler.proof.tolerances import VECTOR
from tiler.reading.pdf.strokes import Stroke

OUT_OF_ROUND = 0.008
"""A circle's points lie no further off than this share of its radius: four Bézier curves are off by 0.03 % at best,
and by 0.6 % as some programs write them."""

LEAST_POINTS = 12
"""A polygon of fewer corners is no circle."""

CHORDS = 48
"""So many chords of a circle are looked for in the print."""

SHORTEST_ARM, LONGEST_ARM = 1.5, 25.0
MOST_ARM = 0.45
"""The arm of a corner mark, as a share of the side: two of them leave a gap."""

MOST_CORNERS = 80
"""On a page with more crossing short lines no corner marks are looked for."""

APART = 0.1
"""The corners of a marked square lie on each other's lines within this."""


def circles(strokes: Sequence[Stroke]) -> Iterator[Quadrangle]:
    """Yield the circles of a page, also those that were scaled differently across and down."""
    for stroke in strokes:
        closed = stroke.closed or (stroke.filled and not stroke.stroked)
        if closed and (len(stroke.curves) >= 2 or len(stroke.points) > LEAST_POINTS):
            found = _circle(stroke)
            if found:
                yield found


def _circle(stroke: Stroke) -> Quadrangle | None:
    points = [complex(*point) for point in stroke.flattened()]
    box = stroke.box if len(stroke.points) > 4 else None
    if box is None or len(points) < LEAST_POINTS or min(box.width, box.height) < LEAST / 2:
        return None
    xs, ys = [point.real for point in points], [point.imag for point in points]
    wide, high = max(xs) - min(xs), max(ys) - min(ys)
    if max(wide, high) > MOST or min(wide, high) < LEAST or abs(wide / high - 1) > LOPSIDED:
        return None
    middle = complex((max(xs) + min(xs)) / 2, (max(ys) + min(ys)) / 2)
    # where curves end at the outermost points, as nearly all do, those are the diameter
    fitted = _fitted([point - middle for point in points])
    if fitted is None:
        return None
    a, b = fitted
    if max(abs(wide - box.width), abs(high - box.height)) <= VECTOR / 2:
        a, b = box.width / 2, box.height / 2
    if any(abs(hypot((p.real - middle.real) / a, (p.imag - middle.imag) / b) - 1) > OUT_OF_ROUND for p in points):
        return None
    ring = [
        middle + complex(a * cos(2 * pi * step / CHORDS), b * sin(2 * pi * step / CHORDS)) for step in range(CHORDS)
    ]
    edge = not stroke.stroked
    pen = 0.0 if edge else stroke.weight
    sides = tuple(
        Side(one, two, gap=stroke.gap, edge=edge, pen=pen) for one, two in zip(ring, [*ring[1:], ring[0]], strict=True)
    )
    corners = (middle - a - b * 1j, middle + a - b * 1j, middle + a + b * 1j, middle - a + b * 1j)
    return Quadrangle(corners, sides, Shape.CIRCLE, stroked=stroke.stroked)


def _fitted(points: Sequence[complex]) -> tuple[float, float] | None:
    """Return the half axes of the ellipse about the origin that fits points best (least squares)."""
    xx = sum(p.real**4 for p in points)
    yy = sum(p.imag**4 for p in points)
    xy = sum(p.real**2 * p.imag**2 for p in points)
    x, y = sum(p.real**2 for p in points), sum(p.imag**2 for p in points)
    det = xx * yy - xy * xy
    if det <= 0:
        return None
    u, v = (x * yy - y * xy) / det, (y * xx - x * xy) / det
    return (u**-0.5, v**-0.5) if u > 0 and v > 0 else None


@dataclass(frozen=True)
class _Corner:
    """Where two short lines meet or cross; ``way`` is where both lead, 0 where they cross."""

    at: complex
    way: complex
    sides: tuple[Side, Side]


def marked_squares(strokes: Sequence[Stroke], oblong: bool = False) -> Iterator[Quadrangle]:
    """Yield the upright squares, or rectangles, whose four corners are marked by angles or crosses of the same kind."""
    arms = [
        side
        for stroke in strokes
        if len(stroke.points) > 1
        for side in sides_of(stroke, SHORTEST_ARM)
        if side.length <= LONGEST_ARM
    ]
    flat = [side for side in arms if abs(side.end.imag - side.start.imag) <= VECTOR]
    upright = [side for side in arms if abs(side.end.real - side.start.real) <= VECTOR]
    if len(flat) * len(upright) > MOST_CORNERS**2:
        return
    corners = [corner for one in flat for two in upright if (corner := _corner(one, two))]
    if not 4 <= len(corners) <= MOST_CORNERS:
        return
    for low in corners:
        for high in corners:
            span = high.at - low.at
            if min(span.real, span.imag) < LEAST or max(span.real, span.imag) > MOST:
                continue
            if not oblong and abs(span.real / span.imag - 1) > LOPSIDED:
                continue
            four = [
                low,
                _at(corners, complex(high.at.real, low.at.imag)),
                high,
                _at(corners, complex(low.at.real, high.at.imag)),
            ]
            whole = [corner for corner in four if corner]
            if len(whole) == 4 and _belong(whole, span):
                a, b, c, d = (corner.at for corner in whole)
                yield Quadrangle((a, b, c, d), tuple(side for corner in whole for side in corner.sides), Shape.MARKS)


def _corner(flat: Side, upright: Side) -> _Corner | None:
    at = complex(upright.start.real, flat.start.imag)
    left, right = sorted((flat.start.real, flat.end.real))
    foot, top = sorted((upright.start.imag, upright.end.imag))
    if not (left - MEET <= at.real <= right + MEET and foot - MEET <= at.imag <= top + MEET):
        return None
    along, up = _way(at.real, left, right), _way(at.imag, foot, top)
    if along is None or up is None or (along == 0) != (up == 0):
        return None
    return _Corner(at, complex(along, up), (flat, upright))


def _way(at: float, low: float, high: float) -> int | None:
    """Return on which side of a place a line lies, 0 for both sides alike; None for neither."""
    if at - low <= MEET:
        return 1
    if high - at <= MEET:
        return -1
    return 0 if abs(at - (low + high) / 2) <= 0.2 * (high - low) else None


def _at(corners: Sequence[_Corner], place: complex) -> _Corner | None:
    return next((corner for corner in corners if abs(corner.at - place) <= APART), None)


def _belong(four: Sequence[_Corner], span: complex) -> bool:
    """Tell whether four corners are marked alike: all crossed, all inwards, or all outwards."""
    longest = max(side.length for corner in four for side in corner.sides)
    if longest > MOST_ARM * min(span.real, span.imag):
        return False
    inwards = (1 + 1j, -1 + 1j, -1 - 1j, 1 - 1j)
    ways = [corner.way for corner in four]
    return ways == [0] * 4 or ways == list(inwards) or ways == [-way for way in inwards]
