"""Text that runs down a column of the first page; page mm."""

from __future__ import annotations

from tiler.sheets.canvas import Canvas
from tiler.sheets.style import HEADING, LEADING
from tiler.sheets.typesetting import text_width, wrapped

HEADING_ROOM, BEFORE_HEADING = 5.4, 1.2
"""What a heading takes, and the white before one that follows other words, mm."""

INDENT = 1.5
"""White after the sign that begins a paragraph, mm."""


class Column:
    """Text running down a column."""

    def __init__(self, canvas: Canvas, left: float, right: float, top: float) -> None:
        """Begin at ``top``."""
        self.canvas, self.left, self.right, self.y = canvas, left, right, top
        self.top = top

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
            self.canvas.text((self.left + indent, self.y), line)


def height_of(text: str, width: float, bullet: str = "") -> float:
    """Return how high a paragraph comes out, mm."""
    indent = text_width(bullet) + INDENT if bullet else 0.0
    return LEADING * len(wrapped(text, width - indent))
