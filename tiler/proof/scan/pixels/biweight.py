"""A straight line through measured values that strays do not draw aside.

Least squares that are weighted anew by Tukey's biweight (Huber, *Robust Statistics*, 1981; the
constant 4.685 from memory): what lies far off the line, against the spread of all, counts for nothing.
"""

from __future__ import annotations

import numpy as np

from tiler.proof.scan.pixels.picture import Floats

TUKEY, TO_SIGMA = 4.685, 1.4826


def line_through(x: Floats, y: Floats, rounds: int, least: float) -> tuple[Floats, Floats, Floats]:
    """Fit y over x, which counts from its mean, and return height and slope, what each value lies off, and its weight.

    The spread of the values is taken for no less than ``least``, in the unit of y.
    """
    basis = np.column_stack([np.ones_like(x), x - x.mean()])
    weight = np.ones_like(x)
    for _ in range(rounds):
        root = np.sqrt(weight)
        line = np.linalg.lstsq(basis * root[:, None], y * root, rcond=None)[0]
        off = y - basis @ line
        spread = max(TO_SIGMA * float(np.median(np.abs(off))), least)
        weight = np.clip(1 - (off / (TUKEY * spread)) ** 2, 0, None) ** 2
    return line, off, weight
