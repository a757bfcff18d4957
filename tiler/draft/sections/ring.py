"""The strip as a ring: where the garment's seams lie on it, and what of the edge lies between them; mm.

Places count along the sewn length from the strip's own end seam, from left to right as the strip is
drawn: with the sewn edge below, right side up, that runs from the wearer's right to the left.  A strip that is open
is a ring that nobody closes: it has its own two ends instead of that seam, and its free lengths count as edge, 1:1.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import accumulate, pairwise

from tiler.draft.edge.numbers import Part
from tiler.draft.edge.seam_line import FRONT_AND_BACK, Kind
from tiler.draft.fastening.running_on import LEAVES, NOWHERE, RunsOn
from tiler.draft.sections.names import EDGE, FREE
from tiler.draft.strip.notches import ALIKE, CB, JoinAt, between, join_place, opposite
from tiler.languages.words import Words

Legs = Sequence[tuple[float, float]]
"""What lies between sharp corners: so much strip for so much edge, mm."""

Good = tuple[float, float | None]
"""The tightest and the longest flat length, mm."""

HALF = "half"
"""The side of an arc that is half of its part, whichever."""


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
    """A strip.

    ``arcs`` begin at the own end seam; ``seams`` are where sections may be joined, that end seam first; it ``stays``
    where somebody asked for it or the ends are slanted.  No join comes near the places ``kept_clear``.  The two
    ``ends`` of a strip that is open are called so.
    """

    arcs: tuple[Arc, ...]
    seams: tuple[Seam, ...]
    stays: bool
    pointed: bool
    kept_clear: tuple[float, ...]
    front: float | None
    """Where CF lies; None where nobody knows, or there is none."""
    ends: str = ""
    holes: tuple[tuple[float, float], ...] = ()
    """From where to where there are buttonholes; no join comes near these either."""

    @property
    def own_ends(self) -> bool:
        """Tell whether the strip's own ends are others than its joins."""
        return self.pointed or bool(self.ends)

    @property
    def loop(self) -> float:
        """The sewn length, mm."""
        return sum(arc.strip for arc in self.arcs)

    @property
    def plain(self) -> bool:
        """Tell whether no garment seam is known but the one at the strip's own ends."""
        return len(self.seams) == 1

    def clear_of(self, holes: Sequence[tuple[float, float]]) -> Ring:
        """Return the ring whose joins keep off what lies between these places."""
        # where the strip itself ends is no matter of joins
        seams = [seam for seam in self.seams if not seam.at or not any(low < seam.at < high for low, high in holes)]
        return replace(self, seams=tuple(seams), holes=tuple(holes))

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
    ends: str = "",
    runs_on: RunsOn = NOWHERE,
) -> Ring:
    """Return the ring of a strip; ``edges`` are the legs of each part on the edge, as ``legs_mm`` are on the strip.

    One that is open has ``ends`` that are called so, and free lengths where it ``runs_on``.
    """
    legs = [tuple(zip(part.legs_mm, edge, strict=True)) for part, edge in zip(parts, edges, strict=True)]
    stays = pointed or bool(ends) or join_at is not None
    # one that is open begins at CF, if anywhere
    place = "" if ends else join_place(kind, join_at, pointed)
    if parts[0].listed:
        named = [Words("{name}", name=part.name) for part in parts]
        arcs = tuple(Arc(name, "", one, own) for name, one, own in zip(named, legs, good, strict=True))
        marks_between = [between(one, then) for one, then in pairwise(parts)]
        names = (place, *marks_between)
    elif kind is Kind.NECKLINE and len(parts) == 2:
        arcs, names = _neckline(legs, good, pointed or bool(ends), join_at)
    elif kind in FRONT_AND_BACK and len(parts) == 2:
        arcs = tuple(Arc(part.name, "", one, own) for part, one, own in zip(parts, legs, good, strict=True))
        names = (place, opposite(kind, join_at))
    else:
        arcs, names, stays = (Arc("", "", legs[0], good[0]),), (place,), True
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
    found = Ring(arcs, seams, stays, pointed, tuple(clear), front)
    return _open(found, ends, runs_on, kind is not Kind.STRAIGHT and parts[0].listed) if ends else found


def _open(ring: Ring, ends: str, runs_on: RunsOn, behind: bool) -> Ring:
    """Return a ring with two ends; parts that are mirrored have CB in their middle where that lies ``behind``."""
    places = list(accumulate((arc.strip for arc in ring.arcs), initial=0.0))
    middle = places[-1] / 2
    mirrored = all(abs(at + back - 2 * middle) < ALIKE for at, back in zip(places, reversed(places), strict=True))
    seams = [Seam("", 0.0), *ring.seams[1:]]
    arcs = [replace(arc, part=arc.part or EDGE) for arc in ring.arcs] if runs_on.there else list(ring.arcs)
    if behind and mirrored and all(abs(at - middle) > ALIKE for at in places):
        index = next(index for index, at in enumerate(places[1:]) if at > middle)
        arcs[index : index + 1] = _halves(arcs[index], middle - places[index])
        seams = sorted([*seams, Seam(CB, middle)], key=lambda seam: seam.at)
    before, after = runs_on.before_mm, runs_on.after_mm
    seams = [Seam("", 0.0), *(replace(seam, at=seam.at + before) for seam in seams[1:])]
    if before:
        arcs.insert(0, Arc(FREE, "", ((before, before),), (before, before)))
        seams.insert(1, Seam(LEAVES, before))
    if after:
        arcs.append(Arc(FREE, "", ((after, after),), (after, after)))
        seams.append(Seam(LEAVES, before + 2 * middle))
    return replace(
        ring,
        arcs=tuple(arcs),
        seams=tuple(seams),
        kept_clear=tuple(at + before for at in ring.kept_clear),
        front=0.0 if mirrored and runs_on.alike else None,
        ends=ends,
    )


def _halves(arc: Arc, at: float) -> list[Arc]:
    """Return both sides of a place within an arc, which is its middle."""
    first: list[tuple[float, float]] = []
    second: list[tuple[float, float]] = []
    low = 0.0
    for strip, edge in arc.legs:
        share = min(max((at - low) / strip, 0.0), 1.0)
        first += [(strip * share, edge * share)] if share else []
        second += [(strip * (1 - share), edge * (1 - share))] if share < 1 else []
        low += strip
    tightest, longest = arc.good
    good = (tightest / 2, longest and longest / 2)
    return [Arc(arc.part, HALF, tuple(legs), good) for legs in (first, second)]


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
