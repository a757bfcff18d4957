"""Lines of text of a page; mm, y up, from the lower left corner of the page as shown.

A page holds thousands of characters, so what is kept of each is little.
Characters that follow each other on one base line, in one direction and under one
tag are put together.  How they are turned comes from the text matrix
(ISO 32000-1, 9.4.2): a negative determinant is mirrored type.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import atan2, degrees, hypot
from typing import Any

from pdfminer.layout import LTChar, LTContainer, LTCurve, LTItem

from tiler.box import Box

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


class Letter(LTItem):
    """A printed character of horizontal type, as the reading library's own, in a quarter of the time.

    ``adv`` is how far the type moves on, in text space; the box is in units of the page.
    """

    def __init__(self, text: str, matrix: Matrix, adv: float, foot: float, size: float, tag: str | None) -> None:
        """Place a character whose box goes from ``foot`` up by ``size`` and on by ``adv``, in text space."""
        a, b, c, d, e, f = matrix
        self._text, self.matrix, self.adv, self.tag = text, matrix, adv, tag
        top = foot + size
        if b == c == 0 and a > 0 and d > 0 <= adv and size > 0:
            # nearly all type is upright
            self.x0, self.x1, self.y0, self.y1 = e, e + a * adv, f + d * foot, f + d * top
            return
        left, right = sorted((0.0, a * adv))
        near, far = sorted((c * foot, c * top))
        self.x0, self.x1 = e + left + near, e + right + far
        left, right = sorted((0.0, b * adv))
        near, far = sorted((d * foot, d * top))
        self.y0, self.y1 = f + left + near, f + right + far

    @property
    def width(self) -> float:
        """Extent across."""
        return self.x1 - self.x0

    @property
    def height(self) -> float:
        """Extent down."""
        return self.y1 - self.y0

    def get_text(self) -> str:
        """Return what is printed."""
        return self._text


class _Line:
    """Characters that are being put together."""

    def __init__(self, first: Letter | LTChar, order: int) -> None:
        self.order = order
        self.chars: list[Letter | LTChar] = [first]
        self.tag = getattr(first, "tag", None)
        self.linear = tuple(first.matrix[:4])
        a, b = self.linear[:2]
        length = hypot(a, b) or 1.0
        self.along = (a / length, b / length)
        self.stretch = length
        self.size = float(first.height if abs(a) >= abs(b) else first.width) or 1.0
        self.words = [first.get_text()]

    def add(self, char: Letter | LTChar) -> bool:
        """Take the next character; False when it begins another text."""
        matrix, last = char.matrix, self.chars[-1]
        if matrix[:4] != self.linear or getattr(char, "tag", None) != self.tag:
            return False
        before = last.matrix
        dx, dy = matrix[4] - before[4], matrix[5] - before[5]
        ux, uy = self.along
        gap = (dx * ux + dy * uy - last.adv * self.stretch) / self.size
        if abs(dy * ux - dx * uy) > 0.1 * self.size or not -0.5 < gap < BREAK:
            return False
        letter = char.get_text()
        if gap > WORD_SPACE and not (letter.isspace() or self.words[-1].isspace()):
            self.words.append(" ")
        self.words.append(letter)
        self.chars.append(char)
        return True

    def text(self, k: float) -> Text | None:
        """Return the finished text; None when nothing in it is printed."""
        a, b, c, d = self.linear
        boxes = [
            (char.x0 * k, char.y0 * k, char.x1 * k, char.y1 * k) for char in self.chars if not char.get_text().isspace()
        ]
        if not boxes:
            return None
        return Text(
            tag=self.tag,
            text="".join(self.words).strip(),
            box=Box(
                min(box[0] for box in boxes),
                min(box[1] for box in boxes),
                max(box[2] for box in boxes),
                max(box[3] for box in boxes),
            ),
            turn=degrees(atan2(b, a)),
            mirrored=(a * d - b * c < 0) != (self.chars[0].adv < 0),
            size=self.size * k,
            glyphs=tuple(boxes),
            order=self.order,
        )


def texts_of(items: Iterable[Any], k: float, paths: int = 0) -> Iterator[Text]:
    """Yield the lines of text of a page's items in painting order.

    ``k`` is mm per unit, ``paths`` were painted before.
    """
    line: _Line | None = None
    for char in _painted(items):
        if isinstance(char, LTCurve):
            paths += 1
            continue
        if line and line.add(char):
            continue
        if line and (text := line.text(k)):
            yield text
        line = _Line(char, paths)
    if line and (text := line.text(k)):
        yield text


def _painted(items: Iterable[Any]) -> Iterator[Letter | LTChar | LTCurve]:
    for item in items:
        if isinstance(item, Letter | LTChar | LTCurve):
            yield item
        elif isinstance(item, LTContainer):
            yield from _painted(item)
