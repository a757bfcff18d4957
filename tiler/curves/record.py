"""A curve as a record of plain values, so that one process can hand it to another; nothing is rounded."""

from __future__ import annotations

from typing import Any

from tiler.curves.bezier import Bezier
from tiler.curves.curve import Curve, Segment
from tiler.curves.ellipse import EllipseArc


def curve_record(curve: Curve) -> dict[str, Any]:
    """Return a curve as lists of numbers."""
    return {"closed": curve.closed, "segments": [_record(segment) for segment in curve.segments]}


def curve_of(record: dict[str, Any]) -> Curve:
    """Make the curve again."""
    return Curve(tuple(_segment(numbers) for numbers in record["segments"]), record["closed"])


def _record(segment: Segment) -> list[list[float]]:
    """Return the points of a Bézier curve as pairs; an arc of an ellipse ends with its angles and a single zero."""
    if isinstance(segment, Bezier):
        return [[point.real, point.imag] for point in segment.points]
    points = [[point.real, point.imag] for point in (segment.centre, segment.u, segment.v)]
    return [*points, [segment.begin, segment.sweep], [0.0]]


def _segment(pairs: list[list[float]]) -> Segment:
    if len(pairs[-1]) == 2:
        return Bezier(tuple(complex(*pair) for pair in pairs))
    centre, u, v = (complex(*pair) for pair in pairs[:3])
    return EllipseArc(centre, u, v, *pairs[3])
