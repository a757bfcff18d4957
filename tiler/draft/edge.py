"""The edge that a strip is sewn to: its measured parts, its seam line, its curve angle.

Lengths are millimetres, angles degrees.  A neckline is measured in halves, front
and back, from the shoulder to the centre; an armhole in front and back; any
other edge whole.  Every end that lies in a sewn shoulder or side seam loses the
end allowance.  A line measured on the raw edge becomes the seam line by the
parallel-curve rule (``tiler.curve``).

The curve angle follows from the shoulder slope by Gauss-Bonnet: each shoulder
seam takes twice the slope out of a neckline's full circle and adds it to an
armhole's half circle.  A slope of 20 degrees is our assumption.

Corners of a neckline stand in its front, the negative ones at the shoulders, so
that every half turns by a quarter of the whole; those of an armhole are shared.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import fsum, isclose

from tiler.curve import Turn, corner_change, smooth_change
from tiler.draft.finish import Finish
from tiler.draft.table import Table
from tiler.errors import SpecError
from tiler.lengths import both

SHOULDER_SLOPE = 20.0
"""The slope of a shoulder seam unless the spec gives it, degrees: our assumption."""

STEEPEST_SHOULDER = 60.0
SHARPEST_CORNER = 170.0
MOST_TURNING = 720.0

KEYS = (
    "kind",
    "front-half",
    "back-half",
    "front",
    "back",
    "whole",
    "measured-on",
    "garment-allowance",
    "end-allowance",
    "turning",
    "shoulder-slope",
    "corners",
)


class Kind(StrEnum):
    """What the edge is, which says how it is measured, joined and notched."""

    NECKLINE = "neckline"
    ARMHOLE = "armhole"
    STRAIGHT = "straight"
    CURVED = "curved"


class MeasuredOn(StrEnum):
    """The line that was measured: the stitching line or the garment's raw edge."""

    SEAM_LINE = "seam-line"
    CUT_EDGE = "cut-edge"


@dataclass(frozen=True)
class MeasuredPart:
    """A part as measured, less its end allowances, mm."""

    name: str
    length_mm: float


@dataclass(frozen=True)
class EdgeSpec:
    """The edge as the spec states it."""

    where: str
    kind: Kind
    parts: tuple[MeasuredPart, ...]
    measured_on: MeasuredOn
    garment_allowance_mm: float | None
    turn: Turn

    @property
    def times(self) -> int:
        """How often every part is met on the whole edge: a neckline's halves twice."""
        return 2 if self.kind is Kind.NECKLINE and len(self.parts) == 2 else 1


@dataclass(frozen=True)
class SeamLine:
    """The edge on its seam line: whole length, and the parts as they were measured, mm."""

    length_mm: float
    parts: tuple[MeasuredPart, ...]
    turn: Turn


def read_edge(table: Table) -> EdgeSpec:
    """Read the ``edge`` table of a piece."""
    kind = table.word("kind", Kind)
    measured_on = table.word("measured-on", MeasuredOn, MeasuredOn.SEAM_LINE)
    return EdgeSpec(
        where=table.where,
        kind=kind,
        parts=_read_parts(table, kind),
        measured_on=measured_on,
        garment_allowance_mm=table.optional_length("garment-allowance", zero_ok=True),
        turn=_read_turn(table, kind),
    )


def seam_line(edge: EdgeSpec, finish: Finish, finished_width: float, units: str) -> SeamLine:
    """Carry the measured parts to the seam line.

    Raises :class:`SpecError` when the garment allowance is missing or cannot be,
    or when a part shrinks to nothing.
    """
    distance = _distance(edge, finish, finished_width, units)
    parts = tuple(
        MeasuredPart(part.name, part.length_mm + _part_change(edge, part.name, distance)) for part in edge.parts
    )
    for part in parts:
        if part.length_mm <= 0:
            raise SpecError(f"{edge.where}.{part.name}: nothing is left of it on the seam line; check turning")
    return SeamLine(edge.times * fsum(part.length_mm for part in parts), parts, edge.turn)


