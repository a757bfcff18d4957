"""How long a strip should be: three bounds for every part of the edge, and the advised length between them.

Lengths are millimetres, stretch is a share.  E is a part on the seam line; W is what
the strip must take up in its length there, because its finished edge runs one finished
width inside the seam line (``tiler.turn``); C is the same at a corner where mitred or
lapped ends take it up, half of it on each arm.

- tightest:  E / (1 + 0.6 s): sewing takes 60 % of the stretch s.
- flat:      (E - W - C) / 1.02 + C: the longest that lies flat, its finished edge under
             2 % tension; without meaning on a straight edge.
- by fabric: (E - W / 2 - C) / (1 + a s) + C: where to start.  a is 0.25 for a band, 0.10
             for a binding, 0.05 for a part of a neckline or armhole that turns by less
             than 20 degrees apart from its corners, as the arms of a vee; 0.15 for a band
             that stands up, whose W and C are nothing, and which has no flat bound.
- advised:   by fabric, no shorter than tightest and no longer than flat.

Those of an edge are the sums of its parts'.  Where its tightest is longer than its flat
there is no good length, and flat is advised: a narrower strip or a stretchier fabric
has one.  A model of ours: a and the 2 % were set so that rules of thumb come out
(``tests/draft/test_bounds.py``), so agreement with those is consistency, not proof.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from math import fsum

from tiler.draft.edge.seam_line import EdgeSpec, Kind, Leg, MeasuredPart, SeamLine
from tiler.draft.strip.finish import Finish
from tiler.draft.strip.standing import STARTS_WITH, Standing

MOST_STRETCH_USED = 0.60
TENSION = 0.02
ARM = 0.05
"""Share of the stretch with which a part starts that is all but straight."""

STRAIGHTEST = 20.0
"""A part that turns by less apart from its corners, degrees, is such an arm."""


@dataclass(frozen=True)
class Bounds:
    """The bounds of a part or an edge, mm: ``flat_mm`` is ``None`` on a straight edge."""

    edge_mm: float
    tightest_mm: float
    flat_mm: float | None
    by_fabric_mm: float
    advised_mm: float

    @property
    def good(self) -> bool:
        """Tell whether there is a length that lies flat and leaves the strip enough of its stretch."""
        return self.flat_mm is None or self.flat_mm >= self.tightest_mm - 1e-9

    @property
    def least_stretch(self) -> float:
        """The least stretch that has a good length."""
        return 0.0 if self.flat_mm is None else (self.edge_mm / self.flat_mm - 1) / MOST_STRETCH_USED

    @property
    def decided_by(self) -> str:
        """Say what the advised length is."""
        if self.flat_mm is not None and abs(self.advised_mm - self.flat_mm) < 1e-6:
            return "the longest that lies flat"
        if abs(self.advised_mm - self.tightest_mm) < 1e-6:
            return "the shortest, sewing takes 60 % of the stretch"
        return "where to start with this stretch"


@dataclass(frozen=True)
class Fit:
    """The bounds of an edge, of its parts, and of each part's legs between sharp corners.

    Parts with a ratio of their own make ``stated_mm`` of the strip, and ``rest`` are the bounds of the others, if there
    are others.  ``widest_mm`` is the widest finished width that has a good length: 0 where no width has, ``None``
    without limit.
    """

    whole: Bounds
    rest: Bounds | None
    stated_mm: float
    parts: tuple[Bounds, ...]
    legs: tuple[tuple[Bounds, ...], ...]
    widest_mm: float | None


def bounds(edge: float, taken_up: float, in_corners: float, share: float, stretch: float, *, bends: bool) -> Bounds:
    """Return the bounds for E, W, C, a and s of the module's formulas; ``bends`` is false for a straight edge."""
    tightest = edge / (1 + MOST_STRETCH_USED * stretch)
    flat = (edge - taken_up - in_corners) / (1 + TENSION) + in_corners if bends else None
    by_fabric = (edge - taken_up / 2 - in_corners) / (1 + share * stretch) + in_corners
    advised = max(by_fabric, tightest)
    return Bounds(edge, tightest, flat, by_fabric, advised if flat is None else min(advised, flat))


