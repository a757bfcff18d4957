"""The graduation of a ruler on the glass: what a scanner makes of millimetres, or of sixteenths of an inch.

All its strokes begin on one line. Which of both they are is told twice, and both must agree: by how far they reach
(every fifth further than those between is a ruler in mm; every second further, and every fourth further still, one in
1/16 in: common practice), and by their pitch at the resolution that the picture states. OIML R 35-1 (2007, from memory)
lets a rule of class I, up to 1 m long, be off by 0.2 mm between any two of its strokes; those of a kitchen drawer are
not classed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from tiler.proof.scan.card import UNLIKE
from tiler.proof.scan.pixels.combs import LEAST_STROKES, Comb, combs_in, stroke_ends
from tiler.proof.scan.pixels.picture import INCH, Floats, Grey

PITCHES = {"mm": 1.0, "in": INCH / 16}

ABOUT = 1.5 * UNLIKE
"""A graduation that differs by more from what the picture states is not told apart from a printed one."""

MADE = 0.2
"""By how much a ruler itself may be off from one stroke to another, mm."""

LEAST_MADE = 0.001
"""No ruler is taken to be better, as a share."""

LONGER = 0.35
"""Strokes of the next rank are longer by this at least, mm."""

BEGIN = 0.8
"""All strokes begin this close to one line, mm: those of squared paper do not."""

TYPICAL = 0.4
"""Of strokes of one rank this quantile tells the length: figures stand beside some and make them longer."""


@dataclass(frozen=True)
class Graduation:
    """What a picture makes of 1 mm along a ruler, by which share that may be otherwise, and the ruler's direction."""

    unit: str
    factor: float
    error: float
    made: float
    along: Floats
    span: float


def graduations(grey: Grey, pixels: Floats) -> Iterator[Graduation]:
    """Yield the graduations in a picture of which so many ``pixels`` make 1 mm by what it states."""
    for comb in combs_in(grey, pixels, tuple(PITCHES.values())):
        unit = _unit(comb, *stroke_ends(grey, pixels, comb))
        if unit is None or abs(comb.pitch / PITCHES[unit] - 1) > ABOUT:
            continue
        factor, error = comb.pitch / PITCHES[unit], comb.error / PITCHES[unit]
        yield Graduation(unit, factor, error, max(LEAST_MADE, MADE / comb.span), comb.track.along, comb.span)


def _unit(comb: Comb, *ends: Floats) -> str | None:
    """Return the unit that the ranks of strokes tell; None where both could be, or neither, or they begin anywhere."""
    begins, lengths = sorted(ends, key=_spread)
    told = np.isfinite(lengths)
    if _spread(begins) > BEGIN or told.sum() < LEAST_STROKES:
        return None
    numbers, lengths = np.rint(comb.numbers[told]).astype(int), lengths[told]

    def typical(every: int, among: int = 1, of: int = 0) -> Floats:
        """Return the length of strokes by their remainder, of those that have one remainder before."""
        chosen = numbers % among == of
        ranks = [lengths[chosen & (numbers % every == one)] for one in range(every) if one % among == of]
        return np.array([np.quantile(one, TYPICAL) if len(one) else 0.0 for one in ranks])

    fifths, halves = typical(5), typical(2)
    even = int(np.argmax(halves))
    quarters = typical(4, 2, even)
    mm = _lead(fifths) > LONGER
    inch = min(_lead(halves), _lead(quarters)) > LONGER
    return None if mm == inch else "mm" if mm else "in"


def _spread(ends: Floats) -> float:
    """Return how far apart ends lie, the outermost left aside."""
    known = ends[np.isfinite(ends)]
    return float(np.ptp(np.quantile(known, (0.1, 0.9)))) if len(known) >= LEAST_STROKES else np.inf


def _lead(lengths: Floats) -> float:
    """Return by how much the longest is longer than the next."""
    first, second = np.sort(lengths)[:-3:-1]
    return float(first - second)
