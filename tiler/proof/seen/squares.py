"""Test squares: what stands on a page, and how it compares with what was declared; mm."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import dist
from typing import TypeVar

from tiler.box import Box, Point
from tiler.declaration import Square
from tiler.proof.report.verdict import FAIL, PASS, WARN, Check
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
    """Give the closed paths of four corners among the strokes of test squares."""
    for stroke in strokes:
        if stroke.closed and len(stroke.points) == 5 and not stroke.curves:
            box = stroke.box
            inside = [text.text for text in texts if text.upright and _within(text.box, box)]
            yield SquareSeen(box, off_box(stroke.points, box), " ".join(inside))


def off_box(points: Sequence[Point], box: Box) -> float:
    """Give how far the corner furthest from the four corners of a box is from them."""
    corners = [(x, y) for x in (box.x0, box.x1) for y in (box.y0, box.y1)]
    return max(min(dist(point, corner) for corner in corners) for point in points)


def _within(inner: Box, outer: Box) -> bool:
    return outer.x0 <= inner.x0 and inner.x1 <= outer.x1 and outer.y0 <= inner.y0 and inner.y1 <= outer.y1


def compare_squares(declared: Sequence[Square], seen: Sequence[SquareSeen], page: int) -> Iterator[Check]:
    """Hold the squares of one page against those declared for it."""
    by_size = sorted(declared, key=lambda square: square.nominal_mm)
    found = sorted(seen, key=lambda square: square.box.width * square.box.height)
    pairs, lost, extra = paired(by_size, found, lambda want, got: dist(want.at, (got.box.x0, got.box.y0)))
    for want, got in pairs:
        for axis, size in (("across", got.box.width), ("down", got.box.height)):
            yield size_check("square", page, size, want.nominal_mm, want.label, axis, got.crooked, got.box)
        yield place_check("square-place", page, (got.box.x0, got.box.y0), want.at, f"the {want.label} square")
        if want.label not in got.words:
            yield Check("square-label", FAIL, page, detail=f"the {want.label} square does not say its size")
    for want in lost:
        yield Check("square-place", FAIL, page, None, want.nominal_mm, f"the {want.label} square is missing")
    for got in extra:
        yield Check("square-place", FAIL, page, got.box.width, None, "a test square stands there that was not declared")


def paired(
    declared: Sequence[D], seen: Sequence[S], apart: Callable[[D, S], float]
) -> tuple[list[tuple[D, S]], list[D], list[S]]:
    """Pair in the given order when the numbers agree, else the nearest first; give pairs, lost and extra ones."""
    if len(declared) == len(seen):
        return list(zip(declared, seen, strict=True)), [], []
    lost, extra = dict(enumerate(declared)), dict(enumerate(seen))
    pairs = []
    for _, i, j in sorted((apart(want, got), i, j) for i, want in lost.items() for j, got in extra.items()):
        if i in lost and j in extra:
            pairs.append((lost.pop(i), extra.pop(j)))
    return pairs, list(lost.values()), list(extra.values())


def size_check(
    name: str,
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
    detail = f"{label} {axis}" + (f", its sides lean by {crooked:.2f} mm" if crooked > VECTOR else "")
    return Check(name, PASS if right else FAIL, page, measured, nominal, detail, axis, box)


def place_check(name: str, page: int, measured: Point, declared: Point, what: str) -> Check:
    """Judge where something stands on the page."""
    off = dist(measured, declared)
    if off <= VECTOR:
        return Check(name, PASS, page, detail=f"{what} stands in its place")
    status = FAIL if off > MISPLACED else WARN
    return Check(name, status, page, detail=f"{what} stands {off:.2f} mm from its place on the page")
