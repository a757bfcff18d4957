"""Ruler lines of any PDF: a line along the page with even ticks, and the words or numbers that say its length; mm."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from tiler.declaration import Box
from tiler.proof.pixels import Pixels
from tiler.proof.report import FAIL, PASS, Check
from tiler.proof.side_ink import is_seen
from tiler.proof.sides import MEET, Side, sides_of
from tiler.proof.size_words import INCH, sizes_named
from tiler.proof.tolerances import FOREIGN_SCALE, VECTOR
from tiler.reading.document import PageRead
from tiler.reading.strokes import Stroke
from tiler.reading.text import Text

LEAST, MOST = 20.0, 320.0
"""Lengths of what may be a ruler line, mm."""

LEAST_TICKS = 3
"""With fewer it is a line between two ends."""

SHORTEST_TICK, LONGEST_TICK = 0.8, 15.0

UNEVEN = 0.15
"""Ticks further from their even places than this make no ruler line."""

BESIDE = 8.0
"""Words no further than this from a ruler line may name its length."""

PLAUSIBLE = 1.4
"""A length that differs by more than this factor is not this line's."""

MOST_LINES = 4000
"""On a page with more straight lines no ruler lines are looked for."""

_COUNT = re.compile(r"\d{1,2}")
_UNIT_WORD = re.compile(r"\b(inch(?:es)?|in|cm|centimet(?:er|re)s?)\b", re.IGNORECASE)


@dataclass(frozen=True)
class Graduated:
    """A ruler line: its length from the first tick to the last, and what is stated of it."""

    page: int
    axis: str
    box: Box
    length: float
    nominal: float
    label: str


@dataclass(frozen=True)
class BareLine:
    """A line with even ticks, and where they stand along it."""

    axis: str
    line: Side
    ticks: tuple[Side, ...]
    places: tuple[float, ...]

    @property
    def box(self) -> Box:
        """The box around the line and its ticks."""
        ends = [end for side in (self.line, *self.ticks) for end in (side.start, side.end)]
        xs, ys = [end.real for end in ends], [end.imag for end in ends]
        return Box(min(xs), min(ys), max(xs), max(ys))

    @property
    def length(self) -> float:
        """From the first tick to the last."""
        return self.places[-1] - self.places[0]


def ruler_lines(page: PageRead, pixels: Pixels, bare_lines: Sequence[BareLine]) -> list[Graduated]:
    """Give those of the ``bare_lines`` of a page that state their length and can be seen."""
    found = []
    for bare in bare_lines:
        label = _named(bare, page.texts) or _numbered(bare, page.texts)
        if label and all(is_seen(pixels, side) for side in (bare.line, bare.ticks[0], bare.ticks[-1])):
            length, nominal, words = label
            found.append(Graduated(page.number, bare.axis, bare.box, length, nominal, words))
    return found


def judge_ruler_lines(lines: Sequence[Graduated]) -> Iterator[Check]:
    """Give the length of every ruler line."""
    for line in lines:
        status = PASS if abs(line.length / line.nominal - 1) <= FOREIGN_SCALE else FAIL
        detail = f"{line.label} {line.axis}"
        yield Check("rule", status, line.page, line.length, line.nominal, detail, line.axis, line.box)


def bare_ruler_lines(strokes: Sequence[Stroke]) -> list[BareLine]:
    """Give the lines with even ticks, whatever they state."""
    return list(_bare(strokes))


def _bare(strokes: Sequence[Stroke]) -> Iterator[BareLine]:
    sides = [side for stroke in strokes if len(stroke.points) > 1 for side in sides_of(stroke, SHORTEST_TICK)]
    if len(sides) > MOST_LINES:
        return
    flat = [side for side in sides if abs(side.end.imag - side.start.imag) <= VECTOR]
    upright = [side for side in sides if abs(side.end.real - side.start.real) <= VECTOR]
    for axis, lines, across in (("across", flat, upright), ("down", upright, flat)):
        by_line: dict[int, list[tuple[float, float, float, Side]]] = {}
        for side in across:
            if side.length <= LONGEST_TICK:
                along, low, high = _along(side, axis)
                for row in range(int(low) - 1, int(high) + 2):
                    by_line.setdefault(row, []).append((along, low, high, side))
        for line in lines:
            if LEAST <= line.length <= MOST:
                bare = _with_ticks(line, by_line.get(int(_across(line, axis)), ()), axis)
                if bare:
                    yield bare


