"""The words of a contour band's piece: inside it off its curved lines, names of notches outside at their ticks; mm.

Words stand level, wherever the curve runs.  The label stands at the fold, or in the middle, where a band lies
nearly level; what has no room there is set smaller and in fewer words, and at last stands above the piece.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise, product
from math import hypot

from tiler.box import Box, Point, Subpath
from tiler.declaration import Tag
from tiler.draft.contour.lines import tick
from tiler.draft.contour.shape import Shape, place_on
from tiler.draft.label import Line, Rank
from tiler.draft.outline import ARROW_HEAD, BRACKET_REACH, Piece, notch_depth
from tiler.drawn import Part
from tiler.languages.catalogue import noted
from tiler.languages.words import say, told
from tiler.sheets.pieces.blocks import Block, Set, columns
from tiler.sheets.pieces.inside import Inside
from tiler.sheets.pieces.label import LONGEST_LINES, SCALES, TINIEST, grouped, ways
from tiler.sheets.pieces.rows import ASCENT, CLEAR, DESCENT, Joints, Text, ascent, descent
from tiler.sheets.style import LEAST, SMALL
from tiler.sheets.typesetting import text_width, wrapped

APART = 2.0
"""White between two words that do not belong together, mm."""

SHARES = (1.0, 0.52, 0.36, 0.27)
"""A label is tried in one column, and as high as this share of it in more."""

GRAIN_LENGTHS = (40.0, 28.0, 20.0, 14.0, 9.0, 6.0)
GRAIN_WORDS, GRAIN_BESIDE = noted("grain, along CF"), noted("arrow: grain, along CF")
LONGER = 6.0
"""By so much a line of a broken text may be longer than its share, mm."""

IN_HOLLOW = 3.0
"""White round words in the hollow of a piece, mm."""

AT_END = 40.0
"""What stands no further from an end is taken to speak of it, mm."""

OFF_TICK = 1.0
"""From a cut edge to the name of a notch, mm."""


@dataclass
class Shaped:
    """The words of a piece while they are put in place."""

    piece: Piece
    inside: Inside
    texts: list[Text] = field(default_factory=list)
    parts: list[Part] = field(default_factory=list)
    leaders: list[Subpath] = field(default_factory=list)
    beside: list[Line] = field(default_factory=list)
    named: bool = False
    """Whether its name stands on it."""

    @property
    def box(self) -> Box:
        """The extent of the piece."""
        return Box(0.0, 0.0, self.piece.length, self.piece.width)

    def put(self, block: Block, near: Point) -> bool:
        """Put a block as near to a point as can be; False where it has no room."""
        place = self.inside.place(block.wide + 2 * CLEAR, block.high, near)
        if place is None:
            return False
        self.texts += block.at(place.x0 + CLEAR, place.y1)
        self.inside.taken.append(place.grown(APART / 2))
        return True

    def put_words(self, text: str, near: Point) -> bool:
        """Put small type as near to a point as can be; False where it has no room."""
        for size in (SMALL, LEAST):
            high, wide = ascent(size) + descent(size), text_width(text, size)
            place = self.inside.place(wide + 2 * CLEAR, high, near)
            if place is not None:
                self.texts.append(Text(place.x0 + CLEAR, place.y0 + descent(size), text, size))
                self.inside.taken.append(place.grown(APART / 2))
                return True
        # in two lines or three, where it is long
        for count in (2, 3):
            lines = wrapped(text, text_width(text) / count + LONGER, SMALL)
            block = columns((tuple(Set(line, SMALL) for line in lines),), 1000.0)
            if block and self.put(block, near):
                return True
        return False


def shaped_words(piece: Piece, shape: Shape, joints: Joints) -> Shaped:
    """Put the words of a piece in place, off its joints where that can be."""
    words = _labelled(piece, shape, joints, fold_first=True)
    if not words.named:
        # where there is little room the name goes before what is told at the fold
        words = _labelled(piece, shape, joints, fold_first=False)
    _grain(words, shape)
    _ends(words, shape)
    _edges(words, shape)
    _notches(words, shape)
    _beside(words, shape, [*_joined(piece, joints)])
    return words


def _labelled(piece: Piece, shape: Shape, joints: Joints, fold_first: bool) -> Shaped:
    """Return a piece with its label, and what is said of its fold before that or behind."""
    around = (*shape.sewn, *reversed(shape.finished), shape.sewn[0])
    words = Shaped(piece, Inside(around, [*_joined(piece, joints)]))
    low, high = shape.sewn[0][1], shape.finished[0][1]
    if shape.on_fold:
        words.inside.taken.append(Box(0.0, low, BRACKET_REACH + CLEAR, high))
    if not fold_first:
        words.named = _label(words, shape)
    if shape.on_fold and not words.put_words(say("place on fold"), (BRACKET_REACH, low)):
        words.beside.append(Line(say("left edge: place on fold")))
    if fold_first:
        words.named = _label(words, shape)
    return words


def _joined(piece: Piece, joints: Joints) -> Iterator[Box]:
    """Yield what two pages share, where no word is to stand."""
    yield from (Box(a, -1.0, b, piece.width + 1.0) for a, b in joints.along)
    yield from (Box(-1.0, a, piece.length + 1.0, b) for a, b in joints.across)


def _middle(shape: Shape, share: float) -> Point:
    """Return the place between seam line and finished edge, so far along the piece."""
    (xa, ya), _ = place_on(shape.sewn, share * shape.sewn_mm)
    (xb, yb), _ = place_on(shape.finished, share * shape.finished_mm)
    return (xa + xb) / 2, (ya + yb) / 2


def _label(words: Shaped, shape: Shape) -> bool:
    """Put the label; tell whether the name of the piece stands on it."""
    near = _middle(shape, 0.0 if shape.on_fold else 0.5)
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
    if any(words.put(block, _middle(shape, 0.5)) for said in ways(rest) for block in _blocks(said, small[0])):
        return bool(head)
    for number, line in enumerate(rest):
        at = _middle(shape, 0.9 * number / len(rest))
        if not any(words.put(block, at) for scale in small for block in _blocks([line], scale)):
            words.beside += _plain(line)
    return bool(head)


def _plain(line: Line) -> Iterator[Line]:
    text = line.shorter[-1] if line.rank is Rank.CUT and line.shorter else line.text
    for group in grouped([Line(text, line.bold)], SCALES[-1], LONGEST_LINES[0]):
        yield from (Line(one.text, one.bold) for one in group)


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


def _grain(words: Shaped, shape: Shape) -> None:
    x, y = shape.grain
    near = _middle(shape, 0.15 if shape.on_fold else 0.4)
    for with_words in (True, False):
        text = say(GRAIN_WORDS)
        for length in GRAIN_LENGTHS:
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
                words.beside.append(Line(say(GRAIN_BESIDE)))
            return
    # a band too narrow for anything: a short one where no word stands
    words.beside.append(Line(say(GRAIN_BESIDE)))
    length = min(GRAIN_LENGTHS[-1], 0.6 * words.piece.figures.finished_width_mm)
    wide, high = abs(x) * length + ARROW_HEAD, abs(y) * length + ARROW_HEAD
    places = [_middle(shape, share / 40) for share in range(3, 38)]
    boxes = [Box(a - wide / 2, b - high / 2, a + wide / 2, b + high / 2) for a, b in places]
    free = (
        at for at, box in zip(places, boxes, strict=True) if not any(box.overlaps(one) for one in words.inside.taken)
    )
    words.parts.append(_arrow(next(free, near), (x, y), length))


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


def _ends(words: Shaped, shape: Shape) -> None:
    ends = [(0.03, noted("left end: {words}")), (0.97, noted("right end: {words}"))][shape.on_fold :]
    for word, (share, name) in zip(words.piece.end_words, ends, strict=True):
        near, texts, taken = _middle(shape, share), len(words.texts), len(words.inside.taken)
        if words.put_words(told(word.text), near):
            if words.texts[texts].box.away(near) <= AT_END:
                continue
            # so far off, it must say which end it means
            del words.texts[texts:], words.inside.taken[taken:]
            if words.put_words(say(name, words=word.text), near):
                continue
        words.beside.append(Line(say(name, words=word.text)))


def _edges(words: Shaped, shape: Shape) -> None:
    for edge, text in words.piece.edge_words:
        line = shape.sewn if edge == "lower" else shape.finished
        near, _ = place_on(line, 0.5 * (shape.sewn_mm if edge == "lower" else shape.finished_mm))
        if not words.put_words(told(text), near):
            words.beside.append(Line(told(text)))


def _notches(words: Shaped, shape: Shape) -> None:
    """Write the name of each notch outside the piece at its tick."""
    figures = words.piece.figures
    named: list[Box] = []
    for word in words.piece.notch_words:
        outer, inner = tick(shape, word.at, figures.seam_allowance_mm, notch_depth(figures))
        text, size = told(word.text), (text_width(told(word.text)), ASCENT + DESCENT)
        out = ((outer[0] - inner[0]), (outer[1] - inner[1]))
        far = hypot(*out)
        out = (out[0] / far, out[1] / far)
        way = OFF_TICK + abs(out[0]) * size[0] / 2 + abs(out[1]) * size[1] / 2
        while True:
            x, y = outer[0] + way * out[0] - size[0] / 2, outer[1] + way * out[1] - size[1] / 2
            if shape.on_fold:
                x = max(x, 0.0)
            box = Box(x, y, x + size[0], y + size[1])
            if not _meets(shape.outline, box.grown(0.4)) and not any(box.grown(0.6).overlaps(one) for one in named):
                break
            way += OFF_TICK
        named.append(box)
        words.texts.append(Text(x, y + DESCENT, text))


def _meets(outline: Subpath, box: Box) -> bool:
    """Tell whether a box has a point of the outline in it, or between two of its points, which lie close together."""
    return any(
        box.x0 < max(a[0], b[0]) and min(a[0], b[0]) < box.x1 and box.y0 < max(a[1], b[1]) and min(a[1], b[1]) < box.y1
        for a, b in pairwise(outline)
    )


def _beside(words: Shaped, shape: Shape, taken: Sequence[Box]) -> None:
    """Write in the hollow of the piece, or above it, what has no room in it, with a line that leads to it."""
    if not words.beside:
        return
    block = columns((tuple(Set(line.text, SMALL, line.bold) for line in words.beside),), 1000.0)
    assert block is not None
    (xa, ya), (xb, yb) = shape.upper[0], shape.upper[-1]
    corners = ((xa, max(ya, yb)), (xb, max(ya, yb)))
    hollow = (*shape.upper, *((corners[0],) if shape.on_fold else ()), shape.upper[0])
    tip = _middle(shape, 0.02)
    if shape.on_fold:
        tip = (max(tip[0], 3.0), shape.finished[0][1] - 1.0)
    place = Inside(hollow, taken).place(block.wide + 4 * CLEAR, block.high, (xa, max(ya, yb)), white=IN_HOLLOW)
    if place is None:
        place = Box(0.0, words.piece.width + 2.0, 0.0, words.piece.width + 2.0 + block.high)
    words.texts += block.at(place.x0 + 2 * CLEAR, place.y1)
    words.leaders.append(((place.x0 + CLEAR, place.y1), (place.x0 + CLEAR, place.y0), tip))
