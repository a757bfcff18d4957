"""What is cut of a contour band: its pieces with their names, their ends and their marks, and their share of the edge.

Millimetres.  A piece that runs on beyond the edge has a mark where it leaves that, and no share there.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import fsum

from tiler.draft.contour.opened import ways_of
from tiler.draft.contour.pattern import Way
from tiler.draft.contour.piece import Bands, shape_of
from tiler.draft.contour.shape import Shape
from tiler.draft.contour.turns import turns_of
from tiler.draft.edge.numbers import Edge, Part
from tiler.draft.edge.part_words import edge_words
from tiler.draft.edge.seam_line import EdgeSpec, Kind
from tiler.draft.fastening.open_ends import Ends
from tiler.draft.fastening.running_on import LEAVES, NOWHERE, RunsOn
from tiler.draft.sections.names import END_SEAM, pointed_end
from tiler.draft.sections.section import Section
from tiler.draft.spec.piece import PieceSpec
from tiler.draft.strip.corner import straight_end
from tiler.draft.strip.finish import Cut
from tiler.draft.strip.notch import Notch
from tiler.draft.strip.notches import CB, CF, HALF, SHOULDER, UNDERARM, between
from tiler.languages.words import Words
from tiler.lengths import both

IN_ONE = Words("in one piece")
"""Of a band whose edge has no parts."""

OWN_END = "own end"
"""Stands for the end of a band that is no ring."""


@dataclass(frozen=True)
class Cutting:
    """A piece: what it follows, its shape, and the names of its ends and of its middle."""

    way: Way
    shape: Shape
    ends: tuple[str, str]
    middle: str

    @property
    def times(self) -> int:
        """How often what is drawn of it is met along the edge: twice where that is a half."""
        return self.way.count * (2 if self.shape.on_fold else 1)

    @property
    def count(self) -> int:
        """How often it is cut for one band."""
        return self.shape.layers * self.way.count

    @property
    def free(self) -> tuple[float, float]:
        """How far what is drawn of it runs on at its left and its right end."""
        left, right = self.way.free
        return (0.0 if self.shape.on_fold else left), right

    @property
    def edge_mm(self) -> float:
        """What of the edge is drawn."""
        return self.shape.sewn_mm - fsum(self.free)


def cuttings(piece: PieceSpec, bands: Bands, units: str) -> list[Cutting]:
    """Return the pieces of a band; raises :class:`CrossingError` where their lines would cross."""
    on_fold, edge = piece.cut is Cut.ON_FOLD, piece.edge
    runs_on = None if piece.ends is Ends.CLOSED else piece.runs_on
    found = []
    for way in ways_of(edge, piece.where, on_fold, runs_on):
        shape = shape_of(way, bands, on_fold and not way.in_full, units)
        turns = turns_of(way, edge, bands.seam, shape.on_fold)
        found.append(Cutting(way, replace(shape, turns=turns), *_names(edge, way)))
    return found


def _names(edge: EdgeSpec, way: Way) -> tuple[tuple[str, str], str]:
    """Return what the left and the right end of a piece are, and its middle."""
    (left, right), middle = _of_ring(edge, way)
    ends = (OWN_END if way.open[0] else left, OWN_END if way.open[1] else right)
    return ends, HALF if True in way.open else middle


def _of_ring(edge: EdgeSpec, way: Way) -> tuple[tuple[str, str], str]:
    index = next(index for index, part in enumerate(edge.parts) if part is way.part)
    if edge.kind is Kind.NECKLINE and not edge.listed:
        return (SHOULDER, SHOULDER), CF if index == 0 else CB
    if edge.kind is Kind.ARMHOLE:
        ends = (UNDERARM, SHOULDER)
        return (ends[::-1] if way.swapped else ends), HALF
    if not edge.listed:
        return (END_SEAM, END_SEAM), HALF
    if way.part.curve is not None and not (way.folded or way.told):
        # a drawing may be run either way
        return (END_SEAM, END_SEAM), HALF
    named = [_part(part.words) for part in edge.parts]
    right = between(named[index], named[index + 1]) if index < len(named) - 1 else END_SEAM
    # beyond the fold it has the same end again
    left = right if way.both else between(named[index - 1], named[index]) if index else END_SEAM
    return ((right, left) if way.swapped else (left, right)), HALF


def _part(name: str) -> Part:
    return Part(name, 0.0, 0.0, 1.0, 0.0, None, (), listed=True)


def sections_of(cuts: Sequence[Cutting], bands: Bands, piece: PieceSpec, tightest: float, units: str) -> list[Section]:
    """Return the pieces as they are cut; ``tightest`` is the least share of the edge that a strip may have."""
    return [_section(one, bands, piece, tightest, units) for one in cuts]


def _section(one: Cutting, bands: Bands, piece: PieceSpec, tightest: float, units: str) -> Section:
    shape, part = one.shape, one.way.part
    on_fold = shape.on_fold
    # how much of the edge one piece has
    sewn = one.times * one.edge_mm / one.way.count
    before, after = one.free
    left, right = one.ends
    middle = Notch(one.middle, 0.0 if on_fold else before + one.edge_mm / 2, double=one.middle is CB and not on_fold)
    marks = [*([] if on_fold else [Notch(left, 0.0)]), middle, Notch(right, shape.sewn_mm)]
    if left != right:
        # folded, both of its ends are cut alike
        left, right = (END_SEAM, END_SEAM) if on_fold else (left, right)
        marks = marks[:-1] if on_fold else marks
    marks = [mark for mark in marks if mark.name not in (END_SEAM, OWN_END)]
    leaving = [*([before] if before else []), *([shape.sewn_mm - after] if after else [])]
    marks = sorted([*marks, *(Notch(LEAVES, at) for at in leaving)], key=lambda mark: mark.at_mm)
    called = {"front-half": Words("front"), "back-half": Words("back"), "whole": IN_ONE}.get(part.name, part.words)
    name = Words("{name}", name=called) if part.listed else called
    runs_on = NOWHERE
    if before or after:
        runs_on = RunsOn(after if on_fold else before, after)
        if one.way.count == 1 and part.listed and not on_fold:
            # the other end of the edge may have the same name
            name = Words("{part}, {length} beyond the edge", part=called, length=both(max(before, after), units))
    first, last = (straight_end(shape.width, allowance) for allowance in bands.beyond(one.way))
    return Section(
        name=name,
        part=called if part.name != "whole" else "",
        shares=1,
        numbers=(1,),
        cut=Cut.ON_FOLD if on_fold else Cut.FULL_LOOP,
        count=one.count,
        pair=one.count > 1 and not one.way.folded,
        sewn_mm=sewn,
        edge_mm=sewn,
        tightest_mm=tightest * sewn,
        flat_mm=sewn,
        cut_length_mm=shape.length,
        left=first,
        right=last,
        joins=(_end(left, piece.ends), _end(right, piece.ends)),
        seams=("", ""),
        notches=tuple(marks),
        shape=shape,
        runs_on=runs_on,
    )


def _end(name: str, ends: Ends) -> str:
    if name == OWN_END:
        return ends.words
    return END_SEAM if name == END_SEAM else pointed_end(False, name)


def edge_of(spec: EdgeSpec, cuts: Sequence[Cutting], edge_mm: float, tightest: float) -> Edge:
    """Return the edge and its parts, as their pieces share it out."""

    def part(one: Cutting) -> Part:
        # of a neckline its halves are told
        half = spec.kind is Kind.NECKLINE and not spec.listed
        own = one.edge_mm * (one.times if not half else 0.5 if one.way.folded and not one.shape.on_fold else 1)
        stated = one.way.part
        return Part(stated.name, own, own, 1.0, tightest * own, own, (own,), drawn=stated.drawn, listed=stated.listed)

    return Edge(
        kind=spec.kind.value,
        edge_mm=edge_mm,
        turning_deg=spec.turn.total_deg,
        parts=tuple(map(part, cuts)),
        label=edge_words(spec.kind.value),
        ease="even",
        outline=spec.outline,
    )
