"""All that a file of ours prints, mark by mark in the order of painting; mm, sizes of type in points.

The writer keeps what it paints in these records and declares it; the proof draws them again
by other means and holds every pixel of the file against that.  The points of a mark lie in the
coordinates of its page or, in a form, of its piece.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from tiler.box import Box, Point, Subpath

Colour = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Line:
    """Polylines, and circles of a centre and a radius, painted as one path of this weight; mm.

    It is black, as words are, unless an :class:`Ink` stands before it.  A polyline that ends
    where it began is closed; ``tag`` is that of the part that it belongs to.
    """

    lines: tuple[Subpath, ...]
    weight: float
    dash: tuple[float, ...] = ()
    circles: tuple[tuple[Point, float], ...] = ()
    tag: str = ""


@dataclass(frozen=True, slots=True)
class Area:
    """A box filled with grey: 0 is black, 1 white."""

    area: Box
    grey: float


@dataclass(frozen=True, slots=True)
class Word:
    """A line of text as it is set, from the left end of its base line; ``turned`` by +90 degrees."""

    text: str
    at: Point
    size: float
    bold: bool = False
    turned: bool = False


@dataclass(frozen=True, slots=True)
class Ink:
    """What follows in its form or page is painted in this colour instead of black: red, green, blue, 0 to 1 (sRGB)."""

    colour: Colour


@dataclass(frozen=True, slots=True)
class Placed:
    """A form with its origin at a page point, under a clip; ``turned`` by +90 degrees."""

    form: str
    clip: Box
    at: Point
    turned: bool


Printed = Line | Area | Word | Ink | Placed
"""One mark."""


@dataclass(frozen=True)
class Form:
    """What the form of a piece paints, and the bounds outside of which nothing of it shows."""

    id: str
    bounds: Box
    marks: tuple[Printed, ...]


def closed(points: Subpath) -> bool:
    """Tell whether a polyline ends where it began."""
    return len(points) > 2 and points[0] == points[-1]


def pointless(marks: Iterable[Iterable[Printed]]) -> bool:
    """Tell whether a polyline among marks, page by page or form by form, has no point."""
    return not all(points for some in marks for mark in some if isinstance(mark, Line) for points in mark.lines)
