"""The ways of a contour band's pieces: which parts of the edge they follow, and how they lie; mm.

A point of the plane is a complex number x + iy, y up.  Every piece runs to the right with its seam line below.  The
half of a neckline begins at its centre, which is CF or CB and drawn upright: there the cloth is folded.  Its end at
the shoulder is square to the edge, or where the slope of the shoulder is known it lies along that seam, so that both
pieces meet in the corner there.  Any other piece lies with its ends level, and is folded in its middle where it is
mirrored about that.
"""

from __future__ import annotations

from bisect import bisect_left
from cmath import exp, phase
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate
from math import degrees, radians

from tiler.curves import Affine, Curve, EllipseArc, Segment, line
from tiler.draft.edge.centre import against_centre, from_centre
from tiler.draft.edge.listed import unmirrored
from tiler.draft.edge.seam_line import EdgeSpec, Kind, MeasuredPart
from tiler.errors import SpecError
from tiler.sentence import Place

SQUARE = 3.0
"""A half that leaves its centre further from square, degrees, is drawn askew, unless it ends in a point."""

ALIKE = 0.05
"""What two halves may differ in and be mirrored all the same, mm."""

COUNTED = 8
"""Places at which two halves are compared."""

NOISE = 1e-9

HALVED = 30
"""So often an interval of a parameter is halved: to a millionth of a millimetre on any edge."""


@dataclass(frozen=True)
class Way:
    """A part of the edge as a piece follows it, from left to right, and how far its ends lean outwards, degrees.

    ``folded`` tells that it begins at an upright fold.  ``up`` is the direction of CF.
    """

    part: MeasuredPart
    curve: Curve
    lean: tuple[float, float] = (0.0, 0.0)
    folded: bool = False
    up: complex = 1j
    begins: str = "its left end"
    swapped: bool = False
    """Whether it runs against the order of its marks."""
    told: bool = False
    """Whether it is known which of its ends is which, though it is one of several drawn parts."""
    count: int = 1
    """How often the edge has it: twice where a mirrored edge has it on either side."""
    in_full: bool = False
    """Whether it is drawn in full even where it could be folded."""
    both: bool = False
    """Whether it is one of two parts that meet at the fold."""
    open: tuple[bool, bool] = (False, False)
    """Which of its ends, the left and the right one, are ends of an edge that is no ring."""
    free: tuple[float, float] = (0.0, 0.0)
    """How far it runs on there beyond the edge."""


def ring_ways(edge: EdgeSpec, where: Place, on_fold: bool = True) -> tuple[Way, ...]:
    """Return what the pieces of a ring follow, in the order of the parts; raises :class:`SpecError` for one askew.

    Parts that are mirrored about the middle of the edge are cut ``on_fold`` there, and on either side alike.
    """
    known = edge.outline is not None or edge.slope_deg is not None
    if edge.kind is Kind.NECKLINE:
        return tuple(_half(part, edge, known, where) for part in edge.parts)
    if edge.listed and on_fold and folds(edge.parts):
        return tuple(_from_middle(edge, where))
    ways = []
    for part in edge.parts:
        curve = curve_of(part)
        lean = (part.start_deg / 2, part.end_deg / 2) if known and edge.kind is Kind.ARMHOLE else (0.0, 0.0)
        upright = edge.kind is Kind.ARMHOLE and curve.start.imag > curve.end.imag
        ways.append(levelled(part, curve, lean[::-1] if upright else lean, upright))
    return tuple(ways)


