"""Regions with four straight sides: what may be the inside of a test square; coarse pixels."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from tiler.proof.scan.pixels.picture import Floats
from tiler.proof.scan.pixels.regions import Regions

LEAST_SIDE = 40.0
"""A smaller one cannot be measured, pixels of the coarse copy."""

LEAST_SHARE = 0.8
"""Of its four-sided shape so much must be the region itself: words inside it take some."""

BENT = 0.02
"""Share of its size that the edge of a region may lie off straight lines; lenses bend them."""

SLIMMEST = 0.35
"""A shorter side is no less of the longer one."""


def four_sided(regions: Regions, whole: bool = True) -> Iterator[Floats]:
    """Yield the corners of each region with four sides, clockwise as shown, in no order else.

    One that need not be ``whole`` may have a picture in it.
    """
    wide = regions.greatest(regions.end) - regions.least(regions.start)
    high = regions.greatest(regions.row) - regions.least(regions.row)
    areas = regions.areas
    large = (np.minimum(wide, high) >= LEAST_SIDE) & (areas > 0.3 * LEAST_SIDE**2)
    for region in np.flatnonzero(large & (areas > (0.3 if whole else 0.1) * wide * high)):
        edge = regions.edge(int(region))
        corners = _straightened(_corners(edge), edge)
        if corners is not None and _fits(corners, edge, float(areas[region]), LEAST_SHARE if whole else 0.3):
            yield corners


def _corners(edge: Floats) -> Floats:
    """Return the four points that lie furthest out: two opposite ones, and one on each side of their line."""
    centre = (edge.min(axis=0) + edge.max(axis=0)) / 2
    first = edge[np.argmax(((edge - centre) ** 2).sum(axis=1))]
    third = edge[np.argmax(((edge - first) ** 2).sum(axis=1))]
    along = third - first
    off = along[0] * (edge[:, 1] - first[1]) - along[1] * (edge[:, 0] - first[0])
    return np.array([first, edge[np.argmin(off)], third, edge[np.argmax(off)]])


def _straightened(corners: Floats, edge: Floats) -> Floats | None:
    """Return where the straight parts of the sides meet: corners may be round, and dirt may lie on one."""
    for _ in range(2):
        sides = np.roll(corners, -1, axis=0) - corners
        lengths = np.hypot(*sides.T)
        if lengths.min() < 1:
            return None
        off, share = _off(corners, edge)
        nearest = np.argmin(off, axis=1)
        lines = []
        for side in range(4):
            mine = edge[
                (nearest == side) & (np.abs(share[:, side] - 0.5) < 0.38) & (off[:, side] < 0.08 * lengths[side])
            ]
            if len(mine) < 8:
                return None
            middle = np.median(mine, axis=0)
            along = np.linalg.svd(mine - middle, full_matrices=False)[2][0]
            lines.append((middle, along))
        try:
            corners = np.array(
                [_meeting(*lines[index - 1], *lines[index]) for index in range(4)],
            )
        except np.linalg.LinAlgError:
            return None
    return corners


def _meeting(at: Floats, along: Floats, other: Floats, beside: Floats) -> Floats:
    share = np.linalg.solve(np.column_stack([along, -beside]), other - at)[0]
    return np.asarray(at + share * along)


def _off(corners: Floats, edge: Floats) -> tuple[Floats, Floats]:
    """Return how far each point lies off the line of each side, and at which share of the side."""
    sides = np.roll(corners, -1, axis=0) - corners
    lengths = np.hypot(*sides.T)
    from_corner = edge[:, None, :] - corners[None]
    normal = np.column_stack([-sides[:, 1], sides[:, 0]]) / lengths[:, None]
    off = np.abs(np.einsum("nij,ij->ni", from_corner, normal))
    return off, np.einsum("nij,ij->ni", from_corner, sides / lengths[:, None] ** 2)


def _fits(corners: Floats, edge: Floats, area: float, share: float) -> bool:
    following = np.roll(corners, -1, axis=0)
    sides = np.hypot(*(following - corners).T)
    if sides.min() < LEAST_SIDE or sides.min() < SLIMMEST * sides.max():
        return False
    shape = abs(float(np.sum(corners[:, 0] * following[:, 1] - corners[:, 1] * following[:, 0]))) / 2
    if not share * shape <= area <= 1.06 * shape + 4 * sides.max():
        return False
    return bool(np.quantile(_off(corners, edge)[0].min(axis=1), 0.95) <= BENT * sides.min() + 1.5)
