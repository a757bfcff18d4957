"""The ruler lines of a first page: each a line with a comb of ticks, every tick measured; page mm, y up.

An inch line has its ticks above it or to its right, a centimetre line below or to its left; there is
a tick at every half unit. The scale is the slope of the line of least squares through the
places of all ticks against where they should be.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np

from tiler.proof.scan.pixels.darkness import Coarse
from tiler.proof.scan.pixels.lines import stroke_points
from tiler.proof.scan.pixels.picture import Floats, Grey
from tiler.proof.scan.pixels.plane import mapped
from tiler.proof.scan.pixels.regions import regions_of

INCH = 25.4

LONG, HALF = 2.0, 1.2
"""How long the ticks of whole and half units are."""

WEIGHT = 0.25
"""Of all its lines."""

KINDS = tuple(
    (axis, count, unit, word, sign)
    for unit, word, sign, counts in ((INCH, "in", 1, (4, 6, 8)), (10.0, "cm", -1, (10, 15, 20)))
    for count in counts
    for axis in ("across", "down")
)
"""The lines that a first page may have: axis, how many units, the unit, its word, and on which side its ticks stand."""

LENGTH_OFF, PLACE_OFF = 0.009, 0.8
"""How much a dark region may be longer or shorter than a line, as a share and mm."""

LEAST_TICKS = 0.85
"""Of its ticks so many must be in their places."""

OFF_PLACE = 0.25
"""A tick further from its place is none, mm: a hundredth of the shortest distance between two."""

BLURRED = 1.4
"""From here on a stroke is too blurred for ticks, mm."""


@dataclass(frozen=True)
class Ruler:
    """A ruler line: what it is, and where its ticks lie in the picture, pixels, with the place of each along it."""

    axis: str
    label: str
    nominal: float
    places: Floats
    ticks: Floats
    box: tuple[float, float, float, float]


def ruler_lines(grey: Grey, coarse: Coarse, to_page: Floats, lens: bool = False) -> list[Ruler]:
    """Return the ruler lines whose ticks are there; ``to_page`` maps pixels to the page."""
    regions = regions_of(coarse.ink(), diagonal=True)
    if regions is None:
        return []
    size = regions.end - regions.start
    large = np.maximum(regions.greatest(regions.row) - regions.least(regions.row), regions.greatest(size)) > 60
    shift = (coarse.factor - 1) / 2
    ends = [
        mapped(to_page, np.column_stack([x, regions.row]) * coarse.factor + shift)
        for x in (regions.start - 0.5, regions.end - 0.5)
    ]
    least = np.column_stack([np.minimum(*(regions.least(end[:, index]) for end in ends)) for index in (0, 1)])
    most = np.column_stack([np.maximum(*(regions.greatest(end[:, index]) for end in ends)) for index in (0, 1)])
    from_page = np.linalg.inv(to_page)
    found: dict[tuple[str, str], Ruler] = {}
    for region in np.flatnonzero(large).tolist():
        for ruler in _read(grey, from_page, (least[region], most[region]), lens):
            found.setdefault((ruler.axis, ruler.label), ruler)
    return list(found.values())


def _read(grey: Grey, from_page: Any, corners: tuple[Any, Any], lens: bool) -> Iterator[Ruler]:
    """Yield what a dark region between two corners is, where it is a ruler line."""
    least, most = corners
    for axis, count, unit, word, sign in KINDS:
        along = 0 if axis == "across" else 1
        nominal = count * unit
        long, thick = (most - least)[along] - WEIGHT, (most - least)[1 - along]
        if abs(long - nominal) > (3 if lens else 1) * (LENGTH_OFF * nominal * 0.5 + PLACE_OFF * 0.5):
            continue
        if not 1.0 < thick < (2 if lens else 1.4) * (LONG + WEIGHT + 0.3):
            continue
        base = least[1 - along] + WEIGHT / 2 if sign > 0 else most[1 - along] - WEIGHT / 2
        ruler = _ticks(grey, from_page, along, (least[along] + WEIGHT / 2, base), long, count, unit, sign)
        if ruler is not None:
            places, ticks = ruler
            box = (float(least[0]), float(least[1]), float(most[0]), float(most[1]))
            yield Ruler(axis, f"{count} {word}", nominal, places, ticks, box)


def _ticks(
    grey: Grey,
    from_page: Floats,
    along: int,
    start: tuple[float, float],
    long: float,
    count: int,
    unit: float,
    sign: int,
) -> tuple[Floats, Floats] | None:
    """Return where ticks should be along the line, and where they are in the picture; None where too many lack."""
    places, ticks = [], []
    for number in range(2 * count + 1):
        share = number / (2 * count)
        ends = []
        for off in (0.35, HALF - 0.2):
            point = np.array([start[0] + share * long, start[1] + sign * off])
            ends.append(point if along == 0 else point[::-1])
        from_, to = mapped(from_page, np.array(ends))
        per_mm = float(np.hypot(*(to - from_))) / (HALF - 0.55)
        points = stroke_points(grey, from_, to, 0.9 * per_mm)
        if len(points.at) and np.median(points.width) < BLURRED * per_mm:
            places.append(share * count * unit)
            ticks.append(np.median(points.at, axis=0))
    if len(ticks) < LEAST_TICKS * (2 * count + 1):
        return None
    return np.array(places), np.array(ticks)
