"""The words on a piece: where each stands, in piece millimetres.

Words stand in rows between the long lines of the strip (cut edges and press
lines), so none crosses a line.  A row keeps account of the stretches of x that
are taken.  When the label does not fit inside, it stands beside the piece, with
a leader line.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise, product

from tiler.box import Box, Subpath
from tiler.draft.label import Line
from tiler.draft.outline import BRACKET_REACH, Piece, arrow
from tiler.drawn import Part
from tiler.printed import Colour
from tiler.sheets.pieces.label import broken, columns, merged, put_block, put_scattered
from tiler.sheets.pieces.notch_flags import flags
from tiler.sheets.pieces.rows import APART, ASCENT, CLEAR, DESCENT, NO_JOINTS, Joints, Row, Strip, Text
from tiler.sheets.style import LEADING, SMALL
from tiler.sheets.typesetting import text_width, wrapped

BORDER = 2.0
"""White around all that a piece paints, so that no cut line lies on a page frame, mm."""

ADVICE_WIDTHS = (150.0, 110.0, 80.0, 60.0)
"""Lines of advice are broken at the first of these widths that finds room, mm."""

LONGEST_LINE = 120.0
"""Of the label: a longer one is hard to keep off the joints, mm."""

BETWEEN_COLUMNS = 10.0
"""White between two columns of the label, on top of that of a row: a strip can be cut there into parts, mm."""

SIDE = {"upper": "top", "lower": "bottom"}
"""How the long sides are called on paper."""

MOST_ALONE = 2
"""A label of more columns does not keep to rows of its own."""

ARROW_LENGTHS = (50.0, 35.0, 24.0, 14.0, 8.0, 5.0)
STRETCH_WORDS = "greatest stretch"


@dataclass(frozen=True)
class Lettered:
    """A piece with its words: all parts, texts, leader lines, and the bounds of it all."""

    piece: Piece
    parts: tuple[Part, ...]
    texts: tuple[Text, ...]
    leaders: tuple[Subpath, ...]
    bounds: Box
    pattern: tuple[float, ...] = ()
    """Dashes of the cut lines across the strip, mm; none for solid ones."""
    colour: Colour | None = None
    """Of all lines and words, where colours are asked for; None for black."""
    of: tuple[str, ...] = ()
    """The ids of the sizes that share this, where it is not a piece of its own."""


def letter(piece: Piece, joints: Joints = NO_JOINTS) -> Lettered:
    """Put the words of a piece in place, off its joints where that can be."""
    strip = filled(piece, joints)
    advise(strip)
    return lettered(strip)


def filled(piece: Piece, joints: Joints) -> Strip:
    """Put the words of a piece in place, all but the advice."""
    label = broken(piece.lines, LONGEST_LINE)
    left, right = piece.room(0.0, piece.width)
    room = right - left - BRACKET_REACH - 2 * CLEAR
    ways = [(label, True), (broken(label, room), True), (label, False), (broken(label, room), False)]
    for apart, (lines, alone) in product((BETWEEN_COLUMNS, 0.0), ways):
        strip = Strip(piece, joints)
        if _fill(strip, lines, alone, apart):
            return strip
    for lines in (label, merged(piece.lines, LONGEST_LINE), broken(label, room)):
        strip = Strip(piece, joints)
        if _fill(strip, lines, False, None):
            return strip
    strip = Strip(piece, joints)
    strip.beside = label
    _fill(strip, (), False, None)
    return strip


def _fill(strip: Strip, lines: Sequence[Line], alone: bool, apart: float | None) -> bool:
    """Put all words in; False when a line of the label found no place.

    ``alone`` keeps the label off the rows where other words stand; ``apart`` is white
    beside each of its columns; without it every line goes where its own row has room.
    """
    _notch_words(strip)
    _press_words(strip)
    middle = sorted(strip.inner, key=lambda row: abs(row.y - strip.piece.width / 2))
    if strip.piece.on_fold and not strip.put_first(middle, "place on fold"):
        strip.beside.append(Line("left edge: place on fold"))
    _end_words(strip, middle)
    _stretch(strip)
    rows = [row for row in strip.inner if not (alone and row.taken)]
    if apart is None:
        placed = put_scattered(strip, rows, lines)
        _edge_words(strip)
        return placed
    shared = columns(lines, len(rows))
    if alone and len(shared) > MOST_ALONE:
        return False
    edges_first = not any(row.edge for row in rows)
    if edges_first:
        _edge_words(strip)
    for number, column in enumerate(shared):
        if not put_block(strip, rows, column, apart, apart if number else 0.0):
            return False
    if not edges_first:
        _edge_words(strip)
    return True


def advise(strip: Strip) -> None:
    """Put the advice where a block of rows is free side by side; left out when there is none, or the label beside."""
    if strip.beside and strip.beside[0] == broken(strip.piece.lines, LONGEST_LINE)[0]:
        return
    for width in ADVICE_WIDTHS:
        lines = [Line(part) for text in strip.piece.advice for part in wrapped(text, width, SMALL)]
        if not lines or put_block(strip, strip.inner, lines):
            return


def _notch_words(strip: Strip) -> None:
    for row in strip.rows:
        if row.edge:
            row.taken += [(word.at - 0.5, word.at + 0.5) for word in strip.piece.notch_words]
    feet = [row for row in strip.rows if row.edge == "lower"]
    outside = []
    for word in strip.piece.notch_words:
        if not word.text:
            # room is kept at it, and its name stands elsewhere
            continue
        width = text_width(word.text)
        for row in feet:
            after = max(word.at + APART + 1.0, row.left if strip.piece.on_fold else 0.0)
            places = (after, word.at - APART - 1.0 - width)
            fits = [x for x in places if x > 0 and x + width <= row.right and row.free(x, x + width)]
            if fits:
                strip.put(row, fits[0], word.text)
                break
        else:
            outside.append((word.at, word.text))
    if outside:
        for flag in flags(outside, strip.piece.length):
            strip.texts.append(flag.text)
            strip.leaders.append(flag.leader)


def _press_words(strip: Strip) -> None:
    for word in strip.piece.press_words:
        above = [row for row in strip.rows if row.y > word.at]
        if not above or not strip.put_first([min(above, key=lambda row: row.y)], word.text, right=True):
            strip.beside.append(Line(f"dashed line: {word.text}"))


def _end_words(strip: Strip, rows: Sequence[Row]) -> None:
    for word in strip.piece.end_words:
        at_left = word.at < strip.piece.length / 2
        if not strip.put_first(rows, word.text, right=not at_left):
            strip.beside.append(Line(f"{'left' if at_left else 'right'} dotted line: {word.text}"))


def _edge_words(strip: Strip) -> None:
    for edge, words in strip.piece.edge_words:
        rows = [row for row in strip.rows if row.edge == edge]
        if not strip.put_first(rows, words):
            strip.beside.append(Line(f"{SIDE[edge]} edge: {words}"))


def _stretch(strip: Strip) -> None:
    rows = sorted(strip.inner, key=lambda row: len(row.taken)) + [row for row in strip.rows if row.edge]
    words = text_width(STRETCH_WORDS)
    for with_words in (True, False):
        for length in ARROW_LENGTHS:
            wide = length + (CLEAR + words if with_words else 0.0)
            for row in rows:
                x = row.last_free(wide)
                if x is not None:
                    row.taken.append((x, x + wide))
                    strip.parts.append(arrow((x, row.y + 1.0), length))
                    if with_words:
                        strip.texts.append(Text(x + length + CLEAR, row.y, STRETCH_WORDS))
                    else:
                        strip.beside.append(Line(f"arrow: {STRETCH_WORDS}"))
                    return
    strip.beside.append(Line(f"arrow: {STRETCH_WORDS}"))
    low, high = _blank_lane(strip)
    left, right = strip.room(low, high)
    strip.parts.append(arrow((left, (low + high) / 2), min(ARROW_LENGTHS[0], right - left)))


def _blank_lane(strip: Strip) -> tuple[float, float]:
    """Return a lane that is too thin for words; failing that, of the widest one."""
    lanes = list(pairwise(strip.piece.lanes))
    thin = [lane for lane in lanes if not any(lane[0] < row.y < lane[1] for row in strip.rows)]
    return max(thin or lanes, key=lambda lane: lane[1] - lane[0])


def lettered(strip: Strip, lift: float = 0.0) -> Lettered:
    """Return a piece with the words of its strip; those beside it stand higher by ``lift``."""
    piece = strip.piece
    leaders = list(strip.leaders)
    base = piece.width + 2.0 + lift + DESCENT + (len(strip.beside) - 1) * LEADING
    for index, (text, bold) in enumerate(strip.beside):
        strip.texts.append(Text(3.0, base - index * LEADING, text, bold))
    if strip.beside:
        inside = piece.width - min(2.5, piece.width / 4)
        tip = max(3.0, piece.room(inside, inside)[0])
        leaders.append(((1.5, base + ASCENT), (1.5, piece.width + 1.0), (tip, inside)))
    bounds = bounds_of(piece, strip.texts)
    return Lettered(piece, (*piece.parts, *strip.parts), tuple(strip.texts), tuple(leaders), bounds)


def bounds_of(piece: Piece, texts: Sequence[Text]) -> Box:
    """Return all that a piece paints with these texts, and the white around it."""
    return Box.enclosing([Box(0.0, 0.0, piece.length, piece.width), *(text.box for text in texts)]).grown(BORDER)
