"""Points, lines and upright rectangles, mm; which plane they lie on says who holds them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import hypot

Point = tuple[float, float]
Subpath = tuple[Point, ...]


@dataclass(frozen=True)
class Box:
    """An upright rectangle, mm."""

    x0: float
    y0: float
    x1: float
    y1: float

    @classmethod
    def around(cls, points: Iterable[Point]) -> Box:
        """Return the box around points; there must be some."""
        xs, ys = zip(*points, strict=True)
        return cls(min(xs), min(ys), max(xs), max(ys))

    @classmethod
    def enclosing(cls, boxes: Iterable[Box]) -> Box:
        """Return the box around boxes; there must be some."""
        return cls.around(corner for box in boxes for corner in ((box.x0, box.y0), (box.x1, box.y1)))

    @property
    def width(self) -> float:
        """Extent across."""
        return self.x1 - self.x0

    @property
    def height(self) -> float:
        """Extent down."""
        return self.y1 - self.y0

    @property
    def middle(self) -> Point:
        """The point in the middle."""
        return (self.x0 + self.x1) / 2, (self.y0 + self.y1) / 2

    def holds(self, other: Box) -> bool:
        """Tell whether another box lies in this one, edges included."""
        return self.x0 <= other.x0 and other.x1 <= self.x1 and self.y0 <= other.y0 and other.y1 <= self.y1

    def overlaps(self, other: Box, by: float = 0.0) -> bool:
        """Tell whether both share more than ``by`` mm on each axis."""
        # what lies aside is told apart by the first of these, and most boxes lie aside
        return (
            self.x1 - other.x0 > by
            and other.x1 - self.x0 > by
            and self.y1 - other.y0 > by
            and other.y1 - self.y0 > by
            and self.x1 - self.x0 > by
            and other.x1 - other.x0 > by
            and self.y1 - self.y0 > by
            and other.y1 - other.y0 > by
        )

    def away(self, point: Point) -> float:
        """Return how far the rectangle lies from a point."""
        x, y = point
        return hypot(max(self.x0 - x, x - self.x1, 0.0), max(self.y0 - y, y - self.y1, 0.0))

    def grown(self, by: float) -> Box:
        """Return the box that is larger by ``by`` on every side."""
        return Box(self.x0 - by, self.y0 - by, self.x1 + by, self.y1 + by)

    def within(self, other: Box) -> Box:
        """Return the part that lies in another box, which must share some of it or be near."""
        return Box(
            min(max(self.x0, other.x0), other.x1),
            min(max(self.y0, other.y0), other.y1),
            max(min(self.x1, other.x1), other.x0),
            max(min(self.y1, other.y1), other.y0),
        )

    def moved(self, dx: float, dy: float) -> Box:
        """Return the same box elsewhere."""
        return Box(self.x0 + dx, self.y0 + dy, self.x1 + dx, self.y1 + dy)
