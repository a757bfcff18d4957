"""The closed strip as a ring: where the garment's seams lie on it, and what of the edge lies between them; mm.

Places count along the sewn length from the strip's own end seam, from left to right as the strip is
drawn: with the sewn edge below, right side up, that runs from the wearer's right to the left.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise

from tiler.draft.edge.numbers import Part
from tiler.draft.edge.seam_line import FRONT_AND_BACK, Kind
from tiler.draft.strip.notches import ALIKE, JoinAt, between, join_place, opposite
from tiler.languages.words import Words

Legs = Sequence[tuple[float, float]]
"""What lies between sharp corners: so much strip for so much edge, mm."""

Good = tuple[float, float | None]
"""The tightest and the longest flat length, mm."""


@dataclass(frozen=True)
class Seam:
    """A seam of the garment on the ring; a join may lie there."""

    name: str
    at: float


@dataclass(frozen=True)
class Arc:
    """What the ring has between two of its marks: the part of the edge with its side, and its legs in order.

    ``good`` is its tightest and its longest flat length, mm, the latter None on a straight edge.
    """

    part: str
    side: str
    legs: tuple[tuple[float, float], ...]
    good: Good

    @property
    def strip(self) -> float:
        """Length of the strip, mm."""
        return sum(strip for strip, _ in self.legs)


@dataclass(frozen=True)
class Ring:
    """A closed strip.

    ``arcs`` begin at the own end seam; ``seams`` are where sections may be joined, that end seam first; it ``stays``
    where somebody asked for it or the ends are slanted.  No join comes near the places ``kept_clear``.
    """

    arcs: tuple[Arc, ...]
    seams: tuple[Seam, ...]
    stays: bool
    pointed: bool
    kept_clear: tuple[float, ...]
    front: float | None
    """Where CF lies; None where nobody knows, or there is none."""

    @property
    def loop(self) -> float:
        """The sewn length, mm."""
        return sum(arc.strip for arc in self.arcs)

    @property
    def plain(self) -> bool:
        """Tell whether no garment seam is known but the one at the strip's own ends."""
        return len(self.seams) == 1

    def edge_between(self, start: float, end: float) -> float:
        """Return how much edge the strip between two places is sewn to; places beyond the ring go round again."""
        found = 0.0
        legs = [leg for arc in self.arcs for leg in arc.legs]
        for low, (strip, edge) in zip(accumulate((one for one, _ in legs), initial=0.0), legs, strict=False):
            for turn in (0.0, self.loop):
                shared = min(end, low + strip + turn) - max(start, low + turn)
                found += edge * max(shared, 0.0) / strip
        return found

    def arcs_between(self, start: float, end: float) -> list[tuple[Arc, float]]:
        """Return the arcs that have something of the strip between two places, and which share of each."""
        found = []
        for low, arc in zip(accumulate((one.strip for one in self.arcs), initial=0.0), self.arcs, strict=False):
            shared = sum(
                max(min(end, low + arc.strip + turn) - max(start, low + turn), 0.0) for turn in (0.0, self.loop)
            )
            if shared > 1e-6:
                found.append((arc, shared / arc.strip))
        return found


def ring_of(
    kind: Kind,
    parts: Sequence[Part],
    edges: Sequence[Sequence[float]],
    good: Sequence[Good],
    pointed: bool,
    join_at: JoinAt | None,
) -> Ring:
    """Return the ring of a strip; ``edges`` are the legs of each part on the edge, as ``legs_mm`` are on the strip."""
    legs = [tuple(zip(part.legs_mm, edge, strict=True)) for part, edge in zip(parts, edges, strict=True)]
    stays = pointed or join_at is not None
    if parts[0].listed:
        named = [Words("{name}", name=part.name) for part in parts]
        arcs = tuple(Arc(name, "", one, own) for name, one, own in zip(named, legs, good, strict=True))
        marks_between = [between(one, then) for one, then in pairwise(parts)]
        names = (join_place(kind, join_at, pointed), *marks_between)
    elif kind is Kind.NECKLINE and len(parts) == 2:
        arcs, names = _neckline(legs, good, pointed, join_at)
    elif kind in FRONT_AND_BACK and len(parts) == 2:
        arcs = tuple(Arc(part.name, "", one, own) for part, one, own in zip(parts, legs, good, strict=True))
        names = (join_place(kind, join_at, pointed), opposite(kind, join_at))
    else:
        arcs, names, stays = (Arc("", "", legs[0], good[0]),), (join_place(kind, join_at, pointed),), True
    places = list(accumulate((arc.strip for arc in arcs), initial=0.0))
    marks = list(zip(names, places, strict=False))
    front = next((at for name, at in marks if name == "CF"), None)
    if (
        parts[0].listed
        and names[0] == "CB"
        and all(abs(at + back - places[-1]) < ALIKE for at, back in zip(places, reversed(places), strict=True))
    ):
        front = places[-1] / 2
    clear = [front] if front else []
    clear += [at for low, arc in zip(places, arcs, strict=False) for at in _corners(low, arc)]
    clear += _fronts(names[0], places[-1]) if len(names) == 1 else []
    seams = tuple(Seam(name, at) for name, at in marks if name != "CF" or not at)
    return Ring(arcs, seams, stays, pointed, tuple(clear), front)


def _neckline(
    legs: Sequence[Legs], good: Sequence[Good], pointed: bool, join_at: JoinAt | None
) -> tuple[tuple[Arc, ...], tuple[str, ...]]:
    """Return the four quarters from the end seam on, and the mark at which each begins."""
    # a part's legs begin at its middle
    (front, back), (of_front, of_back) = legs, good
    quarters = (
        (Arc("front", "right", tuple(reversed(front)), of_front), "right shoulder"),
        (Arc("front", "left", tuple(front), of_front), "CF"),
        (Arc("back", "left", tuple(reversed(back)), of_back), "left shoulder"),
        (Arc("back", "right", tuple(back), of_back), "CB"),
    )
    first = 1 if pointed else 0 if join_at is JoinAt.SHOULDER else 3
    turned = quarters[first:] + quarters[:first]
    return tuple(arc for arc, _ in turned), tuple(name for _, name in turned)


def _corners(low: float, arc: Arc) -> list[float]:
    """Return where an arc has sharp corners inside."""
    places = accumulate((strip for strip, _ in arc.legs), initial=low)
    return [at for at, _ in pairwise(places)][1:]


def _fronts(place: str, loop: float) -> list[float]:
    """Return where CF may lie on a strip whose own end seam is all that is known."""
    if place == "CB":
        return [loop / 2]
    # which of both is the front depends on the side
    return [loop / 4, loop * 3 / 4] if place == "side" else []
