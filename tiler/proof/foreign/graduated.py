"""Ruler lines of any PDF: a line along the page with even ticks, and the words or numbers that say its length; mm."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import hypot

from tiler.box import Box
from tiler.languages.words import Words, listed
from tiler.proof.foreign.label_lines import Said
from tiler.proof.foreign.labelled import USUAL, Rank, is_printed
from tiler.proof.foreign.ruler_ticks import LEAST_TICKS, UNEVEN, BareLine, Ends, level_of
from tiler.proof.foreign.side_ink import Looks
from tiler.proof.foreign.size_words import INCH, Stated, equal
from tiler.proof.foreign.telling_words import Telling, telling
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.effect import error
from tiler.proof.report.sentences import Says
from tiler.proof.tolerances import FOREIGN_SCALE
from tiler.reading.pdf.text import Text

BESIDE = 8.0
"""Words no further than this from a ruler line may name its length."""

PLAUSIBLE = 1.4
"""A length that differs by more than this factor is not this line's."""

BESIDE_TICK = 2.5
"""A number whose middle is no further than this from a tick belongs to it."""

DRIFT = 0.5
"""How differently the numbers of one line may stand at their ticks."""

SAME_ROW, SAME_COLUMN = 1.0, 4.0
"""Numbers across stand on one base line; those down may have one digit or two."""

_COUNT = re.compile(r"\d{1,2}")
_UNIT_WORD = re.compile(r"(?<![a-z])(inch(?:es)?|in|cm|centimet(?:er|re)s?)\b", re.IGNORECASE)


@dataclass(frozen=True)
class Label:
    """The length between the ticks that words speak of, what they may state of it, and what they make it."""

    length: float
    sizes: tuple[Stated, ...]
    rank: Rank


@dataclass(frozen=True)
class Graduated:
    """A ruler line: its length from the first tick to the last, and what is stated of it.

    ``sure`` tells that its ticks make it one; ``sizes`` are all that the words beside it may mean.
    """

    page: int
    axis: str
    box: Box
    length: float
    nominal: float
    label: str
    rank: Rank = Rank.NAMED
    sure: bool = True
    sizes: tuple[Stated, ...] = ()


def ruler_lines(
    page: int, texts: Sequence[Text], said: Sequence[Said], looks: Looks, bare_lines: Sequence[BareLine]
) -> list[Graduated]:
    """Return those of the ``bare_lines`` of a page that state their length and are visible."""
    named = _named(bare_lines, [one for one in said if is_printed(one.box, looks.pixels)])
    for index, bare in enumerate(bare_lines):
        label = None if index in named or len(bare.places) < LEAST_TICKS else _numbered(bare, texts)
        if label:
            named[index] = label
    found = []
    for index, label in sorted(named.items()):
        bare, first = bare_lines[index], label.sizes[0]
        if looks.shows(bare.sides):
            sure = bare.ends is Ends.TICKS
            found.append(
                Graduated(
                    page, bare.axis, bare.box, label.length, first.wide, first.words, label.rank, sure, label.sizes
                )
            )
    return found


def judge_ruler_lines(lines: Sequence[Graduated], status: Status | None = None) -> Iterator[Check]:
    """Yield the length of every ruler line, judged unless a status is given."""
    for line in lines:
        yield Check(
            CheckName.RULE,
            status or (Status.PASS if abs(line.length / line.nominal - 1) <= FOREIGN_SCALE else Status.FAIL),
            Says.FOUND,
            line.page,
            line.length,
            line.nominal,
            label=line.label,
            axis=line.axis,
            box=line.box,
            foreign=True,
        )


def open_lines(lines: Sequence[Graduated]) -> Iterator[Check]:
    """Yield every size that may be meant of lines whose words name several, and that this is not decided."""
    for line in lines:
        ways = [replace(line, nominal=size.wide, label=size.words) for size in line.sizes]
        yield from judge_ruler_lines(ways, Status.WARN)
        readings = listed(
            Words("as {size} it is off by {off}", size=way.label, off=error(way.length / way.nominal)) for way in ways
        )
        yield Check(
            CheckName.UNDECIDED,
            Status.FAIL,
            Says.LINE_OPEN,
            line.page,
            label=line.label,
            axis=line.axis,
            box=line.box,
            foreign=True,
            numbers={"readings": readings},
        )


def _named(bare_lines: Sequence[BareLine], said: Sequence[Said]) -> dict[int, Label]:
    """Return each line the nearest words that name a length like its own; words serve one line."""
    near = sorted(
        (_gap(bare.box, one.box), bare.ends, line, place)
        for line, bare in enumerate(bare_lines)
        for place, one in enumerate(said)
        if _gap(bare.box, one.box) <= BESIDE and _readings(bare, one)
    )
    found: dict[int, Label] = {}
    used: set[int] = set()
    for _, _, line, place in near:
        if line not in found and place not in used:
            bare = bare_lines[line]
            readings = _readings(bare, said[place])
            rank = _rank(bare, said[place], readings[0].wide)
            if rank > Rank.PIECE:
                found[line] = Label(bare.length, readings, rank)
                used.add(place)
    return found


