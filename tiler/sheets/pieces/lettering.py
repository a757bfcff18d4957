"""The words on a piece: where each stands, in piece millimetres.

Words stand between the lines along the strip (cut edges, seam lines and press
lines), so none crosses one; the names of notches stand below it, each at its tick.
When the label does not fit inside, it stands beside the piece, with a leader line.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise, product

from tiler.box import Box, Subpath
from tiler.declaration import Tag as Mark
from tiler.draft.label import Line, Rank
from tiler.draft.outline import BRACKET_WITHIN, Piece, Word, fold_lane, notch_depth
from tiler.draft.stretch import arrow
from tiler.drawn import Part
from tiler.languages.catalogue import noted
from tiler.languages.words import say, told
from tiler.printed import Colour
from tiler.sheets.pieces.blocks import columns
from tiler.sheets.pieces.label import LONGEST_LINE, SCALES, TINIEST, WIDEST, put_block, put_label, put_line, set_as
from tiler.sheets.pieces.notch_flags import flags
from tiler.sheets.pieces.rows import ASCENT, CLEAR, DESCENT, LEAST_WHITE, NO_JOINTS, Joints, Lane, Row, Strip, Text
from tiler.sheets.pieces.shaped import shaped_words
from tiler.sheets.pieces.tag_row import FAR, Tag, tag_row
from tiler.sheets.style import LEADING, SMALL
from tiler.sheets.typesetting import text_width, wrapped

BORDER = 2.0
"""White around all that a piece paints, so that no cut line lies on a page frame, mm."""

ADVICE_WIDTHS = (150.0, 110.0, 80.0, 60.0)
"""Lines of advice are broken at the first of these widths that finds room, mm."""

SIDE = {"upper": noted("top edge: {words}"), "lower": noted("bottom edge: {words}")}
"""How the long sides are called on paper."""

ROOMY = 4
"""A lane of so many rows has room for words between two others."""

LONG = WIDEST + 50.0
"""No label needs all of a strip that is longer, mm."""

ARROW_LENGTHS = (50.0, 35.0, 24.0, 14.0, 8.0, 5.0)
SHORT_ARROWS = ARROW_LENGTHS[3:]
STRETCH_WORDS = noted("greatest stretch")
ARROW_WORDS = noted("arrow: greatest stretch")
BIAS_WORDS, BIAS_ARROW_WORDS = noted("bias, 45° to the straight grain"), noted("arrow: bias, 45° to the straight grain")


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
    if piece.figures.shape:
        words = shaped_words(piece, piece.figures.shape, joints)
        parts, texts = (*piece.parts, *words.parts), tuple(words.texts)
        return Lettered(piece, parts, texts, tuple(words.leaders), bounds_of(piece, texts))
    strip = filled(piece, joints)
    name_notches(strip)
    advise(strip)
    return lettered(strip)


def filled(piece: Piece, joints: Joints, arrow_first: bool = False) -> Strip:
    """Put the words of a piece in place, all but the names of notches and the advice.

    ``arrow_first`` keeps a place for a short arrow before the label is set.
    """
    strip = Strip(piece, joints)
    depth = notch_depth(piece.figures)
    for edge, _ in piece.edge_words:
        low, high = (0.0, depth) if edge == "lower" else (piece.width - depth, piece.width)
        strip.taken += [Box(word.at - 0.5, low, word.at + 0.5, high) for word in piece.notch_words]
    strip.taken += [
        Box.around(point for line in part.subpaths for point in line).grown(1.0)
        for part in piece.parts
        if part.tag == Mark.BUTTONHOLE
    ]
    middle = sorted(strip.inner, key=lambda row: abs(row.y - piece.width / 2))
    if piece.on_fold and not strip.put_first(_beside_fold(strip), say("place on fold")):
        strip.beside.append(Line(say("left edge: place on fold")))
    above = {word: _row_above(strip, word.at) for word in piece.press_words}
    # off the lines along the strip where that can be: what stands beside one is read as its name
    free = [row for lane in strip.lanes for row in _off_lines(lane)] if piece.length > LONG else []
    # rather below a press line, as its own words stand above it
    below = [row for row in free if any(row.y < word.at for word in piece.press_words)]
    others = sorted(middle, key=lambda row: row in above.values())
    _end_words(strip, sorted(others, key=lambda row: (row not in below, row not in free)))
    _press_words(strip, above)
    _edge_words(strip)
    if arrow_first:
        _stretch(strip, SHORT_ARROWS)
    if not put_label(strip, piece.lines):
        strip.beside += outside(strip)
    if not arrow_first:
        _stretch(strip)
        # a piece whose joints are known has no more room outside
        other = filled(piece, joints, True) if strip.beside and joints != NO_JOINTS else strip
        return min(strip, other, key=lambda one: len(one.beside))
    return strip


def _beside_fold(strip: Strip) -> list[Row]:
    """Return the rows, the first ones those at the lower arrow of the fold bracket."""
    low, high = fold_lane(strip.piece.lanes)
    arm = low + BRACKET_WITHIN * (high - low)
    return sorted(strip.inner, key=lambda row: (not low < row.y < high, abs(row.y - arm)))


def outside(strip: Strip) -> list[Line]:
    """Return the lines of the label that stand beside a piece too small for them; its name is on it all the same."""
    for lines in (strip.piece.lines[:2], strip.piece.lines[:1]):
        if any(put_line(strip, set_as(lines, scale)) for scale in (SCALES[-1], TINIEST)):
            break
    return [line for whole in strip.piece.lines for line in _broken(whole)]


def _broken(line: Line) -> Iterator[Line]:
    text = line.shorter[-1] if line.rank is Rank.CUT and line.shorter else line.text
    return (Line(part, line.bold) for part in wrapped(text, LONGEST_LINE, SMALL, line.bold))


def advise(strip: Strip) -> None:
    """Put the advice where a block of it has room; left out when there is none, or the label stands beside."""
    if strip.beside and strip.beside[0].text == next(_broken(strip.piece.lines[0])).text:
        return
    for width in ADVICE_WIDTHS:
        lines = set_as([Line(told(text)) for text in strip.piece.advice], SCALES[0], width)
        for low, top in strip.cells if lines else ():
            block = columns((tuple(lines),), top - low - 2 * LEAST_WHITE)
            if block and put_block(strip, block, [(low, top)]):
                return


def name_notches(strip: Strip) -> None:
    """Write the names of the notches below the piece, each at its tick."""
    walls = [wall for joint in strip.joints.along for wall in joint]
    names = [Tag(word.at, told(word.text)) for word in strip.piece.notch_words]
    row = tag_row(names, strip.piece.length, walls)
    if row.furthest() > FAR:
        for flag in flags([(tag.at, tag.text) for tag in names], strip.piece.length, walls):
            strip.texts.append(flag.text)
            strip.leaders.append(flag.leader)
        return
    strip.texts += row.texts
    strip.leaders += [leader for leader in row.leaders if leader]


def _row_above(strip: Strip, y: float) -> Row | None:
    """Return the row next above a height."""
    return min((row for row in strip.rows if row.y > y), key=lambda row: row.y, default=None)


def _off_lines(lane: Lane) -> list[Row]:
    """Return the rows of a lane that are not the next ones to its lines, where the label has room beside them."""
    return [*lane.rows[1:-1]] if len(lane.rows) >= ROOMY else []


def _press_words(strip: Strip, above: Mapping[Word, Row | None]) -> None:
    for word, row in above.items():
        if row is None or not strip.put_first([row], told(word.text), right=True):
            strip.beside.append(Line(say("dashed line: {words}", words=word.text)))


def _end_words(strip: Strip, rows: Sequence[Row]) -> None:
    for word in strip.piece.end_words:
        at_left = word.at < strip.piece.length / 2
        if not strip.put_first(rows, told(word.text), right=not at_left):
            line = noted("left dotted line: {words}") if at_left else noted("right dotted line: {words}")
            strip.beside.append(Line(say(line, words=word.text)))


def _edge_words(strip: Strip) -> None:
    for edge, words in strip.piece.edge_words:
        lanes = strip.lanes if edge == "upper" else strip.lanes[::-1]
        # where there is no room at the edge itself, just inside the seam line
        rows = [lane.rows[0 if edge == "upper" else -1] for lane in lanes[:2] if lane.rows]
        if not strip.put_first(rows, told(words)):
            strip.beside.append(Line(say(SIDE[edge], words=words)))


def _stretch(strip: Strip, lengths: Sequence[float] = ARROW_LENGTHS) -> None:
    words, beside = say(STRETCH_WORDS), say(ARROW_WORDS)
    if strip.piece.figures.bias:
        words, beside = say(BIAS_WORDS), say(BIAS_ARROW_WORDS)
    rows = sorted(strip.inner, key=lambda row: sum(box.y0 < row.y < box.y1 for box in strip.taken))
    others = [row for row in strip.rows if row not in rows]
    for with_words, some, length in product((True, False), (rows, others), lengths):
        for row in some:
            wide = length + (CLEAR + text_width(words, row.size) if with_words else 0.0)
            x = strip.last_place(*row.span, wide)
            if x is not None:
                strip.taken.append(Box(x, row.span[0], x + wide, row.span[1]))
                strip.parts.append(arrow((x, row.y + 1.0), length))
                if with_words:
                    strip.texts.append(Text(x + length + CLEAR, row.y, words, row.size))
                else:
                    strip.beside.append(Line(beside))
                return
    strip.beside.append(Line(beside))
    low, high = _blank_lane(strip)
    left, right = strip.room(low, high)
    strip.parts.append(arrow((left, (low + high) / 2), min(ARROW_LENGTHS[0], right - left)))


def _blank_lane(strip: Strip) -> tuple[float, float]:
    """Return a lane that is too thin for words; failing that, of the widest one."""
    lanes = list(pairwise(strip.piece.lanes))
    thin = [lane for lane in lanes if not any(lane[0] < row.y < lane[1] for row in strip.rows)]
    return max(thin or lanes, key=lambda lane: lane[1] - lane[0])


def lettered(strip: Strip) -> Lettered:
    """Return a piece with the words of its strip."""
    piece = strip.piece
    leaders = list(strip.leaders)
    base = piece.width + 2.0 + DESCENT + (len(strip.beside) - 1) * LEADING
    for index, line in enumerate(strip.beside):
        strip.texts.append(Text(3.0, base - index * LEADING, line.text, bold=line.bold))
    if strip.beside:
        inside = piece.width - min(2.5, piece.width / 4)
        tip = max(3.0, piece.room(inside, inside)[0])
        leaders.append(((1.5, base + ASCENT), (1.5, piece.width + 1.0), (tip, inside)))
    bounds = bounds_of(piece, strip.texts)
    return Lettered(piece, (*piece.parts, *strip.parts), tuple(strip.texts), tuple(leaders), bounds)


def bounds_of(piece: Piece, texts: Sequence[Text]) -> Box:
    """Return all that a piece paints with these texts, and the white around it."""
    return Box.enclosing([Box(0.0, 0.0, piece.length, piece.width), *(text.box for text in texts)]).grown(BORDER)
