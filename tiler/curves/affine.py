"""Affine maps of the plane; a point is a complex number x + iy."""

from __future__ import annotations

from typing import NamedTuple


class Affine(NamedTuple):
    """The map x' = a x + c y + e, y' = b x + d y + f, as SVG and PDF write it."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    def __call__(self, point: complex) -> complex:
        """Return where a point is carried."""
        return self.direction(point) + complex(self.e, self.f)

    def direction(self, vector: complex) -> complex:
        """Return where a vector is carried, which no shift moves."""
        x, y = vector.real, vector.imag
        return complex(self.a * x + self.c * y, self.b * x + self.d * y)
