"""Arcs of ellipses.

A point of the plane is a complex number x + iy; a parameter runs from 0 to 1.  An arc
is kept by two conjugate half-diameters, since every affine map turns it into another
of the same form.
"""

from __future__ import annotations

from cmath import exp, log, phase
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import ceil, fsum, hypot, pi

from tiler.curves.affine import Affine
from tiler.curves.quadrature import CUSP, arc_length, inside


@dataclass(frozen=True)
class EllipseArc:
    """The points ``centre + u cos(a) + v sin(a)`` for a from ``begin`` over ``sweep``, radians."""

    centre: complex
    u: complex
    v: complex
    begin: float
    sweep: float

    @property
    def start(self) -> complex:
        """Where it begins."""
        return self.at(0.0)

    @property
    def end(self) -> complex:
        """Where it ends."""
        return self.at(1.0)

    @property
    def straight(self) -> bool:
        """An arc is not a line."""
        return False

    def at(self, t: float) -> complex:
        """Return the point at ``t``."""
        return self.centre + self._turned(t, self.u, self.v)

    def velocity(self, t: float) -> complex:
        """Return the first derivative."""
        return self.sweep * self._turned(t, self.v, -self.u)

    def acceleration(self, t: float) -> complex:
        """Return the second derivative."""
        return -(self.sweep**2) * self._turned(t, self.u, self.v)

    def _turned(self, t: float, u: complex, v: complex) -> complex:
        turn = exp(1j * (self.begin + t * self.sweep))
        return u * turn.real + v * turn.imag

    @cached_property
    def zeros(self) -> tuple[complex, ...]:
        """The complex parameters near the arc at which the velocity vanishes; a circle has none."""
        plus, minus = self.v + 1j * self.u, self.v - 1j * self.u
        if not plus or not minus:
            return ()
        # -u sin a + v cos a = (plus e^(ia) + minus e^(-ia)) / 2
        angle = log(-minus / plus) / 2j
        first = (angle - self.begin) / self.sweep
        step = abs(pi / self.sweep)
        nearest = first - step * ceil(first.real / step)
        return tuple(nearest + step * k for k in range(-1, ceil(1 / step) + 2))

    def length(self) -> float:
        """Return the arc length to 1e-11 of itself."""
        if not self.zeros:
            return abs(self.u) * abs(self.sweep)
        # a quarter at a time, so that no rule meets the same speeds in both halves by symmetry
        pieces = ceil(abs(self.sweep) / (pi / 2) - 1e-9)
        return fsum(arc_length(lambda t: abs(self.velocity(t)), k / pieces, (k + 1) / pieces) for k in range(pieces))

    def turning(self) -> float:
        """Return the signed angle through which the direction turns, radians."""
        pieces = ceil(abs(self.sweep) / (pi / 2))
        speeds = [self.velocity(k / pieces) for k in range(pieces + 1)]
        return fsum(phase(b * a.conjugate()) for a, b in pairwise(speeds))

    @property
    def departure(self) -> complex:
        """A vector along the tangent at the start, also where the velocity is zero."""
        speed = self.velocity(0.0)
        return speed if abs(speed) > CUSP * self.reach() else self.acceleration(0.0)

    @property
    def arrival(self) -> complex:
        """The same at the end."""
        speed = self.velocity(1.0)
        return speed if abs(speed) > CUSP * self.reach() else -self.acceleration(1.0)

    def within(self, size: float) -> bool:
        """Tell whether all its coordinates are numbers, and smaller than ``size``."""
        return all(abs(point.real) < size and abs(point.imag) < size for point in (self.centre, self.u, self.v))

    def reach(self) -> float:
        """Return a bound of how far it goes from its start."""
        return abs(self.sweep) * hypot(abs(self.u), abs(self.v))

    def extent(self) -> tuple[float, float, float, float]:
        """Return the least upright rectangle around it: left, foot, right, top."""
        points = [self.start, self.end]
        for across in (complex(self.u.real, self.v.real), complex(self.u.imag, self.v.imag)):
            first = (phase(across) - self.begin) / self.sweep
            step = abs(pi / self.sweep)
            count = ceil(1 / step) + 1
            points += [self.at(t) for k in range(-count, count + 1) if 0 < (t := first % step + k * step) < 1]
        xs, ys = [point.real for point in points], [point.imag for point in points]
        return min(xs), min(ys), max(xs), max(ys)

    def cusps(self) -> list[float]:
        """Return the parameters inside at which the direction is undefined: the ends of an ellipse without width."""
        return inside(self.zeros)

    def bend(self) -> float:
        """Return a bound of the second derivative."""
        return self.sweep**2 * hypot(abs(self.u), abs(self.v))

    def part(self, t0: float, t1: float) -> EllipseArc:
        """Return the piece between two parameters."""
        return EllipseArc(self.centre, self.u, self.v, self.begin + t0 * self.sweep, (t1 - t0) * self.sweep)

    def reversed(self) -> EllipseArc:
        """Return the same line run the other way."""
        return EllipseArc(self.centre, self.u, self.v, self.begin + self.sweep, -self.sweep)

    def mapped(self, affine: Affine) -> EllipseArc:
        """Return the line carried by a map."""
        u, v = affine.direction(self.u), affine.direction(self.v)
        return EllipseArc(affine(self.centre), u, v, self.begin, self.sweep)
