"""The edge of something that lies on the paper, such as a card: where the grey changes most.

Each point is the centre of the gradient's magnitude across the edge (as in Lyvers et al., "Subpixel
Measurements Using a Moment-Based Edge Operator", IEEE Trans. PAMI 11 (1989), from memory), so even blur does
not move it. The first strong change from without is taken: what is printed on a card lies within.
"""

from __future__ import annotations

import numpy as np

from tiler.proof.scan.pixels.lines import MOST_POINTS, Line, Points, fitted_line
from tiler.proof.scan.pixels.picture import Floats, Grey
from tiler.proof.scan.pixels.regions import Indices as Steps

SHADOW = 0.3
"""A change that is no larger a share of the largest is that of a shadow."""

NEARBY, SOFT = 0.75, 0.2
"""Its neighbours lie no further from an edge than this share of how far it is sought; how far one reaches, mm."""

LEAST_STEP = 6.0
"""Of grey values of 255, over the width of the edge."""


def edge_points(grey: Grey, start: Floats, end: Floats, half: float, soft: float) -> Points:
    """Return the points of an edge that runs about from ``start`` to ``end``, no further off than ``half``; pixels.

    ``soft`` is how far the change may reach to either side.
    """
    if abs(end[0] - start[0]) < abs(end[1] - start[1]):
        turned = edge_points(grey.T, start[::-1], end[::-1], half, soft)
        return Points(turned.at[:, ::-1], turned.contrast, turned.width)
    reach = max(5, round(half))
    offsets = np.arange(-reach, reach + 1)
    (x, middle), profile = _profiles(grey, start, end, offsets)
    if not len(x):
        return Points(np.empty((0, 2)), np.empty(0), np.empty(0))
    # the mean of neighbours along the edge quiets the grain of paper and card
    profile = _quieted(profile)
    change = np.abs(np.diff(profile, axis=1))
    between = (offsets[:-1] + offsets[1:]) / 2
    top = np.argmax(change, axis=1)
    width = max(2, round(soft))
    window = top[:, None] + np.arange(-width, width + 1)
    within = (window >= 0) & (window < change.shape[1])
    window = np.clip(window, 0, change.shape[1] - 1)
    near = np.where(within, np.take_along_axis(change, window, axis=1), 0.0)
    greatest = near.max(axis=1, keepdims=True)
    near = np.maximum(near - SHADOW * greatest, 0.0)
    total = near.sum(axis=1)
    there = (greatest[:, 0] >= LEAST_STEP / 2) & (total > 0)
    places = between[window]
    y = middle + (near * places).sum(axis=1) / np.maximum(total, 1e-9)
    at = np.column_stack([x, y]).astype(np.float64)
    return Points(at[there], total[there], np.ones(int(there.sum())))


def _profiles(grey: Grey, start: Floats, end: Floats, offsets: Steps) -> tuple[tuple[Steps, Steps], Floats]:
    """Return the columns from ``start`` to ``end``, the row of the line in each, and the grey at offsets from it."""
    if end[0] < start[0]:
        start, end = end, start
    x = np.arange(int(np.ceil(start[0])), int(np.floor(end[0])) + 1)
    x = x[:: max(1, len(x) // MOST_POINTS)]
    slope = (end[1] - start[1]) / max(end[0] - start[0], 1e-9)
    middle = np.rint(start[1] + slope * (x - start[0])).astype(np.int64)
    kept = (x >= 0) & (x < grey.shape[1]) & (middle + offsets[0] >= 0) & (middle + offsets[-1] < grey.shape[0])
    x, middle = x[kept], middle[kept]
    return (x, middle), grey[middle[:, None] + offsets, x[:, None]].astype(np.float64)


def _quieted(profile: Floats) -> Floats:
    """Return the mean of each row and its neighbours."""
    if len(profile) < 5:
        return profile
    padded = np.concatenate([profile[:2], profile, profile[-2:]])
    return np.asarray(sum(padded[shift : shift + len(profile)] for shift in range(5)) / 5)


def edge_between(grey: Grey, start: Floats, end: Floats, inside: Floats, per_mm: float, reach: float) -> Line | None:
    """Return the line of an edge that runs about from ``start`` to ``end``, with ``inside`` a point on its inner side.

    It is sought widely, as far as ``reach``, mm; then of all changes along its whole length the outermost sharp one is
    measured.
    """
    wanted = min(MOST_POINTS, int(np.abs(end - start).max()))
    soft = max(2.0, SOFT * per_mm)
    line = fitted_line(edge_points(grey, start, end, reach * per_mm, soft), wanted)
    for _ in range(2):
        if line is None:
            return None
        start, end = (line.at + line.along * float((one - line.at) @ line.along) for one in (start, end))
        shift = _sharpest(grey, start, end, inside, max(6, round(NEARBY * reach * per_mm)))
        flat = abs(end[0] - start[0]) >= abs(end[1] - start[1])
        moved = np.array([0.0, shift]) if flat else np.array([shift, 0.0])
        line = fitted_line(edge_points(grey, start + moved, end + moved, 2.5 * soft, soft), wanted)
    return line


def _sharpest(grey: Grey, start: Floats, end: Floats, inside: Floats, reach: int) -> float:
    """Return how far from a line the outermost of its sharp changes lies, pixels down, or to the right."""
    if abs(end[0] - start[0]) < abs(end[1] - start[1]):
        return _sharpest(grey.T, start[::-1], end[::-1], inside[::-1], reach)
    offsets = np.arange(-reach, reach + 1)
    profile = _profiles(grey, start, end, offsets)[1]
    if len(profile) < 5:
        return 0.0
    change = np.abs(np.diff(_quieted(profile), axis=1)).mean(axis=0)
    change = np.maximum(change - np.quantile(change, 0.3), 0.0)
    tops = [
        top
        for top in range(1, len(change) - 1)
        if change[top] >= change[top - 1] and change[top] > change[top + 1] and change[top] > SHADOW * change.max()
    ]
    if not tops:
        return 0.0
    widths = [_breadth(change, top) for top in tops]
    sharp = [top for top, width in zip(tops, widths, strict=True) if width <= 1.4 * min(widths) + 0.5]
    outermost = min(sharp) if inside[1] > (start[1] + end[1]) / 2 else max(sharp)
    return float(offsets[outermost]) + 0.5


def _breadth(change: Floats, top: int) -> float:
    """Return how many steps round its top a change is at least half as large."""
    low = change < change[top] / 2
    before = np.flatnonzero(low[:top])
    behind = np.flatnonzero(low[top:])
    first = before[-1] if len(before) else -1
    last = top + behind[0] if len(behind) else len(change)
    return float(last - first - 1)
