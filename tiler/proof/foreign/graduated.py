"""Ruler lines of any PDF: a line along the page with even ticks, and the words or numbers that say its length; mm."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import hypot

from tiler.box import Box
from tiler.proof.foreign.ruler_ticks import LEAST_TICKS, UNEVEN, BareLine, level_of
from tiler.proof.foreign.side_ink import is_visible
from tiler.proof.foreign.size_words import INCH, sizes_named
from tiler.proof.ink.pixels import Pixels
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says
from tiler.proof.tolerances import FOREIGN_SCALE
from tiler.reading.pdf.document import PageRead
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


Label = tuple[float, float, str]
"""The length between the ticks that the words speak of, the length that they name, and the words."""


@dataclass(frozen=True)
class Graduated:
    """A ruler line: its length from the first tick to the last, and what is stated of it."""

    page: int
    axis: str
    box: Box
    length: float
    nominal: float
    label: str


def ruler_lines(page: PageRead, pixels: Pixels, bare_lines: Sequence[BareLine]) -> list[Graduated]:
    """Return those of the ``bare_lines`` of a page that state their length and are visible."""
    said = _named(bare_lines, page.texts)
    for index, bare in enumerate(bare_lines):
        label = None if index in said else _numbered(bare, page.texts)
        if label:
            said[index] = label
    found = []
    for index, (length, nominal, words) in sorted(said.items()):
        bare = bare_lines[index]
        if all(is_visible(pixels, side) for side in (bare.line, bare.ticks[0], bare.ticks[-1])):
            found.append(Graduated(page.number, bare.axis, bare.box, length, nominal, words))
    return found


def judge_ruler_lines(lines: Sequence[Graduated]) -> Iterator[Check]:
    """Yield the length of every ruler line."""
    for line in lines:
        yield Check(
            CheckName.RULE,
            Status.PASS if abs(line.length / line.nominal - 1) <= FOREIGN_SCALE else Status.FAIL,
            Says.FOUND,
            line.page,
            line.length,
            line.nominal,
            label=line.label,
            axis=line.axis,
            box=line.box,
            foreign=True,
        )


def _named(bare_lines: Sequence[BareLine], texts: Sequence[Text]) -> dict[int, Label]:
    """Return each line the nearest words that name a length like its own; words serve one line."""
    near = sorted(
        (_gap(bare.box, text.box), line, place, nominal, words)
        for line, bare in enumerate(bare_lines)
        for place, text in enumerate(texts)
        if _gap(bare.box, text.box) <= BESIDE
        for nominal, words in sizes_named(text.text)
        if 1 / PLAUSIBLE < bare.length / nominal < PLAUSIBLE
    )
    found: dict[int, Label] = {}
    used: set[tuple[int, str]] = set()
    for _, line, place, nominal, words in near:
        if line not in found and (place, words) not in used:
            found[line] = (bare_lines[line].length, nominal, words)
            used.add((place, words))
    return found


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
    return (length, nominal, words) if 1 / PLAUSIBLE < length / nominal < PLAUSIBLE else None


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
