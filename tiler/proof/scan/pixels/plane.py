"""Where points of a picture lie on the page: affine maps, and plane projective ones with their lens.

A homography is estimated linearly from points that are centred and scaled first (Hartley and
Zisserman, *Multiple View Geometry in Computer Vision*, 2nd ed. 2004, algorithm 4.2, from memory).
"""

from __future__ import annotations

import numpy as np

from tiler.proof.scan.pixels.picture import Floats


def affine(source: Floats, target: Floats) -> Floats:
    """Return the 3 × 3 matrix of the affine map that takes points nearest to others, by least squares."""
    basis = np.column_stack([source, np.ones(len(source))])
    matrix = np.eye(3)
    matrix[:2] = np.linalg.lstsq(basis, target, rcond=None)[0].T
    return matrix


def homography(source: Floats, target: Floats) -> Floats:
    """Return the 3 × 3 matrix of the projective map that takes four points or more to others."""
    (one, centred), (other, wanted) = _centred(source), _centred(target)
    rows = []
    for (x, y), (u, v) in zip(centred, wanted, strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y, -u], [0, 0, 0, x, y, 1, -v * x, -v * y, -v]]
    matrix = np.linalg.svd(np.array(rows))[2][-1].reshape(3, 3)
    matrix = np.linalg.inv(other) @ matrix @ one
    return np.asarray(matrix / matrix[2, 2])


def _centred(points: Floats) -> tuple[Floats, Floats]:
    middle = points.mean(axis=0)
    scale = np.sqrt(2) / np.hypot(*(points - middle).T).mean()
    matrix = np.array([[scale, 0, -scale * middle[0]], [0, scale, -scale * middle[1]], [0, 0, 1]])
    return matrix, (points - middle) * scale


def mapped(matrix: Floats, points: Floats) -> Floats:
    """Return where a map takes points."""
    homogeneous = points @ matrix[:, :2].T + matrix[:, 2]
    return np.asarray(homogeneous[:, :2] / homogeneous[:, 2:])