def _read_parts(table: Table, kind: Kind) -> tuple[MeasuredPart, ...]:
    names = {Kind.NECKLINE: ("front-half", "back-half"), Kind.ARMHOLE: ("front", "back")}.get(kind, ())
    given = [name for name in ("front-half", "back-half", "front", "back", "whole") if table.has(name)]
    allowed = ("whole",) if given == ["whole"] or not names else names
    for name in given:
        if name not in allowed:
            table.refuse(name, f"does not belong to {_measured(kind, allowed)}; give {' and '.join(allowed)}")
    if allowed == ("whole",):
        if table.has("end-allowance"):
            table.refuse("end-allowance", "is for parts that end in a sewn seam; leave it out with whole")
        return (MeasuredPart("whole", table.length("whole", 'whole = "24 cm"')),)
    ends = table.optional_length("end-allowance", zero_ok=True) or 0.0
    seams = 1 if kind is Kind.NECKLINE else 2
    parts = []
    for name in allowed:
        length = table.length(name, f'{name} = "18 cm", or whole for the edge in one') - seams * ends
        if length <= 0:
            table.refuse(
                name, f"is not longer than its {'two end allowances' if seams > 1 else 'end allowance'}; check both"
            )
        parts.append(MeasuredPart(name, length))
    return tuple(parts)


def _measured(kind: Kind, allowed: tuple[str, ...]) -> str:
    return f"{'an' if kind is Kind.ARMHOLE else 'a'} {kind} edge measured as {' and '.join(allowed)}"


def _read_turn(table: Table, kind: Kind) -> Turn:
    shoulders = kind in (Kind.NECKLINE, Kind.ARMHOLE)
    if table.has("shoulder-slope") and not shoulders:
        table.refuse("shoulder-slope", f"has no meaning for a {kind} edge; leave it out")
    for key in ("turning", "corners"):
        if kind is Kind.STRAIGHT and table.has(key):
            table.refuse(key, 'has no meaning for a straight edge; write kind = "curved"')
    corners = table.angles("corners", -SHARPEST_CORNER, SHARPEST_CORNER)
    match table.only_one("turning", "shoulder-slope"):
        case "turning":
            total = table.angle("turning", -MOST_TURNING, MOST_TURNING)
        case None if kind is Kind.CURVED:
            table.raw("turning", 'turning = "180 deg", the whole angle through which the edge turns')
        case slope:
            sigma = table.angle("shoulder-slope", 0, STEEPEST_SHOULDER) if slope else SHOULDER_SLOPE
            total = {Kind.NECKLINE: 360 - 4 * sigma, Kind.ARMHOLE: 180 + 2 * sigma}.get(kind, 0.0)
    return Turn(total - fsum(corners), corners)


def _distance(edge: EdgeSpec, finish: Finish, finished_width: float, units: str) -> float:
    """Give the distance from the measured line to the seam line, mm."""
    allowance = edge.garment_allowance_mm
    if edge.measured_on is MeasuredOn.SEAM_LINE:
        return 0.0
    if finish.is_band:
        if allowance is None:
            raise SpecError(
                f"{edge.where}.garment-allowance: is missing; write how far the seam line lies from the cut edge"
            )
        return allowance
    if allowance is not None and not isclose(allowance, finished_width, abs_tol=0.01):
        raise SpecError(
            f"{edge.where}.garment-allowance: a binding wraps the raw edge and is sewn one finished width "
            f"inside it, so this is {both(finished_width, units)}; leave it out, or trim the edge and measure again"
        )
    return finished_width


def _part_change(edge: EdgeSpec, name: str, distance: float) -> float:
    corners = edge.turn.corners_deg
    if name == "whole":
        return edge.turn.change(distance)
    if edge.kind is Kind.ARMHOLE:
        return edge.turn.change(distance) / 2
    shoulder = [corner for corner in corners if corner < 0]
    front = [corner for corner in corners if corner > 0] if name == "front-half" else []
    smooth = edge.turn.total_deg / 4 - fsum(shoulder) / 4 - fsum(front) / 2
    return smooth_change(smooth, distance) + corner_change(shoulder, distance) / 4 + corner_change(front, distance) / 2
