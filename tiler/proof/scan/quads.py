"""Regions with four straight sides: what may be the inside of a test square; coarse pixels."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from tiler.proof.scan.picture import Floats
from tiler.proof.scan.regions import Regions

LEAST_SIDE = 40.0
"""A smaller one cannot be measured, pixels of the coarse copy."""

LEAST_SHARE = 0.8
"""Of its four-sided shape so much must be the region itself: words inside it take some."""

BENT = 0.02
"""Share of its size that the edge of a region may lie off straight lines; lenses bend them."""

SLIMMEST = 0.35
"""A shorter side is no less of the longer one."""


def four_sided(regions: Regions) -> Iterator[Floats]:
    """Yield the corners of each region with four sides, clockwise as shown, in no order else."""
    wide = regions.greatest(regions.end) - regions.least(regions.start)
    high = regions.greatest(regions.row) - regions.least(regions.row)
    areas = regions.areas
    large = (np.minimum(wide, high) >= LEAST_SIDE) & (areas > LEAST_SHARE * LEAST_SIDE**2)
    for region in np.flatnonzero(large & (areas > 0.3 * wide * high)):
        edge = regions.edge(int(region))
        corners = _corners(edge)
        if _fits(corners, edge, float(areas[region])):
            yield corners


def _corners(edge: Floats) -> Floats:
    """Return the four points that lie furthest out: two opposite ones, and one on each side of their line."""
    centre = (edge.min(axis=0) + edge.max(axis=0)) / 2
    first = edge[np.argmax(((edge - centre) ** 2).sum(axis=1))]
    third = edge[np.argmax(((edge - first) ** 2).sum(axis=1))]
    along = third - first
    off = along[0] * (edge[:, 1] - first[1]) - along[1] * (edge[:, 0] - first[0])
    return np.array([first, edge[np.argmin(off)], third, edge[np.argmax(off)]])


def _fits(corners: Floats, edge: Floats, area: float) -> bool:
    following = np.roll(corners, -1, axis=0)
    sides = np.hypot(*(following - corners).T)
    if sides.min() < LEAST_SIDE or sides.min() < SLIMMEST * sides.max():
        return False
    shape = abs(float(np.sum(corners[:, 0] * following[:, 1] - corners[:, 1] * following[:, 0]))) / 2
    if not LEAST_SHARE * shape <= area <= 1.06 * shape + 4 * sides.max():
        return False
    normal = np.column_stack([corners[:, 1] - following[:, 1], following[:, 0] - corners[:, 0]]) / sides[:, None]
    off = np.abs(np.einsum("nij,ij->ni", edge[:, None, :] - corners[None], normal))
    return bool(np.quantile(off.min(axis=1), 0.97) <= BENT * sides.min() + 1.5)
