"""Boxes packed from the top of a sheet downwards, below a skyline of what lies there already; mm, y down from the top.

Skyline packing (Burke, Kendall and Whitwell, "A New Placement Heuristic for the Orthogonal
Stock-Cutting Problem", Operations Research 52(4), 2004, keep such a line): the free room
below the packed boxes is known by steps, and each box goes where it reaches least far
down, or where it leaves least room that nothing can fill any more.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import product

from tiler.box import Point

TINY = 1e-6

Sides = tuple[float, float]
"""Width and height."""

Step = tuple[float, float, float]
"""A step of the skyline: from where to where it goes across, and how far down nothing is free."""

ORDERS: tuple[Callable[[Sides], Sides], ...] = (
    lambda sides: (-sides[1], -sides[0]),
    lambda sides: (-sides[0], -sides[1]),
    lambda sides: (-sides[0] * sides[1], -sides[1]),
)
"""Highest first, widest first, largest first."""


def packed(boxes: Sequence[Sides], width: float, first: Sides) -> tuple[list[Point], float] | None:
    """Pack boxes into a width below and beside a ``first`` one, which stands in the upper left corner.

    Return the upper left corners, in the order given, and how far down they reach with the
    first, by the best of all orders; None where a box is wider than there is room.
    """
    if any(wide > width + TINY for wide, _ in (*boxes, first)):
        return None
    ways = (_pack(boxes, width, first, order, tight) for order, tight in product(ORDERS, (False, True)))
    return min(ways, key=lambda way: way[1])


def _pack(
    boxes: Sequence[Sides], width: float, first: Sides, order: Callable[[Sides], Sides], tight: bool
) -> tuple[list[Point], float]:
    line: list[Step] = [(0.0, first[0], first[1]), (first[0], width, 0.0)]
    line = [step for step in line if step[1] - step[0] > TINY]
    corners = [(0.0, 0.0)] * len(boxes)
    deepest = first[1]
    for index in sorted(range(len(boxes)), key=lambda one: order(boxes[one])):
        wide, high = boxes[index]
        ways = [_spot(line, start, wide, width) for start in range(len(line))]
        found = [way for way in ways if way]
        x, y, _ = min(found, key=lambda way: ((way[2], way[1]) if tight else (way[1], way[2]), way[0]))
        corners[index] = (x, y)
        line = _raised(line, x, x + wide, y + high)
        deepest = max(deepest, y + high)
    return corners, deepest


def _spot(line: Sequence[Step], start: int, wide: float, width: float) -> tuple[float, float, float] | None:
    """Return where a box lies that begins with a step: its corner, and the room that it makes useless."""
    x = line[start][0]
    if x + wide > width + TINY:
        return None
    below = []
    for step in line[start:]:
        if step[0] >= x + wide - TINY:
            break
        below.append(step)
    y = max(step[2] for step in below)
    lost = sum((y - down) * (min(end, x + wide) - begin) for begin, end, down in below)
    return x, y, lost


def _raised(line: Sequence[Step], x0: float, x1: float, down: float) -> list[Step]:
    """Return the skyline with a new step from x0 to x1."""
    left = [(begin, min(end, x0), depth) for begin, end, depth in line if begin < x0 - TINY]
    right = [(max(begin, x1), end, depth) for begin, end, depth in line if end > x1 + TINY]
    return [*left, (x0, x1, down), *right]
