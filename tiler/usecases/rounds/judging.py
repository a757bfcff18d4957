"""Judging what testers printed: medians, spread, fit-to-page, and who stands out.  Shares of nominal, lengths in mm.

A ruler is read to half a millimetre, so a reading proves only what exceeds that: 1 %
on 50 mm, a quarter of a percent on 200 mm.  Medians and median absolute deviations
(MAD; the median of the distances from the median) are used because a few fit-to-page
prints must not shift the verdict on the others.  Times 1.4826 a MAD estimates the
standard deviation of normally spread readings.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from statistics import median

from tiler.languages.catalogue import noted
from tiler.languages.words import Words
from tiler.paper import PAPER_WORDS
from tiler.proof.report.causes import FIXED, Cause, refits
from tiler.usecases.rounds.table import APART, LINES, Fit, Reading

READING_ERROR = 0.5
"""To this a ruler is read by eye: common practice, mm."""

TOLERANCE = 0.01
"""A print further off than this is called off; ours: 1 % makes a 20 in strip about 3/16 in short."""

NORMAL = 1.4826
"""1 / 0.6745: MAD to standard deviation of a normal distribution."""

OUTSTANDING = 3.0
"""So many standard deviations, estimated from the MAD, make a viewer or printer stand out; ours."""

LEAST_OTHERS = 3
"""Of fewer other readings no spread can be told."""

SOURCES = ("letter", "a4")
"""Papers that home-printed patterns are made for."""

_ROUNDING = 1e-9


class State(StrEnum):
    """What a reading shows."""

    AGREES = "agrees"
    UNDECIDED = "undecided"
    OFF = "off"


class Suspect(StrEnum):
    """What may be to blame for a print, as the column of the table is called."""

    VIEWER = "viewer"
    PRINTER = "printer"


NAMED = {Suspect.VIEWER: noted("viewer {name}"), Suspect.PRINTER: noted("printer {name}")}


def named(kind: Suspect, name: str) -> Words:
    """Name a viewer or a printer."""
    return Words(NAMED[kind], name=name)


@dataclass(frozen=True)
class Judged:
    """A reading with what it shows; ``error`` is the reading error as a share of nominal."""

    reading: Reading
    error: float
    state: State
    fit_to_page: tuple[Cause, ...]
    slip: str = ""
    """The other line that it reads like, where it may have been that one."""


@dataclass(frozen=True)
class Spread:
    """Median, median absolute deviation, least and greatest of some ratios."""

    median: float
    mad: float
    least: float
    greatest: float


@dataclass(frozen=True)
class Summary:
    """The readings of one tester, or of all."""

    name: str
    judged: tuple[Judged, ...]
    across: Spread | None
    down: Spread | None


@dataclass(frozen=True)
class StandsOut:
    """A viewer or printer whose median lies apart from that of the others, further from nominal, along one axis."""

    kind: Suspect
    name: str
    axis: str
    lines: tuple[int, ...]
    median: float
    others: float
    limit: float
    same_as: str = ""
    """Another viewer or printer with just the same readings: the two cannot be told apart."""


@dataclass(frozen=True)
class Remarks:
    """What was said of the fit of one size, each remark with how often."""

    size: str
    remarks: tuple[tuple[str, int], ...]


@dataclass(frozen=True)
class Round:
    """All that the readings of a test round show."""

    overall: Summary
    testers: tuple[Summary, ...]
    stands_out: tuple[StandsOut, ...]
    sizes: tuple[Remarks, ...]
    reading_error: float

    @property
    def coarse(self) -> tuple[Judged, ...]:
        """The readings of lengths so short that a print off by the tolerance, misread once, seems to agree."""
        return tuple(one for one in self.overall.judged if 2 * one.error > TOLERANCE + _ROUNDING)


def judge_round(readings: Sequence[Reading], reading_error: float = READING_ERROR, fits: Sequence[Fit] = ()) -> Round:
    """Judge at least one reading, each read to ``reading_error`` mm; ``fits`` are remarks without one."""
    judged = [judge(one, reading_error) for one in readings]
    testers = [_summary(of[0].reading.tester, of) for of in _grouped(judged, lambda one: one.reading.tester)]
    found = [one for kind in Suspect for one in _standing_out(kind, judged)]
    return Round(
        _summary("all", judged), tuple(testers), _told_apart(found), _remarks([*readings, *fits]), reading_error
    )


def judge(reading: Reading, reading_error: float = READING_ERROR) -> Judged:
    """Say what one reading shows; an error of the ruler is never taken for one of the printer."""
    error = reading_error / reading.nominal
    apart = max(abs(ratio - 1) for ratio in reading.known)
    if apart <= error + _ROUNDING:
        return Judged(reading, error, State.AGREES, ())
    state = State.OFF if apart - error > TOLERANCE + _ROUNDING else State.UNDECIDED
    slip = _slip(reading, reading_error)
    return Judged(reading, error, state, () if slip else _fit_to_page(reading, error), slip)


def _slip(reading: Reading, reading_error: float) -> str:
    """Name the line that was read in place of another one of nearly its length, as 6 in for 15 cm; empty for none."""
    read = [ratio * reading.nominal for ratio in reading.known]
    for length, name in LINES:
        near = abs(length / reading.nominal - 1)
        if 1e-3 < near <= APART and all(abs(one - length) <= reading_error + _ROUNDING for one in read):
            return name
    return ""


def spread(values: Sequence[float]) -> Spread:
    """Return median, median absolute deviation and range of at least one value."""
    middle = median(values)
    return Spread(middle, median(abs(value - middle) for value in values), min(values), max(values))


def _fit_to_page(reading: Reading, error: float) -> tuple[Cause, ...]:
    """Return the fit-to-page factors that all axes agree with, the nearest first.

    None is named where an axis, or the factor itself, is no further from nominal than the ruler may be wrong.
    """

    def apart(cause: Cause) -> float:
        return max(abs(ratio - cause.factor) for ratio in reading.known)

    if min(abs(ratio - 1) for ratio in reading.known) <= error + _ROUNDING:
        return ()
    fits = [cause for cause in refits(_paper(reading.paper), SOURCES) if apart(cause) <= error + _ROUNDING]
    fits = [cause for cause in fits if abs(cause.factor - 1) > error]
    return tuple(sorted(fits, key=apart))


def _paper(words: str) -> str | None:
    plain = words.casefold().removeprefix("us ").replace(" ", "-")
    return next((name for name in FIXED if plain in (name, PAPER_WORDS[name].casefold())), None)


def _grouped(judged: Iterable[Judged], key: Callable[[Judged], str]) -> list[list[Judged]]:
    groups: dict[str, list[Judged]] = {}
    for one in judged:
        groups.setdefault(key(one).casefold(), []).append(one)
    return list(groups.values())


def _summary(name: str, judged: Sequence[Judged]) -> Summary:
    across, down = (_spread([one.reading.ratios[axis] for one in judged]) for axis in (0, 1))
    return Summary(name, tuple(judged), across, down)


def _spread(values: Iterable[float | None]) -> Spread | None:
    known = [value for value in values if value is not None]
    return spread(known) if known else None


def _standing_out(kind: Suspect, judged: Sequence[Judged]) -> Iterable[StandsOut]:
    def name(one: Judged) -> str:
        return str(getattr(one.reading, kind))

    # every group is held against all others, so what is asked of each reading is asked once
    named = [(name(one).casefold(), one.error, one.reading.ratios) for one in judged]
    for own in _grouped(judged, name):
        key = name(own[0]).casefold()
        for axis, words in enumerate(("across", "down")):
            others = [
                (error, ratio) for one, error, ratios in named if one != key and (ratio := ratios[axis]) is not None
            ]
            read = [one for one in own if one.reading.ratios[axis] is not None]
            if len(others) < LEAST_OTHERS or not read:
                continue
            middle = median(ratio for one in read if (ratio := one.reading.ratios[axis]) is not None)
            rest = spread([ratio for _, ratio in others])
            ruler = median(one.error for one in read) + median(error for error, _ in others)
            limit = max(OUTSTANDING * NORMAL * rest.mad, ruler)
            # of two that lie apart, the one that is nearer to nominal is not the one to ask about
            further = abs(middle - 1) > abs(rest.median - 1)
            if further and abs(middle - rest.median) > limit + _ROUNDING:
                lines = tuple(one.reading.line for one in read)
                yield StandsOut(kind, name(own[0]), words, lines, middle, rest.median, limit)


def _told_apart(found: Sequence[StandsOut]) -> tuple[StandsOut, ...]:
    def twin(one: StandsOut) -> str:
        same = (other for other in found if other.kind is not one.kind and other.lines == one.lines)
        return next((named(other.kind, other.name) for other in same), "")

    return tuple(replace(one, same_as=twin(one)) for one in found)


def _remarks(said: Iterable[Reading | Fit]) -> tuple[Remarks, ...]:
    """Count what is said of the fit, a size at a time; each tester says a thing once, in however many lines."""
    sizes: dict[str, list[Reading | Fit]] = {}
    for one in sorted(said, key=lambda one: one.line):
        if one.fit:
            sizes.setdefault(one.size.casefold(), []).append(one)
    found = []
    for of_size in sizes.values():
        votes = {(one.tester.casefold(), one.fit.casefold()) for one in of_size}
        counts = Counter(
            {fit: sum(fit == vote for _, vote in votes) for fit in dict.fromkeys(one.fit.casefold() for one in of_size)}
        )
        spelled = {one.fit.casefold(): one.fit for one in reversed(of_size)}
        found.append(Remarks(of_size[0].size, tuple((spelled[key], n) for key, n in counts.most_common())))
    return tuple(found)
