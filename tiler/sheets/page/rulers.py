"""Test squares and ruler lines: what a ruler is held against on paper; page mm.

Each is drawn at its nominal size and recorded for the declaration.  Inches and
centimetres have a baseline each, side by side, so both ends of either can be
read.  A ruler is read to about half a millimetre: 1 % of a square, a quarter of
a percent of 20 cm.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import repeat

from tiler.box import Box, Point, Subpath
from tiler.declaration import Rule, Square, Tag
from tiler.languages.proved import TEST_SQUARE
from tiler.languages.words import say
from tiler.paper import IN
from tiler.sheets.canvas import Canvas
from tiler.sheets.style import LABEL, LEADING, LEAST, LEAST_LEADING, SMALL, WEIGHT
from tiler.sheets.typesetting import text_width

INCH = float(IN)
CENTIMETRE = 10.0

RULE_DEPTH = 13.0
"""How much a pair of ruler lines takes across its length, mm."""

RULE_OVERHANG = 8.5
"""How much the pair with its words is longer than its longer line, mm."""

SQUARE_WORDS = (29.0, 10.0)
"""Width and height of what stands in a square where there is room for it, mm."""

FOOT_RULES_WIDTH = 59.0
"""How wide the lines in the foot of a page are with their words, mm."""

FOOT_WHITE = 1.2
"""White between the last tick of the longer of them and the words of both, mm."""

_TICKS, _FOOT_TICKS = (2.0, 1.2), (1.5, 0.9)
"""How long the ticks of whole and of half units are, mm."""

_OFF_TICK = 1.2
"""White between a tick and its numeral, mm."""

_BETWEEN, _FOOT_BETWEEN = 1.6, 1.2
"""White between the lines of a pair, mm."""


@dataclass(frozen=True)
class RulePair:
    """How many inches and centimetres a pair of ruler lines has."""

    inches: int
    centimetres: int

    @property
    def length(self) -> float:
        """The longer of both lines, mm."""
        return max(self.inches * INCH, self.centimetres * CENTIMETRE)


LONG_ACROSS = RulePair(6, 15)
LONG_DOWN = RulePair(8, 20)
SHORT = RulePair(4, 10)
SQUARES = ((2 * INCH, "2 in"), (5 * CENTIMETRE, "5 cm"))


@dataclass(frozen=True)
class SquareWords:
    """What is written in a square: how far above its middle each line stands, with its size in points; mm."""

    lines: tuple[tuple[float, str, float, bool], ...]
    shape: tuple[float, float]


def square_words(label: str) -> list[SquareWords]:
    """Return what may be written in a square, the largest first; at last the side alone and a word a line."""
    size, what = f"{label} × {label}", say(TEST_SQUARE)
    ways = [SquareWords(((1.5, size, LABEL, True), (-4.0, what, SMALL, False)), SQUARE_WORDS)]
    for points, leading, lines in (
        (SMALL, LEADING, (size, what)),
        (SMALL, LEADING, (label, what)),
        (SMALL, LEADING, (label, *what.split())),
        (LEAST, LEAST_LEADING, (label, *what.split())),
    ):
        high = len(lines) * leading
        bases = [high / 2 - number * leading + leading / 5 for number in range(1, len(lines) + 1)]
        bold = [True] + [False] * (len(lines) - 1)
        wide = max(map(text_width, lines, repeat(points), bold))
        ways.append(SquareWords(tuple(zip(bases, lines, repeat(points), bold, strict=False)), (wide, high)))
    return ways


def draw_square(
    canvas: Canvas,
    page: int,
    at: Point,
    nominal: float,
    label: str,
    words: tuple[SquareWords, Point] | None = None,
) -> Square:
    """Draw a test square with its size written inside, in the middle or as ``words`` tell, round their middle."""
    x, y = at
    side: Subpath = ((x, y), (x + nominal, y), (x + nominal, y + nominal), (x, y + nominal), (x, y))
    canvas.stroke_part(Tag.TEST_SQUARE, [side])
    said, (across, down) = words or (square_words(label)[0], Box(x, y, x + nominal, y + nominal).middle)
    for above, line, points, bold in said.lines:
        canvas.text((across, down + above), line, points, bold, align="centre")
    return Square(page, nominal, label, at)


def draw_rules(canvas: Canvas, page: int, at: Point, axis: str, pair: RulePair) -> list[Rule]:
    """Draw an inch and a centimetre line whose block has its lower left corner at ``at``."""
    across = axis == "across"
    rules = []
    for count, unit, sign, word in _lines(pair):
        start = _start(at, across, sign)
        canvas.stroke_part(Tag.RULE, _ticks(start, across, count, unit, sign))
        for along, text in _words(count, unit, word):
            where, align = _place(start, across, along, sign, text)
            canvas.text(where, text, align=align)
        rules.append(Rule(page, axis, count * unit, f"{count} {word}", start))
    return rules


def draw_foot_rules(canvas: Canvas, page: int, at: Point) -> list[Rule]:
    """Draw a 2 in and a 5 cm line across, one above the other, from ``at`` half way between both."""
    rules = []
    for count, unit, sign, word, base in ((2, INCH, 1, "in", 0.75), (5, CENTIMETRE, -1, "cm", 0.75 - LEAST_LEADING)):
        start = (at[0], at[1] + sign * _FOOT_BETWEEN / 2)
        canvas.stroke_part(Tag.RULE, _ticks(start, True, count, unit, sign, _FOOT_TICKS))
        past = at[0] + 2 * INCH + FOOT_WHITE + WEIGHT[Tag.RULE] / 2
        canvas.text((past, at[1] + base), str(count), LEAST)
        canvas.text((past + text_width(f"{count} ", LEAST), at[1] + base), word, LEAST)
        rules.append(Rule(page, "across", count * unit, f"{count} {word}", start))
    return rules


def _lines(pair: RulePair) -> tuple[tuple[int, float, int, str], ...]:
    """Return count, unit, side of the block and word for both lines."""
    return ((pair.inches, INCH, 1, "in"), (pair.centimetres, CENTIMETRE, -1, "cm"))


def _start(at: Point, across: bool, sign: int) -> Point:
    offset = RULE_DEPTH / 2 + sign * _BETWEEN / 2
    return (at[0] + 1.0, at[1] + offset) if across else (at[0] + offset, at[1] + 1.0)


def _words(count: int, unit: float, word: str) -> list[tuple[float, str]]:
    numbers = [number for number in range(1, count + 1) if unit == INCH or number % 5 == 0 or number == count]
    return [*((number * unit, str(number)) for number in numbers), (count * unit, word)]


def _ticks(
    start: Point, across: bool, count: int, unit: float, sign: int, depths: tuple[float, float] = _TICKS
) -> list[Subpath]:
    def point(along: float, off: float) -> Point:
        return (start[0] + along, start[1] + off) if across else (start[0] + off, start[1] + along)

    subpaths: list[Subpath] = [(point(0, 0), point(count * unit, 0))]
    for half in range(2 * count + 1):
        along = half * unit / 2
        depth = depths[half % 2]
        subpaths.append((point(along, 0), point(along, sign * depth)))
    return subpaths


def _place(start: Point, across: bool, along: float, sign: int, text: str) -> tuple[Point, str]:
    """Return where a number stands at its tick, or a unit past the last one, and on which side of that point."""
    past = text.isalpha()
    if across:
        y = start[1] + (_TICKS[0] + _OFF_TICK if sign > 0 else -_TICKS[0] - _OFF_TICK - 2.2)
        return (start[0] + along + (3.0 if past else 0.0), y), "left" if past else "centre"
    y = start[1] + along + (2.2 if past else -1.1)
    return (start[0] + sign * (_TICKS[0] + _OFF_TICK), y), "left" if sign > 0 else "right"
