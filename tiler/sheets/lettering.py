"""The words on a piece: where each stands, in piece millimetres.

Words stand in rows between the long lines of the strip (cut edges and press
lines), so none crosses a line.  A row keeps account of the stretches of x that
are taken.  When the label does not fit inside, it stands beside the piece, with
a leader line.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from tiler.declaration import Box, Part, Subpath
from tiler.draft.piece import BRACKET_REACH, KEEP, Piece, arrow
from tiler.sheets.canvas import LEADING, SMALL, text_width, wrapped

ASCENT, DESCENT = 2.3, 0.8
"""Above and below the base line of :data:`SMALL` type, mm."""

CLEAR = 1.5
"""White between text and an upright line, mm."""

APART = 4.0
"""White between two texts of a row, mm."""

BORDER = 2.0
"""White around all that a piece paints, so that no cut line lies on a page frame, mm."""

Line = tuple[str, bool]
"""A line of the label, and whether it is bold."""

ARROW_LENGTHS = (50.0, 35.0, 24.0, 14.0, 8.0, 5.0)
STRETCH_WORDS = "greatest stretch"


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


@dataclass(frozen=True)
class Lettered:
    """A piece with its words: all parts, texts, leader lines, and the bounds of it all."""

    piece: Piece
    parts: tuple[Part, ...]
    texts: tuple[Text, ...]
    leaders: tuple[Subpath, ...]
    bounds: Box


@dataclass
class _Row:
    """One line of type between two long lines; ``edge`` rows hold the notches."""

    y: float
    edge: str = ""
    taken: list[tuple[float, float]] = field(default_factory=list)

    def free(self, start: float, end: float) -> bool:
        return all(end + APART <= a or start - APART >= b for a, b in self.taken)

    def first_free(self, width: float, left: float, right: float) -> float | None:
        """Give the leftmost place for a text, or None."""
        places = [left, *(b + APART for _, b in self.taken if b + APART > left)]
        fits = [x for x in places if x + width <= right and self.free(x, x + width)]
        return min(fits, default=None)

    def last_free(self, width: float, left: float, right: float) -> float | None:
        """Give the rightmost place for a text, or None."""
        places = [right - width, *(a - APART - width for a, _ in self.taken if a - APART < right)]
        fits = [x for x in places if x >= left and self.free(x, x + width)]
        return max(fits, default=None)


class _Strip:
    """The rows of one piece while words are put into them."""

    def __init__(self, piece: Piece) -> None:
        self.piece = piece
        self.left = piece.left + (BRACKET_REACH + CLEAR if piece.on_fold else CLEAR)
        self.right = piece.right - CLEAR
        self.texts: list[Text] = []
        self.parts: list[Part] = []
        self.beside: list[Line] = []
        self.rows = self._rows()

    def _rows(self) -> list[_Row]:
        rows: list[_Row] = []
        sewn = {edge for edge, _ in self.piece.edge_words}
        lanes = list(pairwise(self.piece.lanes))
        for low, high in reversed(lanes):
            at_top = "upper" if high == self.piece.width and "upper" in sewn else ""
            at_foot = "lower" if low == 0.0 and "lower" in sewn else ""
            count = int((high - low - 0.8) // LEADING)
            if not count:
                continue
            pitch = (high - low - 0.8) / count if count < 3 else LEADING
            base = (high + low + count * pitch) / 2 - (pitch - ASCENT - DESCENT) / 2 - ASCENT
            lane = [_Row(base - k * pitch) for k in range(count)]
            if at_top:
                lane[0].edge, lane[0].y = at_top, max(lane[0].y, high - 0.8 - ASCENT)
            if at_foot:
                lane[-1].edge, lane[-1].y = at_foot, min(lane[-1].y, low + 0.8 + DESCENT)
            rows += lane
        return rows

    @property
    def inner(self) -> list[_Row]:
        """Rows for the label: those without notches, or all when there are no others."""
        return [row for row in self.rows if not row.edge] or self.rows

    def put(self, row: _Row, x: float, text: str, bold: bool = False) -> None:
        row.taken.append((x, x + text_width(text, SMALL, bold)))
        self.texts.append(Text(x, row.y, text, bold))

    def put_first(self, rows: Sequence[_Row], text: str, bold: bool = False, right: bool = False) -> bool:
        width = text_width(text, SMALL, bold)
        for row in rows:
            x = (row.last_free if right else row.first_free)(width, self.left, self.right)
            if x is not None:
                self.put(row, x, text, bold)
                return True
        return False


def letter(piece: Piece) -> Lettered:
    """Put the words of a piece in place."""
    label = [(fact, index < piece.bold) for index, fact in enumerate(piece.facts)]
    room = piece.right - piece.left - BRACKET_REACH - 2 * CLEAR
    ways = [(label, True), (_merged(label, 2), True), (_wrapped(label, room), True)]
    ways += [(label, False), (_merged(label, 2), False), (_merged(label, 4), False), (_wrapped(label, room), False)]
    for lines, alone in ways:
        strip = _Strip(piece)
        if _fill(strip, lines, alone):
            return _lettered(strip)
    strip = _Strip(piece)
    strip.beside = label
    _fill(strip, (), False)
    return _lettered(strip)


def _merged(label: Sequence[Line], most: int) -> list[Line]:
    """Join neighbouring plain lines into fewer, longer ones; the bold ones stay alone."""
    plain = [text for text, bold in label if not bold]
    joined = [" · ".join(plain[start : start + most]) for start in range(0, len(plain), most)]
    return [line for line in label if line[1]] + [(text, False) for text in joined]


def _wrapped(label: Sequence[Line], room: float) -> list[Line]:
    """Break lines that are longer than the strip is."""
    return [(part, bold) for text, bold in label for part in wrapped(text, room, SMALL, bold)]


def _fill(strip: _Strip, facts: Sequence[Line], alone: bool) -> bool:
    """Put all words in; False when a line of the label found no place.

    ``alone`` keeps the label off the rows where other words stand.
    """
    _notch_words(strip)
    _press_words(strip)
    middle = sorted(strip.inner, key=lambda row: abs(row.y - strip.piece.width / 2))
    if strip.piece.on_fold and not strip.put_first(middle, "place on fold"):
        strip.beside.append(("left edge: place on fold", False))
    _end_words(strip, middle)
    _stretch(strip)
    rows = [row for row in strip.inner if not (alone and row.taken)]
    for text, bold in facts:
        while rows and not strip.put_first(rows[:1], text, bold):
            rows.pop(0)
        if not rows:
            return False
        rows.pop(0)
    _edge_words(strip)
    return True


def _notch_words(strip: _Strip) -> None:
    for row in strip.rows:
        if row.edge:
            row.taken += [(word.at - 0.5, word.at + 0.5) for word in strip.piece.notch_words]
    feet = [row for row in strip.rows if row.edge == "lower"]
    for word in strip.piece.notch_words:
        width = text_width(word.text)
        after = max(word.at + APART + 1.0, strip.left if strip.piece.on_fold else 0.0)
        places = (after, word.at - APART - 1.0 - width)
        for row in feet:
            fits = [x for x in places if x > 0 and x + width <= strip.right and row.free(x, x + width)]
            if fits:
                strip.put(row, fits[0], word.text)
                break
        else:
            strip.texts.append(Text(max(0.0, word.at - width / 2), -1.0 - ASCENT, word.text))


def _press_words(strip: _Strip) -> None:
    for word in strip.piece.press_words:
        above = [row for row in strip.rows if row.y > word.at]
        if not above or not strip.put_first([min(above, key=lambda row: row.y)], word.text, right=True):
            strip.beside.append((f"dashed line: {word.text}", False))


def _end_words(strip: _Strip, rows: Sequence[_Row]) -> None:
    for word in strip.piece.end_words:
        at_left = word.at < strip.piece.length / 2
        if not strip.put_first(rows, word.text, right=not at_left):
            strip.beside.append((f"{'left' if at_left else 'right'} dotted line: {word.text}", False))


def _edge_words(strip: _Strip) -> None:
    for edge, words in strip.piece.edge_words:
        if not strip.put_first([row for row in strip.rows if row.edge == edge], words):
            strip.beside.append((f"{edge} edge: {words}", False))


def _stretch(strip: _Strip) -> None:
    rows = sorted(strip.inner, key=lambda row: len(row.taken)) + [row for row in strip.rows if row.edge]
    words = text_width(STRETCH_WORDS)
    for with_words in (True, False):
        for length in ARROW_LENGTHS:
            wide = length + (CLEAR + words if with_words else 0.0)
            for row in rows:
                x = row.last_free(wide, strip.left, strip.right)
                if x is not None:
                    row.taken.append((x, x + wide))
                    strip.parts.append(arrow((x, row.y + 1.0), length))
                    if with_words:
                        strip.texts.append(Text(x + length + CLEAR, row.y, STRETCH_WORDS))
                    else:
                        strip.beside.append((f"arrow: {STRETCH_WORDS}", False))
                    return
    strip.beside.append((f"arrow: {STRETCH_WORDS}", False))
    strip.parts.append(arrow((strip.left, _blank_lane(strip)), min(ARROW_LENGTHS[0], strip.right - strip.left)))


def _blank_lane(strip: _Strip) -> float:
    """Give the middle of a lane that is too thin for words; failing that, of the widest one."""
    lanes = list(pairwise(strip.piece.lanes))
    thin = [lane for lane in lanes if not any(lane[0] < row.y < lane[1] for row in strip.rows)]
    low, high = max(thin or lanes, key=lambda lane: lane[1] - lane[0])
    return (low + high) / 2


def _lettered(strip: _Strip) -> Lettered:
    piece = strip.piece
    leaders: list[Subpath] = []
    base = piece.width + 2.0 + DESCENT + (len(strip.beside) - 1) * LEADING
    for index, (text, bold) in enumerate(strip.beside):
        strip.texts.append(Text(3.0, base - index * LEADING, text, bold))
    if strip.beside:
        inside = piece.width - min(2.5, piece.width / 4)
        leaders.append(((1.5, base + ASCENT), (1.5, piece.width + 1.0), (3.0, inside)))
    boxes = [Box(0.0, 0.0, piece.length, piece.width), *(text.box for text in strip.texts)]
    bounds = Box(
        min(box.x0 for box in boxes),
        min(box.y0 for box in boxes),
        max(box.x1 for box in boxes),
        max(box.y1 for box in boxes),
    ).grown(BORDER)
    return Lettered(piece, (*piece.parts, *strip.parts), tuple(strip.texts), tuple(leaders), bounds)
