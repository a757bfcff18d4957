"""Where a strip that is too long for its cloth is joined: at garment seams, at as few as can be; mm.

Of all choices of garment seams whose sections fit the cloth the one with fewest joins is taken; of these
one that is the same on both sides of CF, and then the one whose longest section is shortest. A stretch in
which no garment seam is left, and that is too long even so, is cut in equal parts. Where the spec chooses the
seams, the joins lie at these and nowhere else, or at equal distances.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations, pairwise

from tiler.draft.sections.names import BOTH_SHOULDERS
from tiler.draft.sections.ring import Ring, Seam
from tiler.draft.strip.corner import StripEnd
from tiler.draft.strip.notches import SectionAt
from tiler.errors import SpecError
from tiler.lengths import both
from tiler.sentence import Key, Place, Sentence

MOST_SECTIONS = 40
"""A strip in more is taken for a mistake in the width of the cloth."""

NOISE = 1e-6


@dataclass(frozen=True)
class Span:
    """What a section has of the ring: from ``start`` to ``end``, which may lie beyond its beginning.

    It is part ``index`` of ``count`` equal ones of the stretch between two garment seams, ``whole``.
    """

    start: float
    end: float
    index: int
    count: int
    whole: tuple[Seam, Seam]

    @property
    def sewn(self) -> float:
        """The sewn length, mm."""
        return self.end - self.start


@dataclass(frozen=True)
class Ends:
    """What the ends of sections add: at a join, and where the strip has ends of its own.

    Left ends are as the right ones, ``join`` and ``own``, unless they are given.
    """

    join: StripEnd
    own: StripEnd
    join_left: StripEnd | None = None
    own_left: StripEnd | None = None

    def of(self, ring: Ring, start: float, end: float) -> tuple[StripEnd, StripEnd]:
        """Return the left and the right end of a section."""
        own_left, own_right = (
            ring.own_ends and min(place % ring.loop, -place % ring.loop) < NOISE for place in (start, end)
        )
        left = (self.own_left or self.own) if own_left else (self.join_left or self.join)
        return left, self.own if own_right else self.join

    def cut(self, ring: Ring, start: float, end: float) -> float:
        """Return the whole cut length of a section, mm."""
        return end - start + sum(one.longest for one in self.of(ring, start, end))

    def fit(self, ring: Ring, start: float, end: float) -> bool:
        """Tell whether slanted ends leave a section that can be joined at its shortest height."""
        depth = max(one.depth for one in self.of(ring, start, end))
        return self.cut(ring, start, end) - depth >= 2 * self.join.longest - NOISE


def planned(
    ring: Ring,
    ends: Ends,
    cloth: float,
    strip_width: float,
    where: Place,
    units: str,
    asked: SectionAt | None = None,
    most: float | None = None,
) -> tuple[Span, ...]:
    """Return the sections of a strip, none where it fits the cloth; ``where`` is the piece in the spec.

    They are joined where somebody ``asked`` for it, and ``most`` long, without it as long as the cloth is wide.
    Raises :class:`SpecError` for cloth that is too narrow for sensible sections, or for those.
    """
    width, cloth = cloth, cloth if most is None else most
    whole = ring.loop + ends.own.longest + (ends.own_left or ends.own).longest
    if whole <= cloth + NOISE:
        return ()
    if cloth < strip_width - NOISE:
        raise SpecError(
            f"cloth of {both(cloth, units)} width is narrower than the strip, which is cut {both(strip_width, units)} "
            "wide; check the width and its unit, or take wider cloth",
            where.at("fabric"),
        )
    if asked and (plan := _as_asked(ring, asked, ends, cloth)):
        return plan
    plans = _plans(ring, ends, cloth)
    if asked and asked is not SectionAt.EVEN and (ways := _ways_out(ring, asked, ends, cloth, bool(plans))):
        longest = max(ends.cut(ring, *pair) for pair in _stretches(ring, asked))
        raise SpecError(
            Sentence(
                f'"{asked}" leaves a section of {both(longest, units)}, longer than the cloth, which is '
                f"{both(cloth, units)} wide; ",
                *ways,
            ),
            where.at("section"),
        )
    if not plans and ring.pointed and _plans(ring, Ends(ends.join, ends.join), cloth):
        raise SpecError(
            f"slanted ends do not fit on sections of {both(cloth, units)}, the width of the cloth; "
            "take wider cloth or a narrower strip",
            where.at("corner"),
        )
    if not plans:
        raise SpecError(
            f"cloth of {both(width, units)} width would need the strip in more than {MOST_SECTIONS} sections; "
            "check the width and its unit",
            where.at("fabric"),
        )
    return min(plans, key=lambda plan: (len(plan), not _alike(ring, plan), round(max(one.sewn for one in plan), 6)))


def _seams(ring: Ring, asked: SectionAt) -> tuple[Seam, ...]:
    """Return the seams that are asked for; the strip's own end seam too where it stays, or one alone is no joint."""
    if asked is SectionAt.EVEN or len(ring.seams) <= 2:
        return ring.seams
    named = BOTH_SHOULDERS if asked is SectionAt.SHOULDERS else ("CB",)
    return tuple(seam for seam in ring.seams if seam.name in named or (ring.stays and seam is ring.seams[0]))


