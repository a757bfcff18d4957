"""The sheet that a page is printed on, seen whole in a photo: its four edges tell the scale where no card lies; mm.

ISO 216 lets a sheet of 150 to 600 mm be 2 mm larger or smaller (from memory), so its name alone tells a length to
about 1 %; that shows a page that was fitted to the paper, and no more.  One that was measured with a ruler is known
to half a millimetre.  The edges are seen to 0.3 mm, since paper lifts from its ground and throws a shadow (ours).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

import numpy as np
from PIL import Image

from tiler.proof.scan.card import REACHES, WORDS, Card, card_sides
from tiler.proof.scan.pixels.darkness import closed
from tiler.proof.scan.pixels.picture import INCH, Floats, Grey
from tiler.proof.scan.pixels.plane import mapped
from tiler.proof.scan.pixels.quads import four_sided
from tiler.proof.scan.pixels.regions import regions_of

SEEN = 0.3
"""By how much a sheet may be otherwise than its edges look."""

ABOUT, SHAPED = 0.12, 0.03
"""A print is no further off than this, as a share; nor are both of its axes from each other."""

ASKEW = 0.01
"""Its corners are square to this, as a share."""

UNEVEN = 0.003
"""Sides that differ by more, as a share, are those of paper that does not lie flat."""

DOTS = 60.0
"""Where it lies is looked for on a copy with so many dots to the inch."""

SHADES = (0.12, 0.25, 0.4)
"""How much darker than paper the ground may be at least."""

ON_IT = np.array([[0.0, 0.0], [50.8, 0.0], [105.0, -25.0], [0.0, -50.8]])
"""Points of the page, by its squares, that lie on the sheet, mm."""


@dataclass(frozen=True)
class Sheet:
    """The size of a sheet, mm, and by how much each side may be otherwise."""

    width: float
    height: float
    off: float

    @property
    def share(self) -> float:
        """By which share a scale that it tells may be another."""
        return (self.off + SEEN) / min(self.width, self.height)


def sheet_on(flat: Grey, per_mm: float, to_page: Floats, sheet: Sheet) -> Card | None:
    """Return what a page that was laid flat by its own marks makes of its sheet; None where an edge is not seen.

    So many pixels of it make 1 mm by these marks, and ``to_page`` maps them to the page.
    """
    for corners, reach in product(_offered(flat, per_mm, to_page), REACHES):
        sides = card_sides(flat, corners, per_mm, reach)
        if sides is None:
            continue
        points = np.array([sides[index - 1].meet(sides[index]) for index in range(4)])
        found = _compared(points, per_mm, max(side.error for side in sides), sheet)
        if found:
            return found
    return None


def _offered(flat: Grey, per_mm: float, to_page: Floats) -> Iterator[Floats]:
    """Yield the corners of what may be the sheet, clockwise."""
    factor = max(1, round(per_mm * INCH / DOTS))
    broad = closed(np.asarray(Image.fromarray(flat).reduce(factor)), WORDS)
    from_page: Floats = np.linalg.inv(to_page).astype(np.float64)
    inside = mapped(from_page, ON_IT)
    column, row = np.clip((inside / factor).astype(int), 0, np.array(broad.shape[::-1]) - 1).T
    paper = float(np.median(broad[row, column]))
    for shade in SHADES:
        regions = regions_of(broad > paper * (1 - shade), diagonal=False)
        for corners in four_sided(regions, whole=False) if regions else ():
            there = corners * factor + (factor - 1) / 2
            if all(_left_of(there, point) for point in inside):
                yield there


def _left_of(corners: Floats, point: Floats) -> bool:
    """Tell whether a point lies within corners that go round it."""
    sides, off = np.roll(corners, -1, axis=0) - corners, point - corners
    turns = sides[:, 0] * off[:, 1] - sides[:, 1] * off[:, 0]
    return bool((turns > 0).all() or (turns < 0).all())


def _compared(points: Floats, per_mm: float, error: float, sheet: Sheet) -> Card | None:
    sides = (np.roll(points, -1, axis=0) - points) / per_mm
    lengths = np.hypot(*sides.T)
    # the page lies upright, but its corners may be counted from any
    first = 0 if abs(sides[0][0]) > abs(sides[0][1]) else 1
    nominal = np.array([sheet.width, sheet.height])
    scale = (
        np.array([(lengths[first] + lengths[first + 2]) / 2, (lengths[1 - first] + lengths[3 - first]) / 2]) / nominal
    )
    if np.abs(scale - 1).max() > ABOUT or abs(scale[0] / scale[1] - 1) > SHAPED:
        return None
    if max(
        abs(float(sides[index - 1] @ sides[index])) / (lengths[index - 1] * lengths[index]) for index in range(4)
    ) > (ASKEW):
        return None
    unlike = float(max(abs(lengths[0] - lengths[2]), abs(lengths[1] - lengths[3])) / nominal.min() / 2)
    error = float(np.hypot(np.sqrt(2) * error / per_mm / nominal.min(), unlike))
    return Card(float(scale[0]), float(scale[1]), error, points) if error < UNEVEN else None
