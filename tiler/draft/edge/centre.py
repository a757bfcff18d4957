"""Which end of a drawn half is its centre; mm.

A curve has no names at its ends.  The centre is the end that is drawn level, as beside an upright CF or CB, or else the
lower one.  Front and back of one neckline are equally wide at the shoulders, each from its centre, which it leaves
squarely, or at half the angle of a point: where a drawing lies on its side, that tells its centre.
"""

from __future__ import annotations

from cmath import phase
from collections.abc import Sequence
from itertools import product
from math import degrees, radians

from tiler.curves import Curve
from tiler.draft.edge.path import points_along
from tiler.draft.edge.seam_line import MeasuredPart

LEVEL = 5.0
"""Ends of a half whose directions differ by more, degrees, tell which of them is the centre."""

MATCHES = 3.0
"""Halves whose shoulders lie further apart than this, mm, are not of one garment: each was drawn by itself."""

AMISS = 10.0
"""Halves whose shoulders lie further apart than this, mm, as they are drawn, may lie on their sides."""

ALIKE = 0.5
"""A half whose ends lie no further from where they lie the other way round, mm, is the same either way."""

Ways = tuple[bool, bool]
"""Of front and back, whether the path runs against the half, and ends at the centre."""


def against_centre(front: MeasuredPart, back: MeasuredPart) -> Ways | None:
    """Tell of each half whether its path ends at the centre; nothing where front and back do not meet in one way.

    Of halves whose curves are not known only their widths tell it.
    """
    drawn = _drawn(front), _drawn(back)
    apart = {
        (one, other): abs(_ends(front, one).real - _ends(back, other).real)
        for one, other in product(_ways(front, drawn[0]), _ways(back, drawn[1]))
    }
    fitting = [ways for ways, off in apart.items() if off <= MATCHES]
    if front.curve is not None and back.curve is not None and (drawn in fitting or apart[drawn] <= AMISS):
        return drawn if drawn in fitting else None
    return fitting[0] if len(fitting) == 1 else None


def from_centre(curve: Curve) -> Curve:
    """Return a half by itself run from its centre: the end that is drawn level, or else the lower one."""
    starts, ends = (off_level(one) for one in (curve.segments[0].departure, curve.segments[-1].arrival))
    at_start = starts < ends if abs(starts - ends) > LEVEL else curve.start.imag <= curve.end.imag
    return curve if at_start else curve.reversed()


def off_level(direction: complex) -> float:
    """Return by how much a direction differs from level, degrees."""
    angle = abs(degrees(phase(direction)))
    return min(angle, 180 - angle)


def _drawn(half: MeasuredPart) -> bool:
    """Tell whether the path of a half ends at its centre, as it is drawn."""
    return half.curve is not None and (from_centre(half.curve) is half.curve) == half.against


def _ways(half: MeasuredPart, drawn: bool) -> Sequence[bool]:
    """Return the ways in which a half may lie; one that is the same either way lies as it is drawn."""
    same = abs(_ends(half, against=False) - _ends(half, against=True)) <= ALIKE
    return (drawn,) if same else (False, True)


def _ends(half: MeasuredPart, against: bool) -> complex:
    """Return where a half meets the shoulder, seen from its centre."""
    path = half.path[::-1] if against else half.path
    return [at for at, _ in points_along(path, radians(half.start_deg) / 2)][-1]