def _stretches(ring: Ring, asked: SectionAt) -> list[tuple[float, float]]:
    """Return where the sections that are asked for begin and end; at equal distances as if they were one."""
    places = [seam.at for seam in _seams(ring, asked)]
    if asked is SectionAt.SIDES and ring.plain:
        places.append(ring.loop / 2)
    return list(pairwise((*places, places[0] + ring.loop)))


def _as_asked(ring: Ring, asked: SectionAt, ends: Ends, cloth: float) -> tuple[Span, ...]:
    most = MOST_SECTIONS if asked is SectionAt.EVEN else 2 if ring.plain else 1
    return _divided(ring, _seams(ring, asked), ends, cloth, most)


def _ways_out(ring: Ring, asked: SectionAt, ends: Ends, cloth: float, by_itself: bool) -> list[str | Key]:
    """Return what to write instead of what was asked for: what fits the cloth, or nothing where that does."""
    others = (SectionAt.SHOULDERS, SectionAt.CB) if len(ring.seams) > 2 else ()
    evenly = replace(ring, seams=ring.seams[:1])
    can = [f'"{one}"' for one in others if one is not asked and _as_asked(ring, one, ends, cloth)]
    can += [f'"{SectionAt.EVEN}"'] if _as_asked(evenly, SectionAt.EVEN, ends, cloth) else []
    ways: list[str | Key] = [f"write {' or '.join(can)}"] if can else []
    if by_itself:
        ways += [", or leave " if can else "leave ", Key("section"), " out"]
    return ways


def _plans(ring: Ring, ends: Ends, cloth: float) -> list[tuple[Span, ...]]:
    return [plan for seams in _choices(ring) if (plan := _divided(ring, seams, ends, cloth))]


def _choices(ring: Ring) -> Iterator[tuple[Seam, ...]]:
    """Yield every choice of seams to join at, in their order on the ring."""
    for count in range(1, len(ring.seams) + 1):
        for seams in combinations(ring.seams, count):
            if ring.seams[0] in seams or not ring.stays:
                yield seams


def _divided(
    ring: Ring, seams: Sequence[Seam], ends: Ends, cloth: float, most: int = MOST_SECTIONS
) -> tuple[Span, ...]:
    """Return the sections between these seams, in equal parts where they must be; nothing where that cannot be."""
    found: list[Span] = []
    again = Seam(seams[0].name, seams[0].at + ring.loop)
    for left, right in pairwise((*seams, again)):
        unused = any(left.at < seam.at + turn < right.at for seam in ring.seams for turn in (0.0, ring.loop))
        parts = _parts(ring, (left, right), ends, cloth, 1 if unused else most)
        if not parts:
            return ()
        found += parts
    return tuple(found) if len(found) <= MOST_SECTIONS else ()


def _parts(ring: Ring, whole: tuple[Seam, Seam], ends: Ends, cloth: float, most: int) -> list[Span]:
    """Return a stretch in as few equal parts as fit the cloth and meet off the places that are kept clear."""
    start, end = whole[0].at, whole[1].at
    clear = [at + turn for at in ring.kept_clear for turn in (0.0, ring.loop)]
    for count in range(1, most + 1):
        places = [start + (end - start) * index / count for index in range(count + 1)]
        reach = ends.join.longest
        near = any(abs(at - place) < reach for place in places[1:-1] for at in clear)
        near |= any(low - reach < place < high + reach for place in places[1:-1] for low, high in ring.holes)
        if not near and all(
            ends.cut(ring, *pair) <= cloth + NOISE and ends.fit(ring, *pair) for pair in pairwise(places)
        ):
            return [Span(*pair, index, count, whole) for index, pair in enumerate(pairwise(places), 1)]
    return []


def _alike(ring: Ring, plan: Sequence[Span]) -> bool:
    """Tell whether both sides of CF are joined alike; where nobody knows CF they are."""
    if ring.front is None:
        return True
    joins = [span.start % ring.loop for span in plan]
    mirrored = [(2 * ring.front - at) % ring.loop for at in joins]
    return all(any(min((a - b) % ring.loop, (b - a) % ring.loop) < NOISE for b in joins) for a in mirrored)
