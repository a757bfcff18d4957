"""A plan becomes sections: their names and ends, their notches, which are alike, which lie on a fold; mm.

Sections that are alike, or the mirror images of each other, are one that is cut so often. Its shoulder is
either of both then; where nothing is alike each join has its own name, and a double notch where the
other end of the section has a single one.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import fsum

from tiler.draft.sections.names import (
    BOTH_SHOULDERS,
    END_SEAM,
    JOIN,
    MIDDLE,
    SHOULDERS,
    as_words,
    join_name,
    joined_end,
    pointed_end,
    section_name,
)
from tiler.draft.sections.plan import NOISE, Ends, Span
from tiler.draft.sections.ring import Ring
from tiler.draft.sections.section import Section
from tiler.draft.strip.corner import Corner, StripEnd
from tiler.draft.strip.finish import Cut
from tiler.draft.strip.notch import Notch
from tiler.draft.strip.notches import POINT
from tiler.languages.words import Words
from tiler.sentence import joined

DOUBLE = ("CB", "underarm")
"""The seams of a garment that have a double notch."""

SIDES = ("right ", "left ")
"""Begin the name of what there is on either side of the wearer."""


@dataclass(frozen=True)
class _Join:
    """A join at an end of a section: its mark, and what it is called where its side does not matter."""

    mark: Notch
    either: Notch
    seam: str = ""
    """The seam of the garment that it lies at."""


@dataclass(frozen=True)
class _Cut:
    """A section as the plan has it: its ends, its joins, and its other notches, from the start of its sewn length."""

    span: Span
    part: str
    edge: float
    ends: tuple[StripEnd, StripEnd]
    joins: tuple[_Join, _Join]
    notches: tuple[Notch, ...]

    def key(self, mirrored: bool = False) -> tuple[object, ...]:
        """Return what it looks like, or its mirror image does, whatever its side."""
        sewn, way = self.span.sewn, -1 if mirrored else 1
        marks = [(sewn - one.at_mm if mirrored else one.at_mm, one.name, one.double) for one in self.notches]
        return (
            self.part,
            round(sewn, 2),
            round(self.edge, 2),
            self.ends[::way],
            tuple((join.either.name, join.either.double) for join in self.joins[::way]),
            tuple(sorted((round(at, 2), *more) for at, *more in marks)),
        )

    @property
    def symmetric(self) -> bool:
        """Tell whether it is its own mirror image."""
        return self.key() == self.key(mirrored=True)


@dataclass(frozen=True)
class Marks:
    """What notches a whole strip has along its sewn length: its own, and those that the spec adds.

    Without own ones, since nothing of the edge has a place on the garment, every section gets its middle.
    """

    own: tuple[Notch, ...]
    added: tuple[Notch, ...]


def cut_sections(ring: Ring, plan: Sequence[Span], ends: Ends, marks: Marks, cut: Cut) -> tuple[Section, ...]:
    """Return the sections of a plan, the front's first."""
    at = {seam.name for span in plan for seam in span.whole}
    joins = _Joins(ring, bool(marks.own), set(BOTH_SHOULDERS) <= at and "CB" not in at)
    cuts = [
        _Cut(
            span,
            _part(ring, span, either=True),
            ring.edge_between(span.start, span.end),
            (ends.at(ring, span.start), ends.at(ring, span.end)),
            (joins.of(span, span.start), joins.of(span, span.end)),
            _notches(ring, span, marks),
        )
        for span in plan
    ]
    groups = _groups(cuts)
    either = len(groups) < len(cuts) or (cut is Cut.ON_FOLD and all(one.symmetric for one in cuts))
    kept = groups if either else [[one] for one in cuts]
    found = [_section(ring, group, either, cut) for group in kept]
    return tuple(sorted(found, key=lambda section: not section.name.startswith("front")))


def _groups(cuts: Sequence[_Cut]) -> list[list[_Cut]]:
    """Return what is alike together, and mirror images where both are as many; else each alone."""
    keys = Counter(one.key() for one in cuts)
    if keys != Counter(one.key(mirrored=True) for one in cuts):
        return [[one] for one in cuts]
    found: dict[frozenset[tuple[object, ...]], list[_Cut]] = {}
    for one in cuts:
        found.setdefault(frozenset((one.key(), one.key(mirrored=True))), []).append(one)
    return list(found.values())


@dataclass(frozen=True)
class _Joins:
    """How the joins of a ring are marked: whether it is ``marked`` besides, and its shoulders ``told_apart``."""

    ring: Ring
    marked: bool
    told_apart: bool

    def of(self, span: Span, place: float) -> _Join:
        """Return the join at an end of a span: at a garment seam, or within the stretch between two."""
        seam = next((seam for seam in span.whole if abs(seam.at - place) < NOISE), None)
        number = span.index - 1 if place == span.start else span.index
        if seam is None:
            # alike from both sides, and unlike the mark of the seam
            double = min(number, span.count - number) % 2 == (0 if self.ring.plain else 1)
            odd = number % 2 == (0 if self.ring.plain else 1)
            mark = Notch(join_name(_part(self.ring, span, either=False), number), 0.0, odd)
            return _Join(mark, Notch(join_name(_part(self.ring, span, either=True)), 0.0, double and self.marked))
        if self.ring.pointed and seam.at % self.ring.loop < NOISE:
            return _Join(Notch(POINT, 0.0), Notch(POINT, 0.0))
        mark = Notch(as_words(seam.name) if seam.name else END_SEAM, 0.0, self._double(seam.name))
        if self.ring.plain and not self.marked:
            return _Join(mark, Notch(JOIN, 0.0), seam.name)
        either = replace(mark, name=as_words(_either(mark.name)), double=mark.double and seam.name in DOUBLE)
        return _Join(mark, either, seam.name)

    def _double(self, name: str) -> bool:
        return name in DOUBLE or (self.told_apart and name == "left shoulder")


