"""Rows of type on a strip, and which stretches of them are taken; piece millimetres.

Rows stand between the long lines of the strip (cut edges and press lines), so no
word crosses one; each ends where the end seams begin.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from tiler.box import Box, Subpath
from tiler.draft.label import KEEP, Line
from tiler.draft.outline import BRACKET_REACH, Piece
from tiler.drawn import Part
from tiler.sheets.style import LEADING, SMALL
from tiler.sheets.typesetting import text_width

ASCENT, DESCENT = 2.3, 0.8
"""Above and below the base line of :data:`SMALL` type, mm."""

CLEAR = 1.5
"""White between text and an upright line, mm."""

APART = 4.0
"""White between two texts of a row, mm."""


@dataclass(frozen=True)
class Text:
    """A line of text at its base line; widths in mm."""

    x: float
    y: float
    text: str
    bold: bool = False

    @property
    def printed(self) -> str:
        """The line with plain spaces."""
        return self.text.replace(KEEP, " ")

    @property
    def box(self) -> Box:
        """The place that the line takes."""
        return Box(self.x, self.y - DESCENT, self.x + text_width(self.text, SMALL, self.bold), self.y + ASCENT)


@dataclass
class Row:
    """One line of type between two long lines; ``edge`` rows hold the notches."""

    y: float
    edge: str = ""
    left: float = 0.0
    right: float = 0.0
    taken: list[tuple[float, float]] = field(default_factory=list)

    def free(self, start: float, end: float) -> bool:
        """Tell whether nothing stands there, or near by."""
        return all(end + APART <= a or start - APART >= b for a, b in self.taken)

    def first_free(self, width: float, start: float = 0.0) -> float | None:
        """Return the leftmost place for a text, not before ``start``; or None."""
        return min((x for x in self.places(width, start) if self.fits(x, width)), default=None)

    def fits(self, x: float, width: float) -> bool:
        """Tell whether a text has room at ``x``."""
        return self.left <= x and x + width <= self.right and self.free(x, x + width)

    def places(self, width: float, start: float = 0.0) -> list[float]:
        """Return where a text might begin: at the left end, or after what stands there."""
        left = max(self.left, start)
        return [left, *(b + APART for _, b in self.taken if b + APART > left and b + APART + width <= self.right)]

    def last_free(self, width: float) -> float | None:
        """Return the rightmost place for a text, or None."""
        places = [self.right - width, *(a - APART - width for a, _ in self.taken if a - APART < self.right)]
        fits = [x for x in places if x >= self.left and self.free(x, x + width)]
        return max(fits, default=None)


@dataclass(frozen=True)
class Joints:
    """Where pages share a stretch of a piece: from where to where ``along`` it and ``across`` it, mm."""

    along: tuple[tuple[float, float], ...] = ()
    across: tuple[tuple[float, float], ...] = ()


NO_JOINTS = Joints()


class Strip:
    """The rows of one piece while words are put into them, and what must stand ``beside`` it."""

    def __init__(self, piece: Piece, joints: Joints = NO_JOINTS) -> None:
        """Find the rows of a piece; none of its words is to be cut at a joint."""
        self.piece, self.joints = piece, joints
        self.texts: list[Text] = []
        self.parts: list[Part] = []
        self.leaders: list[Subpath] = []
        self.beside: list[Line] = []
        self.rows = self._rows()

    def _rows(self) -> list[Row]:
        rows: list[Row] = []
        sewn = {edge for edge, _ in self.piece.edge_words}
        lanes = list(pairwise(self.piece.lanes))
        for low, high in reversed(lanes):
            at_top = "upper" if high == self.piece.width and "upper" in sewn else ""
            at_foot = "lower" if low == 0.0 and "lower" in sewn else ""
            count = int((high - low - 0.8) // LEADING)
            if count < 1:
                continue
            pitch = (high - low - 0.8) / count if count < 3 else LEADING
            base = (high + low + count * pitch) / 2 - (pitch - ASCENT - DESCENT) / 2 - ASCENT
            lane = [Row(base - k * pitch) for k in range(count)]
            if at_top:
                lane[0].edge, lane[0].y = at_top, max(lane[0].y, high - 0.8 - ASCENT)
            if at_foot:
                lane[-1].edge, lane[-1].y = at_foot, min(lane[-1].y, low + 0.8 + DESCENT)
            rows += lane
        across = self.joints.across
        rows = [row for row in rows if not any(a < row.y + ASCENT and b > row.y - DESCENT for a, b in across)]
        white = APART - CLEAR
        for row in rows:
            row.taken += [(a + white, b - white) for a, b in self.joints.along]
            row.left, row.right = self.room(row.y - DESCENT, row.y + ASCENT)
        return rows

    def room(self, low: float, high: float) -> tuple[float, float]:
        """Return from where to where words may stand between two heights."""
        left, right = self.piece.room(low, high)
        return left + (BRACKET_REACH + CLEAR if self.piece.on_fold else CLEAR), right - CLEAR

    @property
    def inner(self) -> list[Row]:
        """Rows for the label: those without notches, or all when there are no others."""
        return [row for row in self.rows if not row.edge] or self.rows

    def put(self, row: Row, x: float, text: str, bold: bool = False) -> None:
        """Put a text in a row."""
        row.taken.append((x, x + text_width(text, SMALL, bold)))
        self.texts.append(Text(x, row.y, text, bold))

    def put_first(
        self, rows: Sequence[Row], text: str, bold: bool = False, right: bool = False, start: float = 0.0
    ) -> bool:
        """Put a text in the first of these rows that has room; False when none has."""
        width = text_width(text, SMALL, bold)
        for row in rows:
            x = row.last_free(width) if right else row.first_free(width, start)
            if x is not None:
                self.put(row, x, text, bold)
                return True
        return False
