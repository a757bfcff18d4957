"""The edge as it lies on the garment, with the marks that meet the strip's notches; mm.

A neckline whose shape is described lies as its seam line does, front and back over each other, as on a garment that
lies flat: the neck points of the shoulders at the height 0, the centre at x = 0.  One that is drawn does so where its
halves meet at the shoulders.  Of an edge that was
measured only lengths are known, so it can be shown straight and in no other way: ``marks`` say where along the edge,
and where along the strip, each notch lies.  Between two marks the strip is shared out evenly over a part, and over the
legs between its sharp corners as ``ease`` shares it out.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise
from math import radians

from tiler.draft.compute import sewn_line
from tiler.draft.edge.centre import against_centre
from tiler.draft.edge.path import points_along
from tiler.draft.edge.seam_line import Kind, MeasuredPart, SeamLine
from tiler.draft.fastening.open_ends import Ends
from tiler.draft.figures import Figures
from tiler.draft.spec.piece import PieceSpec
from tiler.draft.strip.corner import Corner
from tiler.draft.strip.finish import Cut
from tiler.draft.strip.notch import Notch
from tiler.draft.strip.notches import CB, CF, JoinAt, join_place, notches_of
from tiler.draft.strip.widths import strip_widths

ALIKE = 0.1
"""Marks that lie so near to each other are one, mm."""

END, END_SEAM = "end", "end seam"
"""What the ends of a strip are called where they have no place on the garment."""


@dataclass(frozen=True)
class Mark:
    """Where a notch of the strip meets the edge: how far along either, from the left end of the sewn length."""

    name: str
    edge_mm: float
    strip_mm: float
    double: bool = False


@dataclass(frozen=True)
class Stretch:
    """A part of the edge, or a half of it, and the strip that is sewn to it; from the left end."""

    name: str
    edge_mm: tuple[float, float]
    strip_mm: tuple[float, float]


@dataclass(frozen=True)
class Half:
    """A half of a neckline as a line from the centre to the neck point, x to the right and y up."""

    name: str
    centre: str
    points: tuple[complex, ...]
    corners: tuple[complex, ...]


@dataclass(frozen=True)
class Plan:
    """The edge on its seam line and the strip on it; ``halves`` are those of a neckline whose shape is known."""

    edge_mm: float
    strip_mm: float
    straight: bool
    stretches: tuple[Stretch, ...]
    marks: tuple[Mark, ...]
    halves: tuple[Half, ...] = ()


@dataclass(frozen=True)
class _Run:
    """A part as it is met from the left end: its legs in that order, as lengths of edge and of strip."""

    name: str
    legs: tuple[tuple[float, float], ...]

    @property
    def edge(self) -> float:
        return sum(edge for edge, _ in self.legs)

    @property
    def strip(self) -> float:
        return sum(strip for _, strip in self.legs)


def plan_of(piece: PieceSpec, figures: Figures, units: str) -> Plan:
    """Return how the edge of a piece lies, and which of its places meets which of the strip."""
    line = sewn_line(piece, strip_widths(piece, units), units)[0]
    runs = _runs(piece, figures, line)
    ends = [(0.0, 0.0), *accumulate((leg for run in runs for leg in run.legs), _add)]
    stretches = []
    edge = strip = 0.0
    for run in runs:
        stretches.append(Stretch(run.name, (edge, edge + run.edge), (strip, strip + run.strip)))
        edge, strip = edge + run.edge, strip + run.strip
    marks = tuple(Mark(one.name, _met(ends, one.at_mm), one.at_mm, one.double) for one in _notches(piece, figures))
    straight = piece.edge.kind is Kind.STRAIGHT or piece.edge.straight_leg
    return Plan(edge, figures.loop_mm, straight, tuple(stretches), marks, _halves(piece, line))


def _add(one: tuple[float, float], other: tuple[float, float]) -> tuple[float, float]:
    return one[0] + other[0], one[1] + other[1]


def _met(ends: Sequence[tuple[float, float]], at: float) -> float:
    """Return the place of the edge that meets a place of the strip."""
    for (edge, strip), (then_edge, then_strip) in pairwise(ends):
        if at <= then_strip + 1e-9:
            return edge + (then_edge - edge) * (at - strip) / (then_strip - strip)
    return ends[-1][0]


def _runs(piece: PieceSpec, figures: Figures, line: SeamLine) -> list[_Run]:
    """Return the parts in the order in which the whole strip meets them, from its left end."""
    ways = [
        _Run(part.words, tuple(zip((leg.length_mm for leg in measured.legs), part.legs_mm, strict=True)))
        for part, measured in zip(figures.edge.parts, line.parts, strict=True)
    ]
    if piece.edge.times == 1:
        return ways
    front, back = ways
    to_front, to_back = _Run(front.name, front.legs[::-1]), _Run(back.name, back.legs[::-1])
    if piece.join_at is JoinAt.SHOULDER:
        return [to_front, front, to_back, back]
    if piece.corner is not Corner.NONE or piece.ends is not Ends.CLOSED:
        return [front, to_back, back, to_front]
    return [back, to_front, front, to_back]


def _notches(piece: PieceSpec, figures: Figures) -> list[Notch]:
    """Return the notches of the whole strip from the left end of its sewn length, its ends among them."""
    loop, edge, is_open = figures.loop_mm, figures.edge, piece.ends is not Ends.CLOSED
    pointed = piece.corner is not Corner.NONE
    own = list(notches_of(piece.edge.kind, Cut.FULL_LOOP, edge.parts, loop, pointed, piece.join_at, is_open))
    for notch in piece.notches:
        on_fold = piece.cut is Cut.ON_FOLD
        at = [loop / 2 - notch.at_mm, loop / 2 + notch.at_mm] if on_fold else [notch.at_mm - figures.left_end.longest]
        own += [Notch(notch.name, one) for one in at if 0 <= one <= loop]
    place = join_place(piece.edge.kind, piece.join_at, pointed) or END_SEAM
    if is_open:
        place = CF if piece.edge.times == 2 else END
    missing = [end for end in (0.0, loop) if not any(abs(one.at_mm - end) < ALIKE for one in own)]
    return sorted([*own, *(Notch(place, end, double=place == CB) for end in missing)], key=lambda one: one.at_mm)


def _halves(piece: PieceSpec, line: SeamLine) -> tuple[Half, ...]:
    """Return the halves of a neckline whose shape is known."""
    if piece.edge.times == 1 or not all(part.path for part in line.parts):
        return ()
    front, back = piece.edge.parts
    ways = (False, False) if piece.edge.outline else against_centre(front, back)
    if ways is None:
        return ()
    return tuple(_half(part, centre, way) for part, centre, way in zip(line.parts, (CF, CB), ways, strict=True))


def _half(part: MeasuredPart, centre: str, flip: bool) -> Half:
    points = list(points_along(part.path[::-1] if flip else part.path, radians(part.start_deg) / 2))
    height = points[-1][0].imag
    moved = [(point - complex(0, height), corner) for point, corner in points]
    return Half(part.words, centre, tuple(one for one, _ in moved), tuple(one for one, corner in moved if corner))