def _either(name: str) -> str:
    """Return a name without its side; one that the spec gives stays."""
    if isinstance(name, Words) and name.fields:
        return name
    return next((name.removeprefix(side) for side in SIDES if name.startswith(side)), name)


def _notches(ring: Ring, span: Span, marks: Marks) -> tuple[Notch, ...]:
    """Return the notches inside a section; of one without a place on the garment its middle."""
    own = marks.own
    if not own:
        own = (Notch(MIDDLE, (span.start + span.sewn / 2) % ring.loop),)
    found = []
    for notch in own:
        for at in (notch.at_mm - span.start, notch.at_mm + ring.loop - span.start):
            if NOISE < at < span.sewn - NOISE:
                found.append(replace(notch, at_mm=at))
    for notch in marks.added:
        # what lies in the allowance of the strip's own end stays beside it
        at = notch.at_mm - span.start
        at += ring.loop if at < -NOISE and span.end > ring.loop + NOISE else 0.0
        first, last = span.start < NOISE and at < 0, abs(span.end - ring.loop) < NOISE and at > span.sewn
        if -NOISE <= at <= span.sewn or first or last:
            found.append(replace(notch, at_mm=at))
    # what lies at the end seam of the strip in one lies at both of its ends
    return tuple({(round(notch.at_mm, 4), notch.name): notch for notch in found}.values())


def _section(ring: Ring, group: Sequence[_Cut], either: bool, cut: Cut) -> Section:
    one = group[0]
    span = one.span
    on_fold = cut is Cut.ON_FOLD and one.symmetric and either
    left, right = one.ends
    sewn = span.sewn
    joins = [join.either if either else join.mark for join in one.joins]
    marks = [replace(joins[0], at_mm=0.0), *one.notches, replace(joins[1], at_mm=sewn)]
    start = -sewn / 2 if on_fold else left.longest
    notches = sorted((replace(mark, at_mm=start + mark.at_mm) for mark in marks), key=lambda mark: mark.at_mm)
    if on_fold:
        # what lies on the fold is a single snip there
        notches = [mark if mark.at_mm > NOISE else Notch(mark.name, 0.0) for mark in notches if mark.at_mm > -NOISE]
    seams = [SHOULDERS if either and join.seam in BOTH_SHOULDERS else join.seam for join in one.joins]
    part = _part(ring, span, either and not one.symmetric)
    # of a mirror image beyond another seam the number is another
    numbers = tuple(sorted({other.span.index for other in group if other.span.whole == span.whole}))
    good = [(arc.good, share) for arc, share in ring.arcs_between(span.start, span.end)]
    flat = [longest * share for (_, longest), share in good if longest is not None]
    full = sewn + left.longest + right.longest
    return Section(
        name=section_name(part, span.count, numbers),
        part=part,
        numbers=numbers,
        shares=span.count,
        cut=Cut.ON_FOLD if on_fold else Cut.FULL_LOOP,
        count=len(group),
        pair=len(group) > 1 and not one.symmetric,
        sewn_mm=sewn,
        edge_mm=one.edge,
        tightest_mm=fsum(tightest * share for (tightest, _), share in good),
        flat_mm=fsum(flat) if flat else None,
        cut_length_mm=full / 2 if on_fold else full,
        left=left,
        right=right,
        joins=(_words(joins[0], left, ring, seams[0]), _words(joins[1], right, ring, seams[1])),
        seams=(seams[0], seams[1]),
        notches=tuple(notches),
    )


def _words(join: Notch, end: StripEnd, ring: Ring, seam: str) -> str:
    """Name the end of a section."""
    if end.style is not Corner.NONE:
        return pointed_end(end.style is Corner.LAPPED, ring.seams[0].name)
    return joined_end(join.name) if seam and join.name != JOIN else join.name


def _part(ring: Ring, span: Span, either: bool) -> str:
    """Return what a stretch between two garment seams is called: "front", "front and left back"; all round nothing."""
    if abs(span.whole[1].at - span.whole[0].at - ring.loop) < NOISE:
        return ""
    sides: dict[str, list[str]] = {}
    for arc, _ in ring.arcs_between(span.whole[0].at, span.whole[1].at):
        sides.setdefault(arc.part, []).append(arc.side)
    single = {part: one[0] for part, one in sides.items() if len(one) == 1 and one[0]}
    if len(single) == 2:
        side = next(iter(single.values()))
        return "half" if either else f"{side} half"
    whole = [part for part in sides if part not in single]
    half = [part if either else f"{side} {part}" for part, side in single.items()]
    names = [*whole, *half]
    if len(names) > 1 and any(isinstance(name, Words) for name in names):
        return Words("{most} and {last}", most=joined(", ", names[:-1]), last=names[-1])
    return names[0] if len(names) == 1 else " and ".join(names)
