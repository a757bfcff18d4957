"""The middle of a printed stroke, measured in the pixels: a point in each row or column, and a line through them.

Across the stroke the middle is the centre of its darkness, which neither its width nor
even blur moves: the first moment of the grey values, as in Tabatabai and Mitchell, "Edge
Location to Subpixel Values in Digital Imagery", IEEE Trans. PAMI 6 (1984), from memory. The line is
fitted as in :mod:`tiler.proof.scan.pixels.biweight`, so dust and words on it do not draw it aside.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from tiler.proof.scan.pixels.biweight import line_through
from tiler.proof.scan.pixels.picture import Floats, Grey

MOST_POINTS = 1600
"""More points along a line tell nothing more."""

LEAST_CONTRAST = 10.0
"""A stroke that is darker than the paper by less is none, grey values of 255."""

LEAST_KEPT = 0.7
"""So much of a line must be there, and straight."""

BLOCKS = 12
"""Into so many parts a line is cut to see how far it wanders."""

FLOORS = 0.04, 0.25
"""Between these shares of its greatest darkness lies what of a stroke is taken for the grain of the paper."""

FLOOR = 0.03
"""No line is known better, pixels: ours."""


@dataclass(frozen=True)
class Line:
    """A line through points, pixels: one of its points, its direction, and the standard error of its place across."""

    at: Floats
    along: Floats
    error: float
    width: float
    """How wide the stroke is that it is the middle of: the darkness across over the greatest darkness."""

    def meet(self, other: Line) -> Floats:
        """Return the point where two lines meet."""
        across = np.column_stack([self.along, -other.along])
        return np.asarray(self.at + np.linalg.solve(across, other.at - self.at)[0] * self.along)


@dataclass(frozen=True)
class Points:
    """Points in the middle of a stroke, pixels, with the contrast and the width of the stroke at each."""

    at: Floats
    contrast: Floats
    width: Floats


def stroke_points(grey: Grey, start: Floats, end: Floats, half: float) -> Points:
    """Return the middle of a stroke that runs about from ``start`` to ``end``, no further off than ``half``, pixels."""
    if abs(end[0] - start[0]) < abs(end[1] - start[1]):
        turned = stroke_points(grey.T, start[::-1], end[::-1], half)
        return Points(turned.at[:, ::-1], turned.contrast, turned.width)
    if end[0] < start[0]:
        start, end = end, start
    x = np.arange(int(np.ceil(start[0])), int(np.floor(end[0])) + 1)
    x = x[:: max(1, len(x) // MOST_POINTS)]
    reach = max(4, round(half))
    slope = (end[1] - start[1]) / max(end[0] - start[0], 1e-9)
    middle = np.rint(start[1] + slope * (x - start[0])).astype(int)
    inside = (x >= 0) & (x < grey.shape[1]) & (middle >= reach) & (middle < grey.shape[0] - reach)
    x, middle = x[inside], middle[inside]
    if not len(x):
        return Points(np.empty((0, 2)), np.empty(0), np.empty(0))
    offsets = np.arange(-reach, reach + 1)
    profile = grey[middle[:, None] + offsets, x[:, None]].astype(np.float64)
    outer = max(2, len(offsets) // 6)
    paper = np.median(profile[:, :outer], axis=1), np.median(profile[:, -outer:], axis=1)
    share = (offsets + reach) / (2 * reach)
    dark = paper[0][:, None] * (1 - share) + paper[1][:, None] * share - profile
    peak = dark.max(axis=1, initial=0.0)
    grain = np.median(np.concatenate([profile[:, :outer], profile[:, -outer:]], axis=1).std(axis=1))
    floor = np.clip(2.5 * grain / np.maximum(peak, 1.0), *FLOORS) * peak
    near = np.abs(offsets - offsets[np.argmax(dark, axis=1)][:, None]) <= 0.7 * reach
    weight = np.where(near, np.maximum(dark - floor[:, None], 0.0), 0.0)
    total = weight.sum(axis=1)
    there = (peak >= LEAST_CONTRAST) & (total > 0)
    x, middle, weight, total, peak, floor = (one[there] for one in (x, middle, weight, total, peak, floor))
    y = middle + (weight * offsets).sum(axis=1) / total
    return Points(np.column_stack([x, y]).astype(np.float64), peak, total / (peak - floor))


def fitted_line(points: Points, wanted: int) -> Line | None:
    """Return the line through points; None where fewer than most of the ``wanted`` ones lie on it."""
    at = points.at[points.contrast > 0.35 * np.median(points.contrast)] if len(points.at) else points.at
    if len(at) < max(6, LEAST_KEPT * wanted):
        return None
    flat = abs(at[-1, 0] - at[0, 0]) >= abs(at[-1, 1] - at[0, 1])
    x, y = (at[:, 0], at[:, 1]) if flat else (at[:, 1], at[:, 0])
    mean = float(x.mean())
    # the median of slopes would be safer still; points of a window this narrow cannot draw it far aside
    line, off, weight = line_through(x, y, 12, 0.02)
    kept = weight > 0
    if kept.sum() < LEAST_KEPT * wanted:
        return None
    place, along = np.array([mean, line[0]]), np.array([1.0, line[1]]) / np.hypot(1.0, line[1])
    means = np.array([part.mean() for part in np.array_split(off[kept], BLOCKS) if len(part)])
    error = float(np.hypot(means.std() / np.sqrt(len(means)), FLOOR))
    width = float(np.median(points.width))
    return Line(place, along, error, width) if flat else Line(place[::-1], along[::-1], error, width)


def line_between(grey: Grey, start: Floats, end: Floats, half: float) -> Line | None:
    """Return the line of a stroke that runs about from ``start`` to ``end``: sought widely, then measured nearby."""
    wanted = min(MOST_POINTS, int(np.abs(end - start).max()))
    line = fitted_line(stroke_points(grey, start, end, half), wanted)
    if line is None:
        return None
    start, end = (line.at + line.along * float((one - line.at) @ line.along) for one in (start, end))
    return fitted_line(stroke_points(grey, start, end, max(0.6 * half, 1.5 * line.width + 2)), wanted)
