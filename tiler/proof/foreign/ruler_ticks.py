"""Lines along the page with even ticks, whatever they state; mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import IntEnum
from itertools import pairwise

from tiler.box import Box
from tiler.proof.foreign.sides import MEET, Side, sides_of
from tiler.proof.tolerances import VECTOR
from tiler.reading.pdf.strokes import Stroke

LEAST, MOST = 20.0, 320.0
"""Lengths of what may be a ruler line, mm."""

LEAST_TICKS = 3
"""With fewer it is a line between two ends."""

SHORTEST_TICK, LONGEST_TICK = 0.8, 15.0

UNEVEN = 0.15
"""Ticks further from their even places than this make no ruler line."""

MOST_LINES = 4000
"""On a page with more straight lines no ruler lines are looked for."""


class Ends(IntEnum):
    """What a line is measured between, the plainest last."""

    TICKS = 0
    BLOCKS = 1
    BRACKETS = 2
    ARROWS = 3
    NOTHING = 4


@dataclass(frozen=True)
class BareLine:
    """A line with even ticks, or two ends, and where they stand along it."""

    axis: str
    line: Side
    ticks: tuple[Side, ...]
    places: tuple[float, ...]
    ends: Ends = Ends.TICKS

    @property
    def box(self) -> Box:
        """The box around the line and its ticks."""
        ends = (end for side in (self.line, *self.ticks) for end in (side.start, side.end))
        return Box.around((end.real, end.imag) for end in ends)

    @property
    def along(self) -> Box:
        """The box around the line alone."""
        return Box.around((end.real, end.imag) for end in (self.line.start, self.line.end))

    @property
    def sides(self) -> tuple[Side, ...]:
        """What has to be seen of it."""
        return (self.line, self.ticks[0], self.ticks[-1]) if self.ticks else (self.line,)

    @property
    def length(self) -> float:
        """From the first tick to the last."""
        return self.places[-1] - self.places[0]


def bare_ruler_lines(strokes: Sequence[Stroke]) -> list[BareLine]:
    """Return the lines with even ticks, whatever they state."""
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
                bare = _with_ticks(line, by_line.get(int(level_of(line, axis)), ()), axis)
                if bare:
                    yield bare


def _along(tick: Side, axis: str) -> tuple[float, float, float]:
    """Return where a tick stands along the line, and from where to where it reaches across it."""
    if axis == "across":
        low, high = sorted((tick.start.imag, tick.end.imag))
        return (tick.start.real + tick.end.real) / 2, low, high
    low, high = sorted((tick.start.real, tick.end.real))
    return (tick.start.imag + tick.end.imag) / 2, low, high


def level_of(line: Side, axis: str) -> float:
    """Return where across itself a line lies."""
    middle = (line.start + line.end) / 2
    return middle.imag if axis == "across" else middle.real


def _with_ticks(line: Side, ticks: Sequence[tuple[float, float, float, Side]], axis: str) -> BareLine | None:
    level = level_of(line, axis)
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
