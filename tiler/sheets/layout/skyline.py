"""Boxes packed from the top of a sheet downwards, below a skyline of what lies there already; mm, y down from the top.

Skyline packing (Burke, Kendall and Whitwell, "A New Placement Heuristic for the Orthogonal
Stock-Cutting Problem", Operations Research 52(4), 2004, keep such a line): the free room
below the packed boxes is known by steps, and each box goes where it reaches least far
down, or where it leaves least room that nothing can fill any more.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import product
from math import inf

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
    # orders that come to the same are tried once, and a way is left as soon as it is no better than one before
    orders = dict.fromkeys(tuple(sorted(range(len(boxes)), key=lambda one: by(boxes[one]))) for by in ORDERS)
    best: tuple[list[Point], float] | None = None
    for order, tight in product(orders, (False, True)):
        best = _pack(boxes, width, first, order, tight, best[1] if best else inf) or best
    return best


def _pack(
    boxes: Sequence[Sides], width: float, first: Sides, order: Sequence[int], tight: bool, most: float
) -> tuple[list[Point], float] | None:
    """Return the corners of boxes that are packed in an order, and how far down they reach; None for ``most``."""
    line: list[Step] = [(0.0, first[0], first[1]), (first[0], width, 0.0)]
    line = [step for step in line if step[1] - step[0] > TINY]
    corners = [(0.0, 0.0)] * len(boxes)
    deepest = first[1]
    for index in order:
        if deepest >= most:
            return None
        wide, high = boxes[index]
        x, y = _spot(line, wide, width, tight)
        corners[index] = (x, y)
        line = _raised(line, x, x + wide, y + high)
        deepest = max(deepest, y + high)
    return (corners, deepest) if deepest < most else None


def _spot(line: Sequence[Step], wide: float, width: float, tight: bool) -> Point:
    """Return the corner of a box at the begin of a step where it lies highest, or makes least room useless."""
    best, corner = (inf, inf), (0.0, 0.0)
    for start, (x, _, top) in enumerate(line):
        right, y = x + wide, top
        if right > width + TINY:
            break
        below = []
        for step in line[start:]:
            if step[0] >= right - TINY:
                break
            below.append(step)
            y = max(y, step[2])
        if not tight and y > best[0]:
            continue
        lost = sum([(y - down) * (min(end, right) - begin) for begin, end, down in below])
        way = (lost, y) if tight else (y, lost)
        if way < best:
            best, corner = way, (x, y)
    return corner


def _raised(line: Sequence[Step], x0: float, x1: float, down: float) -> list[Step]:
    """Return the skyline with a new step from x0 to x1."""
    left = [(begin, min(end, x0), depth) for begin, end, depth in line if begin < x0 - TINY]
    right = [(max(begin, x1), end, depth) for begin, end, depth in line if end > x1 + TINY]
    return [*left, (x0, x1, down), *right]
