"""Outlines that are two squares within each other: filled rings, boxes of style sheets, double lines; mm.

Which of their edges a maker means is not written anywhere; ``Quadrangle.edges`` holds all of them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tiler.proof.foreign.quadrangle import Quadrangle, Shape
from tiler.proof.foreign.sides import Side

RING, DOUBLE = 4.0, 2.0
"""Two filled squares that are no further apart than this are one outline, two lines a double one."""

UNEVEN = 0.1
"""Both are the same distance apart all round, within this."""

CELL = 2.0
"""Middles are looked up in cells of this size."""

MOST_IN_A_CELL = 24
SAME = 0.05
"""Shapes whose corners are nearer than this are one, drawn twice."""


def outlined(found: Sequence[Quadrangle]) -> list[Quadrangle]:
    """Return shapes with each pair that is one outline put together, and none twice."""
    kept: list[Quadrangle] = []
    table: dict[tuple[int, int], list[Quadrangle]] = {}
    for one in sorted(found, key=lambda one: not one.stroked):
        near = list(_near(table, one))
        if any(_same(one, other) for other in near):
            continue
        kept.append(one)
        here = table.setdefault(_cell(one), [])
        if len(here) < MOST_IN_A_CELL:
            here.append(one)
    rings = [
        (ring, one, other)
        for one in kept
        for other in _near(table, one)
        if one.side > other.side and (ring := _ring(one, other))
    ]
    within = {id(part) for _, one, other in rings for part in (one, other)}
    return [*(one for one in kept if id(one) not in within), *(ring for ring, _, _ in rings)]


def _near(table: dict[tuple[int, int], list[Quadrangle]], one: Quadrangle) -> Iterator[Quadrangle]:
    x, y = _cell(one)
    return (
        other for i in (-1, 0, 1) for j in (-1, 0, 1) for other in table.get((x + i, y + j), ()) if other is not one
    )


def _cell(one: Quadrangle) -> tuple[int, int]:
    middle = sum(one.corners) / 4
    return int(middle.real // CELL), int(middle.imag // CELL)


def _same(one: Quadrangle, two: Quadrangle) -> bool:
    far = max(min(abs(own - other) for other in two.corners) for own in one.corners)
    return one.shape is two.shape and far <= SAME


def _ring(one: Quadrangle, two: Quadrangle) -> Quadrangle | None:
    """Return the outline that lies between a larger shape and a smaller one."""
    if one.stroked is not two.stroked or one.shape is not two.shape or one.shape is Shape.MARKS:
        return None
    nearest = [min(two.corners, key=lambda corner: abs(corner - own)) for own in one.corners]
    thick = abs(one.side - two.side) / 2
    even = all(abs(abs(a - b) - thick * 2**0.5) <= UNEVEN for a, b in zip(one.corners, nearest, strict=True))
    if not 0 < thick <= (DOUBLE if one.stroked else RING) or not even:
        return None
    a, b, c, d = ((own + other) / 2 for own, other in zip(one.corners, nearest, strict=True))
    if one.stroked or one.shape is Shape.CIRCLE:
        sides = one.sides
    else:
        sides = tuple(Side(s, e, weight=thick) for s, e in ((a, b), (b, c), (c, d), (d, a)))
    return Quadrangle((a, b, c, d), sides, one.shape, line=thick, stroked=one.stroked)
