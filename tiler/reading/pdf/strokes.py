"""Painted paths of a page; mm, y up, from the lower left corner of the page as shown.

Every subpath is a stroke of its own, since the reading library takes a path apart
that way.  Clips, hidden layers, transparency and later covering are not seen here:
what the eye gets is the matter of the rendered ink.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from pdfminer.layout import LTContainer, LTCurve

from tiler.box import Box, Point

NO_LAYERS: Mapping[str, str] = {}

CURVE_STEPS = 8
"""Chords per Bezier segment when a curve is flattened."""


@dataclass(frozen=True, slots=True)
class Stroke:
    """One painted subpath; a closed one repeats its first point.

    ``points`` are the ends of its segments; ``curves`` holds the control points of
    each Bezier segment by the index of the point that it leads to.  ``weight`` grows with
    the scale of the first axis that it is written in; ``gap`` (the longest gap of its
    dashes, 0 when solid) is as written, before any scaling.  ``darkness`` is 1 for black, 0 for white; ``layer``
    names the layer of the form that it is painted by, where that is on one; ``order``
    counts the paths painted on the page up to this one.
    """

    tag: str | None
    points: tuple[Point, ...]
    curves: tuple[tuple[int, tuple[Point, ...]], ...]
    stroked: bool
    filled: bool
    weight: float
    gap: float
    darkness: float
    layer: str = ""
    order: int = 0

    @property
    def closed(self) -> bool:
        """Tell whether the path ends where it began."""
        return len(self.points) > 2 and self.points[0] == self.points[-1]

    @property
    def box(self) -> Box:
        """The box around the points."""
        return Box.around(self.points)

    def moved(self, dx: float, dy: float, paths: int = 0) -> Stroke:
        """Return the same stroke elsewhere, behind so many more ``paths``."""
        # dataclasses.replace takes twice as long, and a page has thousands of them
        return Stroke(
            self.tag,
            tuple([(x + dx, y + dy) for x, y in self.points]),
            tuple((index, tuple([(x + dx, y + dy) for x, y in controls])) for index, controls in self.curves),
            self.stroked,
            self.filled,
            self.weight,
            self.gap,
            self.darkness,
            self.layer,
            self.order + paths,
        )

    def flattened(self) -> tuple[Point, ...]:
        """Return the points with every Bezier segment replaced by chords."""
        if not self.curves:
            return self.points
        controls = dict(self.curves)
        line = [self.points[0]]
        for index in range(1, len(self.points)):
            if index in controls:
                line += _chords(line[-1], controls[index], self.points[index])
            else:
                line.append(self.points[index])
        return tuple(line)


def _chords(start: Point, controls: tuple[Point, ...], end: Point) -> Iterator[Point]:
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = start, controls[0], controls[1], end
    for step in range(1, CURVE_STEPS + 1):
        t = step / CURVE_STEPS
        u = 1 - t
        a, b, c, d = u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t
        yield (a * x0 + b * x1 + c * x2 + d * x3, a * y0 + b * y1 + c * y2 + d * y3)


def strokes_of(
    items: Iterable[Any], k: float, layers: Mapping[str, str] = NO_LAYERS, paths: int = 0
) -> Iterator[Stroke]:
    """Yield the strokes of a page's items in painting order.

    ``k`` is mm per unit, ``layers`` are those of its forms, ``paths`` were painted before.
    """
    for order, (item, layer) in enumerate(_curves(items, layers, ""), paths + 1):
        yield from _strokes(item, k, layer, order)


def _curves(items: Iterable[Any], layers: Mapping[str, str], layer: str) -> Iterator[tuple[LTCurve, str]]:
    for item in items:
        if isinstance(item, LTCurve):
            yield item, layer
        elif isinstance(item, LTContainer):
            inner = layers.get(getattr(item, "name", ""), layer) if layers else layer
            yield from _curves(item, layers, inner)


def _strokes(item: LTCurve, k: float, layer: str, order: int) -> Iterator[Stroke]:
    path: Any = item.original_path or ()
    points: list[Point] = []
    curves: list[tuple[int, tuple[Point, ...]]] = []
    closed = False
    for segment in path:
        if segment[0] == "h":
            if points[-1] != points[0]:
                points.append(points[0])
            closed = True
            continue
        if closed:
            # ISO 32000-1, Table 59: after h a new subpath begins where the closed one began
            yield _stroke(item, k, points, curves, layer, order)
            points, curves, closed = points[:1], [], False
        x, y = segment[-1]
        if len(segment) > 2:
            curves.append((len(points), _controls(segment, points[-1], k)))
        points.append((x * k, y * k))
    if points:
        yield _stroke(item, k, points, curves, layer, order)


def _stroke(
    item: LTCurve, k: float, points: list[Point], curves: list[tuple[int, tuple[Point, ...]]], layer: str, order: int
) -> Stroke:
    dash = item.dashing_style
    return Stroke(
        tag=getattr(item, "tag", None),
        points=tuple(points),
        curves=tuple(curves),
        stroked=bool(item.stroke),
        filled=bool(item.fill),
        weight=item.linewidth * k,
        gap=_longest_gap(dash[0], k) if dash else 0.0,
        darkness=_darkness(item.stroking_color if item.stroke else item.non_stroking_color),
        layer=layer,
        order=order,
    )


def _controls(segment: Any, start: Point, k: float) -> tuple[Point, ...]:
    # ISO 32000-1, Table 59: v takes the current point as first control point, y the end as second.
    given = [(x * k, y * k) for x, y in segment[1:]]
    return (start, given[0]) if segment[0] == "v" else (given[0], given[1])


def _longest_gap(lengths: Any, k: float) -> float:
    # 8.4.3.6: on and off lengths alternate; an odd array is gone through twice.
    if not isinstance(lengths, list) or not lengths:
        return 0.0
    numbers = [length for length in lengths if isinstance(length, int | float)]
    gaps = numbers[1::2] if len(numbers) % 2 == 0 else numbers
    return max(gaps, default=0.0) * k


def _darkness(colour: Any) -> float:
    values = colour if isinstance(colour, tuple | list) else (colour,)
    numbers = [float(value) for value in values if isinstance(value, int | float)]
    if len(numbers) == 1:
        return 1 - numbers[0]
    if len(numbers) == 3:
        red, green, blue = numbers
        return 1 - (0.299 * red + 0.587 * green + 0.114 * blue)
    if len(numbers) == 4:
        cyan, magenta, yellow, black = numbers
        return min(1.0, 0.299 * cyan + 0.587 * magenta + 0.114 * yellow + black)
    return 1.0
