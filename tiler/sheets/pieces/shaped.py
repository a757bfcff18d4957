"""The words of a contour band's piece: inside it off its curved lines, names of notches outside at their ticks; mm.

Words stand level, wherever the curve runs.  The label stands at the fold, or in the middle, where a band lies
nearly level; what has no room there is set smaller and in fewer words, and at last stands above the piece.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product

from tiler.box import Box, Point, Subpath
from tiler.declaration import Tag
from tiler.draft.contour.shape import Shape
from tiler.draft.label import Line, Rank
from tiler.draft.outline import ARROW_HEAD, BRACKET_REACH, Piece
from tiler.drawn import Part
from tiler.languages.catalogue import noted
from tiler.languages.words import say, told
from tiler.sheets.pieces.blocks import Block, columns
from tiler.sheets.pieces.curved.edges import put_edges
from tiler.sheets.pieces.curved.nest import begun, name_size, put_rows
from tiler.sheets.pieces.curved.outside import name_notches, put_beside
from tiler.sheets.pieces.curved.placing import APART, Shaped, shaped
from tiler.sheets.pieces.label import LONGEST_LINES, SCALES, TINIEST, grouped, ways
from tiler.sheets.pieces.rows import ASCENT, CLEAR, DESCENT, Joints, Text
from tiler.sheets.typesetting import text_width

SHARES = (1.0, 0.52, 0.36, 0.27)
"""A label is tried in one column, and as high as this share of it in more."""

GRAIN_LENGTHS = (40.0, 28.0, 20.0, 14.0, 9.0, 6.0)
SHORT_LENGTHS = GRAIN_LENGTHS[-2:]
ALONG_CF = noted("grain, along CF"), noted("arrow: grain, along CF")
ALONG_CB = noted("grain, along CB"), noted("arrow: grain, along CB")
AS_GARMENT = noted("grain, as in the garment"), noted("arrow: grain, as in the garment")
"""What is said of the arrow at it, and beside the piece: of one that belongs to the front, to the back, or to both."""

SHORT_GRAIN = (1.0, 0.75)
"""Of a band too narrow for any of these, shares of what it has room for."""

AT_END = 40.0
"""What stands no further from an end is taken to speak of it, mm."""

PLACES = 160
"""Places along a piece at which a short arrow is tried."""


def shaped_words(piece: Piece, shape: Shape, joints: Joints) -> Shaped:
    """Put the words of a piece in place, off its joints where that can be."""
    words = _best(shaped(piece, shape, joints))
    _ends(words)
    return _finished(words)


@dataclass(frozen=True)
class Nested:
    """The words of a nest: those of all sizes, and of each its name at its end, the line to that, and its row."""

    words: Shaped
    names: Sequence[Sequence[Text]]
    leaders: Sequence[Sequence[Subpath]]
    rows: Sequence[Sequence[Text]]


def nested_words(common: Piece, pieces: Sequence[Piece], joints: Joints) -> Nested:
    """Put the words of a nest in place: the names of the sizes first, which have the fewest places."""
    words = begun(common, pieces, joints)
    named = [name_size(words, index, pieces) for index in range(len(pieces))]
    words = _finished(_best(words))
    rows = put_rows(words, pieces)
    return Nested(words, [texts for texts, _ in named], [lines for _, lines in named], rows)


def _best(bare: Shaped) -> Shaped:
    """Return a piece with its label, in the first order in which its name and its arrow have room."""
    # where there is little room the name goes before what is told at the fold, and at last the arrow before both
    orders = ((True, False), (False, False), (True, True), (False, True))
    found: list[Shaped] = []
    for fold_first, arrow_first in orders:
        words = _labelled(bare.copy(), fold_first, arrow_first)
        if words.named and words.arrow:
            return words
        # rather a name beside the piece than one that the arrow crosses
        found += [words] if words.arrow else []
    return found[0] if found else _labelled(bare, False, False)


def _finished(words: Shaped) -> Shaped:
    """Put what stands at the edges and outside the piece."""
    name_notches(words)
    put_edges(words)
    put_beside(words)
    return words


def _labelled(words: Shaped, fold_first: bool, arrow_first: bool) -> Shaped:
    """Put the label, what is said of the fold, and the grain in place, in this order."""
    shape = words.shape
    low, high = shape.sewn[0][1], shape.finished[0][1]
    if shape.on_fold:
        words.inside.taken.append(Box(0.0, low, BRACKET_REACH + CLEAR, high))
    if arrow_first:
        # away from the label
        _grain(words, words.middle(0.8), alone=True)
    if not fold_first:
        words.named = _label(words)
    if shape.on_fold and not words.put_words(say("place on fold"), (BRACKET_REACH, low)):
        words.beside.append(Line(say("left edge: place on fold")))
    if fold_first:
        words.named = _label(words)
    if not arrow_first:
        _grain(words, words.middle(0.15 if shape.on_fold else 0.4))
    return words


def _label(words: Shaped) -> bool:
    """Put the label; tell whether the name of the piece stands on it."""
    near = words.middle(0.0 if words.shape.on_fold else 0.5)
    lines = words.piece.lines
    for scale, said in product((*SCALES, TINIEST), ways(lines)):
        if any(words.put(block, near) for block in _blocks(said, scale)):
            return True
    # not whole: its name and how it is cut first, then the rest in one, or each line wherever it has room
    small = (SCALES[-1], TINIEST)
    for head in (lines[:2], lines[:1], ()):
        if not head or any(words.put(block, near) for scale in small for block in _blocks(head, scale)):
            break
    rest = lines[len(head) :]
    if any(words.put(block, words.middle(0.5)) for said in ways(rest) for block in _blocks(said, small[0])):
        return bool(head)
    for number, line in enumerate(rest):
        at = words.middle(0.9 * number / len(rest))
        if not any(words.put(block, at) for scale in small for block in _blocks([line], scale)):
            words.beside.append(_plain(line))
    return bool(head)


def _plain(line: Line) -> Line:
    return Line(line.shorter[-1] if line.rank is Rank.CUT and line.shorter else line.text, line.bold)


def _blocks(said: Sequence[Line], scale: Sequence[float]) -> Iterator[Block]:
    """Yield ways to set these lines, those in few columns first."""
    seen = set()
    for longest in LONGEST_LINES:
        groups = grouped(said, scale, longest)
        whole = columns(groups, 1000.0)
        if whole is None:
            continue
        for share in SHARES:
            block = columns(groups, share * whole.high + 1.0)
            if block and (block.wide, block.high) not in seen:
                seen.add((block.wide, block.high))
                yield block


def _grain(words: Shaped, near: Point, alone: bool = False) -> None:
    """Draw the arrow of the grain where no word stands, as long as can be, with its words or these beside the piece.

    One that stands ``alone`` leaves the label as much room as can be.
    """
    x, y = words.shape.grain
    at_arrow, beside_it = _grain_words(words.piece)
    for with_words in (False,) if alone else (True, False):
        text = say(at_arrow)
        for length in SHORT_LENGTHS if alone else GRAIN_LENGTHS:
            wide, high = abs(x) * length + ARROW_HEAD, abs(y) * length + ARROW_HEAD
            beside = CLEAR + text_width(text) if with_words else 0.0
            place = words.inside.place(wide + beside + 2 * CLEAR, max(high, ASCENT + DESCENT), near)
            if place is None:
                continue
            words.inside.taken.append(place.grown(APART / 2))
            centre = (place.x0 + CLEAR + wide / 2, (place.y0 + place.y1) / 2)
            words.parts.append(_arrow(centre, (x, y), length))
            if with_words:
                words.texts.append(Text(place.x0 + CLEAR + wide + CLEAR, centre[1] - ASCENT / 2, text))
            else:
                words.beside.append(Line(say(beside_it)))
            words.arrow = True
            return
    words.beside.append(Line(say(beside_it)))
    # a band too narrow for anything: a short one where no word stands
    most = min(GRAIN_LENGTHS[-1], 0.6 * words.piece.figures.finished_width_mm)
    tried = [(share * most, words.middle(k / PLACES)) for share in SHORT_GRAIN for k in range(PLACES // 16, PLACES)]
    length, at = next(((length, at) for length, at in tried if _is_free(words, length, at)), (most, near))
    words.arrow = _is_free(words, length, at)
    words.parts.append(_arrow(at, (x, y), length))
    words.inside.taken.append(_around(words, length, at).grown(APART / 2))


def _grain_words(piece: Piece) -> tuple[str, str]:
    """Return what is said of the grain, by the part of the edge that the piece belongs to."""
    section = piece.figures.section
    named = (section.part if section else "").casefold().split()
    if "back" in named:
        return AS_GARMENT if "front" in named else ALONG_CB
    return ALONG_CF if "front" in named else AS_GARMENT


def _around(words: Shaped, length: float, at: Point) -> Box:
    """Return the place of an arrow round its middle."""
    wide, high = (abs(side) * length + ARROW_HEAD for side in words.shape.grain)
    return Box(at[0] - wide / 2, at[1] - high / 2, at[0] + wide / 2, at[1] + high / 2)


def _is_free(words: Shaped, length: float, at: Point) -> bool:
    box = _around(words, length, at)
    return not any(box.overlaps(one) for one in words.inside.taken)


def _arrow(centre: Point, way: Point, length: float) -> Part:
    """Return a line with a head at both ends."""
    x, y = way
    ends = [(centre[0] + sign * x * length / 2, centre[1] + sign * y * length / 2) for sign in (-1, 1)]
    heads = [
        tuple(
            (
                tip[0] - sign * x * ARROW_HEAD + side * y * ARROW_HEAD / 2,
                tip[1] - sign * y * ARROW_HEAD - side * x * ARROW_HEAD / 2,
            )
            for side in (-1, 0, 1)
        )
        for tip, sign in zip(ends, (-1, 1), strict=True)
    ]
    strokes = [tuple(ends), *((head[0], tip, head[2]) for head, tip in zip(heads, ends, strict=True))]
    return Part(Tag.GRAIN_LINE, tuple(tuple((round(a, 4), round(b, 4)) for a, b in stroke) for stroke in strokes))


def _ends(words: Shaped) -> None:
    ends = [(0.03, noted("left end: {words}")), (0.97, noted("right end: {words}"))][words.shape.on_fold :]
    for word, (share, name) in zip(words.piece.end_words, ends, strict=True):
        near, texts, taken = words.middle(share), len(words.texts), len(words.inside.taken)
        if words.put_words(told(word.text), near):
            if words.texts[texts].box.away(near) <= AT_END:
                continue
            # so far off, it must say which end it means
            del words.texts[texts:], words.inside.taken[taken:]
            if words.put_words(say(name, words=word.text), near):
                continue
        words.beside.append(Line(say(name, words=word.text)))