def folds(parts: Sequence[MeasuredPart]) -> bool:
    """Tell whether parts are mirrored about a fold in the middle of one, or where the halves of one meet."""
    if unmirrored(parts, "in") is not None:
        return False
    half = parts[len(parts) // 2].curve
    # what is mirrored in itself is no half: a front and a back that are alike
    return len(parts) % 2 == 1 or (half is not None and not levelled(parts[len(parts) // 2], half).folded)


def _from_middle(edge: EdgeSpec, where: Place) -> Iterator[Way]:
    """Yield the pieces of a mirrored edge from its middle to its end."""
    middle, odd = divmod(len(edge.parts), 2)
    first, *others = edge.parts[middle:]
    if odd:
        yield levelled(first, curve_of(first))
    else:
        curve = curve_of(first)
        if first.curve is not None:
            curve = _upright(_outwards(first.curve), first, where.at("edge", "parts", middle, "length"))
        yield Way(first, curve, folded=True, begins="its middle", both=True)
    for part in others:
        way = levelled(part, curve_of(part))
        if part is others[-1] and part.curve is not None:
            # its centre is the end of the edge
            way = replace(way, swapped=from_centre(part.curve) is part.curve, told=True)
        yield replace(way, count=2, in_full=True)


def curve_of(part: MeasuredPart) -> Curve:
    """Return a part as drawn; of one that was measured the arc of a circle that is so long and turns so far."""
    if part.curve is not None:
        return part.curve
    turn, length = radians(part.legs[0].turn.smooth_deg), part.length_mm
    if abs(turn) < 1e-9:
        return Curve.through([line(0j, complex(length))])
    radius = length / turn
    begin = -1j if radius > 0 else 1j
    return Curve.through([EllipseArc(1j * radius, complex(abs(radius)), 1j * abs(radius), phase(begin), turn)])


def _half(part: MeasuredPart, edge: EdgeSpec, known: bool, where: Place) -> Way:
    """Return the half of a neckline from its centre on."""
    assert part.curve is not None
    centre = "CF" if part is edge.parts[0] else "CB"
    lean = (0.0, part.end_deg / 2 if known else 0.0)
    if edge.outline is not None:
        return Way(part, part.curve, lean, folded=True, begins=centre)
    pointed = edge.point_deg is not None and part is edge.parts[0]
    curve = _upright(_run_from_centre(part, edge), part, where.at("edge", part.name), pointed)
    return Way(part, curve, lean, folded=True, begins=centre)


def _run_from_centre(part: MeasuredPart, edge: EdgeSpec) -> Curve:
    """Return the curve of a drawn half from the centre that front and back tell together, or else from its own."""
    assert part.curve is not None
    front, back = edge.parts
    against = against_centre(front, back)
    if against is None:
        return from_centre(part.curve)
    return part.curve.reversed() if against[part is back] != part.against else part.curve


def _upright(curve: Curve, part: MeasuredPart, where: Place, pointed: bool = False) -> Curve:
    """Return a half that runs to the right from its centre, which it leaves squarely if it has no point there."""
    if curve.end.real < curve.start.real:
        curve = _mirrored(curve)
    off = degrees(phase(curve.segments[0].departure))
    if not pointed and abs(off) > SQUARE:
        raise SpecError(
            f"as drawn the {part.words} leaves the centre {abs(off):.0f}° off the square; draw it upright, with CF and "
            "CB as upright lines, or state the point of a vee",
            where,
        )
    return curve


def _outwards(curve: Curve) -> Curve:
    """Return a half run from its centre to the right, the band still to its left.

    What is run the other way is mirrored for that, and a hem, below which the band lies, turned round.
    """
    run = from_centre(curve)
    if run is not curve:
        run = _mirrored(run)
    return run if run.end.real > run.start.real else _turned(run, -1 + 0j)


def _mirrored(curve: Curve) -> Curve:
    """Return a curve as a looking-glass to its left shows it."""
    return curve.mapped(Affine(-1.0, 0.0, 0.0, 1.0))


def levelled(
    part: MeasuredPart,
    curve: Curve,
    lean: tuple[float, float] = (0.0, 0.0),
    swapped: bool = False,
    halved: bool = True,
) -> Way:
    """Return a part with its ends level; where it is to be ``halved`` and mirrored about its middle, from there on."""
    chord = curve.end - curve.start
    turn = exp(-1j * phase(chord))
    level = _turned(curve, turn)
    if halved and lean == (0.0, 0.0) and (half := _right_half(level)) is not None:
        return Way(part, half, folded=True, begins="its middle", swapped=swapped)
    return Way(part, level, lean, up=turn * 1j if part.curve else 1j, swapped=swapped)


def _turned(curve: Curve, by: complex) -> Curve:
    return curve.mapped(Affine(by.real, by.imag, -by.imag, by.real))


def _right_half(curve: Curve) -> Curve | None:
    """Return the right half of a level curve, or nothing where its two halves are not alike."""
    middle, ends = curve.length / 2, list(accumulate(curve.lengths))
    index = min(bisect_left(ends, middle - NOISE), len(ends) - 1)
    segment = curve.segments[index]
    t = _at_length(segment, middle - (ends[index] - curve.lengths[index]))
    halves = (
        Curve.through([*curve.segments[:index], *([segment.part(0.0, t)] if t > NOISE else [])]).reversed(),
        Curve.through([*([segment.part(t, 1.0)] if t < 1 - NOISE else []), *curve.segments[index + 1 :]]),
    )
    left, right = (_places(half) for half in halves)
    centre = right[0].real
    mirrored = all(
        abs((2 * centre - one.real) - other.real) <= ALIKE and abs(one.imag - other.imag) <= ALIKE
        for one, other in zip(left, right, strict=True)
    )
    return halves[1] if mirrored else None


def _at_length(segment: Segment, length: float) -> float:
    """Return the parameter of a segment so far along it, by halving."""
    low, high = 0.0, 1.0
    for _ in range(HALVED):
        t = (low + high) / 2
        low, high = (t, high) if segment.part(0.0, t).length() < length else (low, t)
    return (low + high) / 2


def _places(curve: Curve) -> list[complex]:
    """Return places at equal distances along a line, both ends among them."""
    ends, found = list(accumulate(curve.lengths)), [curve.start]
    for k in range(1, COUNTED):
        at = ends[-1] * k / COUNTED
        index = min(bisect_left(ends, at), len(ends) - 1)
        found.append(_at(curve.segments[index], at - (ends[index] - curve.lengths[index])))
    return [*found, curve.end]


def _at(segment: Segment, length: float) -> complex:
    return segment.at(_at_length(segment, length))
