"""A seam in section: layers of cloth, cut across and seen from the end; drawing millimetres.

A layer is the centre line of its cloth, run so that the right side of the cloth
lies on the left hand.  Layers lie one pitch apart, level but for half turns
round what they wrap, so a turn round n pitches is pi n / 2 pitches longer than
none (geometry): a strip keeps its cut width from step to step.  The pitch is
that of the drawing, many times a cloth's own, or nothing could be told apart.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import Enum
from functools import lru_cache
from itertools import pairwise
from math import cos, hypot, pi, sin

from tiler.box import Box, Point, Subpath
from tiler.languages.words import Words, say, told

PITCH = 2.0
"""From the middle of one layer to the middle of the next, mm."""

THICK = 1.45
"""What a layer is drawn thick, mm."""

_ARC_STEPS = 12


class Cloth(Enum):
    """Which fabric a layer belongs to, or the elastic in a casing."""

    STRIP = "strip"
    GARMENT = "garment"
    ELASTIC = "elastic"


class Run:
    """The centre line of a layer while it is laid, level by level."""

    def __init__(self, x: float, y: float) -> None:
        """Begin at one end of the layer."""
        self._points: list[Point] = [(x, y)]

    def to(self, x: float) -> Run:
        """Go level to ``x``."""
        self._points.append((x, self._points[-1][1]))
        return self

    def fold(self, y: float) -> Run:
        """Turn back by half a circle, to the level ``y``."""
        (x, was), heading = self._points[-1], self._heading()
        middle, radius = (was + y) / 2, abs(y - was) / 2
        rise = 1.0 if y > was else -1.0
        for k in range(1, _ARC_STEPS + 1):
            angle = pi * k / _ARC_STEPS
            self._points.append((x + heading * radius * sin(angle), middle - rise * radius * cos(angle)))
        return self

    def step(self, y: float) -> Run:
        """Go to the level ``y`` by two quarter circles with a plumb line between them, and on the same way."""
        (x, was), heading = self._points[-1], self._heading()
        rise, radius = (1.0 if y > was else -1.0), PITCH / 2
        quarter = [pi / 2 * k / (_ARC_STEPS // 2) for k in range(_ARC_STEPS // 2 + 1)]
        self._points += [
            (x + heading * radius * sin(angle), was + rise * radius * (1 - cos(angle))) for angle in quarter[1:]
        ]
        self._points += [
            (x + heading * radius * (2 - cos(angle)), y - rise * radius * (1 - sin(angle)))
            # one level on there is no plumb line between both
            for angle in quarter[abs(y - was) <= PITCH :]
        ]
        return self

    def path(self) -> Subpath:
        """Return the centre line."""
        return tuple(self._points)

    def _heading(self) -> float:
        """Return the way of the last level run: 1 to the right, -1 to the left."""
        (x0, _), (x1, _) = self._points[-2:]
        return 1.0 if x1 > x0 else -1.0


@dataclass(frozen=True)
class Layer:
    """A length of cloth: its centre line, right side on the left hand, and which of its ends are raw edges.

    An end that is not a raw edge is where the drawing stops and the cloth goes on.
    """

    cloth: Cloth
    path: Subpath
    raw: tuple[bool, bool] = (True, True)

    @property
    def length(self) -> float:
        """Length along the centre line, mm."""
        return path_length(self.path)

    def at(self, along: float) -> Point:
        """Return the point ``along`` mm from the start."""
        for (x0, y0), (x1, y1) in pairwise(self.path):
            part = hypot(x1 - x0, y1 - y0)
            if along <= part:
                return (x0 + (x1 - x0) * along / part, y0 + (y1 - y0) * along / part)
            along -= part
        return self.path[-1]

    def side(self, offset: float) -> Subpath:
        """Return the line that runs ``offset`` mm to the left of the centre line."""
        normals = [(-(y1 - y0), x1 - x0) for (x0, y0), (x1, y1) in pairwise(self.path)]
        found = []
        for index, (x, y) in enumerate(self.path):
            near = normals[max(0, index - 1) : index + 1]
            dx, dy = (sum(n[axis] / hypot(*n) for n in near) for axis in (0, 1))
            found.append((x + offset * dx / hypot(dx, dy), y + offset * dy / hypot(dx, dy)))
        return tuple(found)

    def levels(self, x: float) -> list[float]:
        """Return the height of every place where a plumb line at ``x`` passes through the layer."""
        return [
            y0 + (y1 - y0) * (x - x0) / (x1 - x0)
            for (x0, y0), (x1, y1) in pairwise(self.path)
            if (x0 <= x) != (x1 <= x)
        ]


@dataclass(frozen=True)
class Label:
    """A word above the layers or below them, its middle at ``x``, with a leader line to ``tip``.

    Without a tip it begins at ``x``, beside the needle.  ``said`` is a template, or such words.
    """

    said: str
    tip: Point | None
    x: float
    above: bool = True
    press: bool = False

    @property
    def text(self) -> str:
        """The word in the language of the document."""
        return told(self.said) if isinstance(self.said, Words) else say(self.said)


@dataclass(frozen=True)
class Section:
    """One step: the layers, the needle's plumb line, seams sewn before, pins, words.

    ``seams`` are the points where the thread passes through each layer.
    """

    layers: tuple[Layer, ...]
    needle: float | None = None
    seams: tuple[Subpath, ...] = ()
    pin: tuple[float, float] | None = None
    labels: tuple[Label, ...] = ()

    def count(self, x: float, cloth: Cloth | None = None) -> int:
        """Count the layers, of one cloth or of both, that a plumb line at ``x`` passes through."""
        return len(self.levels(x, cloth))

    def levels(self, x: float, cloth: Cloth | None = None) -> list[float]:
        """Return the heights where a plumb line at ``x`` passes through layers of one cloth, or of both."""
        return [y for layer in self.layers if cloth in (None, layer.cloth) for y in layer.levels(x)]

    @property
    def stack(self) -> Box:
        """Where the cloth lies, without words."""
        return Box.around(point for layer in self.layers for point in layer.path).grown(THICK / 2)


def path_length(path: Sequence[Point]) -> float:
    """Return the length of a polyline, mm."""
    return sum(hypot(x1 - x0, y1 - y0) for (x0, y0), (x1, y1) in pairwise(path))


@lru_cache(2**8)
def hatching(layer: Layer) -> Sequence[Subpath]:
    """Return slanted strokes across a layer, about 1 mm apart, the sign of the strip; many steps show the same one."""
    whole = layer.length
    count = int(whole)
    strokes: list[Subpath] = []
    for k in range(count):
        along = (k + 0.5) * whole / count
        (x0, y0), (x1, y1) = layer.at(along - 0.1), layer.at(along + 0.1)
        length = hypot(x1 - x0, y1 - y0)
        ux, uy = (x1 - x0) / length * THICK / 2, (y1 - y0) / length * THICK / 2
        x, y = layer.at(along)
        strokes.append(((x + uy - 0.3 * ux, y - ux - 0.3 * uy), (x - uy + 0.3 * ux, y + ux + 0.3 * uy)))
    return strokes


def frays(layer: Layer) -> list[Subpath]:
    """Return the short threads at the raw edges of a layer."""
    ends = [(layer.path[0], layer.path[1])] * layer.raw[0] + [(layer.path[-1], layer.path[-2])] * layer.raw[1]
    return [stroke for end, inward in ends for stroke in _fray(end, inward)]


def _fray(end: Point, inward: Point) -> Iterable[Subpath]:
    length = hypot(end[0] - inward[0], end[1] - inward[1])
    ux, uy = (end[0] - inward[0]) / length, (end[1] - inward[1]) / length
    for off, spread in ((-0.4, -0.25), (0.0, 0.1), (0.4, 0.3)):
        start = (end[0] - uy * off * THICK, end[1] + ux * off * THICK)
        yield (start, (start[0] + 0.8 * ux - uy * spread, start[1] + 0.8 * uy + ux * spread))
