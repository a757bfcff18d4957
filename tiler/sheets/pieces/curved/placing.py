"""A piece with curved lines while words are put in it and round it, and the room that is left; piece mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

from tiler.box import Box, Point, Subpath
from tiler.draft.contour.shape import Shape, length_of, place_on
from tiler.draft.label import Line
from tiler.draft.outline import Piece
from tiler.drawn import Part
from tiler.sheets.pieces.blocks import Block, Set, columns
from tiler.sheets.pieces.curved.bits import corners
from tiler.sheets.pieces.inside import Inside
from tiler.sheets.pieces.rows import CLEAR, NO_JOINTS, Joints, Text, ascent, descent
from tiler.sheets.style import LEAST, SMALL
from tiler.sheets.typesetting import text_width, wrapped

APART = 2.0
"""White between two words that do not belong together, mm."""

LONGER = 6.0
"""By so much a line of a broken text may be longer than its share, mm."""

TIPS = 40
"""Places along a piece at which a line that leads to it may end."""

FAR = 1e5
"""No piece reaches so far, mm."""

EDGE = 0.01
"""A piece that reaches to the end of its room leaves this much of it, so that its outline crosses none twice, mm."""


@dataclass
class Shaped:
    """The words of a piece while they are put in place: ``inside`` its seam lines, or ``outside`` it."""

    piece: Piece
    shape: Shape
    joints: Joints
    inside: Inside
    outside: Inside
    texts: list[Text] = field(default_factory=list)
    parts: list[Part] = field(default_factory=list)
    leaders: list[Subpath] = field(default_factory=list)
    beside: list[Line] = field(default_factory=list)
    names: list[Box] = field(default_factory=list)
    """The places of the names of sizes."""
    named: bool = False
    """Whether its name stands on it."""
    arrow: bool = False
    """Whether the arrow of its grain stands clear of all words."""

    def copy(self) -> Shaped:
        """Return the same, to be gone on with in another way."""
        inside, outside = self.inside.copy(), self.outside.copy()
        return replace(
            self, inside=inside, outside=outside, texts=[*self.texts], parts=[*self.parts], beside=[*self.beside]
        )

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
        # in two lines or three where it is long, in more between joints
        ways = [(SMALL, 2), (SMALL, 3)]
        ways += [(SMALL, 4), (LEAST, 4), (LEAST, 5)] if self.joints != NO_JOINTS else []
        for size, count in ways:
            lines = wrapped(text, text_width(text, size) / count + LONGER, size)
            block = columns((tuple(Set(line, size) for line in lines),), 1000.0)
            if block and self.put(block, near):
                return True
        return False

    @cached_property
    def tips(self) -> Sequence[Point]:
        """Places all along the piece to which a line may lead: in its middle, and in its long allowances."""
        shape = self.shape
        rails = ((shape.sewn, shape.finished), (shape.upper, shape.finished), (shape.sewn, shape.lower))
        return [between(*rail, k / TIPS) for rail in rails for k in range(1, TIPS)]

    def middle(self, share: float) -> Point:
        """Return the place between seam line and finished edge, so far along the piece."""
        return between(self.shape.sewn, self.shape.finished, share)


def between(one: Subpath, other: Subpath, share: float) -> Point:
    """Return the place between two lines, so far along both."""
    (xa, ya), (xb, yb) = (place_on(line, share * length_of(line))[0] for line in (one, other))
    return (xa + xb) / 2, (ya + yb) / 2


def shaped(piece: Piece, shape: Shape, joints: Joints, sizes: Sequence[Shape] = ()) -> Shaped:
    """Return a piece without words, and with the room that its joints leave; in a nest the lines of all ``sizes``."""
    taken = [*_joined(joints)]
    every = sizes or (shape,)
    extent = Box(0.0, 0.0, max(one.length for one in every), max(one.width for one in every))
    around = corners((joints.within or extent).grown(EDGE))
    seams = [((*one.sewn, *reversed(one.finished), one.sewn[0]), ()) for one in every]
    outlines = [(around, _closed(one.outline)) for one in every]
    return Shaped(piece, shape, joints, Inside(*seams, taken=taken), Inside(*outlines, taken=taken))


def _closed(line: Subpath) -> Subpath:
    return line if line[0] == line[-1] else (*line, line[0])


def _joined(joints: Joints) -> Iterator[Box]:
    """Yield what two pages share, and what none shows: there no word is to stand."""
    yield from (Box(a, -FAR, b, FAR) for a, b in joints.along)
    yield from (Box(-FAR, a, FAR, b) for a, b in joints.across)
    yield from joints.hidden
