"""An edge that was measured with a tape: its parts and its curve angle, read from the spec.

Lengths are millimetres, angles degrees.  Every end that lies in a sewn shoulder
or side seam loses the end allowance: one for a neckline's half, two for a part
of an armhole or of a leg opening.

The curve angle follows from the shoulder slope by Gauss-Bonnet: each shoulder
seam takes twice the slope out of a neckline's full circle and adds it to an
armhole's half circle.  A slope of 20 degrees is our assumption.

Corners of a neckline stand in its front, the negative ones at the shoulders, so
that every half turns by a quarter of the whole; those of an armhole are shared.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import fsum

from tiler.draft.edge import point
from tiler.draft.edge.from_drawing import (
    STRAIGHT,
    FindCurve,
    is_below,
    is_drawn,
    read_part,
    shortened,
    turn_of,
    with_ends,
)
from tiler.draft.edge.listed import LEAST_SHARE, MOST_SHARE, RATIOS, is_listed, read_listed
from tiler.draft.edge.point import check_arms, read_corners
from tiler.draft.edge.seam_line import FRONT_AND_BACK, Kind, Leg, MeasuredPart
from tiler.draft.spec.table import Table
from tiler.sentence import Key, Sentence, joined
from tiler.turn import Turn

SHOULDER_SLOPE = 20.0
"""The slope of a shoulder seam unless the spec gives it, degrees: our assumption."""

STEEPEST_SHOULDER = 60.0
MOST_TURNING = 720.0

KEYS = (
    "front-half",
    "back-half",
    "front",
    "back",
    "whole",
    "parts",
    "end-allowance",
    "turning",
    "garment",
    *RATIOS.values(),
    *point.KEYS,
)


def read_measured(table: Table, kind: Kind, find: FindCurve) -> tuple[tuple[MeasuredPart, ...], Turn, float | None]:
    """Read the measured parts, the whole turn, and the corner of an edge that has just one.

    A part may be a curve of a drawing, which ``find`` gives.
    """
    if table.has("garment") and not (kind is Kind.CURVED and (table.has("parts") or is_drawn(table, "whole"))):
        table.refuse(
            "garment",
            'is for an edge of kind "curved" that is drawn; a measured one bends away from its strip with a negative ',
            Key("turning"),
        )
    if is_listed(table):
        known = kind is not Kind.CURVED or table.has("turning")
        return *read_listed(table, kind, _read_turn(table, kind).total_deg if known else None, find), None
    names = _part_names(table, kind)
    for key in RATIOS.values():
        if table.has(key) and (kind is not Kind.LEG or len(names) == 1):
            table.refuse(key, "is for a leg opening measured as ", Key("front"), " and ", Key("back"), "; leave it out")
    if any(is_drawn(table, name) for name in names):
        return _read_with_drawings(table, kind, names, find)
    turn = _read_turn(table, kind)
    parts = tuple(_measured(table, name, kind, _part_turn(kind, name, turn)) for name in names)
    check_arms(table, parts)
    return parts, turn, _only_point(turn.corners_deg, kind)


def _measured(table: Table, name: str, kind: Kind, turn: Turn) -> MeasuredPart:
    ends = _ends(table, kind, (name,))
    if name == "whole":
        typed = table.length("whole", Key("whole", '"24 cm"'))
        return MeasuredPart(name, (Leg(typed, turn),), typed_mm=typed)
    typed = table.length(name, Sentence(Key(name, '"18 cm"'), ", or ", Key("whole"), " for the edge in one"))
    length = typed - ends
    if length <= 0:
        what = "end allowance" if kind is Kind.NECKLINE else "two end allowances"
        table.refuse(name, f"is not longer than its {what}; check both")
    key = RATIOS.get(name, "")
    share = table.percent(key, least=LEAST_SHARE, most=MOST_SHARE) if table.has(key) else None
    return MeasuredPart(name, (Leg(length, turn),), typed_mm=typed, ratio=share)


def _only_point(corners: Sequence[float], kind: Kind) -> float | None:
    points = [corner for corner in corners if corner > 0]
    return points[0] if len(points) == 1 and kind in (Kind.NECKLINE, Kind.CURVED) else None


def _read_with_drawings(
    table: Table, kind: Kind, names: Sequence[str], find: FindCurve
) -> tuple[tuple[MeasuredPart, ...], Turn, float | None]:
    """Read an edge of which at least one part is drawn: the drawing says how that part turns."""
    if table.has("turning"):
        table.refuse("turning", "contradicts the drawing, which says how the edge turns; leave it out")
    if kind is Kind.LEG:
        table.refuse("kind", 'of a drawn leg opening is "curved", with its curve as ', Key("whole"))
    if kind in (Kind.STRAIGHT, Kind.CURVED):
        return _read_whole_drawing(table, kind, find)
    turn = _read_turn(table, kind)
    points = [corner for corner in turn.corners_deg if corner > 0]
    if len(points) < len(turn.corners_deg):
        table.refuse("corners", "at the seams follow from the drawing; state only those at CF, which are positive")
    if points and kind is Kind.ARMHOLE:
        table.refuse("corners", "of an armhole follow from its drawing; leave them out")
    ends = _ends(table, kind, names)
    parts = []
    for name in names:
        if is_drawn(table, name):
            parts.append(shortened(read_part(table, name, find, closed_ok=name == "whole"), ends, table))
        else:
            smooth = _part_turn(kind, name, Turn(turn.total_deg)).smooth_deg
            front = name == "front-half" and points
            own = smooth - fsum(points) / 2 if front else smooth
            parts.append(_measured(table, name, kind, Turn(own)))
    check_arms(table, parts)
    ended, whole = with_ends(parts, kind, turn.total_deg, points, table)
    return ended, whole, _only_point(points, kind)


def _read_whole_drawing(
    table: Table, kind: Kind, find: FindCurve
) -> tuple[tuple[MeasuredPart, ...], Turn, float | None]:
    for key in (*point.KEYS, *point.LENGTHS):
        if table.has(key):
            table.refuse(key, "follows from the drawing; leave it out")
    part = read_part(table, "whole", find, closed_ok=kind is Kind.CURVED, below=is_below(table))
    turn = turn_of(part)
    if kind is Kind.STRAIGHT and (abs(turn.total_deg) > STRAIGHT or turn.corners_deg):
        turned = f"the curve turns by {turn.total_deg:.0f}°; for such an edge write "
        table.refuse("whole", turned, Key("kind", '"curved"'))
    return (part,), turn, None


def read_slope(table: Table) -> float:
    """Read the slope of the shoulder seam, degrees."""
    if not table.has("shoulder-slope"):
        return SHOULDER_SLOPE
    return table.angle("shoulder-slope", 0, STEEPEST_SHOULDER)


def _part_names(table: Table, kind: Kind) -> tuple[str, ...]:
    """Return the parts that this edge is measured in; raises :class:`SpecError` for a mixture."""
    names = {
        Kind.NECKLINE: ("front-half", "back-half"),
        Kind.ARMHOLE: ("front", "back"),
        Kind.LEG: ("front", "back"),
    }.get(kind, ())
    given = [name for name in ("front-half", "back-half", "front", "back", "whole") if table.has(name)]
    allowed = ("whole",) if given == ["whole"] or not names else names
    for name in given:
        if name not in allowed:
            edge = f"does not belong to {'an' if kind is Kind.ARMHOLE else 'a'} {kind} edge measured as "
            parts = joined(" and ", map(Key, allowed))
            table.refuse(name, edge, "whole" if allowed == ("whole",) else parts, "; give ", parts)
    return allowed


def _ends(table: Table, kind: Kind, names: Sequence[str]) -> float:
    """Return what every part loses at its sewn ends, mm."""
    if list(names) == ["whole"]:
        if table.has("end-allowance"):
            table.refuse("end-allowance", "is for parts that end in a sewn seam; leave it out with ", Key("whole"))
        return 0.0
    seams = 1 if kind is Kind.NECKLINE else 2
    return seams * (table.optional_length("end-allowance", zero_ok=True) or 0.0)


def _read_turn(table: Table, kind: Kind) -> Turn:
    shoulders = kind in (Kind.NECKLINE, Kind.ARMHOLE)
    if table.has("shoulder-slope") and not shoulders:
        table.refuse("shoulder-slope", f"has no meaning for a {kind} edge; leave it out")
    for key in ("turning", *point.KEYS):
        if kind is Kind.STRAIGHT and table.has(key):
            table.refuse(key, "has no meaning for a straight edge; write ", Key("kind", '"curved"'))
    corners = read_corners(table, kind)
    match table.only_one("turning", "shoulder-slope"):
        case "turning":
            total = table.angle("turning", -MOST_TURNING, MOST_TURNING)
        case None if kind in (Kind.CURVED, Kind.LEG):
            straight = ", 0 for a leg that ends straight" if kind is Kind.LEG else ""
            hint = Sentence(Key("turning", '"180 deg"'), ", the whole angle through which the edge turns", straight)
            table.raw("turning", hint)
        case _:
            total = {Kind.NECKLINE: 360 - 4 * read_slope(table), Kind.ARMHOLE: 180 + 2 * read_slope(table)}.get(
                kind, 0.0
            )
    return Turn(total - fsum(corners), corners)


def _part_turn(kind: Kind, name: str, turn: Turn) -> Turn:
    """Return a part its share of the whole turn; a half of a corner at CF or at a shoulder belongs to each side."""
    corners = turn.corners_deg
    if name == "whole":
        return turn
    if kind in FRONT_AND_BACK:
        return Turn(turn.smooth_deg / 2, corners, (0.5,) * len(corners))
    front = [corner for corner in corners if corner > 0] if name == "front-half" else []
    shoulder = [corner for corner in corners if corner < 0]
    smooth = turn.total_deg / 4 - fsum(front) / 2 - fsum(shoulder) / 4
    return Turn(smooth, (*front, *shoulder), (0.5,) * len(front) + (0.25,) * len(shoulder))
