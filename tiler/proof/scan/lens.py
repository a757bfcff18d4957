"""A photo of a page, from aside and through a lens: which point of the page each pixel shows, by the page's own marks.

The plane is a homography (Hartley and Zisserman, *Multiple View Geometry in Computer Vision*, 2nd ed. 2004),
the lens the first radial term of Brown, "Close-Range Camera Calibration", Photogrammetric
Engineering 37 (1971), about the middle of the picture (both from memory). All parameters are fitted at once by
Gauss and Newton with the damping of Levenberg and Marquardt: each point of a side of a square must lie on its line,
each tick of a ruler line at its place along it.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np

from tiler.proof.scan.pixels.picture import Floats, Grey
from tiler.proof.scan.pixels.plane import mapped

STEPS = 30
"""Of the fit at most."""

LEAST_MOVE = 1e-9

MESH = 16
"""So many pixels of the page that is laid flat lie between two whose place is computed."""

BLOCK = 400
"""So many rows are made at a time, which keeps the memory small."""


@dataclass(frozen=True)
class Lens:
    """What maps pixels to the page: through the lens, then by a homography; mm on the page, y up."""

    middle: Floats
    radius: float
    bend: float
    to_page: Floats

    def straight(self, pixels: Floats) -> Floats:
        """Return where a lens without distortion would show the points, from the middle, 1 is the corner."""
        points = (pixels - self.middle) / self.radius
        return np.asarray(points * (1 + self.bend * (points**2).sum(axis=-1, keepdims=True)))

    def page(self, pixels: Floats) -> Floats:
        """Return where on the page the pixels lie."""
        return mapped(self.to_page, self.straight(pixels))

    def pixels(self, page: Floats) -> Floats:
        """Return which pixels show the points of the page."""
        from_page: Floats = np.linalg.inv(self.to_page).astype(np.float64)
        straight = mapped(from_page, page)
        points = straight
        for _ in range(6):
            points = straight / (1 + self.bend * (points**2).sum(axis=-1, keepdims=True))
        return np.asarray(points * self.radius + self.middle)

    def moved(self, change: Floats) -> Lens:
        """Return the lens with nine parameters changed."""
        matrix = self.to_page.copy()
        matrix.flat[:8] += change[:8]
        return replace(self, to_page=matrix, bend=self.bend + float(change[8]))


@dataclass(frozen=True)
class Marks:
    """Points in the picture of which one coordinate on the page is known: 0 is x, 1 is y; mm.

    Those of a ``group`` other than -1 are known but for one length that all of it share: where a ruler line begins.
    """

    pixels: Floats
    axis: Floats
    known: Floats
    group: Floats = field(default_factory=lambda: np.empty(0))

    def off(self, lens: Lens) -> Floats:
        """Return how far the points lie from where they should, mm."""
        page = lens.page(self.pixels)
        off = np.where(self.axis == 0, page[:, 0], page[:, 1]) - self.known
        for group in np.unique(self.group[self.group >= 0]):
            mine = self.group == group
            off[mine] -= np.median(off[mine])
        return np.asarray(off)


def fitted(lens: Lens, marks: Marks, bent: bool) -> tuple[Lens, Floats]:
    """Return the lens that fits the marks best, and the covariance of its parameters; ``bent``: its distortion too."""
    count = 9 if bent else 8
    damping, off = 1e-3, marks.off(lens)
    weight = _weights(off)
    for _ in range(STEPS):
        slopes = _slopes(lens, marks, off, count)
        normal = slopes.T @ (slopes * weight[:, None])
        change = np.zeros(9)
        change[:count] = -np.linalg.solve(normal + damping * np.diag(np.diag(normal)), slopes.T @ (weight * off))
        other = lens.moved(change)
        there = marks.off(other)
        if (weight * there**2).sum() < (weight * off**2).sum():
            done = np.abs(there - off).max() < LEAST_MOVE
            lens, off, damping = other, there, damping / 5
            weight = _weights(off)
            if done:
                break
        else:
            damping *= 8
    slopes = _slopes(lens, marks, off, count)
    spread = float((weight * off**2).sum() / max(weight.sum() - count, 1))
    covariance = np.zeros((9, 9))
    covariance[:count, :count] = spread * np.linalg.inv(slopes.T @ (slopes * weight[:, None]))
    return lens, covariance


def _slopes(lens: Lens, marks: Marks, off: Floats, count: int) -> Floats:
    """Return how each distance changes with each parameter."""
    slopes = np.empty((len(off), count))
    sizes = np.append(np.maximum(np.abs(lens.to_page.flat[:8]), 1e-3), 0.05) * 1e-6
    for index in range(count):
        change = np.zeros(9)
        change[index] = sizes[index]
        slopes[:, index] = (marks.off(lens.moved(change)) - off) / sizes[index]
    return slopes


def _weights(off: Floats) -> Floats:
    """Return Tukey's weights, so that dirt and words count for nothing."""
    spread = max(1.4826 * float(np.median(np.abs(off))), 1e-3)
    return np.asarray(np.clip(1 - (off / (4.685 * spread)) ** 2, 0, None) ** 2)


def flattened(grey: Grey, lens: Lens, box: tuple[float, float, float, float], per_mm: float) -> Grey:
    """Return the page as a scan would show it: x from and to, y from above and to below, mm; so many pixels a mm."""
    left, right, upper, lower = box
    wide, high = int((right - left) * per_mm), int((upper - lower) * per_mm)
    flat = np.full((high, wide), 255, np.uint8)
    # the map is smooth: between points that lie so near to each other it is straight
    x, y = (np.arange(0, side + 2 * MESH, MESH) for side in (wide, high))
    grid = np.stack(np.broadcast_arrays(left + (x[None] + 0.5) / per_mm, upper - (y[:, None] + 0.5) / per_mm), axis=-1)
    mesh = lens.pixels(grid.reshape(-1, 2)).reshape(len(y), len(x), 2)
    column, share = np.divmod(np.arange(wide), MESH)
    right_of = (share / MESH)[None, :, None]
    across = mesh[:, column] * (1 - right_of) + mesh[:, column + 1] * right_of
    for begin in range(0, high, BLOCK):
        row, share = np.divmod(np.arange(begin, min(begin + BLOCK, high)), MESH)
        below = (share / MESH)[:, None, None]
        pixels = across[row] * (1 - below) + across[row + 1] * below
        flat[begin : begin + BLOCK] = _sampled(grey, pixels.reshape(-1, 2)).reshape(-1, wide)
    return flat


def _sampled(grey: Grey, pixels: Floats) -> Grey:
    """Return the grey between four pixels each; white beyond the picture."""
    high, wide = grey.shape
    x, y = pixels[:, 0], pixels[:, 1]
    inside = (x >= 0) & (y >= 0) & (x < wide - 1) & (y < high - 1)
    x, y = np.where(inside, x, 0), np.where(inside, y, 0)
    column, row = x.astype(np.int64), y.astype(np.int64)
    right, below = (x - column).astype(np.float32), (y - row).astype(np.float32)
    above = grey[row, column] * (1 - right) + grey[row, column + 1] * right
    under = grey[row + 1, column] * (1 - right) + grey[row + 1, column + 1] * right
    return np.where(inside, np.rint(above * (1 - below) + under * below), 255).astype(np.uint8)
