"""Test squares: what stands on a page, and how it compares with what was declared; mm."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import dist
from typing import TypeVar

from tiler.box import Box, Point
from tiler.declaration import Square
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says
from tiler.proof.tolerances import MISPLACED, SCALE, VECTOR
from tiler.reading.pdf.strokes import Stroke
from tiler.reading.pdf.text import Text

D = TypeVar("D")
S = TypeVar("S")


@dataclass(frozen=True, slots=True)
class SquareSeen:
    """A square as it is drawn: the box around it, how far a corner is off that box, and the words inside."""

    box: Box
    crooked: float
    words: str


def squares_of(strokes: Iterable[Stroke], texts: Sequence[Text]) -> Iterator[SquareSeen]:
    """Yield the closed paths of four corners among the strokes of test squares."""
    for stroke in strokes:
        if stroke.closed and len(stroke.points) == 5 and not stroke.curves:
            box = stroke.box
            inside = [text.text for text in texts if text.upright and box.holds(text.box)]
            yield SquareSeen(box, off_box(stroke.points, box), " ".join(inside))


def off_box(points: Sequence[Point], box: Box) -> float:
    """Return how far the corner furthest from the four corners of a box is from them."""
    corners = [(x, y) for x in (box.x0, box.x1) for y in (box.y0, box.y1)]
    return max(min(dist(point, corner) for corner in corners) for point in points)


def compare_squares(declared: Sequence[Square], seen: Sequence[SquareSeen], page: int) -> Iterator[Check]:
    """Compare the squares of one page with those declared for it."""
    by_size = sorted(declared, key=lambda square: square.nominal_mm)
    found = sorted(seen, key=lambda square: square.box.width * square.box.height)
    pairs, lost, extra = paired(by_size, found, lambda want, got: dist(want.at, (got.box.x0, got.box.y0)))
    for want, got in pairs:
        for axis, size in (("across", got.box.width), ("down", got.box.height)):
            yield size_check(CheckName.SQUARE, page, size, want.nominal_mm, want.label, axis, got.crooked, got.box)
        off = dist((got.box.x0, got.box.y0), want.at)
        says = Says.SQUARE_PLACED if off <= VECTOR else Says.SQUARE_MOVED
        yield Check(CheckName.SQUARE_PLACE, moved(off), says, page, label=want.label, numbers={"off": off})
        if want.label not in got.words:
            yield Check(CheckName.SQUARE_LABEL, Status.FAIL, Says.SQUARE_UNLABELLED, page, label=want.label)
    for want in lost:
        gone, stated = Says.SQUARE_MISSING, want.nominal_mm
        yield Check(CheckName.SQUARE_PLACE, Status.FAIL, gone, page, None, stated, label=want.label)
    for got in extra:
        yield Check(CheckName.SQUARE_PLACE, Status.FAIL, Says.SQUARE_UNDECLARED, page, got.box.width)


def paired(
    declared: Sequence[D], seen: Sequence[S], apart: Callable[[D, S], float]
) -> tuple[list[tuple[D, S]], list[D], list[S]]:
    """Pair in the given order when the numbers agree, else the nearest first; return pairs, lost and extra ones."""
    if len(declared) == len(seen):
        return list(zip(declared, seen, strict=True)), [], []
    lost, extra = dict(enumerate(declared)), dict(enumerate(seen))
    pairs = []
    for _, i, j in sorted((apart(want, got), i, j) for i, want in lost.items() for j, got in extra.items()):
        if i in lost and j in extra:
            pairs.append((lost.pop(i), extra.pop(j)))
    return pairs, list(lost.values()), list(extra.values())


def size_check(
    name: CheckName,
    page: int,
    measured: float,
    nominal: float,
    label: str,
    axis: str,
    crooked: float,
    box: Box | None = None,
) -> Check:
    """Judge a measured size; one that leans more than a line may be off fails too."""
    right = abs(measured / nominal - 1) <= SCALE and crooked <= VECTOR
    return Check(
        name,
        Status.PASS if right else Status.FAIL,
        Says.SIZE_LEANING if crooked > VECTOR else Says.SIZE,
        page,
        measured,
        nominal,
        label=label,
        axis=axis,
        box=box,
        numbers={"lean": crooked} if crooked > VECTOR else {},
    )


def moved(off: float) -> Status:
    """Judge how far something stands from its place on the page."""
    if off <= VECTOR:
        return Status.PASS
    return Status.FAIL if off > MISPLACED else Status.WARN
