"""What stands above the pieces of a drawing: its title and edition, what to check first, both test squares; mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from tiler.box import Point
from tiler.declaration import Square
from tiler.draft.edition import Edition
from tiler.languages.catalogue import noted
from tiler.languages.words import in_each, say
from tiler.sheets.canvas import Canvas
from tiler.sheets.page.rulers import SQUARES, draw_square
from tiler.sheets.pieces.rows import ascent, descent
from tiler.sheets.style import FACT, HEADING, TITLE
from tiler.sheets.typesetting import broken, text_width

CHECK_FIRST = noted("One unit of this drawing is 1 mm. Check both squares before you cut.")

LONGEST_LINE = 150.0
"""Where lines are broken, mm."""

BETWEEN_LINES, BETWEEN_SQUARES, ABOVE_SQUARES = 1.5, 8.0, 4.0
"""White, mm."""

HALF_LINE = 0.25
"""Of the line of a square, whose middle has the nominal length, mm."""


@dataclass(frozen=True)
class _Line:
    text: str
    size: float
    bold: bool


@dataclass(frozen=True)
class Heading:
    """The lines of a heading, and how much it takes across and down with the squares below them."""

    lines: tuple[_Line, ...]

    @property
    def words_height(self) -> float:
        """How far down the lines reach."""
        return sum(ascent(line.size) + descent(line.size) + BETWEEN_LINES for line in self.lines)

    @property
    def width(self) -> float:
        """The longest line, or both squares beside each other."""
        squares = sum(nominal for nominal, _ in SQUARES) + BETWEEN_SQUARES + 2 * HALF_LINE
        return max(squares, *(text_width(line.text, line.size, line.bold) for line in self.lines))

    @property
    def height(self) -> float:
        """The lines and the larger square."""
        return self.words_height + ABOVE_SQUARES + max(nominal for nominal, _ in SQUARES) + HALF_LINE


def heading_of(edition: Edition) -> Heading:
    """Return what a drawing of this edition says of itself."""
    return Heading(tuple(_lines(edition)))


def _lines(edition: Edition) -> Iterator[_Line]:
    yield from (_Line(text, TITLE, True) for text in broken(edition.title, LONGEST_LINE, TITLE, bold=True))
    if edition.imprint:
        yield from (_Line(text, FACT, False) for text in broken(edition.imprint, LONGEST_LINE, FACT))
    notes = dict.fromkeys(say(CHECK_FIRST) for _ in in_each())
    for note in notes:
        yield from (_Line(text, HEADING, False) for text in broken(note, LONGEST_LINE, HEADING))


def draw_heading(canvas: Canvas, heading: Heading, corner: Point) -> Sequence[Square]:
    """Draw a heading with its left upper corner at a point of the page, and return the test squares."""
    left, y = corner
    for line in heading.lines:
        y -= ascent(line.size)
        canvas.text((left, y), line.text, line.size, line.bold)
        y -= descent(line.size) + BETWEEN_LINES
    top, squares, x = y - ABOVE_SQUARES, list[Square](), left + HALF_LINE
    for nominal, label in SQUARES:
        squares.append(draw_square(canvas, 1, (x, top - nominal), nominal, label))
        x += nominal + BETWEEN_SQUARES
    return squares
