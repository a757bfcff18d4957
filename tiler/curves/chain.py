"""Curves joined end to end; mm."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from tiler.curves.curve import Curve
from tiler.errors import SpecError

ENDS_MEET = 0.1
"""Ends of two curves that are nearer than this are joined, mm."""


def chain(curves: Sequence[Curve], names: Sequence[str]) -> Curve:
    """Join curves in the order given, each run forwards or backwards so that the ends meet.

    Raises :class:`SpecError` with the gap where two ends are further apart than 0.1 mm,
    and for a closed curve among several; ``names`` are for the message.
    """
    if len(curves) == 1:
        return curves[0]
    for curve, name in zip(curves, names, strict=True):
        if curve.closed:
            raise SpecError(f"{name} is closed and has no ends to join; name it alone, or name open curves")
    first, second = curves[0], curves[1]
    ends = (second.start, second.end)
    if min(abs(first.start - end) for end in ends) < min(abs(first.end - end) for end in ends):
        first = first.reversed()
    segments = list(first.segments)
    for following, (before, name) in zip(curves[1:], pairwise(names), strict=True):
        here = segments[-1].end
        run = following if abs(following.start - here) <= abs(following.end - here) else following.reversed()
        gap = abs(run.start - here)
        if gap > ENDS_MEET:
            raise SpecError(
                f"{name} does not begin where {before} ends: the gap is {gap:.4g} mm; "
                "name the curves in the order in which they follow each other"
            )
        segments += run.segments
    return Curve(tuple(segments), abs(segments[-1].end - segments[0].start) <= ENDS_MEET)
