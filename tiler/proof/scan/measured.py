"""Measured squares and ruler lines, each with its standard error; mm."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from tiler.proof.scan.pixels.biweight import line_through
from tiler.proof.scan.pixels.lines import FLOOR, Line
from tiler.proof.scan.pixels.picture import Floats
from tiler.proof.scan.rulers import LEAST_TICKS, OFF_PLACE, Ruler
from tiler.proof.scan.squares import Quad


@dataclass(frozen=True)
class Measured:
    """A length on one axis of the page: what it is, what it should be, what it is measured to be, and its error."""

    kind: str
    label: str
    axis: str
    nominal: float
    measured: float
    error: float
    box: tuple[float, float, float, float]
    """Where it stands in the picture: left, upper, right and lower pixel."""
    leaning: float = 0.0

    @property
    def ratio(self) -> float:
        """Measured over nominal."""
        return self.measured / self.nominal

    @property
    def doubt(self) -> float:
        """The standard error of that."""
        return self.error / self.nominal


def measured_square(quad: Quad, label: str, nominal: float, pixels: Floats) -> list[Measured]:
    """Return both lengths of a square whose corners count from the upper left; ``pixels``: so many make 1 mm."""
    corners = quad.corners / pixels
    sides = np.roll(corners, -1, axis=0) - corners
    lengths = np.hypot(*sides.T)
    # a parallelogram: what its corners are off a right angle, over a side
    lean = abs(float(sides[0] @ sides[1])) / max(float(lengths[0]), 1e-9)
    (left, upper), (right, lower) = quad.corners.min(axis=0), quad.corners.max(axis=0)
    box = (float(left), float(upper), float(right), float(lower))
    return [
        Measured("square", label, axis, nominal, float(lengths[one] + lengths[one + 2]) / 2, error, box, lean)
        for axis, one, error in (
            ("across", 0, _apart(quad.sides[1], quad.sides[3], pixels)),
            ("down", 1, _apart(quad.sides[0], quad.sides[2], pixels)),
        )
    ]


def _apart(one: Line, other: Line, pixels: Floats) -> float:
    return float(np.hypot(one.error, other.error) / pixels.min())


def measured_ruler(ruler: Ruler, pixels: Floats) -> Measured | None:
    """Return the length of a ruler line; None where too few ticks are in their places."""
    ticks = ruler.ticks / pixels
    middle = ticks.mean(axis=0)
    along = np.linalg.svd(ticks - middle, full_matrices=False)[2][0]
    where = (ticks - middle) @ along
    if where[-1] < where[0]:
        where = -where
    slope, off, weight = line_through(ruler.places, where, 10, 0.01)
    right = np.abs(off) < OFF_PLACE
    if right.mean() < LEAST_TICKS or not right[[0, -1]].any():
        return None
    kept = right & (weight > 0)
    lever = float(np.sqrt(((ruler.places[kept] - ruler.places[kept].mean()) ** 2).sum()))
    sigma = max(float(off[kept].std()), FLOOR * 2 / float(pixels.min()))
    (left, upper), (right_, lower) = ruler.ticks.min(axis=0), ruler.ticks.max(axis=0)
    box = (float(left), float(upper), float(right_), float(lower))
    measured = float(slope[1]) * ruler.nominal
    return Measured("rule", ruler.label, ruler.axis, ruler.nominal, measured, sigma / lever * ruler.nominal, box)


@dataclass(frozen=True)
class Scale:
    """What one axis measures: its factor, its standard error, and how far its parts are from agreeing."""

    ratio: float
    error: float
    disagreement: float


def scale_of(measured: Sequence[Measured]) -> Scale:
    """Return the weighted mean of all lengths along an axis.

    Where they scatter more than their errors tell, the error grows by that ratio (Birge, "The Calculation of Errors
    by the Method of Least Squares", Phys. Rev. 40 (1932), from memory).
    """
    ratios, errors = (np.array([getattr(one, name) for one in measured]) for name in ("ratio", "doubt"))
    weights = 1 / errors**2
    mean = float((ratios * weights).sum() / weights.sum())
    error = float(1 / np.sqrt(weights.sum()))
    if len(ratios) > 1:
        error *= max(1.0, float(np.sqrt((weights * (ratios - mean) ** 2).sum() / (len(ratios) - 1))))
    return Scale(mean, error, float(np.ptp(ratios)))
