"""The edge with its notches: to scale where its shape is known, else straightened beside its strip; SVG, mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from tiler.draft.figures import Figures
from tiler.draft.plan import Half, Mark, Plan, plan_of
from tiler.draft.spec.piece import PieceSpec
from tiler.lengths import both

LETTER = 0.023
"""What a letter takes of the width of a narrow picture; marks whose names do not fit are called by their numbers."""

LETTERS = 18.0
"""A picture is so many letters high and more, so that they can be read however small it is shown."""

SCALES = {"in": (25.4, "1 in"), "cm": (50.0, "5 cm")}


class Row(NamedTuple):
    """A mark as a row of the table: its number, name, and where it lies along edge and strip."""

    number: int
    name: str
    edge: str
    strip: str


class Placed(NamedTuple):
    """A mark on the two straight lines: its text and where it stands on either, in %, and how its text lies."""

    text: str
    edge: str
    strip: str
    anchor: str
    double: bool
    high: bool


class Point(NamedTuple):
    """A text at a point of the drawing; x to the right and y down, mm."""

    x: float
    y: float
    text: str
    anchor: str


@dataclass(frozen=True)
class Shape:
    """A neckline as it lies: its lines as points, its marks and their names, and a line of known length."""

    box: str
    letter: float
    front: str
    back: str
    marks: tuple[Point, ...]
    names: tuple[Point, ...]
    axis: tuple[float, float]
    scale: tuple[float, float, float, str]


@dataclass(frozen=True)
class EdgePicture:
    """The edge of one strip, in words too."""

    title: str
    shape: Shape | None
    why: str
    numbered: bool
    placed: tuple[Placed, ...]
    strip_wide: str
    rows: tuple[Row, ...]
    edge: str
    strip: str


def edge_picture(piece: PieceSpec, figures: Figures, units: str) -> EdgePicture:
    """Return the picture of the edge of a piece."""
    plan = plan_of(piece, figures, units)
    most = max(plan.edge_mm, plan.strip_mm)
    return EdgePicture(
        figures.edge.label,
        _shape(plan, units) if plan.halves else None,
        _why(plan, figures),
        not _names_fit(plan),
        tuple(_placed(plan, most)),
        _percent(plan.strip_mm / most),
        tuple(
            Row(number, mark.name, both(mark.edge_mm, units), both(mark.strip_mm, units))
            for number, mark in enumerate(plan.marks, 1)
        ),
        both(plan.edge_mm, units),
        both(plan.strip_mm, units),
    )


def _why(plan: Plan, figures: Figures) -> str:
    """Say why an edge is shown straightened; nothing of one that is straight."""
    if plan.straight:
        return ""
    if any(part.drawn for part in figures.edge.parts):
        return "since a drawing does not say which of its ends is which"
    return "since its shape is not known"


def _placed(plan: Plan, most: float) -> Iterator[Placed]:
    by_name = _names_fit(plan)
    for number, mark in enumerate(plan.marks, 1):
        text = mark.name if by_name else str(number)
        anchor = _anchor(mark, plan)
        yield Placed(
            text,
            _percent(mark.edge_mm / most),
            _percent(mark.strip_mm / most),
            anchor,
            mark.double,
            number % 2 == 0,
        )


def _anchor(mark: Mark, plan: Plan) -> str:
    share = mark.edge_mm / plan.edge_mm
    return "start" if share < 0.02 else "end" if share > 0.98 else "middle"


def _names_fit(plan: Plan) -> bool:
    """Tell whether the names of the marks, which stand in two rows in turn, leave each other room."""
    spans = []
    for mark in plan.marks:
        wide, at = LETTER * len(mark.name), mark.edge_mm / plan.edge_mm
        left = at - wide * {"start": 0.0, "middle": 0.5, "end": 1.0}[_anchor(mark, plan)]
        spans.append((left, left + wide))
    apart = all(one[1] < then[0] for one, then in zip(spans, spans[2:], strict=False))
    return apart and all(left >= -1e-9 and right <= 1 + 1e-9 for left, right in spans)


def _shape(plan: Plan, units: str) -> Shape:
    front, back = plan.halves
    half = front.points[-1].real
    depth = -min(point.imag for one in plan.halves for point in one.points)
    letter = max(2 * half, depth) / LETTERS
    wide, high = half + 6 * letter, depth + 5 * letter
    marks = [
        *(Point(sign * half, 0.0, "shoulder", "start" if sign > 0 else "end") for sign in (-1, 1)),
        *(Point(0.0, -one.points[0].imag, one.centre, "middle") for one in plan.halves),
    ]
    corners = [Point(sign * at.real, -at.imag, "", "") for one in plan.halves for at in one.corners for sign in (-1, 1)]
    names = [_beside(one, letter) for one in marks]
    length, words = SCALES[units]
    return Shape(
        f"{-wide:.1f} {-2.5 * letter:.1f} {2 * wide:.1f} {high + 2.5 * letter:.1f}",
        letter,
        _line(front),
        _line(back),
        tuple(dict.fromkeys([*marks, *corners])),
        tuple(names),
        (-back.points[0].imag, depth),
        (-wide + letter, -wide + letter + length, high - letter, words),
    )


def _beside(mark: Point, letter: float) -> Point:
    """Return where the name of a mark stands: beside a neck point, below a centre."""
    if mark.anchor == "middle":
        return mark._replace(y=mark.y + 1.6 * letter)
    return mark._replace(x=mark.x + (letter if mark.x > 0 else -letter) * 0.6, y=mark.y - 0.6 * letter)


def _line(half: Half) -> str:
    """Return a half and its mirror image as the points of one line, from neck point to neck point."""
    right = half.points
    points: Sequence[complex] = (*(complex(-one.real, one.imag) for one in reversed(right[1:])), *right)
    return " ".join(f"{point.real:.2f},{-point.imag:.2f}" for point in points)


def _percent(share: float) -> str:
    return f"{100 * share:.2f}%"


__all__ = ["EdgePicture", "Mark", "edge_picture"]
