"""How the edge turns along a piece of a contour band, told by the edge and not by the lines that are drawn.

Degrees, to the side of the band.  A piece that is its own mirror image, or lies on the wrong side of the edge, turns
otherwise, and so the proof holds its lines against this.
"""

from __future__ import annotations

from cmath import phase
from collections.abc import Iterator
from itertools import pairwise
from math import degrees, fsum

from tiler.curves import Curve
from tiler.curves.parallel import stations
from tiler.draft.contour.pattern import Way, curve_of
from tiler.draft.edge.centre import from_centre
from tiler.draft.edge.seam_line import EdgeSpec, Kind

AT_MIDDLE = 1.0
"""What turns so near to the middle counts half to either side, mm."""


def turns_of(way: Way, edge: EdgeSpec, seam: float, on_fold: bool) -> tuple[float, ...]:
    """Return by how much the edge turns along the left and the right half of a piece; ``seam`` is where it is sewn.

    Nothing of a piece that runs on, as what is straight there moves its middle.
    """
    if any(way.free):
        return ()
    if edge.kind is Kind.NECKLINE or way.both:
        curve = way.curve if edge.kind is Kind.NECKLINE else curve_of(way.part)
        first, second = _halves(curve, seam)
        if way.both and way.part.curve is not None and from_centre(curve) is not curve:
            # mirrored, it is run the other way, and turns to the same side
            first, second = second, first
        if on_fold or not way.folded:
            return first, second
        at_centre = degrees(phase(way.curve.segments[0].departure))
        return first + second + at_centre, first + second + at_centre
    return _halves(curve_of(way.part), seam, beginning=0.5 if on_fold else 0.0)


def _halves(curve: Curve, seam: float, beginning: float = 0.0) -> tuple[float, float]:
    """Return how far the parallel of a curve turns on its first and its second half, from a share of its length on."""
    steps = list(_steps(curve, seam))
    whole = steps[-1][0]
    start = beginning * whole
    middle = (start + whole) / 2
    halves = ([0.0], [0.0])
    for at, turn in steps:
        if at > start + AT_MIDDLE or not beginning:
            second = 0.5 if abs(at - middle) < AT_MIDDLE else float(at > middle)
            halves[0].append((1 - second) * turn)
            halves[1].append(second * turn)
    return fsum(halves[0]), fsum(halves[1])


def _steps(curve: Curve, seam: float) -> Iterator[tuple[float, float]]:
    """Yield how far along the parallel a curve turns, and by how much, degrees; at last the whole length."""
    along, before = 0.0, None
    for leg in stations(curve, seam):
        if before is not None:
            yield along, degrees(phase(leg[0].onward / before))
        for one, other in pairwise(leg):
            step = abs(other.moved(seam) - one.moved(seam))
            yield along + step / 2, degrees(phase(other.onward / one.onward))
            along += step
        before = leg[-1].onward
    yield along, 0.0
