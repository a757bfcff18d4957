"""The edge that a strip is sewn to: its parts and their seam line.

Lengths are millimetres, angles degrees.  A neckline has two halves, front and
back, from the centre to the shoulder; an armhole and a leg opening a front and a back; any other
edge is whole.  A part that turns sharply on its way consists of several legs.
A line that lies beside the seam line differs from it by the parallel-curve rule
(``tiler.turn``), leg by leg.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from math import fsum, isclose

from tiler.curves import Curve
from tiler.draft.edge.part_words import part_words
from tiler.draft.edge.path import Path, at_distance
from tiler.draft.edge.shape import Outline
from tiler.draft.strip.finish import Finish
from tiler.errors import SpecError
from tiler.lengths import both
from tiler.sentence import Key, Place, Sentence
from tiler.turn import Turn


class Kind(StrEnum):
    """What the edge is, which says how it is measured, joined and notched."""

    NECKLINE = "neckline"
    ARMHOLE = "armhole"
    LEG = "leg"
    STRAIGHT = "straight"
    CURVED = "curved"


FRONT_AND_BACK = (Kind.ARMHOLE, Kind.LEG)
"""Edges that are measured as a front and a back between two seams; a garment has two of each."""


class MeasuredOn(StrEnum):
    """The line that was measured or stated: the stitching line or the garment's raw edge."""

    SEAM_LINE = "seam-line"
    CUT_EDGE = "cut-edge"


@dataclass(frozen=True)
class Leg:
    """A part, or what lies of it between two sharp corners: its length, mm, and its own share of the turn."""

    length_mm: float
    turn: Turn


@dataclass(frozen=True)
class MeasuredPart:
    """A part less its end allowances: its legs from the centre or the underarm on; its path where it is known.

    ``start_deg`` and ``end_deg`` are the corners where a part with a path meets the next one, which
    is at the shoulder its end.  ``drawn`` names the drawing that it comes from, in which it may run either way.
    ``typed_mm`` is the length that the spec states, end allowances included.  A part that is ``listed`` has a name
    of its own, and may have a ``ratio`` of its own, its strip as a share of it.  ``curve`` is its shape where that is
    known, run so that a band lies to the left of it, which may be ``against`` its path; a neckline's half begins at the
    centre where it is described.
    """

    name: str
    legs: tuple[Leg, ...]
    path: Path = ()
    start_deg: float = 0.0
    end_deg: float = 0.0
    closed: bool = False
    drawn: str = ""
    typed_mm: float | None = None
    listed: bool = False
    ratio: float | None = None
    curve: Curve | None = None
    against: bool = False

    @property
    def words(self) -> str:
        """The name as people read it: ``front half``."""
        return part_words(self.name, self.listed)

    @property
    def length_mm(self) -> float:
        """The length of the part."""
        return fsum(leg.length_mm for leg in self.legs)

    @property
    def own_corners_deg(self) -> tuple[float, ...]:
        """The corners that are not at a shoulder; those of a measured part that bend inwards stand at CF."""
        corners = [corner for leg in self.legs for corner in leg.turn.corners_deg]
        if self.end_deg in corners:
            corners.remove(self.end_deg)
        return tuple(corners)

    def change(self, distance: float) -> float:
        """Return by how much the part is longer at ``distance`` mm, on the outside of its bends."""
        return fsum(leg.turn.change(distance) for leg in self.legs)

    def at(self, distance: float) -> MeasuredPart:
        """Return the same part of the line at ``distance`` mm, on the outside of its bends."""
        path = self.path and at_distance(self.path, distance, self.start_deg, self.end_deg)
        legs = tuple(Leg(leg.length_mm + leg.turn.change(distance), leg.turn) for leg in self.legs)
        return replace(self, legs=legs, path=path)

    def without(self, corner_deg: float) -> MeasuredPart:
        """Return the part less one corner of this angle, which the strip's own ends take up."""
        for index, leg in enumerate(self.legs):
            if corner_deg in leg.turn.corners_deg:
                rest = Leg(leg.length_mm, leg.turn.without(corner_deg))
                return replace(self, legs=(*self.legs[:index], rest, *self.legs[index + 1 :]))
        return self


