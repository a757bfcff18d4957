"""All that a file of ours prints, mark by mark in the order of painting; mm, sizes of type in points.

The writer keeps what it paints in these records and declares it; the proof draws them again
by other means and holds every pixel of the file against that.  The points of a mark lie in the
coordinates of its page or, in a form, of its piece.
"""

from __future__ import annotations

from base64 import b64decode
from collections.abc import Iterable
from dataclasses import dataclass, replace

from tiler.box import Box, Point, Subpath

Colour = tuple[float, float, float]

MOST_SAMPLES = 400_000
"""A picture with more does not hold together: a logo of 45 × 14 mm has 88,000 at 300 to the inch."""


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
class Region:
    """What a closed polyline goes round, filled with grey: 0 is black, 1 white."""

    outline: Subpath
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
class Shape:
    """Polylines painted as one path in a colour of its own: stroked with a weight, or filled where that is 0.

    What is filled is what lines go round, or by the even-odd rule every second part of it (ISO 32000-1, 8.5.3.3).
    """

    outlines: tuple[Subpath, ...]
    colour: Colour
    even_odd: bool
    weight: float


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture in a box: its samples from the upper left, red, green and blue, a byte each, deflated, as base 64."""

    area: Box
    columns: int
    rows: int
    samples: str

    @property
    def holds_together(self) -> bool:
        """Whether its samples can be handed on to what renders it."""
        samples, count = self.samples, self.columns * self.rows
        if min(self.columns, self.rows) < 1 or count > MOST_SAMPLES or len(samples) > 4 * MOST_SAMPLES:
            return False
        return samples.isascii() and len(b64decode(samples)) > 0


@dataclass(frozen=True, slots=True)
class Placed:
    """A form with its origin at a page point, under a clip; ``turned`` by +90 degrees."""

    form: str
    clip: Box
    at: Point
    turned: bool


Printed = Line | Area | Region | Word | Ink | Shape | Picture | Placed
"""One mark."""

Sign = Shape | Picture
"""One mark of a logo."""


@dataclass(frozen=True)
class Logo:
    """A publisher's logo, from its own lower left corner, in the size in which it is printed."""

    width: float
    height: float
    signs: tuple[Sign, ...]

    def at(self, corner: Point) -> tuple[Sign, ...]:
        """Return its marks with its lower left corner at a point."""
        x, y = corner
        return tuple(
            replace(sign, area=sign.area.moved(x, y))
            if isinstance(sign, Picture)
            else replace(sign, outlines=tuple(tuple((u + x, v + y) for u, v in line) for line in sign.outlines))
            for sign in self.signs
        )


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
    lines = (
        mark.lines if isinstance(mark, Line) else mark.outlines if isinstance(mark, Shape) else (mark.outline,)
        for some in marks
        for mark in some
        if isinstance(mark, Line | Shape | Region)
    )
    return not all(points for some in lines for points in some)
