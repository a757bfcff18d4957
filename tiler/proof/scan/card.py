"""A bank card on the glass: what a scanner makes of a known size; mm.

ISO/IEC 7810 gives ID-1 85.60 by 53.98 mm; a new card may measure 85.47 to 85.72 by 53.92 to 54.03 mm (from
memory), so a scale by it is known to about 0.15 %.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

import numpy as np
from PIL import Image

from tiler.proof.scan.pixels.darkness import closed
from tiler.proof.scan.pixels.edges import edge_between
from tiler.proof.scan.pixels.lines import Line
from tiler.proof.scan.pixels.picture import Floats, Grey
from tiler.proof.scan.pixels.quads import four_sided
from tiler.proof.scan.pixels.regions import regions_of

LONG, SHORT = 85.60, 53.98
MADE = 0.0015
"""Share by which a card may be larger or smaller than that."""

CORNER = 8.0
"""Next to its corners so much of each side is left out: they are round, with a radius of 3.18 mm."""

UNLIKE = 0.01
"""What differs more in size is no card, or its edges are not seen well: scanners are off by less."""

UNSURE = 0.0008
"""A card whose edges tell its size no better is not relied on: shadows and words lie along them."""

ABOUT = 0.06
"""The same on the coarse copy, where shadows belong to it."""

SLANTED = 15.0
"""A card that lies more askew does not tell both axes apart well, degrees."""

REACHES = (2.0, 4.0)
"""So far from where a side seems to lie it is sought, mm: the wider, the softer its shadow may be."""

DOTS = 60.0
"""Where it lies is looked for on a copy with so many dots to the inch."""

WORDS = 7
"""Words that a card touches are narrower, pixels of that copy."""

SHADES = (0.04, 0.08, 0.15, 0.3, 0.5, 0.65, 0.78)
"""How much darker than paper a card may be at least: one of them parts it from the page."""


@dataclass(frozen=True)
class Card:
    """What a scanner makes of 1 mm across and down the picture, the standard error of that, and the card's corners."""

    across: float
    down: float
    error: float
    corners: Floats


def card_on(grey: Grey, pixels: Floats, photo: bool = False) -> Card | None:
    """Return the card in a picture of which so many ``pixels`` make 1 mm across and down; None without one.

    In a ``photo`` it is the print by which these are told, and that may be off by more than a scanner.
    """
    for corners, reach in product(_offered(grey, pixels), REACHES):
        sides = card_sides(grey, corners, float(pixels.mean()), reach)
        if sides is None:
            continue
        points = np.array([sides[index - 1].meet(sides[index]) for index in range(4)])
        card = _compared(
            points / pixels, points, max(side.error for side in sides) / float(pixels.min()), ABOUT if photo else UNLIKE
        )
        if card:
            return card
    return None


def _offered(grey: Grey, pixels: Floats) -> Iterator[Floats]:
    """Yield the corners of what may be a card, clockwise."""
    factor = max(1, round(float(pixels.mean()) * 25.4 / DOTS))
    small = np.asarray(Image.fromarray(grey).reduce(factor))
    broad = closed(small, WORDS)
    paper = float(np.quantile(small, 0.9))
    for shade in SHADES:
        for darker in (True, False):
            marked = broad < paper * (1 - shade) if darker else small >= paper * (1 - shade)
            regions = regions_of(marked, diagonal=False)
            for corners in four_sided(regions, whole=not darker) if regions else ():
                there = corners * factor + (factor - 1) / 2
                sides = np.hypot(*((np.roll(there, -1, axis=0) - there) / pixels).T)
                long, short = sorted([(sides[0] + sides[2]) / 2, (sides[1] + sides[3]) / 2], reverse=True)
                if abs(long / LONG - 1) < ABOUT and abs(short / SHORT - 1) < ABOUT:
                    yield there


def card_sides(grey: Grey, corners: Floats, per_mm: float, reach: float) -> list[Line] | None:
    """Return the four sides of a card, from each corner to the next; None where one is not to be seen."""
    found = []
    for start, end in zip(corners, np.roll(corners, -1, axis=0), strict=True):
        cut = (end - start) * (CORNER * per_mm / float(np.hypot(*(end - start))))
        side = edge_between(grey, start + cut, end - cut, corners.mean(axis=0), per_mm, reach)
        if side is None:
            return None
        found.append(side)
    return found


def _compared(corners: Floats, points: Floats, error: float, most: float) -> Card | None:
    """Return what the scanner makes of the card whose corners are given in mm as it states them."""
    sides = np.roll(corners, -1, axis=0) - corners
    lengths = np.hypot(*sides.T)
    pair = [(lengths[0] + lengths[2]) / 2, (lengths[1] + lengths[3]) / 2]
    nominal = (LONG, SHORT) if pair[0] > pair[1] else (SHORT, LONG)
    scale = np.array(pair) / np.array(nominal)
    if np.abs(scale - 1).max() > most:
        return None
    angle = np.arctan2(*sides[0][::-1])
    slant = np.degrees((angle + np.pi / 4) % (np.pi / 2) - np.pi / 4)
    if abs(slant) > SLANTED:
        return None
    # each side shows mostly its own axis, and a little of the other
    along, over = np.cos(angle) ** 2, np.sin(angle) ** 2
    across, down = np.linalg.solve(np.array([[along, over], [over, along]]), scale)
    # opposite sides that differ tell how well their edges are seen
    unlike = max(abs(lengths[0] - lengths[2]) / nominal[0], abs(lengths[1] - lengths[3]) / nominal[1]) / 2
    error = float(np.hypot(np.sqrt(2) * error / SHORT, unlike))
    return Card(float(across), float(down), error, points) if error < UNSURE else None
