"""Whether a straight side is visible in the rendered page, and where its ink lies; mm.

Of files that are not ours neither the pen's width nor the ground is known, so a line
is what differs from what is beside it, and the border of a filled area what parts
dark from light.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import floor
from statistics import median

from tiler.proof.foreign.sides import Side
from tiler.proof.ink.pixels import Pixels
from tiler.proof.tolerances import DASHED_SHARE, PIXEL

CONTRAST = 20
"""Least difference of grey, of 255, that a printed line makes: 8 % of black."""

FINE = 300
"""Dots per inch at which thin and pale lines are looked for that a coarser picture does not show."""

STEP = 0.6
"""Distance of soundings along a side."""

MOST_SOUNDINGS = 80
"""A long side is sounded so often at most."""

VISIBLE_SHARE = 0.85
"""Least share of a side that is visible; other lines and words may cross it."""

QUARTERS = 4
"""Soundings across a side, per pixel."""


class Looks:
    """The picture of a page, and a finer one for what it does not show; both are rendered when they are asked for."""

    def __init__(self, render: Callable[[int | None], Pixels]) -> None:
        """Take what renders the page at so many dots per inch, or as coarsely as is usual."""
        self._render = render

    @cached_property
    def pixels(self) -> Pixels:
        """The usual picture."""
        return self._render(None)

    @cached_property
    def _fine(self) -> Pixels:
        return self._render(FINE)

    def shows(self, sides: Iterable[Side]) -> bool:
        """Tell whether all sides are visible where they are written."""
        return all(is_visible(self.pixels, side) or is_visible(self._fine, side) for side in sides)


@dataclass(frozen=True)
class SideInk:
    """The share of a side that is visible, and how far its ink lies to the left of it; None when unclear."""

    share: float
    aside: float | None


def ink_of(pixels: Pixels, side: Side) -> SideInk:
    """Sound a side across, all along its length."""
    start, end = pixels.pixel((side.start.real, side.start.imag)), pixels.pixel((side.end.real, side.end.imag))
    a, b = complex(*start), complex(*end)
    if abs(b - a) < 2:
        return SideInk(0.0, None)
    along = (b - a) / abs(b - a)
    # y goes down in the picture, so left of the side lies at -i there as +i does on the page
    left = along * -1j
    count = max(4, min(MOST_SOUNDINGS, int(side.length / STEP)))
    steps = int(max(3.0, max(side.weight, side.pen) * pixels.kx / 2 + 2.5) * QUARTERS)
    offsets = [left * (step / QUARTERS) for step in range(-steps, steps + 1)]
    visible = 0
    asides: list[float] = []
    for index in range(count):
        middle = a + (b - a) * ((index + 0.5) / count)
        found = _across(_greys(pixels, middle, offsets), steps, side.edge)
        if found is not None:
            visible += 1
            asides += found
    return SideInk(visible / count, median(asides) / pixels.kx if len(asides) * 2 >= count * DASHED_SHARE else None)


def is_visible(pixels: Pixels, side: Side) -> bool:
    """Tell whether a side is visible where it is written."""
    ink = ink_of(pixels, side)
    least = DASHED_SHARE * VISIBLE_SHARE if side.gap else VISIBLE_SHARE
    return ink.share >= least and (ink.aside is None or abs(ink.aside) <= PIXEL)


def _across(profile: Sequence[int | None], steps: int, edge: bool) -> Sequence[float] | None:
    """Return where the ink lies in pixels to the left, as a list of one or none; None when nothing is visible.

    The ``profile`` goes from right to left, as many ``steps`` on either side of the middle.
    """
    if any(value is None for value in profile[steps - QUARTERS : steps + QUARTERS + 1]):
        return [] if _at_page_edge(profile) else None
    greys = [255 if value is None else value for value in profile]
    right_side, left_side = _flank(greys[: 2 * QUARTERS]), _flank(greys[-2 * QUARTERS :])
    if edge:
        if abs(left_side - right_side) < CONTRAST:
            return None
        return [_border(greys, right_side, left_side) - steps / QUARTERS]
    core = greys[steps - 3 : steps + 4]
    darker = max(left_side, right_side) - min(core)
    lighter = max(core) - max(left_side, right_side)
    if max(darker, lighter) < CONTRAST:
        return None
    if abs(left_side - right_side) > CONTRAST / 2:
        return []
    ground = (left_side + right_side) / 2
    weights = [abs(grey - ground) for grey in greys]
    total = sum(weights)
    moment = sum(weight * (index - steps) for index, weight in enumerate(weights))
    return [moment / total / QUARTERS] if total else []


def _at_page_edge(profile: Sequence[int | None]) -> bool:
    """Tell whether the half of a line is visible that the edge of the page leaves of it."""
    inside = [value for value in profile if value is not None]
    if profile[0] is None:
        inside.reverse()
    # from the ground inwards to the edge of the page
    return len(inside) > 3 * QUARTERS and abs(_flank(inside[: 2 * QUARTERS]) - _flank(inside[-QUARTERS:])) >= CONTRAST


def _flank(greys: Sequence[int]) -> float:
    """Return the median of an even number of greys."""
    ordered = sorted(greys)
    return (ordered[len(ordered) // 2 - 1] + ordered[len(ordered) // 2]) / 2


def _border(greys: Sequence[int], first: float, last: float) -> float:
    """Return where a step from one grey to another lies, pixels from the first; the sum under it says so."""
    share = [(grey - last) / (first - last) for grey in greys]
    return (sum(share[:-1]) + sum(share[1:])) / 2 / QUARTERS


def _greys(pixels: Pixels, middle: complex, offsets: Sequence[complex]) -> list[int | None]:
    """Return the greys at places beside a middle; None beyond the page."""
    # millions of them are looked at, so nothing is called for each
    data, stride, width, height = pixels.data, pixels.stride, pixels.width, pixels.height
    places = [(floor(place.real), floor(place.imag)) for place in [middle + offset for offset in offsets]]
    return [
        data[row * stride + column] if 0 <= column < width and 0 <= row < height else None for column, row in places
    ]