def _readings(bare: BareLine, said: Said) -> tuple[Stated, ...]:
    """Return what words may say of a line; of several sizes those that its ticks count."""
    sizes: list[Stated] = []
    for size in said.sizes:
        single = size.unit and not size.oblong and not size.squared
        near = single and 1 / PLAUSIBLE < bare.length / size.wide < PLAUSIBLE
        if near and not any(equal(size.wide, one.wide) for one in sizes):
            sizes.append(size)
    if len(sizes) < 2 or bare.ends is not Ends.TICKS:
        return tuple(sizes)
    steps = round(bare.length / min(b - a for a, b in pairwise(bare.places)))
    counted = [size for size in sizes if any(abs(size.wide / unit - steps) < 1e-6 for unit in (float(INCH), 10.0))]
    return tuple(counted if len(counted) == 1 else sizes)


def _rank(bare: BareLine, said: Said, nominal: float) -> Rank:
    """Say how surely a line is meant to be measured: ticks tell it, other lines need words that do."""
    told = telling(said.context)
    if bare.ends is Ends.TICKS or told >= Telling.SHAPE:
        return Rank.NAMED if told is not Telling.PIECE or bare.ends is Ends.TICKS else Rank.PIECE
    usual = said.bare and any(abs(nominal - size) < 1e-3 for size in USUAL)
    if told is Telling.PIECE or not usual or bare.ends is Ends.NOTHING:
        return Rank.PIECE
    return Rank.UNUSUAL if bare.ends is Ends.ARROWS else Rank.PLAIN


def _gap(one: Box, two: Box) -> float:
    across = max(one.x0 - two.x1, two.x0 - one.x1, 0.0)
    down = max(one.y0 - two.y1, two.y0 - one.y1, 0.0)
    return hypot(across, down)


def _numbered(bare: BareLine, texts: Sequence[Text]) -> Label | None:
    """Read the numbers at the ticks, with a unit named near by."""
    near = bare.box.grown(BESIDE)
    close = [text for text in texts if near.overlaps(text.box)]
    unit = next((found[1].lower() for text in close if (found := _UNIT_WORD.search(text.text))), None)
    if unit is None:
        return None
    size = float(INCH) if unit.startswith("in") else 10.0
    marked = _numbers_at_ticks(bare, close)
    if len(marked) < 2 or marked[0][0] == marked[-1][0]:
        return None
    count, length = marked[-1][0] - marked[0][0], abs(marked[-1][1] - marked[0][1])
    nominal = count * size
    words = f"{count} {'in' if unit.startswith('in') else 'cm'}"
    return (
        Label(length, (Stated(nominal, nominal, words),), Rank.NAMED)
        if 1 / PLAUSIBLE < length / nominal < PLAUSIBLE
        else None
    )


def _numbers_at_ticks(bare: BareLine, texts: Sequence[Text]) -> list[tuple[int, float]]:
    """Return the numbers of the nearest row of numbers with the ticks that they stand at; none when they are uneven."""
    rows: dict[float, list[_Numbered]] = {}
    together = SAME_ROW if bare.axis == "across" else SAME_COLUMN
    for text in texts:
        if _COUNT.fullmatch(text.text.strip()):
            box = text.box
            low, high, away = (box.x0, box.x1, box.y0) if bare.axis == "across" else (box.y0, box.y1, box.x1)
            place = min(bare.places, key=lambda one: abs(one - (low + high) / 2))
            if abs(place - (low + high) / 2) <= BESIDE_TICK:
                row = next((row for row in rows if abs(row - away) <= together), away)
                rows.setdefault(row, []).append(_Numbered(int(text.text), place, low - place, high - place))
    level = level_of(bare.line, bare.axis)
    marked = sorted(rows[min(rows, key=lambda row: abs(row - level))], key=lambda one: one.number) if rows else []
    if len(marked) < LEAST_TICKS or not _like_each_other(marked):
        return []
    low_number, first, high_number, last = marked[0].number, marked[0].place, marked[-1].number, marked[-1].place
    each = (last - first) / max(1, high_number - low_number)
    even = all(abs(one.place - first - each * (one.number - low_number)) <= UNEVEN for one in marked)
    return [(one.number, one.place) for one in marked] if even else []


def _like_each_other(marked: Sequence[_Numbered]) -> bool:
    """Tell whether all numbers stand the same way at their ticks; those of a neighbouring line drift."""
    ways = ([one.low for one in marked], [one.high for one in marked], [one.low + one.high for one in marked])
    return min(max(way) - min(way) for way in ways) <= DRIFT


@dataclass(frozen=True, slots=True)
class _Numbered:
    """A number, the place of its tick, and where it begins and ends from there along the line."""

    number: int
    place: float
    low: float
    high: float