def summed(parts: Iterable[Bounds], times: int) -> Bounds:
    """Return the bounds of an edge that meets each of these parts ``times`` times."""
    own = list(parts)
    edge, tightest, by_fabric, advised = (
        times * fsum(column)
        for column in zip(
            *((one.edge_mm, one.tightest_mm, one.by_fabric_mm, one.advised_mm) for one in own), strict=True
        )
    )
    flats = [one.flat_mm for one in own if one.flat_mm is not None]
    if not flats:
        return Bounds(edge, tightest, None, by_fabric, max(advised, tightest))
    flat = times * fsum(flats)
    return Bounds(edge, tightest, flat, by_fabric, min(max(advised, tightest), flat))


def fit(
    edge: EdgeSpec,
    line: SeamLine,
    worn: SeamLine,
    finish: Finish,
    width: float,
    stretch: float,
    edge_follows: bool,
    standing: Standing,
    gathered: bool = False,
    is_open: bool = False,
) -> Fit:
    """Return the bounds of a strip with the finished width ``width``.

    ``worn`` is the seam line without the corner that slanted ends take up; the seam line
    of an edge that ``edge_follows`` the width runs further out where the strip is wider.  What elastic has
    ``gathered`` need not lie flat; a straight part of a strip that ``is_open`` starts 1:1.
    """
    straight = edge.kind is Kind.STRAIGHT or edge.straight_leg
    bends, inside = not straight and not standing.stands and not gathered, 0.0 if standing.stands else width

    def share(part: MeasuredPart) -> float:
        smooth = fsum(leg.turn.smooth_deg for leg in part.legs)
        if is_open and (part.listed or straight) and abs(smooth) < STRAIGHTEST:
            return 0.0
        return STARTS_WITH if standing.stands else _share(edge.kind, part, finish)

    def own(part: MeasuredPart, legs: tuple[Leg, ...], rest: tuple[Leg, ...]) -> Bounds:
        taken_up = fsum(leg.turn.change(inside) for leg in rest)
        in_corners = fsum(leg.turn.change(inside) for leg in legs) - taken_up
        length = fsum(leg.length_mm for leg in legs)
        found = bounds(length, taken_up, in_corners, share(part), stretch, bends=bends)
        if bends and part.listed and not any(leg.turn.smooth_deg or leg.turn.corners_deg for leg in legs):
            # a straight part lies flat at its own length
            found = replace(found, flat_mm=length, advised_mm=max(found.by_fabric_mm, found.tightest_mm))
        return found

    pairs = list(zip(line.parts, worn.parts, strict=True))
    parts = tuple(own(part, part.legs, left.legs) for part, left in pairs)
    legs = tuple(
        tuple(own(part, (leg,), (rest,)) for leg, rest in zip(part.legs, left.legs, strict=True))
        for part, left in pairs
    )
    whole = summed(parts, edge.times)
    stated = fsum(part.ratio * part.length_mm for part in line.parts if part.ratio)
    free = [own for part, own in zip(line.parts, parts, strict=True) if not part.ratio]
    rest = summed(free, edge.times) if free else None
    if stated:
        # what the spec says of a part is not ours to change
        whole = replace(whole, advised_mm=stated + (rest.advised_mm if rest else 0.0))
    grows = line.turn.change(width) if edge_follows else 0.0
    return Fit(whole, rest, stated, parts, legs, _widest(whole, whole.edge_mm - grows, width, stretch))


def _share(kind: Kind, part: MeasuredPart, finish: Finish) -> float:
    smooth = fsum(leg.turn.smooth_deg for leg in part.legs)
    is_arm = kind in (Kind.NECKLINE, Kind.ARMHOLE) and abs(smooth) < STRAIGHTEST
    return ARM if is_arm else finish.making.starts_with


def _widest(whole: Bounds, narrow_edge: float, width: float, stretch: float) -> float | None:
    """Return the width at which flat meets tightest; their difference is linear in the width."""
    if whole.flat_mm is None:
        return None
    narrow = narrow_edge * (1 / (1 + TENSION) - 1 / (1 + MOST_STRETCH_USED * stretch))
    lost = narrow - (whole.flat_mm - whole.tightest_mm)
    if narrow <= 0:
        return 0.0
    return width * narrow / lost if lost > 1e-9 else None
