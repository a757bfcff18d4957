"""Gauss-Legendre quadrature of a speed, with the number of points chosen beforehand.

The error falls as rho ** (-2 n), where rho belongs to the largest ellipse round the
interval in which the integrand is analytic (Trefethen, "Is Gauss quadrature better
than Clenshaw-Curtis?", SIAM Review 50, 2008).  The speed along a curve stops being
analytic where its complex velocity vanishes, and those places are known in closed
form.  The distances of a point of such an ellipse from the two ends of the interval
add up to (rho + 1 / rho) times half its length.
"""

from __future__ import annotations

from cmath import sqrt
from collections.abc import Iterable, Iterator
from functools import cache
from math import copysign, cos, pi

RULES = tuple((count, rho + 1 / rho) for count in (8, 12, 16, 20, 24, 32, 48) for rho in (10 ** (5.5 / count),))
"""Numbers of points, with the least sum of distances at which the error is about 1e-11 of the length."""

CUSP = 1e-7
"""A velocity that is this share of the usual one, or that vanishes this near to the real axis, is a cusp's."""

NEAR = 1e-10
"""Parameters that are nearer than this are one."""

Node = tuple[float, float, float]
"""A place between 0 and 1, which stands for its mirror image too, its square, and the weight of either."""


def panels(a: float, b: float, zeros: Iterable[complex]) -> Iterator[tuple[float, float, tuple[Node, ...]]]:
    """Cut an interval into parts that a rule can integrate: middle, half length and nodes of each.

    ``zeros`` are the complex places where the integrand is not analytic.
    """
    waiting = [(a, b)]
    while waiting:
        a, b = waiting.pop()
        middle, half = (a + b) / 2, (b - a) / 2
        least, cut = RULES[0][1] * half, middle
        for zero in zeros:
            from_a, from_b = abs(zero - a), abs(zero - b)
            # beyond a cusp at one end the speed is analytic again
            if from_a + from_b < least and from_a > NEAR and from_b > NEAR:
                least = from_a + from_b
                inside = a + NEAR < zero.real < b - NEAR
                cut = zero.real if inside else middle
        for count, sum_of_distances in RULES:
            if least >= sum_of_distances * half:
                yield middle, half, nodes(count)
                break
        else:
            waiting += ((a, cut), (cut, b))


@cache
def nodes(count: int) -> tuple[Node, ...]:
    """Give the positive nodes and their weights on -1 … 1 for an even ``count`` (Newton's rule on the polynomial)."""
    found = []
    for k in range(count // 2):
        x = cos(pi * (k + 0.75) / (count + 0.5))
        for _ in range(6):
            before, value = 1.0, x
            for n in range(2, count + 1):
                before, value = value, ((2 * n - 1) * x * value - (n - 1) * before) / n
            slope = count * (x * value - before) / (x * x - 1)
            x -= value / slope
        found.append((x, x * x, 2 / ((1 - x * x) * slope * slope)))
    return tuple(found)


def roots(c0: complex, c1: complex, c2: complex) -> tuple[complex, ...]:
    """Solve c2 t^2 + c1 t + c0 = 0 without cancellation."""
    root = sqrt(c1 * c1 - 4 * c2 * c0)
    half = -(c1 + (root if (c1.conjugate() * root).real >= 0 else -root)) / 2
    return (*((half / c2,) if c2 else ()), *((c0 / half,) if half else ()))


def real_roots(c0: float, c1: float, c2: float) -> tuple[float, ...]:
    """Solve the same for real coefficients and real solutions."""
    square = c1 * c1 - 4 * c2 * c0
    if square < 0:
        return ()
    half = -(c1 + copysign(square**0.5, c1)) / 2
    return (*((half / c2,) if c2 else ()), *((c0 / half,) if half else ()))


def inside(zeros: tuple[complex, ...]) -> list[float]:
    """Give the real parameters inside 0 … 1 at which a velocity with these zeros vanishes."""
    return sorted({zero.real for zero in zeros if -CUSP <= zero.imag <= CUSP < zero.real < 1 - CUSP})
