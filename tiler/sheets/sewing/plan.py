"""The loop in plan: strip and garment's edge as two rings, quartered and pinned mark to mark; page mm."""

from __future__ import annotations

from math import cos, pi, sin

from tiler.box import Point, Subpath
from tiler.languages.words import say
from tiler.sheets.canvas import Canvas
from tiler.sheets.style import HAIR, HEAVY, MEDIUM

HEIGHT = 28.0
"""What the drawing takes of the page, mm."""

_EDGE, _STRIP = (42.0, 12.7), (31.5, 9.0)
"""Half width and half height of the garment's edge and of the strip: shorter, as it is."""

_STEPS = 72
_OVER = 1.0
"""How far a pin reaches over both rings."""


def draw_plan(canvas: Canvas, left: float, y: float) -> None:
    """Draw both rings with their four marks; ``y`` is their middle."""
    x = left + _EDGE[0] + 2.0
    canvas.stroke([_ring((x, y), _EDGE)], HAIR)
    canvas.stroke([_ring((x, y), _STRIP)], HEAVY)
    canvas.stroke([_pin((x, y), quarter) for quarter in range(4)], MEDIUM)
    canvas.text((x, y + 5.0), say("end seam"), align="centre")
    canvas.text((x, y - 7.2), say("half"), align="centre")
    canvas.text((x - _STRIP[0] + 2.5, y - 1.0), say("quarter"))
    canvas.text((x, y - 1.0), say("strip"), bold=True, align="centre")
    canvas.text((x + _STRIP[0] - 2.5, y - 1.0), say("quarter"), align="right")
    canvas.text((x + _EDGE[0] + 2.5, y - 1.0), say("edge"))


def _ring(middle: Point, half: tuple[float, float]) -> Subpath:
    return tuple(_at(middle, half, 2 * pi * step / _STEPS) for step in range(_STEPS + 1))


def _pin(middle: Point, quarter: int) -> Subpath:
    """Return the pin that holds a mark of the strip on that of the edge."""
    angle = pi / 2 * quarter
    inner, outer = (
        _at(middle, (half[0] + over, half[1] + over), angle) for half, over in ((_STRIP, -_OVER), (_EDGE, _OVER))
    )
    return (inner, outer)


def _at(middle: Point, half: tuple[float, float], angle: float) -> Point:
    return (middle[0] + half[0] * cos(angle), middle[1] + half[1] * sin(angle))