def _along(tick: Side, axis: str) -> tuple[float, float, float]:
    """Give where a tick stands along the line, and from where to where it reaches across it."""
    if axis == "across":
        low, high = sorted((tick.start.imag, tick.end.imag))
        return (tick.start.real + tick.end.real) / 2, low, high
    low, high = sorted((tick.start.real, tick.end.real))
    return (tick.start.imag + tick.end.imag) / 2, low, high


def _across(line: Side, axis: str) -> float:
    middle = (line.start + line.end) / 2
    return middle.imag if axis == "across" else middle.real


def _with_ticks(line: Side, ticks: Sequence[tuple[float, float, float, Side]], axis: str) -> BareLine | None:
    level = _across(line, axis)
    ends = (line.start.real, line.end.real) if axis == "across" else (line.start.imag, line.end.imag)
    first, last = min(ends) - MEET, max(ends) + MEET
    on = sorted(
        (
            (along, side)
            for along, low, high, side in ticks
            if low - MEET <= level <= high + MEET and first <= along <= last
        ),
        key=lambda one: one[0],
    )
    kept: list[tuple[float, Side]] = []
    for along, side in on:
        if not kept or along - kept[-1][0] > VECTOR:
            kept.append((along, side))
    places = tuple(along for along, _ in kept)
    if len(kept) < LEAST_TICKS or places[-1] - places[0] < LEAST or not _even(places):
        return None
    return BareLine(axis, line, tuple(side for _, side in kept), places)


def _even(places: Sequence[float]) -> bool:
    step = min(b - a for a, b in pairwise(places))
    count = round((places[-1] - places[0]) / step)
    if count < LEAST_TICKS - 1:
        return False
    step = (places[-1] - places[0]) / count
    return all(abs((place - places[0]) / step - round((place - places[0]) / step)) * step <= UNEVEN for place in places)


def _named(bare: BareLine, texts: Sequence[Text]) -> tuple[float, float, str] | None:
    near = bare.box.grown(BESIDE)
    for text in texts:
        if near.overlaps(text.box):
            for nominal, words in sizes_named(text.text):
                if 1 / PLAUSIBLE < bare.length / nominal < PLAUSIBLE:
                    return bare.length, nominal, words
    return None


def _numbered(bare: BareLine, texts: Sequence[Text]) -> tuple[float, float, str] | None:
    """Read the numbers at the ticks, with a unit named near by."""
    near = bare.box.grown(BESIDE)
    close = [text for text in texts if near.overlaps(text.box)]
    unit = next((found[1].lower() for text in close if (found := _UNIT_WORD.search(text.text))), None)
    if unit is None:
        return None
    size = float(INCH) if unit.startswith("in") else 10.0
    marked: list[tuple[int, float]] = []
    for text in close:
        if _COUNT.fullmatch(text.text.strip()):
            middle = (text.box.x0 + text.box.x1) / 2 if bare.axis == "across" else (text.box.y0 + text.box.y1) / 2
            place = min(bare.places, key=lambda one: abs(one - middle))
            if abs(place - middle) <= 2.5:
                marked.append((int(text.text), place))
    marked.sort()
    if len(marked) < 2 or marked[0][0] == marked[-1][0]:
        return None
    count, length = marked[-1][0] - marked[0][0], abs(marked[-1][1] - marked[0][1])
    nominal = count * size
    words = f"{count} {'in' if unit.startswith('in') else 'cm'}"
    return (length, nominal, words) if 1 / PLAUSIBLE < length / nominal < PLAUSIBLE else None
