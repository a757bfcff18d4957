"""Whether the lines of a contour band cross themselves, and where; mm."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

from tiler.curves import Curve, crossing, line
from tiler.curves.parallel import Leg, parallel, turned_back
from tiler.draft.edge.seam_line import MeasuredPart
from tiler.errors import SpecError
from tiler.lengths import both
from tiler.sentence import Place

NAMES = ("the cut edge along the seam", "the seam line", "the finished edge", "the cut edge along the finished edge")
AT = 5.0
"""What is nearer to an end is said to lie there, mm."""

CLOSER = 0.05
"""To this a width is looked for that does not cross, mm."""


def check_lines(
    legs: Sequence[Leg], distances: Sequence[float], part: MeasuredPart, begins: str, where: Place, units: str
) -> None:
    """Refuse parallels that run backwards or cross themselves, with the place and the way out."""
    # the seam lines first: what they cannot do no allowance mends
    for index in (1, 2, 0, 3):
        at = _crosses(legs, distances[index])
        if at is None:
            continue
        sewn = index in (1, 2)
        widest = _widest(lambda by: _crosses(legs, by) is None, distances[1], distances[index])
        key = "finished-width" if sewn else "seam-allowance"
        if sewn:
            ways = f"take a band of at most {both(widest, units, down=True)}, or draw the edge rounder there"
        else:
            ways = "take a smaller seam-allowance or a narrower band, or draw the edge rounder there"
        if index == 1:
            ways = "draw the edge rounder there, or measure it on its seam line"
        place = f"at {begins}" if at < AT else f"{both(at, units)} from {begins}"
        raise SpecError(
            f"{NAMES[index]} of the band would cross itself {place} along the {_called(part)}, where the edge bends "
            f"more sharply than a band can follow; {ways}",
            where.at(key),
        )


def _called(part: MeasuredPart) -> str:
    return f"part “{part.words}”" if part.listed else "edge" if part.name == "whole" else part.words


def _crosses(legs: Sequence[Leg], distance: float) -> float | None:
    """Return how far along the edge a parallel crosses itself; None where it does not."""
    at = turned_back(legs, distance)
    if at is not None:
        return at
    points = parallel(legs, distance)
    place = crossing(Curve.through(line(a, b) for a, b in pairwise(points) if a != b))
    if place is None:
        return None
    # the nearest place of the edge
    along, found = 0.0, (float("inf"), 0.0)
    for leg in legs:
        for one, other in pairwise(leg):
            found = min(found, (abs(one.moved(distance) - place), along))
            along += abs(other.at - one.at)
    return found[1]


def _widest(good: Callable[[float], bool], low: float, high: float) -> float:
    """Return how far from ``low`` a parallel can run towards ``high``."""
    first = low
    while abs(high - low) > CLOSER:
        middle = (low + high) / 2
        low, high = (middle, high) if good(middle) else (low, middle)
    return abs(low - first)