@dataclass(frozen=True)
class EdgeSpec:
    """The edge as the spec states it.

    ``point_deg`` is its one sharp corner, which lies at CF on a neckline; ``outline``
    its shape where it is described; ``before`` the same edge before the spec changes
    it, ``neck_drop_mm`` how far down the shoulder seam that change moves the neck points.
    ``line_assumed`` tells that nothing says which line was measured, ``slope_deg`` is the
    shoulder seam's slope where it is stated.
    """

    where: Place
    kind: Kind
    parts: tuple[MeasuredPart, ...]
    measured_on: MeasuredOn
    garment_allowance_mm: float | None
    turn: Turn
    point_deg: float | None = None
    outline: Outline | None = None
    before: EdgeSpec | None = None
    neck_drop_mm: float = 0.0
    line_assumed: bool = False
    slope_deg: float | None = None

    @property
    def straight_leg(self) -> bool:
        """Whether it is a leg opening that ends straight."""
        return self.kind is Kind.LEG and self.turn == Turn(0.0)

    @property
    def listed(self) -> bool:
        """Whether the edge is given in parts of its own names."""
        return self.parts[0].listed

    @property
    def clipped(self) -> int:
        """How many corners bend inwards and are clipped: none of those at the shoulders, where a seam ends."""
        seams = {part.end_deg for part in self.parts if part.path}
        return sum(corner > 0 and corner not in seams for corner in self.turn.corners_deg)

    @property
    def times(self) -> int:
        """How often every part is met on the whole edge: a neckline's halves twice."""
        return 2 if self.kind is Kind.NECKLINE and len(self.parts) == 2 and not self.listed else 1


@dataclass(frozen=True)
class SeamLine:
    """The edge on its seam line: whole length, and the parts as they were measured, mm."""

    length_mm: float
    parts: tuple[MeasuredPart, ...]
    turn: Turn

    def without(self, corner_deg: float) -> SeamLine:
        """Return the line less one corner of this angle, which the strip's own ends take up."""
        parts = tuple(part.without(corner_deg) for part in self.parts)
        return SeamLine(self.length_mm, parts, self.turn.without(corner_deg))


def seam_line(edge: EdgeSpec, finish: Finish, finished_width: float, units: str, beyond: float = 0.0) -> SeamLine:
    """Carry the edge to the seam line of this finish, or ``beyond`` mm further out.

    Raises :class:`SpecError` when the garment allowance is missing or cannot be,
    or when a part shrinks to nothing.
    """
    line = line_at(edge, seam_distance(edge, finish, finished_width, units) + beyond)
    for part in line.parts:
        if min(leg.length_mm for leg in part.legs) <= 0:
            left = Sentence("nothing is left of it on the seam line; check ", Key("turning"))
            raise SpecError(left, edge.where.at("parts" if part.listed else part.name))
    return line


def line_at(edge: EdgeSpec, distance: float) -> SeamLine:
    """Return the line at ``distance`` mm from the stated one, on the outside of its bends."""
    parts = tuple(part.at(distance) for part in edge.parts)
    return SeamLine(edge.times * fsum(part.length_mm for part in parts), parts, edge.turn)


def seam_distance(edge: EdgeSpec, finish: Finish, finished_width: float, units: str) -> float:
    """Return the distance from the stated line to the seam line, mm.

    Raises :class:`SpecError` when the garment allowance is missing, or is not that of a binding.
    """
    allowance, where = edge.garment_allowance_mm, edge.where.at("garment-allowance")
    if edge.measured_on is MeasuredOn.SEAM_LINE:
        return 0.0
    if finish.is_band:
        if allowance is None:
            raise SpecError("is missing; write how far the seam line lies from the cut edge", where)
        return allowance
    if allowance is not None and not isclose(allowance, finished_width, abs_tol=0.01):
        raise SpecError(
            "a binding wraps the raw edge and is sewn one finished width inside it, so this is "
            f"{both(finished_width, units)}; leave it out, or trim the edge and measure again",
            where,
        )
    return finished_width
