"""Affine maps of the plane; a point is a complex number x + iy."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Affine:
    """The map x' = a x + c y + e, y' = b x + d y + f, as SVG and PDF write it."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    def __call__(self, point: complex) -> complex:
        """Carry a point."""
        return self.direction(point) + complex(self.e, self.f)

    def direction(self, vector: complex) -> complex:
        """Carry a vector, which no shift moves."""
        x, y = vector.real, vector.imag
        return complex(self.a * x + self.c * y, self.b * x + self.d * y)

    def after(self, first: Affine) -> Affine:
        """Give the map that carries by ``first`` and then by this one."""
        x, y = self.direction(complex(first.a, first.b)), self.direction(complex(first.c, first.d))
        shift = self(complex(first.e, first.f))
        return Affine(x.real, x.imag, y.real, y.imag, shift.real, shift.imag)
