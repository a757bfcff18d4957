"""Squares of any PDF: those that say how large they should be; mm.

A nominal size comes from the words in or at a square, never from the nearest round
number: a 2 in square at 98.425 % is exactly 5 cm.  A square counts when its ink is
really there.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import hypot
from unicodedata import normalize

from tiler.declaration import Box
from tiler.proof.ink import Ink
from tiler.proof.report import FAIL, PASS, Check
from tiler.proof.tolerances import FOREIGN_SCALE, VECTOR
from tiler.reading.document import PageRead
from tiler.reading.strokes import Stroke
from tiler.reading.text import Text

INCH = Fraction(254, 10)
"""NIST SP 811, App. B: 1 in = 25.4 mm exactly."""

LEAST, MOST = 8.0, 320.0
"""Sides of what may be a test square, mm."""

LOPSIDED = 0.15
"""Sides that differ by more than this share make no square, however badly it was scaled."""

BESIDE = 8.0
"""Words no further than this outside a square may name its size, mm."""

PLAUSIBLE = 1.6
"""A label is not of this square when the sizes differ by more than this factor."""

LEAST_GUESSED, MOST_GUESSED = 20.0, 130.0
"""A square without a label is only taken for a test square between these sides, mm."""

NEAR_EXPECTED = 0.15
"""A square that differs by more than this share from what is expected is another one."""

NEAR_ROUND = 0.08
"""A guess goes no further than this share from the nearest round size."""

ROUND = (
    *((float(count * INCH), f"{count} in") for count in (1, 2, 3, 4, 5)),
    *((count * 10.0, f"{count:g} cm") for count in (2.5, 3, 4, 5, 10)),
)
"""Sides that test squares usually have: common practice."""

MOST_LINES = 4000
"""On a page with more straight lines, squares are not put together from single lines."""

EVERYWHERE = Box(-1e6, -1e6, 1e6, 1e6)

_NUMBER = r"(\d{1,3}(?:[.,]\d{1,3})?(?:[ -]\d{1,2}/\d{1,2})?|\d{1,2}/\d{1,2})"
_UNIT = (
    r"(inch(?:es)?|in\b(?!\s+(?:the|this|that|an?|each|all|both)\b)|''|[\"″”“]"
    r"|cm\b|centimet(?:er|re)s?|mm\b|millimet(?:er|re)s?)"
)
_SIZE = re.compile(rf"(?<![\d./]){_NUMBER}\s*-?\s*{_UNIT}", re.IGNORECASE)
_BARE_BY = re.compile(rf"(?<![\d./]){_NUMBER}\s*[x×]\s*{_NUMBER}\s*-?\s*{_UNIT}", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Labelled:
    """A square with its size as drawn and as its label states it."""

    page: int
    box: Box
    nominal: float
    label: str


def labelled_squares(page: PageRead, ink: Ink | None) -> list[Labelled]:
    """Give the squares of a page that state their size and can be seen."""
    boxes = _candidates(page)
    if not boxes or ink is None:
        return []
    found = []
    for box, strokes in boxes.items():
        label = _label_of(box, page.texts)
        if label and not any(True for stroke in strokes for _ in ink.faults(stroke, EVERYWHERE)):
            found.append(Labelled(page.number, box, label[0], label[1]))
    return found


def unlabelled_squares(page: PageRead, ink: Ink | None, labelled: Sequence[Labelled]) -> list[Box]:
    """Give the squares of a page that state no size, can be seen, and are as large as test squares are."""
    named = {square.box for square in labelled if square.page == page.number}
    return [
        box
        for box, strokes in (_candidates(page) if ink else {}).items()
        if box not in named
        and LEAST_GUESSED <= box.width <= MOST_GUESSED
        and ink is not None
        and not any(True for stroke in strokes for _ in ink.faults(stroke, EVERYWHERE))
    ]


def has_squares(page: PageRead) -> bool:
    """Tell whether a page holds a square at all, with or without a label."""
    return bool(_candidates(page))


def as_expected(page: int, boxes: Sequence[Box], expected: float, words: str) -> list[Labelled]:
    """Take those squares for the expected one whose size is near it: a label that the person gives."""
    return [
        Labelled(page, box, expected, f"{words} as expected")
        for box in boxes
        if abs((box.width + box.height) / 2 / expected - 1) <= NEAR_EXPECTED
    ]


def guess(box: Box) -> str | None:
    """Give the round size that a square without a label may be meant to have, in words; None when there is none."""
    side = (box.width + box.height) / 2
    near = min(ROUND, key=lambda size: abs(side / size[0] - 1))
    return near[1] if abs(side / near[0] - 1) <= NEAR_ROUND else None


def has_candidates(page: PageRead) -> bool:
    """Tell whether a page holds anything that may be a labelled square, so that rendering is worth it."""
    return any(_sizes(text.text) for text in page.texts) and bool(_candidates(page))


def _candidates(page: PageRead) -> dict[Box, list[Stroke]]:
    found: dict[Box, list[Stroke]] = {}
    lines: list[Stroke] = []
    for stroke in page.strokes:
        if len(stroke.points) == 2:
            lines.append(stroke)
        elif len(stroke.points) in (4, 5) and not stroke.curves:
            box = stroke.box
            if _square(box) and stroke.stroked and all(_at_corner(point, box) for point in stroke.points):
                found.setdefault(box, [stroke])
    if len(lines) <= MOST_LINES:
        for box, sides in _of_lines(lines):
            found.setdefault(box, sides)
    return found


def _square(box: Box) -> bool:
    small, large = sorted((box.width, box.height))
    return small >= LEAST and large <= MOST and large / small - 1 <= LOPSIDED


def _at_corner(point: tuple[float, float], box: Box) -> bool:
    x, y = point
    return min(abs(x - box.x0), abs(x - box.x1)) <= VECTOR and min(abs(y - box.y0), abs(y - box.y1)) <= VECTOR


def _of_lines(lines: Sequence[Stroke]) -> Iterator[tuple[Box, list[Stroke]]]:
    """Put four lines together whose ends meet; looked up by their lower left ends."""
    flat: dict[tuple[int, int], list[Stroke]] = {}
    upright: dict[tuple[int, int], list[Stroke]] = {}
    for line in lines:
        box = line.box
        table = flat if box.height <= VECTOR else upright if box.width <= VECTOR else None
        if table is not None and LEAST <= hypot(box.width, box.height) <= MOST:
            table.setdefault(_cell(box.x0, box.y0), []).append(line)
    for bottom in (line for bundle in flat.values() for line in bundle):
        foot = bottom.box
        for left in _starting(upright, foot.x0, foot.y0):
            side = left.box
            tops = _starting(flat, foot.x0, side.y1)
            rights = _starting(upright, foot.x1, foot.y0)
            top = next((line for line in tops if abs(line.box.x1 - foot.x1) <= END), None)
            right = next((line for line in rights if abs(line.box.y1 - side.y1) <= END), None)
            box = Box(side.x0, foot.y0, right.box.x0 if right else 0.0, top.box.y0 if top else 0.0)
            if top and right and _square(box):
                yield box, [bottom, left, top, right]


END = 0.3
"""Ends of lines that are nearer than this meet."""


def _cell(x: float, y: float) -> tuple[int, int]:
    return round(x), round(y)


def _starting(table: dict[tuple[int, int], list[Stroke]], x: float, y: float) -> Iterator[Stroke]:
    for column in {round(x - END), round(x + END)}:
        for row in {round(y - END), round(y + END)}:
            for line in table.get((column, row), ()):
                if abs(line.box.x0 - x) <= END and abs(line.box.y0 - y) <= END:
                    yield line


def _label_of(box: Box, texts: Sequence[Text]) -> tuple[float, str] | None:
    side = (box.width + box.height) / 2
    best: tuple[float, float, str] | None = None
    for text in texts:
        gap = _gap(text.box, box)
        if gap > BESIDE or (best and gap >= best[0]):
            continue
        for nominal, words in _sizes(text.text):
            if 1 / PLAUSIBLE < side / nominal < PLAUSIBLE:
                best = (gap, nominal, words)
                break
    return best[1:] if best else None


def _gap(text: Box, box: Box) -> float:
    """Give how far the middle of a text lies outside a box; inside it is 0."""
    x, y = (text.x0 + text.x1) / 2, (text.y0 + text.y1) / 2
    across = max(box.x0 - x, x - box.x1, 0.0)
    down = max(box.y0 - y, y - box.y1, 0.0)
    return hypot(max(0.0, across - (text.width / 2 if across else 0.0)), max(0.0, down - text.height / 2))


def _sizes(text: str) -> list[tuple[float, str]]:
    """Give the lengths that a text names, mm."""
    plain = normalize("NFKC", re.sub(r"(?<=\d)(?=[¼½¾⅛⅜⅝⅞⅓⅔])", " ", text)).replace("⁄", "/")
    sizes = []
    for found in (*_BARE_BY.finditer(plain), *_SIZE.finditer(plain)):
        value = _value(found[1])
        if value:
            sizes.append((float(value * _factor(found[found.lastindex or 2])), found[0].strip()))
    return sizes


def _value(text: str) -> Fraction | None:
    total = Fraction(0)
    for part in re.split(r"[ -]", text.replace(",", ".")):
        top, _, foot = part.partition("/")
        if foot and int(foot) == 0:
            return None
        total += Fraction(top) / (int(foot) if foot else 1)
    return total or None


def _factor(unit: str) -> Fraction:
    word = unit.lower()
    if word.startswith(("cm", "centi")):
        return Fraction(10)
    return Fraction(1) if word.startswith(("mm", "milli")) else INCH


def judge(squares: Sequence[Labelled]) -> Iterator[Check]:
    """Give both sides of every labelled square."""
    for square in squares:
        for axis, size in (("across", square.box.width), ("down", square.box.height)):
            right = abs(size / square.nominal - 1) <= FOREIGN_SCALE
            status = PASS if right else FAIL
            yield Check("square", status, square.page, size, square.nominal, f"{square.label} {axis}", axis)
