"""The words that a reader takes out of a page, held against those that are declared to be printed; page mm.

The ink of every declared word is held against the page (``tiler.proof.compare.print``).  A file can print one
thing and hand out another: a map of codes that says other characters (ISO 32000-1, 9.10), or words that are
not painted as type.  What is read here by its characters, codes of pages above all, must be what is printed.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from itertools import accumulate

from tiler.box import Point
from tiler.declaration import Declaration
from tiler.printed import Word
from tiler.proof.ink.replica import POINTS
from tiler.proof.ink.where import advances, carried, laid_on
from tiler.reading.pdf.text import Text

CELL = 2.0
"""Characters are looked up by the cell that they begin in, mm."""

BESIDE = 0.4
"""How far a character may begin from its place along its line, mm."""

MIDDLE, ABOVE = 0.26, 0.4
"""The middle of a character's box above the base line, and how far that may be off, in shares of the type's size."""

Cells = dict[tuple[str, int, int], list[Point]]
"""Where characters begin, half-way up their boxes, by sign and cell."""


def unread(declaration: Declaration, number: int, moved: Point, texts: Iterable[Text]) -> list[str]:
    """Return the declared words of a page that are not read as they are declared; ``moved`` is its place, mm."""
    cells = _cells(texts)
    across, down = declaration.factor_across, declaration.factor_down
    lost = []
    for word, form in laid_on(declaration, number):
        if not isinstance(word, Word):
            continue
        high = ABOVE * word.size / POINTS
        near = (high, BESIDE) if word.turned or (form and form.turned) else (BESIDE, high)
        for sign, point in _signs(word):
            x, y = carried(point, form)
            if not _there(cells, sign, (x * across + moved[0], y * down + moved[1]), near):
                lost.append(word.text)
                break
    return lost


def _cells(texts: Iterable[Text]) -> Cells:
    cells: Cells = {}
    for text in texts:
        signs = [sign for sign in text.text if not sign.isspace()]
        if len(signs) != len(text.glyphs):
            # a code that stands for several characters is none of ours
            continue
        turned = abs(text.turn - 90) < 1
        for sign, (x0, y0, x1, y1) in zip(signs, text.glyphs, strict=True):
            x, y = ((x0 + x1) / 2, y0) if turned else (x0, (y0 + y1) / 2)
            cells.setdefault((sign, int(x // CELL), int(y // CELL)), []).append((x, y))
    return cells


def _there(cells: Cells, sign: str, at: Point, near: Point) -> bool:
    (x, y), (dx, dy) = at, near
    column, row = int(x // CELL), int(y // CELL)
    for u, v in cells.get((sign, column, row), ()):
        if abs(x - u) <= dx and abs(y - v) <= dy:
            return True
    # it may begin beyond the border of its cell
    return any(
        abs(x - u) <= dx and abs(y - v) <= dy
        for column in range(int((x - dx) // CELL), int((x + dx) // CELL) + 1)
        for row in range(int((y - dy) // CELL), int((y + dy) // CELL) + 1)
        for u, v in cells.get((sign, column, row), ())
    )


@lru_cache(2**12)
def _signs(word: Word) -> tuple[tuple[str, Point], ...]:
    """Return the characters of a word and where the middle of the edge lies that each begins with."""
    (x, y), up = word.at, MIDDLE * word.size / POINTS
    if word.turned:
        starts = [(x - up, along) for along in accumulate(advances(word), initial=y)]
    else:
        starts = [(along, y + up) for along in accumulate(advances(word), initial=x)]
    return tuple((sign, start) for sign, start in zip(word.text, starts, strict=False) if not sign.isspace())
