"""The two test squares of a first page, known by their proportion and place; page mm, y up.

A first page shows a square of 2 in, 5 mm to the right of it one of 5 cm, and their upper sides are in line.
Coordinates count from the upper left corner of the first, as it should be printed. No
other way up, and no mirror image, looks the same: the sides in line tell it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import permutations

import numpy as np

from tiler.proof.scan.pixels.picture import Floats
from tiler.proof.scan.pixels.plane import affine, homography, mapped
from tiler.proof.scan.squares import Quad

APART = 5.0
"""White between both squares."""

SIDES = (50.8, 50.0)
LABELS = ("2 in", "5 cm")

CORNERS = np.array(
    [
        [[left, 0], [left + side, 0], [left + side, -side], [left, -side]]
        for left, side in ((0.0, SIDES[0]), (SIDES[0] + APART, SIDES[1]))
    ]
)
"""The corners of both, clockwise from the upper left."""

NEAREST, NEAREST_BY_LENS = 0.4, 1.2
"""The corners of the second square lie no further than this from their place by the first, on average."""

MOST = 12
"""Among so many shapes of about that size the pair is looked for."""


@dataclass(frozen=True)
class Pair:
    """Both squares, counted clockwise on the page from the upper left corner, and the map from pixels to the page.

    ``turned`` is how many quarters the page is turned clockwise; a ``mirrored`` one is shown as in a mirror.
    """

    quads: tuple[Quad, Quad]
    to_page: Floats
    turned: int
    mirrored: bool

    @property
    def corners(self) -> Floats:
        """The eight corners in the picture."""
        return np.concatenate([quad.corners for quad in self.quads])


def drafted_pair(quads: Sequence[Quad], lens: bool = False) -> Pair | None:
    """Return the pair of squares of a first page; None where there is none. ``lens``: seen from anywhere."""
    best, nearest = None, NEAREST_BY_LENS if lens else NEAREST
    square = [quad for quad in quads if lens or _squarish(quad)][:MOST]
    for first, second in permutations(square, 2):
        for mirrored in (False, True):
            for quarters in range(4):
                one = first.turned(quarters, mirrored)
                to_page = homography(one.corners, CORNERS[0])
                there = mapped(to_page, second.corners)
                # the corner that lies nearest to the upper left place begins
                begin = int(np.argmin(np.hypot(*(there - CORNERS[1][0]).T)))
                for start in range(4):
                    other = second.turned(start, mirrored)
                    if np.array_equal(other.corners[0], second.corners[begin]):
                        break
                off = float(np.sqrt(((mapped(to_page, other.corners) - CORNERS[1]) ** 2).sum(axis=1).mean()))
                if off < nearest:
                    nearest, best = off, (one, other, mirrored)
    if best is None:
        return None
    one, other, mirrored = best
    corners, places = np.concatenate([one.corners, other.corners]), CORNERS.reshape(-1, 2)
    to_page = homography(corners, places) if lens else affine(corners, places)
    along = one.corners[1] - one.corners[0]
    turned = round(np.degrees(np.arctan2(along[1], along[0])) / 90) % 4
    return Pair((one, other), to_page, turned, mirrored)


def _squarish(quad: Quad) -> bool:
    sides = np.hypot(*(np.roll(quad.corners, -1, axis=0) - quad.corners).T)
    return bool(sides.min() > 0.85 * sides.max())
