"""An edge in parts of its own names, in order from the end seam: raglan and crossover necks, hoods, fronts.

Millimetres, degrees.  Every part is measured between its seams.  A part that does not say how far it
turns gets its share, by length, of what the others leave of the whole turn; a part may have a ratio of
its own, its share of the strip.  An edge is mirrored where its parts are the same read from either end:
then half of the strip may be cut on the fold.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import fsum, isclose

from tiler.draft.edge import point
from tiler.draft.edge.from_drawing import FindCurve, is_below, is_drawn, read_part, turn_of
from tiler.draft.edge.seam_line import Kind, Leg, MeasuredPart
from tiler.draft.spec.table import Table
from tiler.lengths import both
from tiler.sentence import Key, Sentence
from tiler.turn import Turn

PART_KEYS = ("name", "length", "turning", "ratio", "corners")
MOST_PARTS = 24
"""An edge with more is taken for a slip."""

MOST_TURNING = 720.0
LONGEST_NAME = 40
LEAST_SHARE, MOST_SHARE = 0.2, 2.0
ALIKE = 0.05
"""What parts may differ in, mm, and be mirrored all the same."""

RATIOS = {"front": "front-ratio", "back": "back-ratio"}
"""Keys for the share of the strip that each part of a leg opening gets, where it has no other parts."""

_OF_PART = ("parts",)
"""What is said of one part alone, for which there is no option."""

_SHARE = Key("ratio", '"95 %"', _OF_PART)
_HINT = 'parts = [{ name = "front", length = "14 in" }, { name = "back", length = "7 in" }]'


def is_listed(table: Table) -> bool:
    """Tell whether the edge is given in parts of its own; raises :class:`SpecError` beside another way to give it."""
    if not table.has("parts"):
        return False
    for key in ("front-half", "back-half", "front", "back", "whole"):
        if table.has(key):
            table.refuse(key, "contradicts ", Key("parts"), "; give the whole edge in only one of these ways")
    if table.has("end-allowance"):
        table.refuse("end-allowance", "is for halves; measure every part between its seams, and leave it out")
    for keys, own in (((*point.KEYS, *point.LENGTHS), Key("corners", "[90]", _OF_PART)), (RATIOS.values(), _SHARE)):
        for key in keys:
            if table.has(key):
                table.refuse(key, "belongs to a part: in a spec, write ", own, " beside its name")
    return True


def read_listed(
    table: Table, kind: Kind, total: float | None, find: FindCurve
) -> tuple[tuple[MeasuredPart, ...], Turn]:
    """Read the parts; ``total`` is the turn of the whole edge, degrees, none where only its parts can tell it.

    A part of a curved edge may be a drawing, which ``find`` gives.
    """
    entries = table.tables("parts", PART_KEYS, _HINT)
    if not 2 <= len(entries) <= MOST_PARTS:
        why = f"has {len(entries)} part{'' if len(entries) == 1 else 's'}; give 2 to {MOST_PARTS}, or "
        table.refuse("parts", why, Key("whole"))
    drawn = [_drawn(table, kind, entry, find) for entry in entries]
    lengths = [
        one.length_mm if one else entry.length("length", Key("length", '"4 in"'))
        for one, entry in zip(drawn, entries, strict=True)
    ]
    stated = [
        turn_of(one).total_deg
        if one
        else entry.angle("turning", -MOST_TURNING, MOST_TURNING)
        if entry.has("turning")
        else None
        for one, entry in zip(drawn, entries, strict=True)
    ]
    turns = _turns(table, kind, entries, lengths, stated, total)
    parts = []
    for entry, length, turn, one in zip(entries, lengths, turns, drawn, strict=True):
        corners = entry.angles("corners", -point.SHARPEST_CORNER, point.SHARPEST_CORNER)
        if corners and kind is Kind.STRAIGHT:
            entry.refuse("corners", "has no meaning on a straight edge; write ", Key("kind", '"curved"'))
        own = Turn(turn - fsum(corners), corners)
        share = entry.percent("ratio", least=LEAST_SHARE, most=MOST_SHARE) if entry.has("ratio") else None
        name = entry.text("name", Key("name", '"front"'))
        if len(name) > LONGEST_NAME:
            entry.refuse("name", f"has {len(name)} characters; at most {LONGEST_NAME} fit beside a notch")
        if one:
            # which way it is run is not known, and so no place on it is told
            parts.append(replace(one, name=name, path=(), listed=True, ratio=share))
        else:
            parts.append(MeasuredPart(name, (Leg(length, own),), typed_mm=length, listed=True, ratio=share))
    corners = tuple(corner for part in parts for leg in part.legs for corner in leg.turn.corners_deg)
    return tuple(parts), Turn(fsum(turns) - fsum(corners), corners)


def _drawn(table: Table, kind: Kind, entry: Table, find: FindCurve) -> MeasuredPart | None:
    """Return a part that is given as a drawing."""
    if not is_drawn(entry, "length"):
        return None
    if kind is not Kind.CURVED:
        entry.refuse("length", 'may be a drawing on an edge of kind "curved"; write a length here')
    for key in ("turning", "corners"):
        if entry.has(key):
            entry.refuse(key, "follows from the drawing; leave it out")
    return read_part(entry, "length", find, closed_ok=False, below=is_below(table))


def _turns(
    table: Table,
    kind: Kind,
    entries: Sequence[Table],
    lengths: Sequence[float],
    stated: Sequence[float | None],
    total: float | None,
) -> list[float]:
    """Return how far each part turns."""
    known = fsum(one for one in stated if one is not None)
    for entry, one in zip(entries, stated, strict=True):
        if one and kind is Kind.STRAIGHT:
            entry.refuse("turning", "has no meaning on a straight edge; write ", Key("kind", '"curved"'))
    if None not in stated:
        if total is not None and table.has("turning") and not isclose(known, total, abs_tol=1.0):
            table.refuse("turning", f"is {total:g}°, and its parts sum up to {known:g}°; check them, or leave it out")
        return [one or 0.0 for one in stated]
    if total is None:
        missing = next(entry for entry, one in zip(entries, stated, strict=True) if one is None)
        missing.refuse("turning", "is missing; give it to every part, or one for the whole edge")
    rest = total - known
    if rest * total < -1e-9:
        why = f"turn by {known:g}° where the whole edge turns by {total:g}°, and some have no "
        table.refuse("parts", why, Key("turning"), "; check the angles, or give one to every part")
    free = fsum(length for length, one in zip(lengths, stated, strict=True) if one is None)
    return [rest * length / free if one is None else one for length, one in zip(lengths, stated, strict=True)]


def unmirrored(parts: Sequence[MeasuredPart], units: str) -> Sentence | None:
    """Say which two parts differ that would lie on each other on folded cloth; nothing where all are mirrored."""
    for one, other in zip(parts, reversed(parts), strict=True):
        alike = (
            abs(one.length_mm - other.length_mm) <= ALIKE
            and one.ratio == other.ratio
            and isclose(_turn(one), _turn(other), abs_tol=0.5)
        )
        if not alike:
            first, second = (f"“{part.words}” has {both(part.length_mm, units)}" for part in (one, other))
            unlike = "" if abs(one.length_mm - other.length_mm) > ALIKE else " with another turning or ratio"
            return Sentence(f"{first} where {second}{unlike}")
    return None


def _turn(part: MeasuredPart) -> float:
    return fsum(leg.turn.total_deg for leg in part.legs)
