"""Lines of text of a page; mm, y up, from the lower left corner of the page as shown.

A page holds thousands of characters, so what is kept of each is little.
Characters that follow each other on one base line, in one direction and under one
tag are put together.  How they are turned comes from the text matrix
(ISO 32000-1, 9.4.2): a negative determinant is mirrored type.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import atan2, degrees, hypot
from typing import Any

from pdfminer.layout import LTChar, LTContainer, LTCurve, LTItem

from tiler.box import Box, Point

Matrix = tuple[float, float, float, float, float, float]

Glyph = tuple[float, float, float, float]
"""The box of a printed character."""

WORD_SPACE = 0.2
"""A wider gap than this share of the type size is a space."""

BREAK = 1.5
"""A wider gap than this share of the type size begins another text."""


@dataclass(frozen=True, slots=True)
class Text:
    """A line of text: ``turn`` is counterclockwise in degrees, 0 for upright type; ``size`` its height.

    ``order`` counts the paths that were painted on the page before it.
    """

    tag: str | None
    text: str
    box: Box
    turn: float
    mirrored: bool
    size: float
    glyphs: tuple[Glyph, ...]
    order: int = 0

    @property
    def upright(self) -> bool:
        """Tell whether the text reads from left to right."""
        return not self.mirrored and abs(self.turn) < 0.5

    def moved(self, dx: float, dy: float, paths: int = 0) -> Text:
        """Return the same text elsewhere, behind so many more ``paths``."""
        return Text(
            self.tag,
            self.text,
            self.box.moved(dx, dy),
            self.turn,
            self.mirrored,
            self.size,
            tuple([(x0 + dx, y0 + dy, x1 + dx, y1 + dy) for x0, y0, x1, y1 in self.glyphs]),
            self.order + paths,
        )


class Run(LTItem):
    """Characters that follow each other without a gap, in a quarter of the time that the library's own take.

    ``letters`` and ``boxes`` belong to each other; ``pen`` is where the first begins and ``end`` where the
    last has moved the pen to; ``forward`` tells that type moves on and not back.  All in units of the page.
    """

    def __init__(
        self,
        tag: str | None,
        linear: tuple[float, ...],
        letters: Sequence[str],
        boxes: Sequence[Glyph],
        pen: Point,
        end: Point,
        forward: bool,
    ) -> None:
        """Take what is known of the characters; ``linear`` are the first four numbers of their matrix."""
        self.tag, self.linear, self.letters, self.boxes = tag, linear, letters, boxes
        self.pen, self.end, self.forward = pen, end, forward

    @classmethod
    def placed(
        cls, tag: str | None, matrix: Matrix, letters: Sequence[str], stops: Sequence[float], foot: float, size: float
    ) -> Run:
        """Place characters between the ``stops`` along the base line, from ``foot`` up by ``size``; in text space."""
        a, b, c, d, e, f = matrix
        top = foot + size
        x, last = stops[0], stops[-1]
        if b == c == 0 and a > 0 and d > 0 and size > 0:
            # nearly all type is upright
            y0, y1 = f + d * foot, f + d * top
            edges = [e + a * stop for stop in stops]
            boxes = [(x0, y0, x1, y1) if x0 <= x1 else (x1, y0, x0, y1) for x0, x1 in pairwise(edges)]
        else:
            near, far = sorted((c * foot, c * top))
            below, above = sorted((d * foot, d * top))
            ends = [(e + a * stop, f + b * stop) for stop in stops]
            boxes = [
                (min(xa, xb) + near, min(ya, yb) + below, max(xa, xb) + far, max(ya, yb) + above)
                for (xa, ya), (xb, yb) in pairwise(ends)
            ]
        pen, end = (e + a * x, f + b * x), (e + a * last, f + b * last)
        return cls(tag, (a, b, c, d), letters, boxes, pen, end, stops[1] >= x)

    @classmethod
    def of(cls, char: LTChar) -> Run:
        """Take a character of the library's own."""
        a, b, c, d, e, f = char.matrix
        end = (e + char.adv * a, f + char.adv * b)
        tag = getattr(char, "tag", None)
        return cls(tag, (a, b, c, d), (char.get_text(),), (char.bbox,), (e, f), end, char.adv >= 0)


class _Line:
    """Runs that are being put together."""

    def __init__(self, first: Run, order: int) -> None:
        self.order = order
        self.tag, self.linear, self.end, self.forward = first.tag, first.linear, first.end, first.forward
        a, b = self.linear[:2]
        length = hypot(a, b) or 1.0
        self.along = (a / length, b / length)
        x0, y0, x1, y1 = first.boxes[0]
        self.size = float(y1 - y0 if abs(a) >= abs(b) else x1 - x0) or 1.0
        self.letters = list(first.letters)
        self.boxes = list(first.boxes)
        self.spaces: list[int] = []

    def add(self, run: Run) -> bool:
        """Take the next run; False when it begins another text."""
        if run.linear != self.linear or run.tag != self.tag:
            return False
        dx, dy = run.pen[0] - self.end[0], run.pen[1] - self.end[1]
        ux, uy = self.along
        gap = (dx * ux + dy * uy) / self.size
        if abs(dy * ux - dx * uy) > 0.1 * self.size or not -0.5 < gap < BREAK:
            return False
        if gap > WORD_SPACE and not (run.letters[0].isspace() or self.letters[-1].isspace()):
            self.spaces.append(len(self.letters))
        self.letters += run.letters
        self.boxes += run.boxes
        self.end = run.end
        return True

    def text(self, k: float) -> Text | None:
        """Return the finished text; None when nothing in it is printed."""
        a, b, c, d = self.linear
        boxes = [
            (x0 * k, y0 * k, x1 * k, y1 * k)
            for letter, (x0, y0, x1, y1) in zip(self.letters, self.boxes, strict=True)
            if not letter.isspace()
        ]
        if not boxes:
            return None
        for place in reversed(self.spaces):
            self.letters.insert(place, " ")
        lefts, feet, rights, tops = zip(*boxes, strict=True)
        return Text(
            tag=self.tag,
            text="".join(self.letters).strip(),
            box=Box(min(lefts), min(feet), max(rights), max(tops)),
            turn=degrees(atan2(b, a)),
            mirrored=(a * d - b * c < 0) == self.forward,
            size=self.size * k,
            glyphs=tuple(boxes),
            order=self.order,
        )


def texts_of(items: Iterable[Any], k: float, paths: int = 0) -> Iterator[Text]:
    """Yield the lines of text of a page's items in painting order.

    ``k`` is mm per unit, ``paths`` were painted before.
    """
    line: _Line | None = None
    for run in _painted(items):
        if run is None:
            paths += 1
            continue
        if line and line.add(run):
            continue
        if line and (text := line.text(k)):
            yield text
        line = _Line(run, paths)
    if line and (text := line.text(k)):
        yield text


def _painted(items: Iterable[Any]) -> Iterator[Run | None]:
    """Yield the runs of type, and None for each path."""
    for item in items:
        if isinstance(item, Run):
            yield item
        elif isinstance(item, LTCurve):
            yield None
        elif isinstance(item, LTChar):
            yield Run.of(item)
        elif isinstance(item, LTContainer):
            yield from _painted(item)
