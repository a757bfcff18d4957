"""Regions of like pixels, put together of runs along the rows.

Runs of neighbouring rows that touch are one region (run-based labelling of connected
components: Rosenfeld and Pfaltz, "Sequential Operations in Digital Picture Processing",
J. ACM 13 (1966)). Here all pairs that touch are joined at once, by the least number that is
handed on until nothing changes.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tiler.proof.scan.pixels.picture import Floats

Indices = NDArray[np.int64]


@dataclass(frozen=True)
class Regions:
    """Runs of pixels from ``start`` up to ``end`` in a ``row``, sorted by the region that they belong to.

    Region i has the runs from ``first[i]`` up to ``first[i + 1]``.
    """

    row: Indices
    start: Indices
    end: Indices
    first: Indices

    def __len__(self) -> int:
        """Count the regions."""
        return len(self.first) - 1

    def least(self, values: Floats | Indices) -> Floats:
        """Return the least of the values of each region's runs."""
        return np.minimum.reduceat(values.astype(np.float64), self.first[:-1])

    def greatest(self, values: Floats | Indices) -> Floats:
        """Return the greatest of the values of each region's runs."""
        return np.maximum.reduceat(values.astype(np.float64), self.first[:-1])

    @property
    def areas(self) -> Indices:
        """How many pixels each region has."""
        return np.add.reduceat(self.end - self.start, self.first[:-1])

    def edge(self, region: int) -> Floats:
        """Return where a region begins and ends in each of its rows and columns."""
        runs = slice(self.first[region], self.first[region + 1])
        row, start, end = self.row[runs], self.start[runs], self.end[runs]
        top, left = row.min(), start.min()
        high, wide = row.max() - top + 1, end.max() - left
        change = np.zeros((high, wide + 1), dtype=np.int8)
        change[row - top, start - left] = 1
        change[row - top, end - left] -= 1
        inside = np.cumsum(change, axis=1, dtype=np.int8)[:, :wide] > 0
        rows, columns = np.arange(high), np.arange(wide)
        return np.concatenate(
            [
                np.column_stack([inside.argmax(axis=1), rows]),
                np.column_stack([wide - 1 - inside[:, ::-1].argmax(axis=1), rows]),
                np.column_stack([columns, inside.argmax(axis=0)]),
                np.column_stack([columns, high - 1 - inside[::-1].argmax(axis=0)]),
            ]
        ) + np.array([left, top], dtype=np.float64)


def regions_of(marked: NDArray[np.bool_], diagonal: bool) -> Regions | None:
    """Return the regions of marked pixels, which may touch ``diagonal``ly or not; None where nothing is marked."""
    high, wide = marked.shape
    framed = np.zeros((high, wide + 2), dtype=np.int8)
    framed[:, 1:-1] = marked
    change = np.diff(framed, axis=1)
    row, start = np.nonzero(change == 1)
    end = np.nonzero(change == -1)[1]
    if not len(row):
        return None
    number = _joined(row, start, end, wide, int(diagonal))
    order = np.argsort(number, kind="stable")
    first = np.flatnonzero(np.diff(number[order], prepend=-1))
    return Regions(row[order], start[order], end[order], np.append(first, len(order)))


def _joined(row: Indices, start: Indices, end: Indices, wide: int, reach: int) -> Indices:
    """Return for each run the number of its region."""
    line = wide + 4
    below = (row + 1) * line
    begin = np.searchsorted(row * line + end, below + start - reach, side="right")
    stop = np.searchsorted(row * line + start, below + end + reach, side="left")
    counts = np.maximum(stop - begin, 0)
    one = np.repeat(np.arange(len(row)), counts)
    other = np.arange(counts.sum()) - np.repeat(np.cumsum(counts) - counts, counts) + np.repeat(begin, counts)
    number = np.arange(len(row))
    while True:
        apart = number[one] != number[other]
        if not apart.any():
            return number
        one, other = one[apart], other[apart]
        least = np.minimum(number[one], number[other])
        np.minimum.at(number, number[one], least)
        np.minimum.at(number, number[other], least)
        while not np.array_equal(shorter := number[number], number):
            number = shorter
