"""Squares of any PDF: those that say how large they should be; mm.

A nominal size comes from the words in or at a square, never from the nearest round
number: a 2 in square at 98.425 % is exactly 5 cm.  A square and its label count when
their ink is really there; one that is written and not visible is named.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from math import hypot, log

from tiler.box import Box
from tiler.proof.foreign.quadrangle import Quadrangle, quadrangles
from tiler.proof.foreign.side_ink import CONTRAST, is_visible
from tiler.proof.foreign.size_words import INCH, sizes_named
from tiler.proof.ink.pixels import Pixels
from tiler.proof.report.causes import by_unit
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says
from tiler.proof.tolerances import FOREIGN_SCALE
from tiler.reading.pdf.document import PageRead
from tiler.reading.pdf.text import Text

BESIDE = 8.0
"""Words no further than this outside a square may name its size, mm."""

PLAUSIBLE = 1.6
"""A label is not of this square when the sizes differ by more than this factor and by no wrong unit."""

LIKELY = 1.12
"""Of two squares within each other a label means the inner one when the sizes differ by no more than this factor."""

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

MOST_UNSEEN = 3
"""Squares that are written and not visible are named up to this number."""


@dataclass(frozen=True)
class Labelled:
    """A square with its sizes as drawn and as its label states them; ``leaning`` is how far it is from square."""

    page: int
    box: Box
    across: float
    down: float
    nominal: float
    label: str
    leaning: float = 0.0


@dataclass(frozen=True)
class SquaresOfPage:
    """The squares of one page: those that state their size, those that do not, and those that are not visible."""

    labelled: list[Labelled] = field(default_factory=list)
    bare: list[Labelled] = field(default_factory=list)
    unseen: list[Labelled] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class _Label:
    text: int
    nominal: float
    words: str


def squares_of_page(page: PageRead, pixels: Pixels, found: Sequence[Quadrangle]) -> SquaresOfPage:
    """Return the squares ``found`` on a page with the words that belong to them."""
    squares = SquaresOfPage()
    labels = _labels(page.texts, pixels)
    near = {index: _near(found, page.texts[label.text].box, label.nominal) for index, label in enumerate(labels)}
    wanted = {place for places in near.values() for place in places}
    visible = {place for place in wanted if _visible(pixels, found[place])}
    taken = _matched(found, labels, {index: [p for p in places if p in visible] for index, places in near.items()})
    squares.labelled.extend(_labelled(page.number, found[place], label) for place, label in sorted(taken.items()))
    if not taken:
        unseen = _matched(found, labels, near)
        squares.unseen.extend(_labelled(page.number, found[place], label) for place, label in unseen.items())
    for place, square in enumerate(found):
        right_size = LEAST_GUESSED <= square.side <= MOST_GUESSED
        if (
            right_size
            and place not in taken
            and (place in visible or (place not in wanted and _visible(pixels, square)))
        ):
            squares.bare.append(_labelled(page.number, square, _Label(-1, 0.0, "")))
    return squares


def labelled_squares(page: PageRead, render: Callable[[], Pixels]) -> list[Labelled]:
    """Return the visible squares of a page that state their size; it is only rendered when there may be some."""
    if not any(sizes_named(text.text) for text in page.texts):
        return []
    found = quadrangles(page.strokes)
    return squares_of_page(page, render(), found).labelled if found else []


def as_expected(bare: Sequence[Labelled], expected: float, words: str) -> list[Labelled]:
    """Take those squares for the expected one whose size is near it: a label that the person gives."""
    return [
        Labelled(one.page, one.box, one.across, one.down, expected, f"{words} as expected", one.leaning)
        for one in bare
        if abs((one.across + one.down) / 2 / expected - 1) <= NEAR_EXPECTED
    ]


def guess(square: Labelled) -> str | None:
    """Return the round size that a square without a label may be meant to have, in words; None when there is none."""
    side = (square.across + square.down) / 2
    near = min(ROUND, key=lambda size: abs(side / size[0] - 1))
    return near[1] if abs(side / near[0] - 1) <= NEAR_ROUND else None


def _labels(texts: Sequence[Text], pixels: Pixels) -> list[_Label]:
    return [
        _Label(index, nominal, words)
        for index, text in enumerate(texts)
        for nominal, words in sizes_named(text.text)
        if _printed(text.box, pixels)
    ]


def _printed(box: Box, pixels: Pixels) -> bool:
    """Tell whether anything stands out where words are written."""
    (left, top), (right, foot) = pixels.pixel((box.x0, box.y1)), pixels.pixel((box.x1, box.y0))
    first, last = max(0, int(left)), min(pixels.width, int(right) + 1)
    rows = range(max(0, int(top)), min(pixels.height, int(foot) + 1))
    lines = [pixels.data[row * pixels.stride + first : row * pixels.stride + last] for row in rows if first < last]
    return bool(lines) and max(map(max, lines)) - min(map(min, lines)) >= CONTRAST


def _visible(pixels: Pixels, square: Quadrangle) -> bool:
    return all(is_visible(pixels, side) for side in square.sides)


def _near(found: Sequence[Quadrangle], text: Box, nominal: float) -> list[int]:
    """Return the squares that a text may name, the likeliest first."""
    gaps = {
        place: gap
        for place, square in enumerate(found)
        if _plausible(square.side / nominal) and (gap := _gap(text, square.box)) <= BESIDE
    }
    return sorted(gaps, key=lambda place: (_is_frame(found, gaps, place, nominal), gaps[place], found[place].side))


def _plausible(ratio: float) -> bool:
    return 1 / PLAUSIBLE < ratio < PLAUSIBLE or by_unit(ratio)


def _is_frame(found: Sequence[Quadrangle], near: dict[int, float], place: int, nominal: float) -> bool:
    """Tell whether a square only frames another one that the words fit."""
    outer = found[place].box
    for other in near:
        inner = found[other]
        if inner.side < 0.99 * found[place].side and outer.holds(inner.box):
            off = abs(log(inner.side / nominal))
            if off <= log(LIKELY) or off <= abs(log(found[place].side / nominal)):
                return True
    return False


def _matched(found: Sequence[Quadrangle], labels: Sequence[_Label], near: dict[int, list[int]]) -> dict[int, _Label]:
    """Return each text one square and each square one text; texts that fit their square best choose first."""
    taken: dict[int, _Label] = {}
    used: set[int] = set()
    waiting = [index for index, places in near.items() if places]
    for index in sorted(waiting, key=lambda one: abs(log(found[near[one][0]].side / labels[one].nominal))):
        label = labels[index]
        place = next((place for place in near[index] if place not in taken), None)
        if place is not None and label.text not in used:
            taken[place] = label
            used.add(label.text)
    return taken


def _labelled(page: int, square: Quadrangle, label: _Label) -> Labelled:
    return Labelled(page, square.box, square.across, square.down, label.nominal, label.words, square.leaning)


def _gap(text: Box, box: Box) -> float:
    """Return how far the middle of a text lies outside a box; inside it is 0."""
    x, y = text.middle
    across = max(box.x0 - x, x - box.x1, 0.0)
    down = max(box.y0 - y, y - box.y1, 0.0)
    return hypot(max(0.0, across - (text.width / 2 if across else 0.0)), max(0.0, down - text.height / 2))


def judge(squares: Sequence[Labelled]) -> Iterator[Check]:
    """Yield both sides of every labelled square."""
    for square in squares:
        lean = square.leaning > FOREIGN_SCALE * square.nominal
        for axis, size in (("across", square.across), ("down", square.down)):
            right = abs(size / square.nominal - 1) <= FOREIGN_SCALE and not lean
            yield Check(
                CheckName.SQUARE,
                Status.PASS if right else Status.FAIL,
                Says.FOUND_LEANING if lean else Says.FOUND,
                square.page,
                size,
                square.nominal,
                label=square.label,
                axis=axis,
                box=square.box,
                foreign=True,
                numbers={"lean": square.leaning} if lean else {},
            )


def judge_unseen(squares: Sequence[Labelled]) -> Iterator[Check]:
    """Name the squares that the file holds and the print does not."""
    for square in squares[:MOST_UNSEEN]:
        sides = {"across": square.across, "down": square.down}
        yield Check(
            CheckName.UNSEEN,
            Status.WARN,
            Says.UNSEEN,
            square.page,
            label=square.label,
            box=square.box,
            numbers=sides,
        )
