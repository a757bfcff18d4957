"""The scale of a drawing, from the test squares that state their size; mm.

A square may be off by as much as ``tolerances.FOREIGN_SCALE`` before the lengths of the
drawing are no longer believed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

from tiler.curves import Affine
from tiler.errors import OffScaleError
from tiler.proof.foreign.labelled import Labelled
from tiler.proof.tolerances import FOREIGN_SCALE


@dataclass(frozen=True)
class DrawingScale:
    """Drawn size over stated size on both axes, with the square furthest from what it states."""

    across: float
    down: float
    furthest: Labelled

    @property
    def true(self) -> bool:
        """Tell whether lengths can be believed as they are."""
        return max(abs(ratio - 1) for ratio in ratios(self.furthest)) <= FOREIGN_SCALE

    @property
    def correction(self) -> Affine:
        """The map that brings the drawing to its stated size."""
        return Affine(a=1 / self.across, d=1 / self.down)

    @property
    def words(self) -> str:
        """One clause for people: what was measured."""
        across, down = ratios(self.furthest)
        return (
            f"the {self.furthest.label} square on page {self.furthest.page} measures "
            f"{self.furthest.across:.2f} × {self.furthest.down:.2f} mm "
            f"({100 * across:.2f} % across, {100 * down:.2f} % down)"
        )


def ratios(square: Labelled) -> tuple[float, float]:
    """Return drawn over stated size, across and down."""
    return square.across / square.nominal, square.down / square.nominal


def drawing_scale(squares: Sequence[Labelled]) -> DrawingScale | None:
    """Judge the squares of a drawing; None without one.

    Raises :class:`OffScaleError` when they contradict each other, since then no
    correction fits them all.
    """
    if not squares:
        return None
    measured = [ratios(square) for square in squares]
    across, down = median(one[0] for one in measured), median(one[1] for one in measured)
    furthest = max(squares, key=lambda square: max(abs(ratio - 1) for ratio in ratios(square)))
    scale = DrawingScale(across, down, furthest)
    for square, (x, y) in zip(squares, measured, strict=True):
        if not scale.true and max(abs(x / across - 1), abs(y / down - 1)) > FOREIGN_SCALE:
            raise OffScaleError(
                f"the test squares of the drawing contradict each other: {scale.words}, and the "
                f"{square.label} square on page {square.page} {square.across:.2f} × {square.down:.2f} mm; "
                "its lengths cannot be believed"
            )
    return scale
