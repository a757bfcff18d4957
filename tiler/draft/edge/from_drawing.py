"""An edge that is taken from a drawing: its curves become measured parts.

Millimetres and degrees.  The spec names a curve of an SVG or a PDF in place of a
length; who reads the file is not known here, a function gives the curve.  Its
arc length and its own turn are used.  What the halves of a neckline turn less
than the whole (360 - 4 sigma, Gauss-Bonnet) they turn at the shoulder seams,
which they do not meet squarely, and where corners are stated, as at CF of a vee,
there; an armhole's parts share the difference between shoulder and underarm.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import accumulate, pairwise
from math import fsum
from typing import Any

from tiler.curves import Curve
from tiler.draft.edge.path import path_of
from tiler.draft.edge.point import asked
from tiler.draft.edge.seam_line import Kind, Leg, MeasuredPart
from tiler.draft.spec.table import Table, kind_of
from tiler.errors import TilerError
from tiler.turn import Turn

KEYS = ("svg", "pdf", "id", "page", "curve", "scale-from-square")

NOISE = 1e-6

WIDEST_SEAM_CORNER = 45.0
"""A drawn edge that would meet a seam at a larger corner, degrees, is not what it is said to be."""

STRAIGHT = 15.0
"""A curve that turns by more, degrees, is not a straight edge."""


@dataclass(frozen=True)
class Source:
    """Which curve of which file is meant: several are chained in the order given."""

    file: str
    ids: tuple[str, ...] = ()
    page: int | None = None
    curves: tuple[int, ...] = ()
    scale_from_square: bool = False

    @property
    def words(self) -> str:
        """The source as people read it."""
        page = f", page {self.page}" if self.page else ""
        curves = "".join(f", curve {number}" for number in self.curves) + "".join(f", {one}" for one in self.ids)
        return f"{self.file}{page}{curves}"


FindCurve = Callable[[Source], Curve]
"""Returns the curve that a source names, mm; raises a TilerError that says what is wrong with it."""


class Lies(StrEnum):
    """On which side of its edge the garment lies in the drawing."""

    ABOVE = "above"
    BELOW = "below"


def is_below(table: Table) -> bool | None:
    """Tell whether the garment lies below its drawn edge, where the spec says that."""
    return table.word("garment", Lies) is Lies.BELOW if table.has("garment") else None


def is_drawn(table: Table, name: str) -> bool:
    """Tell whether a part is given as a drawing instead of a length."""
    return table.has(name) and isinstance(table.by_size(name, "", KEYS)[0], dict)


def read_part(table: Table, name: str, find: FindCurve, closed_ok: bool, below: bool | None = None) -> MeasuredPart:
    """Read one part from its drawing; raises :class:`SpecError`, and whatever reading the file raises.

    The garment lies ``below`` it in the drawing, or above it; where nobody says so it bends round the strip.
    """
    value, where = table.by_size(name, '{ svg = "front.svg", id = "neck" }', KEYS)
    source = _read_source(Table(value, where, table.units, KEYS))
    try:
        curve = find(source)
    except TilerError as fault:
        raise fault.at(where) from fault
    if curve.closed and not closed_ok:
        table.refuse(name, f"the curve is closed, and a {name} runs from seam to seam; name an open curve")
    if below is not None and abs((curve.end - curve.start).real) <= abs((curve.end - curve.start).imag):
        table.refuse(
            "garment", f"has no meaning for the {name}, which is drawn upright; turn the drawing, or leave it out"
        )
    return _measured(name, curve, source.words, below)


def with_ends(
    parts: Sequence[MeasuredPart], kind: Kind, total_deg: float, points: Sequence[float], table: Table
) -> tuple[tuple[MeasuredPart, ...], Turn]:
    """Return the parts with the corners at their ends, and the turn of the whole edge.

    ``points`` are the stated corners at CF; what the parts and they turn less than
    ``total_deg`` stands at the two seams.  Raises :class:`SpecError` when that is too
    much for a seam.
    """
    times = 2 if kind is Kind.NECKLINE and len(parts) == 2 else 1
    missing = total_deg - fsum(points) - times * fsum(_turning(part) for part in parts)
    corner = missing / 2 if abs(missing) > NOISE else 0.0
    if abs(corner) > WIDEST_SEAM_CORNER:
        turns = ", ".join(f"{part.name} by {_turning(part):.0f}°" for part in parts)
        table.refuse(
            parts[0].name,
            f"as drawn the edge turns too little or too much ({turns}; the whole should turn by {total_deg:.0f}°); "
            "check that the curves run from seam to seam, and for the point of a vee measure ",
            asked(),
        )
    count = 1 if times == 2 else 2
    share = 1 / len(parts)
    seamed = [_with_corners(part, [(corner, share)] * count if corner else []) for part in parts]
    pointed = _with_corners(seamed[0], [(angle, 1 / times) for angle in points])
    ended = [
        replace(part, start_deg=0.0 if kind is Kind.NECKLINE else corner, end_deg=corner) if len(parts) == 2 else part
        for part in (pointed, *seamed[1:])
    ]
    first = replace(ended[0], start_deg=fsum(points)) if points else ended[0]
    return (first, *ended[1:]), _whole(seamed, times, points)


def _whole(parts: Sequence[MeasuredPart], times: int, points: Sequence[float]) -> Turn:
    """Return the turn of the whole edge, the stated corners first and in one piece each."""
    turns = [leg.turn for part in parts for leg in part.legs] * times
    corners = [angle for turn in turns for angle in turn.corners_deg]
    shares = [share for turn in turns for share in _shares(turn)]
    return Turn(fsum(turn.smooth_deg for turn in turns), (*points, *corners), (*(1.0 for _ in points), *shares))


def turn_of(part: MeasuredPart) -> Turn:
    """Return the turn of an edge that is one drawn part."""
    return _whole([part], 1, ())


def shortened(part: MeasuredPart, by: float, table: Table) -> MeasuredPart:
    """Take the end allowances off a drawn part, mm."""
    if not by:
        return part
    if len(part.legs) > 1:
        table.refuse(
            "end-allowance", f"cannot be taken off {part.name}, which has corners; draw it between stitching lines"
        )
    leg = part.legs[0]
    if leg.length_mm <= by:
        table.refuse(part.name, "is not longer than its end allowance; check both")
    # at which end it is taken off is not known, so the path shrinks all along
    share = 1 - by / leg.length_mm
    path = tuple(replace(step, length_mm=share * step.length_mm) for step in part.path)
    return replace(part, legs=(Leg(leg.length_mm - by, leg.turn),), path=path, curve=None)


def _read_source(table: Table) -> Source:
    key = table.only_one("svg", "pdf")
    if key is None:
        table.raw("svg", 'svg = "front.svg" with id = "neck", or pdf = "base.pdf" with page and curve')
    assert key is not None
    if table.has("page") and key == "svg":
        table.refuse("page", "is for a PDF; leave it out")
    if table.has("id") and key == "pdf":
        table.refuse("id", "is for an SVG; give page and curve, as tiler edge lists them")
    table.only_one("id", "curve")
    return Source(
        file=table.text(key, '"front.svg"'),
        ids=tuple(_several(table, "id", str)),
        page=table.count("page", 1, 100_000) if table.has("page") else None,
        curves=tuple(_several(table, "curve", int)),
        scale_from_square=table.flag("scale-from-square"),
    )


def _several(table: Table, key: str, kind: type) -> list[Any]:
    if not table.has(key):
        return []
    value = table.raw(key, "")
    items = value if isinstance(value, list) else [value]
    for item in items:
        if not isinstance(item, kind) or isinstance(item, bool):
            what = "a text in quotes" if kind is str else "a whole number"
            table.refuse(key, f"must be {what}, or a list of them, not {kind_of(item)}")
    if not items:
        table.refuse(key, "is empty; name a curve, or leave it out where there is only one")
    return items


def _measured(name: str, curve: Curve, words: str, below: bool | None) -> MeasuredPart:
    """Cut a curve at its sharp corners; each leg owns half of the corner at either end."""
    to_left = curve.turning_deg >= 0 if below is None else ((curve.end - curve.start).real > 0) is below
    sign = 1.0 if to_left else -1.0
    along = list(accumulate(curve.lengths))
    joints = {min(range(len(along)), key=lambda i: abs(along[i] - one.along_mm)): one for one in curve.corners}
    inner = [index for index in sorted(joints) if index < len(along) - 1]
    closing = [sign * joints[len(along) - 1].turn_deg] if len(along) - 1 in joints else [0.0]
    angles = [*closing, *(sign * joints[index].turn_deg for index in inner), *closing]
    legs = []
    for (first, last), both in zip(
        pairwise([0, *(index + 1 for index in inner), len(along)]), pairwise(angles), strict=True
    ):
        own = Curve(curve.segments[first:last])
        sharp = tuple(angle for angle in both if angle)
        legs.append(Leg(own.length, Turn(sign * own.turning_deg, sharp, (0.5,) * len(sharp))))
    path = path_of(curve, sign)
    return MeasuredPart(
        name,
        tuple(legs),
        path,
        closing[0],
        closing[0],
        curve.closed,
        drawn=words,
        curve=curve if to_left else curve.reversed(),
        against=not to_left,
    )


def _turning(part: MeasuredPart) -> float:
    return fsum(leg.turn.total_deg for leg in part.legs)


def _shares(turn: Turn) -> tuple[float, ...]:
    return turn.shares or (1.0,) * len(turn.corners_deg)


def _with_corners(part: MeasuredPart, corners: Sequence[tuple[float, float]]) -> MeasuredPart:
    last = part.legs[-1]
    turn = Turn(
        last.turn.smooth_deg,
        (*last.turn.corners_deg, *(angle for angle, _ in corners)),
        (*_shares(last.turn), *(share for _, share in corners)),
    )
    return replace(part, legs=(*part.legs[:-1], Leg(last.length_mm, turn)))
