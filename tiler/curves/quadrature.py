"""The integral of a speed by Gauss and Legendre's rule, and the zeros of a velocity.

The interval is halved until the rule of eight points says of both halves what it says of the whole
(weights and places: Abramowitz and Stegun, Handbook of Mathematical Functions, table 25.4); the sum of
the halves is then far more exact than that.
"""

from __future__ import annotations

from cmath import sqrt
from collections.abc import Callable
from math import copysign

CUSP = 1e-7
"""A velocity that is this share of the usual one, or that vanishes this near to the real axis, is a cusp's."""

EXACT = 1e-11
"""The share of the whole length by which halving may still change a part of it."""

DEEPEST = 40
"""How often an interval is halved."""

RULE = (
    (0.183434642495649805, 0.362683783378361983),
    (0.525532409916328986, 0.313706645877887287),
    (0.796666477413626740, 0.222381034453374471),
    (0.960289856497536232, 0.101228536290376259),
)
"""Places between 0 and 1, each of which stands for its mirror image too, and the weight of either."""


def arc_length(speed: Callable[[float], float], a: float = 0.0, b: float = 1.0) -> float:
    """Return the length of a line with this speed between two parameters, to 1e-11 of itself."""
    whole = _rule(speed, a, b)
    return _halved(speed, a, b, whole, EXACT * whole, DEEPEST)


def _rule(speed: Callable[[float], float], a: float, b: float) -> float:
    middle, half = (a + b) / 2, (b - a) / 2
    return half * sum(weight * (speed(middle - half * x) + speed(middle + half * x)) for x, weight in RULE)


def _halved(speed: Callable[[float], float], a: float, b: float, whole: float, error: float, depth: int) -> float:
    middle = (a + b) / 2
    left, right = _rule(speed, a, middle), _rule(speed, middle, b)
    if not abs(left + right - whole) > error or not depth:
        return left + right
    return _halved(speed, a, middle, left, error, depth - 1) + _halved(speed, middle, b, right, error, depth - 1)


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
    """Return the real parameters inside 0 … 1 at which a velocity with these zeros vanishes."""
    return sorted({zero.real for zero in zeros if -CUSP <= zero.imag <= CUSP < zero.real < 1 - CUSP})
