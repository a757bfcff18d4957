"""Where the declared marks of a page lie, forms included; page mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from tiler.box import Box, Point
from tiler.declaration import Declaration, Page
from tiler.printed import Area, Ink, Line, Picture, Placed, Printed, Region, Shape, Word
from tiler.proof.ink.replica import POINTS, glyphs

NEAR = 0.2
"""What lies nearer to a stroke than this lies on it, mm."""

ON_RULE = 1.0
"""What lies nearer to a ruler line than this lies on it, mm."""

ABOVE, BELOW = 1.0, 0.3
"""How far type may reach above and below its base line, in shares of its size."""


@dataclass(frozen=True)
class Scale:
    """How a page lies on its paper: larger by two factors, for a printer, and moved by mm."""

    across: float
    down: float
    moved: Point

    def of(self, box: Box) -> Box:
        """Carry a box to the paper."""
        (dx, dy), fx, fy = self.moved, self.across, self.down
        return Box(box.x0 * fx + dx, box.y0 * fy + dy, box.x1 * fx + dx, box.y1 * fy + dy)


@dataclass(frozen=True)
class Mark:
    """A declared mark, the box around what shows of it, the form that it is of, and how the page lies."""

    mark: Printed
    box: Box
    form: Placed | None
    scale: Scale

    def touches(self, box: Box) -> bool:
        """Tell whether the mark comes near a box; of a line, one of its strokes."""
        if not self.box.overlaps(box):
            return False
        return not isinstance(self.mark, Line) or any(stroke.overlaps(box) for stroke in self._strokes)

    @cached_property
    def _strokes(self) -> Sequence[Box]:
        """The strokes of a line, and what is near them; many places are looked for there."""
        if not isinstance(self.mark, Line):
            return ()
        half = self.mark.weight / 2 + NEAR
        strokes = [pair for line in self.mark.lines for pair in pairwise(line)]
        strokes += [((x - r, y - r), (x + r, y + r)) for (x, y), r in self.mark.circles]
        return [
            self.scale.of(Box.around(carried(point, self.form) for point in stroke).grown(half)) for stroke in strokes
        ]


def counted_on(declaration: Declaration, records: Sequence[Page], sheet: Box) -> list[Box]:
    """Return where all ink of a page counts, on the ``sheet`` where it lies: in its windows and on its ruler lines."""
    rules = [rule for rule in declaration.rules if rule.page == records[0].number]
    boxes = [record.frame for record in records if record.frame]
    boxes += [Box(*rule.at, *rule.end).grown(ON_RULE) for rule in rules]
    return [box.moved(sheet.x0, sheet.y0) for box in boxes]


def marks_on(declaration: Declaration, number: int, moved: Point) -> Iterator[Mark]:
    """Return the marks of a declared page, each of a form for itself, without what its clip hides."""
    scale = Scale(declaration.factor_across, declaration.factor_down, moved)
    for mark, form in laid_on(declaration, number):
        points = [carried(point, form) for point in _points(mark)]
        box = Box.around(points) if points else None
        if box and (form is None or box.overlaps(form.clip)):
            yield Mark(mark, scale.of(box.within(form.clip) if form else box), form, scale)


def coloured_on(
    declaration: Declaration, number: int, moved: Point, whole: Box, *, whole_page: bool = False
) -> Sequence[Box]:
    """Return where a declared page prints in colour; mm.

    That is at its logo, or all over it where its lines have colours, or where the ``whole_page`` is to be taken.
    """
    if not declaration.coloured(number):
        return ()
    if whole_page or any(isinstance(mark, Ink) for mark, _ in laid_on(declaration, number)):
        return (whole,)
    marks = marks_on(declaration, number, moved)
    return [mark.box.grown(NEAR) for mark in marks if isinstance(mark.mark, Shape | Picture)]


def laid_on(declaration: Declaration, number: int) -> Iterator[tuple[Printed, Placed | None]]:
    """Yield the marks of a declared page and of its forms, those that a clip hides as well, and the form of each."""
    forms = {form.id: form.marks for form in declaration.forms}
    for mark in declaration.printed[number - 1]:
        if isinstance(mark, Placed):
            yield from ((inner, mark) for inner in forms.get(mark.form, ()))
        else:
            yield mark, None


def carried(point: Point, form: Placed | None) -> Point:
    """Carry a point of a form to the page that it is placed on; without a form it is one of the page."""
    if form is None:
        return point
    (x, y), (u, v) = form.at, point
    return (x - v, y + u) if form.turned else (x + u, y + v)


def _points(mark: Printed) -> list[Point]:
    match mark:
        case Line():
            half = mark.weight / 2
            found = [point for line in mark.lines for point in line]
            found += [(x + d, y + d) for (x, y), radius in mark.circles for d in (radius, -radius)]
            return [(x + d, y + d) for x, y in found for d in (half, -half)]
        case Region():
            return [*mark.outline]
        case Area() | Picture():
            return [(mark.area.x0, mark.area.y0), (mark.area.x1, mark.area.y1)]
        case Shape():
            half = mark.weight / 2
            return [(x + d, y + d) for line in mark.outlines for x, y in line for d in (half, -half)]
        case Word():
            return [_along(mark, 0.0, -BELOW), _along(mark, sum(advances(mark)), ABOVE)]
    return []


def mark_box(mark: Printed) -> Box:
    """Return the place of a line, an area or a sign of a logo, in its own coordinates."""
    return Box.around(_points(mark))


def word_box(word: Word) -> Box:
    """Return the place of a word, in its own coordinates."""
    return Box.around(_points(word))


def advances(word: Word) -> list[float]:
    """Return how far each character of a word moves the pen on, mm."""
    known = glyphs(word.bold)
    return [known.widths.get(known.numbers.get(ord(sign), 0), 0) * word.size / POINTS / 1000 for sign in word.text]


def _along(word: Word, along: float, up: float) -> Point:
    (x, y), size = word.at, word.size / POINTS
    return (x - up * size, y + along) if word.turned else (x + along, y + up * size)
