"""Squares of any PDF: those that say how large they should be; mm.

A nominal size comes from the words in or at a square, never from the nearest round
number: a 2 in square at 98.425 % is exactly 5 cm.  A square and its label count when
their ink is really there; one that is written and not visible is named.  Rectangles, circles and
marks at four corners are judged alike.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from enum import IntEnum
from math import hypot, log

from tiler.box import Box
from tiler.proof.foreign.label_lines import Line, Said
from tiler.proof.foreign.outlines import outlined
from tiler.proof.foreign.quadrangle import Edge, Quadrangle, Shape, quadrangles
from tiler.proof.foreign.round_and_open import circles, marked_squares
from tiler.proof.foreign.side_ink import CONTRAST, Looks
from tiler.proof.foreign.size_words import INCH, Stated, equal
from tiler.proof.foreign.telling_words import Telling, names_circle, telling
from tiler.proof.ink.pixels import Pixels
from tiler.proof.report.causes import by_unit
from tiler.reading.pdf.strokes import Stroke

BESIDE, FAR = 8.0, 20.0
"""Words no further than this outside a square may name its size, mm, and those that are further when they
speak of a test or can mean no other."""

PLAUSIBLE = 1.6
"""A label is not of this square when the sizes differ by more than this factor and by no wrong unit."""

LIKELY = 1.12
"""Of two squares within each other a label means the inner one when the sizes differ by no more than this factor."""

LOPSIDED = 1.15
"""A rectangle whose sides are further from those stated than this is another one."""

UNSQUARE = 0.005
"""Sides that differ by more than this share make no square, unless words say that it is one."""

STRETCHED = 0.1
"""By so much a placement may have stretched a square that only states a usual size: letter fills A4 by 9 %."""

LEAST_GUESSED, MOST_GUESSED = 20.0, 130.0
"""A square without a label is only taken for a test square between these sides, mm."""

LARGEST_LABELLED = 160.0
"""Words in a larger shape are those of a piece or a page."""

USUAL = frozenset(
    round(size, 4)
    for size in (*(float(INCH) * count / 2 for count in range(1, 17)), *(count * 5.0 for count in range(2, 41)), 25.0)
)
"""Sides that test squares usually have: halves of an inch, and whole and half centimetres; common practice."""


class Rank(IntEnum):
    """How surely a shape is meant to be measured."""

    PIECE = 0
    UNUSUAL = 1
    PLAIN = 2
    NAMED = 3


@dataclass(frozen=True)
class Labelled:
    """A square with its sizes as drawn and as its label states them; ``leaning`` is how far it is from square.

    ``high`` is what it should be down the page where that is not ``nominal``; ``sizes`` are all that the label
    states of it, ``edges`` its sizes by each edge of its line that may be meant; ``number`` is what people call it by.
    """

    page: int
    box: Box
    across: float
    down: float
    nominal: float
    label: str
    leaning: float = 0.0
    high: float = 0.0
    sizes: tuple[Stated, ...] = ()
    edges: tuple[tuple[Edge, float, float], ...] = ()
    rank: Rank = Rank.PLAIN
    line: float = 0.0
    shape: Shape = Shape.SQUARE
    number: int = 0

    @property
    def ratios(self) -> tuple[float, float]:
        """Measured over nominal, across and down."""
        return self.across / self.nominal, self.down / (self.high or self.nominal)


@dataclass(frozen=True)
class SquaresOfPage:
    """The squares of one page: those that state their size, those that do not, and those that are not visible."""

    labelled: list[Labelled] = field(default_factory=list)
    bare: list[Labelled] = field(default_factory=list)
    unseen: list[Labelled] = field(default_factory=list)
    used: set[int] = field(default_factory=set)
    """The labels that name a square."""


def shapes_of(strokes: Sequence[Stroke], said: Sequence[Said]) -> list[Quadrangle]:
    """Return all that may be a test square on a page, and rectangles and circles where words speak of them."""
    oblong = any(size.oblong for one in said for size in one.sizes)
    found = outlined(quadrangles(strokes, oblong))
    if said:
        found += marked_squares(strokes, oblong)
    if any(names_circle(one.context) or telling(one.context) is Telling.TEST for one in said):
        found += outlined(list(circles(strokes)))
    return found


def squares_of_page(
    number: int, looks: Looks, found: Sequence[Quadrangle], said: Sequence[Said], lines: Sequence[Line]
) -> SquaresOfPage:
    """Return the squares ``found`` on a page with the words that belong to them."""
    squares = SquaresOfPage()
    printed = [one for one in said if is_printed(one.box, looks.pixels)]
    near = {index: _near(found, one) for index, one in enumerate(printed)}
    wanted = {place for places in near.values() for place in places}
    visible = {place for place in wanted if looks.shows(found[place].sides)}
    seen = {index: [place for place in places if place in visible] for index, places in near.items()}
    taken = _matched(found, printed, seen)
    for place, index in sorted(taken.items()):
        inside = _inside(found, place, lines)
        squares.used.add(id(printed[index].label))
        squares.labelled.append(_labelled(number, found[place], printed, index, inside))
    if not taken:
        for place, index in _matched(found, printed, near).items():
            squares.used.add(id(printed[index].label))
            squares.unseen.append(_labelled(number, found[place], printed, index, []))
    for place, square in enumerate(found):
        if place in taken or not square.squarish or square.shape is not Shape.SQUARE:
            continue
        if LEAST_GUESSED <= square.side <= MOST_GUESSED and (
            place in visible or (place not in wanted and looks.shows(square.sides))
        ):
            squares.bare.append(_sized(number, square, Stated(1.0, 1.0, ""), Rank.UNUSUAL, ()))
    return squares


def is_printed(box: Box, pixels: Pixels) -> bool:
    """Tell whether anything stands out where words are written."""
    (left, top), (right, foot) = pixels.pixel((box.x0, box.y1)), pixels.pixel((box.x1, box.y0))
    first, last = max(0, int(left)), min(pixels.width, int(right) + 1)
    rows = range(max(0, int(top)), min(pixels.height, int(foot) + 1))
    lines = [pixels.data[row * pixels.stride + first : row * pixels.stride + last] for row in rows if first < last]
    return bool(lines) and max(map(max, lines)) - min(map(min, lines)) >= CONTRAST


def _near(found: Sequence[Quadrangle], said: Said) -> list[int]:
    """Return the shapes that words may name, the likeliest first."""
    gaps = {
        place: gap
        for place, shape in enumerate(found)
        if (gap := _gap(said.box, shape.box)) <= FAR and _off(shape, said) is not None
    }
    near = {place: gap for place, gap in gaps.items() if gap <= BESIDE}
    if not near and (len(gaps) == 1 or telling(said.context) >= Telling.SHAPE):
        near = gaps
    return sorted(near, key=lambda place: (_is_frame(found, near, place, said), near[place], found[place].side))


def _off(shape: Quadrangle, said: Said) -> float | None:
    """Return by how much a shape differs from the size in words that is nearest to it; None when none is of it."""
    if shape.shape is Shape.CIRCLE and not names_circle(said.context) and telling(said.context) is not Telling.TEST:
        return None
    return min((off for size in said.sizes if (off := _size_off(shape, size)) is not None), default=None)


def _size_off(shape: Quadrangle, size: Stated) -> float | None:
    if size.oblong:
        turned = _turned(shape, size)
        across, down = abs(log(shape.across / turned.wide)), abs(log(shape.down / turned.high))
        near = abs(log(shape.across / turned.wide * turned.high / shape.down)) <= log(LOPSIDED)
        return max(across, down) if near and max(across, down) < log(PLAUSIBLE) else None
    if not shape.squarish:
        return None
    ratio = shape.side / size.wide
    plausible = 1 / PLAUSIBLE < ratio < PLAUSIBLE or (by_unit(ratio) and size.unit)
    return abs(log(ratio)) if plausible else None


def _turned(shape: Quadrangle, size: Stated) -> Stated:
    """Return a stated size the way that the shape lies."""
    wide = (shape.across > shape.down) is (size.wide > size.high)
    return size if wide else Stated(size.high, size.wide, size.words)


def _is_frame(found: Sequence[Quadrangle], near: dict[int, float], place: int, said: Said) -> bool:
    """Tell whether a shape only frames another one that the words fit."""
    outer, own = found[place], _off(found[place], said) or 0.0
    for other in near:
        inner = found[other]
        if inner.side < 0.99 * outer.side and outer.box.holds(inner.box):
            off = _off(inner, said)
            if off is not None and (off <= log(LIKELY) or off <= own):
                return True
    return False


def _matched(found: Sequence[Quadrangle], said: Sequence[Said], near: dict[int, list[int]]) -> dict[int, int]:
    """Return each shape its words, and each words one shape; words that fit their shape best choose first."""
    taken: dict[int, int] = {}
    waiting = [index for index, places in near.items() if places]
    for index in sorted(waiting, key=lambda one: _off(found[near[one][0]], said[one]) or 0.0):
        place = next((place for place in near[index] if place not in taken), None)
        # of words that mean one shape with others, as a second size does, none goes to another
        shared = near[index][0] in taken and said[taken[near[index][0]]].label is said[index].label
        if place is not None and not shared:
            taken[place] = index
    return taken


def _inside(found: Sequence[Quadrangle], place: int, lines: Sequence[Line]) -> list[Line]:
    """Return the words in a shape and in none that lies within it."""
    box = found[place].box
    if max(box.width, box.height) > LARGEST_LABELLED:
        return []
    inner = [other.box for index, other in enumerate(found) if index != place and box.holds(other.box)]
    held = [line for line in lines if box.holds(line.box)]
    return [
        line for line in held if not any(other.holds(line.box) for other in inner if other.width < 0.98 * box.width)
    ]


def _labelled(page: int, shape: Quadrangle, said: Sequence[Said], index: int, inside: Sequence[Line]) -> Labelled:
    own = said[index]
    held = {id(line.label) for line in inside}
    words = [own, *(one for one in said if one is not own and (one.label is own.label or id(one.label) in held))]
    near = [(off, size) for one in words for size in one.sizes if (off := _size_off(shape, size)) is not None]
    if any(off < log(PLAUSIBLE) for off, _ in near):
        near = [(off, size) for off, size in near if off < log(PLAUSIBLE)]
    sizes: list[Stated] = []
    for _, size in near:
        turned = _turned(shape, size) if size.oblong else size
        if not any(equal(turned.wide, one.wide) and equal(turned.high, one.high) for one in sizes):
            sizes.append(turned)
    first = sizes[0]
    spoken = " ".join([own.context, *(line.text for line in inside)])
    return _sized(page, shape, first, _rank(shape, first, own, spoken), tuple(sizes))


def _rank(shape: Quadrangle, size: Stated, said: Said, words: str) -> Rank:
    told = telling(words)
    usual = any(abs(one - size.wide) < 1e-3 for one in USUAL) or size.oblong
    unsquare = abs(shape.across / size.wide * size.high / shape.down - 1)
    if told is Telling.PIECE:
        return Rank.PIECE
    if told >= Telling.SHAPE:
        return Rank.NAMED
    if unsquare > UNSQUARE and not (said.bare and usual and unsquare <= STRETCHED):
        return Rank.PIECE
    return Rank.PLAIN if usual else Rank.UNUSUAL


def _sized(page: int, shape: Quadrangle, size: Stated, rank: Rank, sizes: tuple[Stated, ...]) -> Labelled:
    return Labelled(
        page,
        shape.box,
        shape.across,
        shape.down,
        size.wide,
        size.words,
        shape.leaning,
        size.high if size.oblong else 0.0,
        sizes,
        shape.edges(),
        rank,
        shape.line or shape.pen,
        shape.shape,
    )


def _gap(text: Box, box: Box) -> float:
    """Return how far the middle of a text lies outside a box; inside it is 0."""
    x, y = text.middle
    across = max(box.x0 - x, x - box.x1, 0.0)
    down = max(box.y0 - y, y - box.y1, 0.0)
    return hypot(max(0.0, across - (text.width / 2 if across else 0.0)), max(0.0, down - text.height / 2))


def in_order(squares: Sequence[Labelled]) -> Iterator[Labelled]:
    """Yield squares page by page, from the top, as a person counts them."""
    return iter(sorted(squares, key=lambda one: (one.page, -one.box.y1, one.box.x0)))
