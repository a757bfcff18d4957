"""How dark a picture is compared with the paper round about, on a coarse copy; 0 is paper, 1 black.

Light is made even by the paper beside each stroke, as a scan is darker where the lid stands
open, a photo where a shadow falls: what is narrower than a square of so many pixels is closed,
and that is the light (the black top hat of Serra, *Image Analysis and Mathematical Morphology*,
1982, from memory). What is ink is then told by Otsu's threshold, "A Threshold Selection Method from
Gray-Level Histograms", IEEE Trans. SMC 9 (1979), 62-66 (pages from memory), kept within
bounds, since lines are few and thin on a page.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from tiler.proof.scan.pixels.picture import Grey

Darkness = NDArray[np.float32]

COARSE = 1800
"""So many pixels the longer side of the coarse copy has at most: 150 to the inch of a page."""

STROKE = 11
"""No stroke of squares and ruler lines is as wide, coarse pixels; it is odd."""

FAINTEST, DARKEST = 0.10, 0.26
"""Between these lies the share of darkness from which a pixel is ink: thin lines reach half their darkness at most."""

OF_OTSU = 0.6
"""Thin lines are paler than letters, which Otsu's threshold goes by."""


@dataclass(frozen=True)
class Coarse:
    """A coarse copy of a picture: how dark it is, from where on that is ink, and how many pixels became one."""

    dark: Darkness
    threshold: float
    factor: int

    def ink(self, share: float = 1.0, broader: int = 0) -> NDArray[np.bool_]:
        """Tell for each pixel whether it is ink, with a share of the threshold and made broader by so many pixels."""
        marked: NDArray[np.bool_] = self.dark > self.threshold * share
        for axis in (0, 1):
            for _ in range(broader):
                grown = marked.copy()
                one, other = np.moveaxis(grown, axis, 0), np.moveaxis(marked, axis, 0)
                one[1:] |= other[:-1]
                one[:-1] |= other[1:]
                marked = grown
        return marked


def coarse_copy(grey: Grey) -> Coarse:
    """Return the coarse copy of a picture with its light made even."""
    factor = max(1, -(-max(grey.shape) // COARSE))
    small = np.asarray(Image.fromarray(grey).reduce(factor)) if factor > 1 else grey
    light = closed(small, STROKE)
    dark: Darkness = np.clip(1 - small.astype(np.float32) / np.maximum(light, 1), 0, 1).astype(np.float32)
    noise = 1.4826 * float(np.median(np.abs(dark[::3, ::3] - np.median(dark[::3, ::3]))))
    threshold = float(np.clip(OF_OTSU * otsu(dark), FAINTEST, DARKEST))
    return Coarse(dark, max(threshold, min(4 * noise, DARKEST)), factor)


def closed(values: Grey, width: int) -> Grey:
    """Return a picture without what is dark and narrower than a square of so many pixels, an odd number."""
    for most in (np.maximum, np.minimum):
        for axis in (0, 1):
            values = _widest(most, values, axis, width)
    return values


def _widest(most: np.ufunc, values: Grey, axis: int, width: int) -> Grey:
    """Return the greatest, or least, of so many neighbours along an axis."""
    values = np.moveaxis(values, axis, 0)
    padded = np.pad(values, [(width // 2, width // 2), (0, 0)], mode="edge")
    reach = 1
    while reach < width:
        step = min(reach, width - reach)
        padded = most(padded[: len(padded) - step], padded[step:])
        reach += step
    return np.moveaxis(padded[: len(values)], 0, axis)


def otsu(dark: Darkness) -> float:
    """Return the threshold that parts the values into the two classes that differ most."""
    counts, edges = np.histogram(dark, bins=128, range=(0.0, 1.0))
    middles = (edges[:-1] + edges[1:]) / 2
    below, sums = np.cumsum(counts), np.cumsum(counts * middles)
    above = below[-1] - below
    with np.errstate(divide="ignore", invalid="ignore"):
        between = below * above * (sums / below - (sums[-1] - sums) / above) ** 2
    return float(edges[1 + int(np.nanargmax(np.where(np.isfinite(between), between, -1)))])
