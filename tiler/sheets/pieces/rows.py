"""What stands on a strip, and where there is room for more; piece millimetres.

Words stand in lanes, between the lines along the strip (cut edges, seam lines and press
lines), so none crosses one; they end where the end seams begin.  A lane holds rows of small
type, and blocks of lines of any size.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from tiler.box import Box, Subpath
from tiler.draft.label import KEEP, Line
from tiler.draft.outline import BRACKET_REACH, Piece
from tiler.drawn import Part
from tiler.paper import IN
from tiler.sheets.style import LEADING, LEAST, SMALL
from tiler.sheets.typesetting import text_width

ASCENT, DESCENT = 2.3, 0.8
"""Above and below the base line of :data:`SMALL` type, mm."""

CLEAR = 1.5
"""White between text and an upright line, mm."""

APART = 4.0
"""White between two texts beside each other, mm."""

LEAST_WHITE, MOST_WHITE = 0.22, 1.2
"""White between text and a line along the strip, mm."""

BELOW = 1.0
"""White between two texts below each other that do not belong together, mm."""

NARROW = float(IN)
"""A strip under an inch wide has its label in one line, and type of the smallest size, mm."""


def ascent(size: float) -> float:
    """Return how far type of a size reaches above its base line, mm."""
    return ASCENT * size / SMALL


def descent(size: float) -> float:
    """Return how far type of a size reaches below its base line, mm."""
    return DESCENT * size / SMALL


@dataclass(frozen=True)
class Text:
    """A line of text at its base line; widths in mm, its size in points."""

    x: float
    y: float
    text: str
    size: float = SMALL
    bold: bool = False

    @property
    def printed(self) -> str:
        """The line with plain spaces."""
        return self.text.replace(KEEP, " ")

    @property
    def box(self) -> Box:
        """The place that the line takes."""
        wide = text_width(self.text, self.size, self.bold)
        return Box(self.x, self.y - descent(self.size), self.x + wide, self.y + ascent(self.size))


@dataclass(frozen=True)
class Row:
    """A base line for small type."""

    y: float
    size: float = SMALL

    @property
    def span(self) -> tuple[float, float]:
        """From where to where its type reaches."""
        return self.y - descent(self.size), self.y + ascent(self.size)


@dataclass(frozen=True)
class Lane:
    """What lies between two neighbouring lines along the strip, with its rows from the top down."""

    low: float
    high: float
    rows: tuple[Row, ...]
    edge: str = ""
    """The edge that is sewn, where it is one of the two lines; its row is kept for what is said of it."""

    @property
    def edge_row(self) -> Row | None:
        """The row at the edge."""
        return (self.rows[0] if self.edge == "upper" else self.rows[-1]) if self.edge and self.rows else None

    @property
    def inner(self) -> tuple[float, float]:
        """The stretch of it where other words stand."""
        row = self.edge_row
        if row is None:
            return self.low, self.high
        return (self.low, row.span[0]) if self.edge == "upper" else (row.span[1], self.high)


@dataclass(frozen=True)
class Joints:
    """Where pages share a stretch of a piece: from where to where ``along`` it and ``across`` it, mm.

    Of a piece with curved lines also the place ``within`` which its words stand, and what of that is ``hidden``: no
    page shows it.
    """

    along: tuple[tuple[float, float], ...] = ()
    across: tuple[tuple[float, float], ...] = ()
    within: Box | None = None
    hidden: tuple[Box, ...] = ()


NO_JOINTS = Joints()


class Strip:
    """One piece while words are put on it, and what must stand ``beside`` it."""

    def __init__(self, piece: Piece, joints: Joints = NO_JOINTS) -> None:
        """Find the lanes of a piece; none of its words is to be cut at a joint."""
        self.piece, self.joints = piece, joints
        self.texts: list[Text] = []
        self.parts: list[Part] = []
        self.leaders: list[Subpath] = []
        self.beside: list[Line] = []
        self._rooms: dict[tuple[float, float], tuple[float, float]] = {}
        self.lanes = list(self._lanes())
        white = APART - CLEAR
        self.taken = [Box(a + white, 0.0, b - white, piece.width) for a, b in joints.along]

    def _lanes(self) -> Iterator[Lane]:
        sewn = {edge for edge, _ in self.piece.edge_words}
        for low, high in reversed(list(pairwise(self.piece.lanes))):
            upper = high == self.piece.width and "upper" in sewn
            edge = "upper" if upper else "lower" if low == 0.0 and "lower" in sewn else ""
            yield Lane(low, high, tuple(row for row in self._rows(low, high, edge) if not self.is_cut(*row.span)), edge)

    def _rows(self, low: float, high: float, edge: str) -> Iterator[Row]:
        """Yield the rows of a lane from the top down."""
        room, box = high - low, ASCENT + DESCENT
        size = SMALL
        if room < box + 2 * LEAST_WHITE:
            size = LEAST
            if self.piece.width >= NARROW or room < ascent(size) + descent(size) + 2 * LEAST_WHITE:
                return
        count = max(1, 1 + int((room - BELOW - box) // LEADING))
        high_of_all = ascent(size) + descent(size) + (count - 1) * LEADING
        white = (room - high_of_all) / 2
        top = high - white - ascent(size)
        for number in range(count):
            y = top - number * LEADING
            if count > 1 and edge == "upper" and number == 0:
                y = high - BELOW - ascent(size)
            if count > 1 and edge == "lower" and number == count - 1:
                y = low + BELOW + descent(size)
            yield Row(y, size)

    def is_cut(self, low: float, high: float) -> bool:
        """Tell whether a joint that runs along the strip lies between two heights."""
        return any(a < high and b > low for a, b in self.joints.across)

    @cached_property
    def cells(self) -> list[tuple[float, float]]:
        """From where to where blocks may stand, from the top down: off the rows at the edges where there are others."""
        inner = [lane.inner for lane in self.lanes if lane.inner[1] - lane.inner[0] > 2 * LEAST_WHITE]
        return [cell for cell in inner if any(self._rows(*cell, ""))] or [(lane.low, lane.high) for lane in self.lanes]

    @property
    def rows(self) -> list[Row]:
        """All rows from the top down."""
        return [row for lane in self.lanes for row in lane.rows]

    @property
    def inner(self) -> list[Row]:
        """The rows that are not at an edge that is sewn, or all when there are no others."""
        return [row for lane in self.lanes for row in lane.rows if row is not lane.edge_row] or self.rows

    def room(self, low: float, high: float) -> tuple[float, float]:
        """Return from where to where words may stand between two heights; each block is tried there many times."""
        if (low, high) not in self._rooms:
            left, right = self.piece.room(low, high)
            left += BRACKET_REACH + CLEAR if self.piece.on_fold else CLEAR
            self._rooms[low, high] = left, right - CLEAR
        return self._rooms[low, high]

    @property
    def flush(self) -> float:
        """Where lines begin that stand below each other; beside a slanted end, too."""
        return self.room(0.0, self.piece.width)[0]

    def _between(self, low: float, high: float) -> list[Box]:
        """Return what stands there between two heights."""
        return [box for box in self.taken if box.y1 > low and box.y0 < high]

    def places(self, low: float, high: float, wide: float, *starts: float) -> Iterator[float]:
        """Yield from the left where something so wide has room between two heights, at or behind one of ``starts``."""
        left, right = self.room(low, high)
        lefts = {max(left, start) for start in starts or (left,)}
        first = min(lefts)
        if first + wide > right:
            return
        there = self._between(low, high)
        for x in sorted(lefts.union(end for box in there if (end := box.x1 + APART) > first)):
            if x + wide <= right and _is_free(there, x, x + wide):
                yield x

    def last_place(self, low: float, high: float, wide: float) -> float | None:
        """Return the rightmost place for something so wide between two heights, or None."""
        left, right = self.room(low, high)
        there = self._between(low, high)
        places = (x - wide for x in (right, *(box.x0 - APART for box in there)) if x <= right)
        return max((x for x in places if x >= left and _is_free(there, x, x + wide)), default=None)

    def block_places(
        self,
        high: float,
        wide: float,
        cells: Sequence[tuple[float, float]],
        before: float = 0.0,
        start: float | None = None,
    ) -> Iterator[tuple[float, float]]:
        """Yield where a block has room: its left end and its top, cell by cell from the left.

        ``before`` is white at its left over all of the strip, that a cut can go through; it
        begins at ``start``, or where lines are flush.
        """
        left = self.flush if start is None else start
        begins = {left, *(max(left, box.x1 + before + APART) for box in self.taken if before)}
        for low, top in cells:
            slack = top - low - high
            if slack < 2 * LEAST_WHITE:
                continue
            white = min(slack / 2, MOST_WHITE)
            tops = {top - white, *(box.y0 - BELOW for box in self.taken if low < box.y0 < top)}
            tops = {
                one
                for one in tops
                if one - high >= low + LEAST_WHITE and one <= top and not self.is_cut(one - high, one)
            }
            found = {(x, -one) for one in tops for x in self.places(one - high, one, wide, *begins)}
            for x, up in sorted(found):
                if not before or not any(
                    box.x1 > x - before - 2 * CLEAR and box.x0 < x for box in (*self.taken, *self._stretches())
                ):
                    yield x, -up

    def _stretches(self) -> Iterable[Box]:
        """Return where notches stand."""
        return (Box(word.at, 0.0, word.at, 0.0) for word in self.piece.notch_words)

    def put(self, text: Text) -> None:
        """Put a text in its place."""
        self.taken.append(text.box)
        self.texts.append(text)

    def mark(self) -> tuple[int, int]:
        """Return what stands here by now, to come back to."""
        return len(self.texts), len(self.taken)

    def back_to(self, mark: tuple[int, int]) -> None:
        """Take off what has been put here since then."""
        del self.texts[mark[0] :]
        del self.taken[mark[1] :]

    def put_first(self, rows: Iterable[Row], text: str, right: bool = False) -> bool:
        """Put small type in the first of these rows that has room; False when none has."""
        for row in rows:
            wide = text_width(text, row.size)
            x = self.last_place(*row.span, wide) if right else next(self.places(*row.span, wide), None)
            if x is not None:
                self.put(Text(x, row.y, text, row.size))
                return True
        return False


def _is_free(boxes: Iterable[Box], start: float, end: float) -> bool:
    """Tell whether none of these stands there, or near by."""
    return all(end + APART <= box.x0 or start - APART >= box.x1 for box in boxes)
