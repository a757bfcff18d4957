"""Register marks on a page: crosses in circles, and the shared strip that each belongs to; page mm."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import dist

from tiler.box import Box, Point
from tiler.proof.tolerances import VECTOR
from tiler.reading.pdf.strokes import Stroke

NEAR = 2.0
"""Strokes whose middles lie nearer than this belong to one mark."""

SIDES = ("left", "right", "top", "bottom")


@dataclass(frozen=True, slots=True)
class MarkSeen:
    """A mark: the crossing of its arms, their length, and whether all of it is there and round its crossing."""

    at: Point
    size: float
    whole: bool


def marks_of(strokes: Iterable[Stroke]) -> list[MarkSeen]:
    """Put the strokes of register marks together; a mark's strokes follow each other."""
    groups: list[list[tuple[Point, Stroke]]] = []
    for stroke in strokes:
        middle = stroke.box.middle
        if groups and len(groups[-1]) < 3 and dist(groups[-1][0][0], middle) < NEAR:
            groups[-1].append((middle, stroke))
        else:
            groups.append([(middle, stroke)])
    return [_mark(group) for group in groups]


def _mark(group: list[tuple[Point, Stroke]]) -> MarkSeen:
    across = [(middle, stroke.box) for middle, stroke in group if stroke.box.height <= VECTOR]
    upright = [(middle, stroke.box) for middle, stroke in group if stroke.box.width <= VECTOR]
    round_ = [(middle, stroke.box) for middle, stroke in group if stroke.curves]
    x = upright[0][0][0] if upright else group[0][0][0]
    y = across[0][0][1] if across else group[0][0][1]
    size = across[0][1].width if across else 0.0
    whole = len(across) == len(upright) == len(round_) == 1 and (
        abs(upright[0][1].height - size) <= VECTOR
        and abs(round_[0][1].width - round_[0][1].height) <= VECTOR
        and all(dist(middle, (x, y)) <= VECTOR for middle, _ in group)
    )
    return MarkSeen((x, y), size, whole)


def by_side(marks: Iterable[MarkSeen], frame: Box) -> dict[str, list[Point]]:
    """Sort the marks of a tile by the side of the frame that each is nearest to, then along that side."""
    sides: dict[str, list[Point]] = {side: [] for side in SIDES}
    for mark in marks:
        x, y = mark.at
        distances = (x - frame.x0, frame.x1 - x, frame.y1 - y, y - frame.y0)
        sides[SIDES[distances.index(min(distances))]].append(mark.at)
    for side, points in sides.items():
        points.sort(key=lambda point: point[1] if side in ("left", "right") else point[0])
    return sides
