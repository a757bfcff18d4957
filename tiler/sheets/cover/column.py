"""Text that runs down a column of the first page; page mm."""

from __future__ import annotations

from collections.abc import Sequence

from tiler.draft.label import KEEP
from tiler.languages.words import in_each, say
from tiler.sheets.canvas import Canvas
from tiler.sheets.style import HEADING, LEADING
from tiler.sheets.typesetting import text_width, wrapped

HEADING_ROOM, BEFORE_HEADING = 5.4, 1.2
"""What a heading takes, and the white before one that follows other words, mm."""

BETWEEN_LANGUAGES = 1.2
"""White between what is said in one language and in the next, mm."""

INDENT = 1.5
"""White after the sign that begins a paragraph, mm."""


class Column:
    """Text running down a column."""

    def __init__(self, canvas: Canvas, left: float, right: float, top: float) -> None:
        """Begin at ``top``."""
        self.canvas, self.left, self.right, self.y = canvas, left, right, top
        self.top = top

    def in_each_language(self, templates: Sequence[str]) -> None:
        """Say paragraphs in each language of the document, one after the other."""
        for index, _ in enumerate(in_each()):
            self.y -= BETWEEN_LANGUAGES if index else 0.0
            for template in templates:
                self.paragraph(say(template))

    def heading(self, text: str) -> None:
        """Write a heading, with white before it where it follows other words."""
        self.y -= HEADING_ROOM if self.y == self.top else HEADING_ROOM + BEFORE_HEADING
        self.canvas.text((self.left, self.y), text, HEADING, bold=True)
        self.y -= 0.6

    def paragraph(self, text: str, bullet: str = "") -> None:
        """Write a paragraph, whose lines stand flush beside its bullet."""
        indent = text_width(bullet) + INDENT if bullet else 0.0
        for index, line in enumerate(wrapped(text, self.right - self.left - indent)):
            self.y -= LEADING
            if bullet and index == 0:
                self.canvas.text((self.left, self.y), bullet)
            self.canvas.text((self.left + indent, self.y), line.replace(KEEP, " "))


def height_in_each(templates: Sequence[str], width: float) -> float:
    """Return how high paragraphs come out in all languages of the document, mm."""
    heights = [sum(height_of(say(template), width) for template in templates) for _ in in_each()]
    return sum(heights) + BETWEEN_LANGUAGES * (len(heights) - 1)


def height_of(text: str, width: float, bullet: str = "") -> float:
    """Return how high a paragraph comes out, mm."""
    indent = text_width(bullet) + INDENT if bullet else 0.0
    return LEADING * len(wrapped(text, width - indent))
