"""Bézier curves of degree one to three.

A point of the plane is a complex number x + iy; a parameter runs from 0 to 1.
"""

from __future__ import annotations

from cmath import phase
from dataclasses import dataclass, field
from itertools import pairwise
from math import fsum

from tiler.curves.affine import Affine
from tiler.curves.quadrature import arc_length, inside, real_roots, roots

HANDLE = 1e-5
"""Control points that are nearer to an end than this share of the curve's size lie on it."""

CLEAR = 0.05
"""Control points that are further from an end than this do not, mm."""


@dataclass(frozen=True, slots=True)
class Bezier:
    """A Bézier curve by its two, three or four points: a line, a quadratic or a cubic."""

    points: tuple[complex, ...]
    zeros: tuple[complex, ...] = field(init=False, repr=False, compare=False)
    """The complex parameters at which the velocity vanishes."""
    departure: complex = field(init=False, repr=False, compare=False)
    """A vector along the tangent at the start, also where the velocity is zero."""
    arrival: complex = field(init=False, repr=False, compare=False)
    """The same at the end."""
    _hodograph: tuple[complex, complex, complex] = field(init=False, repr=False, compare=False)
    """The velocity as a polynomial: constant, linear and square coefficient."""

    def __post_init__(self) -> None:
        """Work out what almost every question needs."""
        p = self.points
        if len(p) == 4:
            first, second, third = 3 * (p[1] - p[0]), 3 * (p[2] - p[1]), 3 * (p[3] - p[2])
            hodograph = first, 2 * (second - first), first - 2 * second + third
        elif len(p) == 3:
            first, second = 2 * (p[1] - p[0]), 2 * (p[2] - p[1])
            hodograph = first, second - first, 0j
        else:
            hodograph = p[1] - p[0], 0j, 0j
        departure, arrival = p[1] - p[0], p[-1] - p[-2]
        object.__setattr__(self, "departure", departure if abs(departure) >= CLEAR else self._leaving(p))
        object.__setattr__(self, "arrival", arrival if abs(arrival) >= CLEAR else -self._leaving(p[::-1]))
        object.__setattr__(self, "_hodograph", hodograph)
        object.__setattr__(self, "zeros", () if len(p) == 2 else roots(*hodograph))

    @property
    def start(self) -> complex:
        """Where it begins."""
        return self.points[0]

    @property
    def end(self) -> complex:
        """Where it ends."""
        return self.points[-1]

    @property
    def straight(self) -> bool:
        """Tell whether it is a line."""
        return len(self.points) == 2

    def at(self, t: float) -> complex:
        """Return the point at ``t``."""
        c0, c1, c2 = self._hodograph
        return self.points[0] + ((c2 / 3 * t + c1 / 2) * t + c0) * t

    def velocity(self, t: float) -> complex:
        """Return the first derivative."""
        c0, c1, c2 = self._hodograph
        return (c2 * t + c1) * t + c0

    def acceleration(self, t: float) -> complex:
        """Return the second derivative."""
        _, c1, c2 = self._hodograph
        return 2 * c2 * t + c1

    def length(self) -> float:
        """Return the arc length to 1e-11 of itself."""
        c0, c1, c2 = self._hodograph
        if self.straight:
            return abs(c0)
        return arc_length(lambda t: abs((c2 * t + c1) * t + c0))

    def turning(self) -> float:
        """Return the signed angle through which the direction turns, radians; free of cusps inside."""
        if self.straight:
            return 0.0
        first, last, p = self.departure, self.arrival, self.points
        sides = [_cross(p[1] - p[0], p[2] - p[1]), _cross(last, first)]
        if len(p) == 4:
            sides.append(_cross(p[2] - p[1], p[3] - p[2]))
        if min(sides) < 0 < max(sides):
            # the velocity stays in a triangle without the origin, so it goes the short way round
            return phase(last * first.conjugate())
        c0, c1, c2 = self._hodograph
        # Between two places where the velocity lies along the first direction it turns by half a turn
        # at most, so what it does there is known from a place in the middle.
        along = real_roots(_cross(first, c0), _cross(first, c1), _cross(first, c2))
        stops = [0.0, *sorted(t for t in along if 0 < t < 1), 1.0]
        directions = [first, *(self.velocity(t) for a, b in pairwise(stops) for t in ((a + b) / 2, b))]
        directions[-1] = last
        return fsum(phase(b * a.conjugate()) for a, b in pairwise(directions))

    def _leaving(self, row: tuple[complex, ...]) -> complex:
        # a control point that lies on the end but for rounding says nothing
        least = HANDLE * self.reach()
        return next((point - row[0] for point in row[1:] if abs(point - row[0]) > least), 0j)

    def within(self, size: float) -> bool:
        """Tell whether all its coordinates are numbers, and smaller than ``size``."""
        return all(abs(point.real) < size and abs(point.imag) < size for point in self.points)

    def reach(self) -> float:
        """Return a bound of how far it goes from its start."""
        p = self.points
        if len(p) == 4:
            return max(abs(p[1] - p[0]), abs(p[2] - p[0]), abs(p[3] - p[0]))
        return max(abs(point - p[0]) for point in p)

    def extent(self) -> tuple[float, float, float, float]:
        """Return the least upright rectangle around it: left, foot, right, top."""
        xs, ys = [point.real for point in self.points], [point.imag for point in self.points]
        c0, c1, c2 = self._hodograph
        # it lies in the hull of its points, so it goes beyond its ends only where they do
        if not min(xs[0], xs[-1]) <= min(xs) <= max(xs) <= max(xs[0], xs[-1]):
            turns = real_roots(c0.real, c1.real, c2.real)
            xs = [xs[0], xs[-1], *(self.at(t).real for t in turns if 0 < t < 1)]
        if not min(ys[0], ys[-1]) <= min(ys) <= max(ys) <= max(ys[0], ys[-1]):
            turns = real_roots(c0.imag, c1.imag, c2.imag)
            ys = [ys[0], ys[-1], *(self.at(t).imag for t in turns if 0 < t < 1)]
        return min(xs), min(ys), max(xs), max(ys)

    def cusps(self) -> list[float]:
        """Return the parameters inside at which the direction is undefined."""
        return inside(self.zeros)

    def bend(self) -> float:
        """Return a bound of the second derivative."""
        return max(abs(self.acceleration(0)), abs(self.acceleration(1)))

    def part(self, t0: float, t1: float) -> Bezier:
        """Return the piece between two parameters."""
        return Bezier(_after(tuple(reversed(_after(tuple(reversed(self.points)), 1 - t1))), t0 / t1 if t1 else 0.0))

    def reversed(self) -> Bezier:
        """Return the same line run the other way."""
        return Bezier(self.points[::-1])

    def mapped(self, affine: Affine) -> Bezier:
        """Return the line carried by a map."""
        return Bezier(tuple(affine(point) for point in self.points))


def line(start: complex, end: complex) -> Bezier:
    """Return a straight segment."""
    return Bezier((start, end))


def _cross(a: complex, b: complex) -> float:
    return a.real * b.imag - a.imag * b.real


def _after(points: tuple[complex, ...], t: float) -> tuple[complex, ...]:
    """Return the control points of the part of a Bézier curve after ``t`` (de Casteljau's rule)."""
    row, ends = points, [points[-1]]
    while len(row) > 1:
        row = tuple(a + (b - a) * t for a, b in pairwise(row))
        ends.append(row[-1])
    return tuple(reversed(ends))
