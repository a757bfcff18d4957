"""Whether the lines of a contour band cross themselves, and where; mm."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from itertools import pairwise
from math import ceil

from tiler.curves import Curve, crossing, line
from tiler.curves.parallel import Leg, parallel, turned_back
from tiler.draft.edge.seam_line import MeasuredPart
from tiler.errors import SpecError
from tiler.lengths import both
from tiler.paper import IN
from tiler.sentence import Place

NAMES = ("the cut edge along the seam", "the seam line", "the finished edge", "the cut edge along the finished edge")
AT = 5.0
"""What is nearer to an end is said to lie there, mm."""

NARROWEST = 2
"""Steps of a tape: of a narrower band no width is named, as 1 mm would be 0 in."""


class CrossingError(Exception):
    """Lines of a band that would cross: what they would do, the key that this is about, and the ways out of it."""

    def __init__(self, says: str, key: str, *ways: str) -> None:
        """Take them without the width that goes, which is that of the whole band."""
        super().__init__(says)
        self.says, self.key, self.ways = says, key, ways

    def refusal(self, widest: Fraction | None, where: Place, units: str) -> SpecError:
        """Return the refusal of a band; ``widest`` is how wide it may be, None where no width goes."""
        narrower = [] if widest is None else [f"take a band of at most {both(widest, units, down=True)}"]
        *ways, last = [*narrower, *self.ways]
        return SpecError(f"{self.says}; {', '.join(ways)}{', or ' if ways else ''}{last}", where.at(self.key))


def check_lines(legs: Sequence[Leg], distances: Sequence[float], part: MeasuredPart, begins: str, units: str) -> None:
    """Raise :class:`CrossingError` for parallels that run backwards or cross themselves, with the place."""
    # the seam lines first: what they cannot do no allowance mends
    for index in (1, 2, 0, 3):
        at = _crosses(legs, distances[index])
        if at is None:
            continue
        rounder = "draw the edge rounder there"
        smaller = [] if index in (1, 2) else ["take a smaller seam-allowance"]
        measured = ["measure it on its seam line"] if index == 1 else []
        place = f"at {begins}" if at < AT else f"{both(at, units)} from {begins}"
        raise CrossingError(
            f"{NAMES[index]} of the band would cross itself {place} along the {called(part)}, where the edge bends "
            "more sharply than a band can follow",
            "seam-allowance" if smaller else "finished-width",
            *smaller,
            rounder,
            *measured,
        )


def widest_of(goes: Callable[[float], bool], width: float, units: str) -> Fraction | None:
    """Return the widest band below ``width`` that goes, to the step of a tape below; None where the narrowest does not.

    Bands that go are asked for one by one, each half way between one that does and one that does not.
    """
    step = IN / 16 if units == "in" else Fraction(1)
    low, high = NARROWEST, ceil(width / step)
    if low >= high or not goes(float(low * step)):
        return None
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if goes(float(middle * step)) else (low, middle)
    return low * step


def called(part: MeasuredPart) -> str:
    """Return what a refusal calls a part of the edge."""
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
