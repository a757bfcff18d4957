"""Scale bars, dimension lines with arrows and bars of blocks: a length between two ends; mm.

They are measured as ruler lines are, along one axis.  Places are (along, aside) of the
line, so that both axes are looked at alike.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from tiler.proof.foreign.ruler_ticks import LEAST, LONGEST_TICK, MOST, BareLine, Ends
from tiler.proof.foreign.sides import MEET, Side, corners_of, sides_of
from tiler.proof.tolerances import VECTOR
from tiler.reading.pdf.strokes import Stroke

SHORTEST_END = 0.8
"""A tick or an arrow's barb is no shorter than this."""

LARGEST_HEAD = 8.0
"""An arrow's head is no longer than this."""

BESIDE = 0.2
"""A tip lies no further than this from its line."""

WIDEST_GAP = 0.6
"""A dimension line may be interrupted by its words for no more than this share of its length."""

LOWEST, HIGHEST = 0.8, 15.0
"""How high a bar is."""

SLENDER = 4.0
"""A bar is so many times longer than high, or made of blocks."""

MOST_LINES = 800
"""On a page with more straight lines no such lines are looked for."""


def spans(strokes: Sequence[Stroke], known: Sequence[BareLine]) -> list[BareLine]:
    """Return the lines and bars of a page that end somewhere, but those that are ``known`` already."""
    sides = [side for stroke in strokes if len(stroke.points) > 1 for side in sides_of(stroke, SHORTEST_END)]
    found = list(_bars(strokes))
    if len(sides) <= MOST_LINES:
        heads = [head for stroke in strokes if (head := _head(stroke))]
        for axis in ("across", "down"):
            taken = [one.line for one in known if one.axis == axis]
            found += _lines(sides, heads, axis, taken)
    return found


def _turned(point: complex, axis: str) -> complex:
    """Return a point with its place along the axis first; twice gives it back."""
    return point if axis == "across" else complex(point.imag, point.real)


@dataclass(frozen=True, slots=True)
class _End:
    """Where a line ends: the place along it, what ends it, and its line where it is a tick."""

    place: float
    ends: Ends
    tick: Side | None = None


def _head(stroke: Stroke) -> list[complex] | None:
    """Return the corners of a filled arrow's head."""
    if not stroke.filled or not 3 <= len(stroke.points) <= 9:
        return None
    box = stroke.box
    return [complex(*point) for point in stroke.points] if max(box.width, box.height) <= LARGEST_HEAD else None


def _lines(
    sides: Sequence[Side], heads: Sequence[list[complex]], axis: str, taken: Sequence[Side]
) -> Iterator[BareLine]:
    short = [(_turned(one.start, axis), _turned(one.end, axis), one) for one in sides if one.length <= LONGEST_TICK]
    tips = [[_turned(corner, axis) for corner in head] for head in heads]
    long = []
    for side in sides:
        a, b = sorted((_turned(side.start, axis), _turned(side.end, axis)), key=lambda one: one.real)
        if abs(b.imag - a.imag) <= VECTOR and b.real - a.real >= SHORTEST_END * 4 and side not in taken:
            long.append((a, b, side))
    for a, b, side in long:
        if not LEAST <= b.real - a.real <= MOST:
            continue
        first, last = _end(a, -1, short, tips, side), _end(b, 1, short, tips, side)
        if first and last and first.ends is last.ends:
            yield _between(axis, side, first, last)
        elif not first and not last:
            yield BareLine(axis, side, (), (a.real, b.real), Ends.NOTHING)
    # a line that its own words interrupt
    long.sort(key=lambda one: (round(one[0].imag, 1), one[0].real))
    for (a, b, side), (c, d, other) in pairwise(long):
        length = d.real - a.real
        if abs(a.imag - c.imag) <= VECTOR and 0 < c.real - b.real <= WIDEST_GAP * length and LEAST <= length <= MOST:
            first, last = _end(a, -1, short, tips, side), _end(d, 1, short, tips, other)
            inner = _end(b, 1, short, tips, side) or _end(c, -1, short, tips, other)
            if first and last and first.ends is last.ends and not inner:
                line = Side(_turned(a, axis), _turned(d, axis), side.weight, c.real - b.real, pen=side.pen)
                yield _between(axis, line, first, last)


def _between(axis: str, side: Side, first: _End, last: _End) -> BareLine:
    ticks = (first.tick, last.tick) if first.tick and last.tick else ()
    return BareLine(axis, side, ticks, (first.place, last.place), first.ends)


