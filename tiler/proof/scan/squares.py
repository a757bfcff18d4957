"""Four-sided shapes measured in the picture itself, side by side; pixels."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from tiler.proof.scan.pixels.darkness import Coarse
from tiler.proof.scan.pixels.lines import Line, line_between
from tiler.proof.scan.pixels.picture import Floats, Grey
from tiler.proof.scan.pixels.quads import four_sided
from tiler.proof.scan.pixels.regions import regions_of

WINDOW = 1.3
"""A side lies no further than this from where the coarse copy shows it, mm; nothing else is printed so near to one."""

CORNER = 0.06
"""Share of a side next to its corners that is left out: the other sides darken it."""

MOST = 40
"""Of more four-sided shapes only the largest are measured."""

WAYS = ((1.0, 0), (0.6, 0), (1.6, 0), (1.0, 2), (0.6, 4))
"""Shares of the usual threshold, and by how many pixels ink is made broader: pale lines have gaps, and so has what dirt
or a scratch lies on; dirt closes shapes."""


BESIDE = 14.0
"""A shape whose corners lie no further from those of another is the same, pixels."""


@dataclass(frozen=True)
class Quad:
    """A shape of four strokes: its corners, clockwise as shown, and the line of the side from each to the next."""

    corners: Floats
    sides: tuple[Line, ...]

    def turned(self, quarters: int, mirrored: bool) -> Quad:
        """Return the same shape counted from another corner, or the other way round."""
        order = [(quarters + number) % 4 for number in range(4)]
        if not mirrored:
            return Quad(self.corners[order], tuple(self.sides[index] for index in order))
        order.reverse()
        return Quad(self.corners[order], tuple(self.sides[index - 1] for index in order))


def measured_quads(grey: Grey, coarse: Coarse, per_mm: float | None) -> Iterator[list[Quad]]:
    """Yield the four-sided shapes of a picture, again and again as more ways to look for them are gone.

    ``per_mm`` tells how many pixels make 1 mm, where that is known.
    """
    found: list[Quad] = []
    seen: list[Floats] = []
    for share, broader in WAYS:
        for corners in _offered(coarse, share, broader):
            if any(np.abs(corners - one).max() < BESIDE for one in seen):
                continue
            quad = _measured(grey, corners, per_mm)
            if quad:
                seen.append(corners)
                found.append(quad)
        yield found


def _offered(coarse: Coarse, share: float, broader: int) -> list[Floats]:
    """Return the corners of four-sided shapes in the picture, counted alike, the largest first."""
    regions = regions_of(~coarse.ink(share, broader), diagonal=False)
    offered = sorted(four_sided(regions), key=lambda one: -float(np.ptp(one, axis=0).sum())) if regions else []
    corners = [np.roll(one, -int(np.argmin(one.sum(axis=1))), axis=0) for one in offered[:MOST]]
    return [one * coarse.factor + (coarse.factor - 1) / 2 for one in corners]


def _measured(grey: Grey, corners: Floats, per_mm: float | None) -> Quad | None:
    following = np.roll(corners, -1, axis=0)
    # where no resolution is known it is as if the shape were about as large as a test square
    half = WINDOW * (per_mm or float(np.hypot(*(following - corners).T).mean()) / 50)
    sides = []
    for start, end in zip(corners, following, strict=True):
        cut = CORNER * (end - start)
        side = line_between(grey, start + cut, end - cut, half)
        if side is None:
            return None
        sides.append(side)
    try:
        return Quad(np.array([sides[index - 1].meet(sides[index]) for index in range(4)]), tuple(sides))
    except np.linalg.LinAlgError:
        return None
