"""The lines of SVG's shapes, in user units (SVG 2, chapters 9 and 10).

Path data is parsed by fontTools; arcs stay arcs of ellipses (SVG 2, appendix B.2.4).
"""

from __future__ import annotations

import re
from cmath import exp, phase
from collections.abc import Callable
from itertools import pairwise
from math import pi, radians, sqrt

from fontTools.svgLib.path.parser import parse_path

from tiler.curves import Bezier, EllipseArc, Segment, line
from tiler.errors import UnreadableError
from tiler.reading.svg.view import numbers

Subpath = tuple[list[Segment], bool]
"""Segments, and whether the line closes."""

Measure = Callable[[str, str], float]
"""Returns an attribute as a length in user units; the second word says what a percentage is of."""

_PATH_SIGNS = re.compile(r"[MmZzLlHhVvCcSsQqTtAaeE0-9+\-.,\s]*")
_NOT_ARC = re.compile(r"([MmZzLlHhVvCcSsQqTt])([^A-Za-z]*(?:[eE][^A-Za-z]*)*)")


class Pen:
    """Takes the calls of the path parser and keeps the subpaths that draw something."""

    def __init__(self) -> None:
        """Start with nothing drawn."""
        self.subpaths: list[Subpath] = []
        self._segments: list[Segment] = []
        self._here = 0j

    def moveTo(self, point: tuple[float, float]) -> None:  # noqa: N802 (the parser calls it so)
        """Begin a subpath."""
        self._here = complex(*point)
        self._segments = []

    def lineTo(self, point: tuple[float, float]) -> None:  # noqa: N802
        """Draw a line."""
        self._add(line(self._here, complex(*point)))

    def curveTo(self, *points: tuple[float, float]) -> None:  # noqa: N802
        """Draw a cubic Bézier curve."""
        self._add(Bezier((self._here, *(complex(*point) for point in points))))

    qCurveTo = curveTo  # noqa: N815
    """Draw a quadratic Bézier curve."""

    def arcTo(  # noqa: N802
        self, rx: float, ry: float, rotation: float, large: bool, sweep: bool, end: tuple[float, float]
    ) -> None:
        """Draw an arc of an ellipse."""
        if complex(*end) != self._here:
            self._add(arc_between(self._here, rx, ry, rotation, large, sweep, complex(*end)))

    def closePath(self) -> None:  # noqa: N802
        """End a subpath that closes."""
        self._end(True)

    def endPath(self) -> None:  # noqa: N802
        """End a subpath that stays open."""
        self._end(False)

    def _add(self, segment: Segment) -> None:
        self._segments.append(segment)
        self._here = segment.points[-1] if isinstance(segment, Bezier) else segment.end

    def _end(self, closed: bool) -> None:
        if self._segments:
            self.subpaths.append((self._segments, closed))
        self._segments = []


def arc_between(
    start: complex, rx: float, ry: float, rotation: float, large: bool, sweep: bool, end: complex
) -> Segment:
    """Return the arc of an ellipse between two points; radii that are too small grow, none is a line."""
    if not rx or not ry:
        return line(start, end)
    turn = exp(1j * radians(rotation))
    half = (start - end) / 2 / turn
    unit = complex(half.real / rx, half.imag / ry)
    size = abs(unit)
    if size > 1:
        rx, ry, unit, size = rx * size, ry * size, unit / size, 1.0
    centre = -1j * unit / size * sqrt(1 - size * size) * (1 if large != sweep else -1)
    begin = phase(unit - centre)
    angle = phase((-unit - centre) / (unit - centre))
    if sweep != (angle > 0):
        angle += 2 * pi if sweep else -2 * pi
    middle = (start + end) / 2 + turn * complex(centre.real * rx, centre.imag * ry)
    return EllipseArc(middle, rx * turn, 1j * ry * turn, begin, angle)


def path(data: str) -> list[Subpath]:
    """Return the subpaths of path data; raises :class:`UnreadableError`."""
    if data.strip() == "none":
        return []
    pen = Pen()
    try:
        if not _PATH_SIGNS.fullmatch(data):
            raise ValueError(data)
        parse_path(_plain(data), pen)
    except (ValueError, IndexError, ArithmeticError) as fault:
        shown = " ".join(data.split())[:40]
        raise UnreadableError(f"the path data '{shown}' cannot be read; export the file again") from fault
    return pen.subpaths


def polyline(text: str, *, closed: bool) -> list[Subpath]:
    """Return the line through points; a coordinate without its pair is left out, as the standard says."""
    flat = numbers(text, "the points")
    points = [complex(x, y) for x, y in zip(flat[::2], flat[1::2], strict=False)]
    return [([line(a, b) for a, b in pairwise(points)], closed)] if len(points) > 1 else []


def straight(measure: Measure) -> list[Subpath]:
    """Return a ``line``."""
    ends = [complex(measure(f"x{end}", "width"), measure(f"y{end}", "height")) for end in (1, 2)]
    return [([line(ends[0], ends[1])], False)]


def ellipse(centre: complex, rx: float, ry: float) -> list[Subpath]:
    """Return a whole ellipse, from its right end on clockwise as seen; one without a radius is not drawn."""
    if rx <= 0 or ry <= 0:
        return []
    return [([EllipseArc(centre, complex(rx), 1j * ry, 0.0, 2 * pi)], True)]


def rectangle(corner: complex, width: float, height: float, rx: float, ry: float) -> list[Subpath]:
    """Return a rectangle as the standard draws it (SVG 2, 10.2), with quarter ellipses where it has radii."""
    if width <= 0 or height <= 0:
        return []
    rx, ry = min(max(rx, 0.0), width / 2), min(max(ry, 0.0), height / 2)
    if not rx or not ry:
        rx = ry = 0.0
    (x0, y0), (x1, y1) = (corner.real, corner.imag), (corner.real + width, corner.imag + height)
    pen = Pen()
    pen.moveTo((x0 + rx, y0))
    for beside, end in (
        ((x1 - rx, y0), (x1, y0 + ry)),
        ((x1, y1 - ry), (x1 - rx, y1)),
        ((x0 + rx, y1), (x0, y1 - ry)),
        ((x0, y0 + ry), (x0 + rx, y0)),
    ):
        pen.lineTo(beside)
        pen.arcTo(rx, ry, 0.0, False, True, end)
    pen.closePath()
    return pen.subpaths


def _plain(data: str) -> str:
    """Write path data as the parser takes it: no line ends, no leading zeros, no bare decimal points."""
    spaced = " ".join(data.split())
    dotted = re.sub(r"(\d)\.(?=[eE])", r"\1", spaced)
    dotted = re.sub(r"(?<![\d.])(\d+)\.(?!\d)", r"\1 ", dotted)
    return _NOT_ARC.sub(
        lambda match: match[1] + re.sub(r"(?<![\d.])(?<![eE])(?<![eE][+-])0+(?=\d)", "", match[2]), dotted
    )
