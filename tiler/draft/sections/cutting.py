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

from tiler.draft.sections.marks import Join, Joins, Marks, buttons_along, notches_along
from tiler.draft.sections.names import BOTH_SHOULDERS, FREE, JOIN, SHOULDERS, joined_end, pointed_end, section_name
from tiler.draft.sections.plan import NOISE, Ends, Span
from tiler.draft.sections.ring import Ring
from tiler.draft.sections.section import Section
from tiler.draft.sections.stretch import part_of
from tiler.draft.strip.corner import Corner, StripEnd
from tiler.draft.strip.finish import Cut
from tiler.draft.strip.notch import Notch


@dataclass(frozen=True)
class _Cut:
    """A section as the plan has it: its ends, its joins, and its other notches, from the start of its sewn length."""

    span: Span
    part: str
    edge: float
    ends: tuple[StripEnd, StripEnd]
    joins: tuple[Join, Join]
    notches: tuple[Notch, ...]
    buttons: tuple[float, ...] = ()
    """Their centres, from the start of its sewn length."""

    def key(self, mirrored: bool = False) -> tuple[object, ...]:
        """Return what it looks like, or its mirror image does, whatever its side."""
        sewn, way = self.span.sewn, -1 if mirrored else 1
        marks = [(sewn - one.at_mm if mirrored else one.at_mm, one.name, one.double) for one in self.notches]
        marks += [(sewn - at if mirrored else at, "", False) for at in self.buttons]
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


def cut_sections(ring: Ring, plan: Sequence[Span], ends: Ends, marks: Marks, cut: Cut) -> tuple[Section, ...]:
    """Return the sections of a plan, the front's first."""
    at = {seam.name for span in plan for seam in span.whole}
    joins = Joins(ring, bool(marks.own), set(BOTH_SHOULDERS) <= at and "CB" not in at)
    cuts = [
        _Cut(
            span,
            part_of(ring, span, either=True),
            ring.edge_between(span.start, span.end),
            ends.of(ring, span.start, span.end),
            (joins.of(span, span.start), joins.of(span, span.end)),
            notches_along(ring, span, marks),
            buttons_along(span, marks.buttons),
        )
        for span in plan
    ]
    groups = _groups(cuts, marks.on_bias)
    either = len(groups) < len(cuts) or (cut is Cut.ON_FOLD and all(one.symmetric for one in cuts))
    kept = groups if either else [[one] for one in cuts]
    found = [_section(ring, group, either, cut, marks) for group in kept]
    if ring.ends:
        # as they follow each other along the edge
        return tuple(found)
    return tuple(sorted(found, key=lambda section: not section.name.startswith("front")))


def _groups(cuts: Sequence[_Cut], one_way: bool) -> list[list[_Cut]]:
    """Return what is alike together, and mirror images where both are as many; else each alone.

    Sections whose ends slant in ``one_way`` have no mirror images.
    """
    keys = Counter(one.key() for one in cuts)
    if one_way:
        return [[one for one in cuts if one.key() == key] for key in keys]
    if keys != Counter(one.key(mirrored=True) for one in cuts):
        return [[one] for one in cuts]
    found: dict[frozenset[tuple[object, ...]], list[_Cut]] = {}
    for one in cuts:
        found.setdefault(frozenset((one.key(), one.key(mirrored=True))), []).append(one)
    return list(found.values())


def _section(ring: Ring, group: Sequence[_Cut], either: bool, cut: Cut, along: Marks) -> Section:
    one = group[0]
    span = one.span
    on_fold = cut is Cut.ON_FOLD and one.symmetric and either
    left, right = one.ends
    sewn = span.sewn
    joins = [join.either if either else join.mark for join in one.joins]
    start = -sewn / 2 if on_fold else left.longest
    ends = [replace(joins[0], at_mm=0.0), replace(joins[1], at_mm=sewn)]
    if along.on_bias:
        ends = [
            replace(mark, at_mm=mark.at_mm + way * end.mark_beyond, on_end=way)
            for mark, end, way in zip(ends, (left, right), (-1, 1), strict=True)
        ]
    marks = [mark for mark in (*one.notches, *ends) if mark.name]
    notches = sorted((replace(mark, at_mm=start + mark.at_mm) for mark in marks), key=lambda mark: mark.at_mm)
    if on_fold:
        # what lies on the fold is a single snip there
        notches = [mark if mark.at_mm > NOISE else Notch(mark.name, 0.0) for mark in notches if mark.at_mm > -NOISE]
    seams = [SHOULDERS if either and join.seam in BOTH_SHOULDERS else join.seam for join in one.joins]
    part = part_of(ring, span, either and not one.symmetric)
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
        pair=len(group) > 1 and not one.symmetric and not along.on_bias,
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
        free=any(arc.part == FREE for arc, _ in ring.arcs_between(span.start, span.end)),
        buttons=replace(along.buttons, at_mm=one.buttons) if along.buttons and one.buttons else None,
    )


def _words(join: Notch, end: StripEnd, ring: Ring, seam: str) -> str:
    """Name the end of a section."""
    if not join.name:
        return ring.ends
    if end.style is not Corner.NONE:
        return pointed_end(end.style is Corner.LAPPED, ring.seams[0].name)
    return joined_end(join.name) if seam and join.name != JOIN else join.name
