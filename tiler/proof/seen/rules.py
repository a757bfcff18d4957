"""Ruler lines: a base line with ticks on it, measured and compared; mm."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import dist, hypot

from tiler.box import Point
from tiler.declaration import Rule
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says
from tiler.proof.seen.squares import moved, paired, size_check
from tiler.proof.tolerances import SCALE, VECTOR
from tiler.reading.pdf.strokes import Stroke

TOUCH = 0.1
"""A tick begins no further than this from its base line."""


LEAST_LENGTH = 8.0
"""Shorter strokes are ticks."""


@dataclass(frozen=True, slots=True)
class RuleSeen:
    """A ruler line as it is drawn.

    ``start`` is its left or lower end, ``crooked`` how much it leans over its
    length, ``ticks`` where they stand along it.
    """

    axis: str
    start: Point
    length: float
    crooked: float
    ticks: tuple[float, ...]


def rules_of(strokes: Iterable[Stroke]) -> tuple[list[RuleSeen], int]:
    """Put base lines and ticks together, and return also how many strokes belong to no line."""
    lines = [(stroke.points[0], stroke.points[-1]) for stroke in strokes]
    lines.sort(key=lambda line: -dist(*line))
    rules, free, odd = [], lines, 0
    while free and dist(*free[0]) >= LEAST_LENGTH:
        base, *others = free
        ticks, free = [], []
        for tick in others:
            place = _on(base, tick)
            if place is None:
                free.append(tick)
            else:
                ticks.append(place)
        if len(ticks) < 2:
            odd += 1
        else:
            rules.append(_rule(base, ticks))
    return rules, odd + len(free)


def _on(base: tuple[Point, Point], tick: tuple[Point, Point]) -> float | None:
    """Return where along the base line a stroke across it begins, or None."""
    (xa, ya), (xb, yb) = base
    length = dist(*base)
    if length == 0:
        return None
    ux, uy = (xb - xa) / length, (yb - ya) / length
    for x, y in tick:
        along = (x - xa) * ux + (y - ya) * uy
        if abs((y - ya) * ux - (x - xa) * uy) <= TOUCH and -TOUCH <= along <= length + TOUCH:
            dx, dy = tick[1][0] - tick[0][0], tick[1][1] - tick[0][1]
            return along if abs(dx * ux + dy * uy) < 0.5 * hypot(dx, dy) else None
    return None


def _rule(base: tuple[Point, Point], ticks: Sequence[float]) -> RuleSeen:
    start, end = base
    across = abs(end[0] - start[0]) >= abs(end[1] - start[1])
    key = 0 if across else 1
    length = dist(*base)
    if end[key] < start[key]:
        start, end = end, start
        ticks = [length - tick for tick in ticks]
    return RuleSeen(
        axis="across" if across else "down",
        start=start,
        length=end[key] - start[key],
        crooked=abs(end[1 - key] - start[1 - key]),
        ticks=tuple(sorted(ticks)),
    )


def compare_rules(declared: Sequence[Rule], seen: Sequence[RuleSeen], odd: int, page: int) -> Iterator[Check]:
    """Compare the ruler lines of one page with those declared for it; ``odd`` strokes belong to none."""
    for axis in ("across", "down"):
        wanted = sorted((rule for rule in declared if rule.axis == axis), key=lambda rule: rule.nominal_mm)
        found = sorted((rule for rule in seen if rule.axis == axis), key=lambda rule: rule.length)
        pairs, lost, extra = paired(wanted, found, lambda want, got: dist(want.at, got.start))
        for want, got in pairs:
            yield size_check(CheckName.RULE, page, got.length, want.nominal_mm, want.label, axis, got.crooked)
            off = dist(got.start, want.at)
            says = Says.RULE_PLACED if off <= VECTOR else Says.RULE_MOVED
            numbers = {"off": off}
            yield Check(CheckName.RULE_PLACE, moved(off), says, page, label=want.label, axis=axis, numbers=numbers)
            yield _graduation(want, got, page)
        for want in lost:
            gone, stated = Says.RULE_MISSING, want.nominal_mm
            yield Check(CheckName.RULE_PLACE, Status.FAIL, gone, page, None, stated, label=want.label, axis=axis)
        for got in extra:
            yield Check(CheckName.RULE_PLACE, Status.FAIL, Says.RULE_UNDECLARED, page, got.length, axis=axis)
    if odd:
        yield Check(CheckName.GRADUATION, Status.FAIL, Says.TICKS_LOOSE, page, numbers={"count": odd})


def _graduation(want: Rule, got: RuleSeen, page: int) -> Check:
    steps = len(got.ticks) - 1
    units = int(want.label.split()[0]) if want.label.split()[0].isdecimal() else 1
    even = all(abs(tick - index * got.length / steps) <= VECTOR for index, tick in enumerate(got.ticks))
    right = even and steps % units == 0 and abs(got.ticks[-1] / got.length - 1) <= SCALE
    status, says = (Status.PASS, Says.TICKS_EVEN) if right else (Status.FAIL, Says.TICKS_UNEVEN)
    return Check(CheckName.GRADUATION, status, says, page, label=want.label, axis=want.axis)