def _end(
    at: complex, way: int, short: Sequence[tuple[complex, complex, Side]], tips: Sequence[list[complex]], own: Side
) -> _End | None:
    """Return what ends a line at a place, going that ``way``: a head or two barbs, or a tick across it."""
    for head in tips:
        tip = max(head, key=lambda corner: way * corner.real)
        reach = way * (tip.real - at.real)
        behind = min(way * (corner.real - at.real) for corner in head)
        pointed = sum(abs(corner.real - tip.real) <= BESIDE for corner in set(head)) == 1
        if pointed and abs(tip.imag - at.imag) <= BESIDE and behind <= MEET and -MEET <= reach <= LARGEST_HEAD:
            return _End(tip.real, Ends.ARROWS)
    barbs = 0
    for one, two, side in short:
        if side is own:
            continue
        low, high = sorted((one.imag, two.imag))
        leaning = abs(two.real - one.real)
        middle = (one.real + two.real) / 2
        if low - BESIDE <= at.imag <= high + BESIDE and high - low >= SHORTEST_END and abs(middle - at.real) <= MEET:
            return _End(middle, Ends.BRACKETS, side)
        near = min((one, two), key=lambda end: abs(end - at))
        if (
            abs(near - at) <= BESIDE
            and leaning > SHORTEST_END / 2
            and side.length <= LARGEST_HEAD
            and high - low > BESIDE
        ):
            barbs += 1
    return _End(at.real, Ends.ARROWS) if barbs == 2 else None


@dataclass(frozen=True, slots=True)
class _Block:
    """An upright rectangle: from where to where along the axis, and aside."""

    start: float
    end: float
    low: float
    high: float
    stroked: bool
    pen: float


def _bars(strokes: Sequence[Stroke]) -> Iterator[BareLine]:
    """Yield bars, whole or of blocks that follow each other, dark and light in turn."""
    for axis in ("across", "down"):
        rows: dict[tuple[float, float], list[_Block]] = {}
        for stroke in strokes:
            block = _block(stroke, axis)
            if block:
                rows.setdefault((round(block.low, 1), round(block.high, 1)), []).append(block)
        for row in rows.values():
            yield from _rowed(sorted(row, key=lambda one: (one.start, one.end)), axis)


def _block(stroke: Stroke, axis: str) -> _Block | None:
    corners = corners_of(stroke)
    if corners is None or len(corners) != 4:
        return None
    turned = [_turned(corner, axis) for corner in corners]
    start, end = min(one.real for one in turned), max(one.real for one in turned)
    low, high = min(one.imag for one in turned), max(one.imag for one in turned)
    square = all(min(abs(one.real - start), abs(one.real - end)) <= VECTOR for one in turned)
    if not square or not LOWEST <= high - low <= HIGHEST or (end - start < high - low and end - start < LOWEST):
        return None
    return _Block(start, end, low, high, stroke.stroked, stroke.weight if stroke.stroked else 0.0)


def _rowed(row: Sequence[_Block], axis: str) -> Iterator[BareLine]:
    start, end = row[0].start, max(one.end for one in row)
    blocks = [one for one in row if one.end - one.start < 0.99 * (end - start)]
    if not LEAST <= end - start <= MOST:
        return
    if len(blocks) < 2:
        if end - start >= SLENDER * (row[0].high - row[0].low):
            yield _bar(axis, row[0], row[0], (start, end), Ends.NOTHING)
        return
    width = min(one.end - one.start for one in blocks)
    steps = round((end - start) / width)
    places = tuple(start + (end - start) * step / steps for step in range(steps + 1))
    even = all(
        min(abs(one - place) for place in places) <= MEET / 2 for block in blocks for one in (block.start, block.end)
    )
    gaps = [two.start - one.end for one, two in pairwise(blocks)]
    if even and max(gaps) <= width + MEET:
        first = min(row, key=lambda one: (one.start, -one.pen))
        last = max(row, key=lambda one: (one.end, one.pen))
        yield _bar(axis, first, last, places, Ends.BLOCKS)


def _bar(axis: str, first: _Block, last: _Block, places: tuple[float, ...], ends: Ends) -> BareLine:
    def side(a: complex, b: complex, block: _Block, gap: float = 0.0) -> Side:
        edge = not block.stroked
        return Side(_turned(a, axis), _turned(b, axis), gap=gap, edge=edge, pen=block.pen)

    foot = side(
        complex(places[0], first.low),
        complex(places[-1], first.low),
        first,
        places[1] - places[0] if len(places) > 2 else 0.0,
    )
    begin = side(complex(places[0], first.low), complex(places[0], first.high), first)
    finish = side(complex(places[-1], last.low), complex(places[-1], last.high), last)
    return BareLine(axis, foot, (begin, finish), places, ends)
