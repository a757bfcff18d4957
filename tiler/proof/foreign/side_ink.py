"""Whether a straight side is visible in the rendered page, and where its ink lies; mm.

Of files that are not ours neither the pen's width nor the ground is known, so a line
is what differs from what is beside it, and the border of a filled area what parts
dark from light.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor
from statistics import median

from tiler.proof.foreign.sides import Side
from tiler.proof.ink.pixels import Pixels
from tiler.proof.tolerances import DASHED_SHARE, PIXEL

CONTRAST = 38
"""Least difference of grey, of 255, that a printed line makes: about 15 %."""

STEP = 0.6
"""Distance of soundings along a side."""

MOST_SOUNDINGS = 80
"""A long side is sounded so often at most."""

VISIBLE_SHARE = 0.85
"""Least share of a side that is visible; other lines and words may cross it."""

QUARTERS = 4
"""Soundings across a side, per pixel."""


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
    steps = int(max(3.0, side.weight * pixels.kx / 2 + 2.5) * QUARTERS)
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
        return None
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


def _flank(greys: Sequence[int]) -> float:
    """Return the median of the greys of two pixels."""
    ordered = sorted(greys)
    return (ordered[QUARTERS - 1] + ordered[QUARTERS]) / 2


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
