"""A line in stretches that windows show each for itself; mm."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import ceil

from tiler.box import Box, Subpath

STRETCH = 5.0
"""A stretch of a slanted line is no longer than this on its shorter side: the box round more of it holds much else."""


def stretches(line: Subpath) -> Iterator[Box]:
    """Yield boxes that hold a line between them, and little else."""
    for (xa, ya), (xb, yb) in pairwise(line):
        count = max(1, ceil(min(abs(xb - xa), abs(yb - ya)) / STRETCH))
        places = [(xa + (xb - xa) * k / count, ya + (yb - ya) * k / count) for k in range(count + 1)]
        yield from map(Box.around, pairwise(places))
