"""The ways of a contour band that is no ring: which of their ends are those of the edge, and how far they run on; mm.

An edge in one begins where its drawing does.  A neckline is open at CF, as a straight strip on it is, and both
halves of its front are cut alike.  An edge in parts begins with an end of its first part and ends with one of the
last.  Which end of a drawn part that is, tells its neighbour where one drawing shows both in place; else it is the
end that is drawn level, as a waist or a hem is at CF and CB, or of a part that is drawn upright, as a front edge,
the lower one.  A piece of which one end alone is an end of the edge is not folded in its middle.  Free lengths run
straight on.
"""

from __future__ import annotations

from cmath import phase
from collections.abc import Iterator
from dataclasses import replace
from math import degrees

from tiler.curves import Curve, line
from tiler.draft.contour.pattern import Way, curve_of, folds, levelled, ring_ways
from tiler.draft.edge.centre import from_centre, off_level
from tiler.draft.edge.seam_line import EdgeSpec, Kind, MeasuredPart
from tiler.draft.fastening.running_on import RunsOn
from tiler.errors import SpecError
from tiler.sentence import Place

TOUCHING = 0.5
"""Ends of two drawn parts that lie no further apart meet there, mm."""

STEEP = 45.0
"""A part of which both ends differ by more from level is drawn upright, degrees."""


def ways_of(edge: EdgeSpec, where: Place, on_fold: bool = True, runs_on: RunsOn | None = None) -> tuple[Way, ...]:
    """Return what the pieces follow, in the order of the parts; ``runs_on`` is how far an edge that is open does.

    Raises :class:`SpecError` for a drawing askew, and for ends of a neckline that are not alike.
    """
    if runs_on is None:
        return ring_ways(edge, where, on_fold)
    if edge.kind is Kind.NECKLINE:
        return _neckline(edge, where, runs_on)
    if len(edge.parts) == 1:
        return (_whole(edge, where, on_fold, runs_on),)
    if on_fold and folds(edge.parts) and (len(edge.parts) > 2 or runs_on.alike):
        return tuple(_mirrored(edge, where, runs_on))
    between = ring_ways(edge, where, on_fold=False)[1:-1]
    return (_ended(edge, True, runs_on.before_mm), *between, _ended(edge, False, runs_on.after_mm))


def _neckline(edge: EdgeSpec, where: Place, runs_on: RunsOn) -> tuple[Way, ...]:
    if not runs_on.alike:
        raise SpecError(
            "a neckline that is open at CF has two fronts that are cut alike, so it runs on alike on either side; "
            'give before and after the same length, or give the edge as kind = "curved" in drawn parts',
            where.at("edge", "after" if runs_on.after_mm else "before"),
        )
    front, back = ring_ways(edge, where)
    # a band that ends at CF ends along CF
    lean = 0.0 if runs_on.there else degrees(phase(front.curve.segments[0].departure))
    half = replace(front, folded=False, lean=(lean, front.lean[1]), count=2, in_full=True, open=(True, False))
    return _run_on(half, runs_on.after_mm, 0.0), back


def _whole(edge: EdgeSpec, where: Place, on_fold: bool, runs_on: RunsOn) -> Way:
    (way,) = ring_ways(edge, where, on_fold)
    if not runs_on.alike:
        way = levelled(way.part, curve_of(way.part), halved=False)
    # what lies to the right of its drawing is run from its end
    turned = way.part.curve is not None and way.part.against
    left, right = (runs_on.after_mm, runs_on.before_mm) if turned else (runs_on.before_mm, runs_on.after_mm)
    return _run_on(replace(way, open=(True, True), swapped=turned), left, right)


def _mirrored(edge: EdgeSpec, where: Place, runs_on: RunsOn) -> Iterator[Way]:
    """Yield the pieces from the fold to the end; the ends apart where they do not run on alike."""
    *ways, last = ring_ways(edge, where)
    yield from ways
    if not ways:
        yield _run_on(replace(last, open=(True, True)), runs_on.before_mm, runs_on.after_mm)
    elif runs_on.alike:
        yield replace(_ended(edge, False, runs_on.after_mm), count=2)
    else:
        # in two layers, which are mirror images, the one end is cut as the other
        yield from (_ended(edge, False, free) for free in (runs_on.before_mm, runs_on.after_mm))


def _ended(edge: EdgeSpec, first: bool, free: float) -> Way:
    """Return the first part of an edge, or the last one, in full: one of its ends is the end of the edge."""
    part, neighbour = edge.parts[:2] if first else edge.parts[:-3:-1]
    # of one that is mirrored in itself it is all the same
    known = part.curve is None or levelled(part, part.curve).folded
    at_left = first if known else _begins_with_end(part, neighbour)
    way = levelled(part, curve_of(part), swapped=at_left is not first, halved=False)
    ends = replace(way, told=True, in_full=True, open=(at_left, not at_left))
    return _run_on(ends, free if at_left else 0.0, 0.0 if at_left else free)


def _begins_with_end(part: MeasuredPart, neighbour: MeasuredPart) -> bool:
    """Tell whether a drawn part is run from the end of the edge to its neighbour."""
    curve = curve_of(part)
    if neighbour.curve is not None and _drawing(part) == _drawing(neighbour):
        met = [any(_meets(end, other) for other in _ends(neighbour.curve)) for end in _ends(curve)]
        if met[0] != met[1]:
            return met[1]
    if min(off_level(inward) for _, inward in _ends(curve)) > STEEP:
        return curve.start.imag <= curve.end.imag
    return from_centre(curve) is curve


End = tuple[complex, complex]
"""An end of a curve, and the direction from there inwards."""


def _ends(curve: Curve) -> tuple[End, End]:
    return (curve.start, curve.segments[0].departure), (curve.end, -curve.segments[-1].arrival)


def _meets(one: End, other: End) -> bool:
    """Tell whether one curve runs on where another ends; those drawn over each other leave it in one direction."""
    return abs(one[0] - other[0]) <= TOUCHING and (one[1] * other[1].conjugate()).real < 0


def _drawing(part: MeasuredPart) -> str:
    """Return the file and the page of a part's drawing."""
    return part.drawn.rpartition(", ")[0]


def _run_on(way: Way, left: float, right: float) -> Way:
    """Let a way run straight on at its ends, from a fold at the right one alone."""
    segments = list(way.curve.segments)
    onward, back = segments[-1].arrival, -segments[0].departure
    if right:
        segments.append(line(way.curve.end, way.curve.end + right * onward / abs(onward)))
    if left and not way.folded:
        start = way.curve.start
        segments.insert(0, line(start + left * back / abs(back), start))
    return replace(way, curve=Curve.through(segments), free=(left, right))
