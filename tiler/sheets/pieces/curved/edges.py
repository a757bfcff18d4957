"""What is said of each of the two long edges of a piece with curved lines, so that no edge is taken for the other.

Words stand nearer to their own edge than to the other; else they have a line of their own that leads to it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import dist, hypot, inf

from tiler.box import Box, Point, Subpath
from tiler.draft.contour.shape import length_of, place_on
from tiler.draft.label import Line
from tiler.languages.catalogue import noted
from tiler.languages.words import say, told
from tiler.sheets.pieces.blocks import Block, Set, columns
from tiler.sheets.pieces.curved.bits import bits
from tiler.sheets.pieces.curved.outside import ROUND, crosses, encloses
from tiler.sheets.pieces.curved.placing import APART, FAR, LONGER, Shaped
from tiler.sheets.pieces.rows import CLEAR, NO_JOINTS, Joints
from tiler.sheets.style import LEAST, SMALL
from tiler.sheets.typesetting import text_width, wrapped

SHARES = (0.5, 0.38, 0.62, 0.26, 0.74, 0.15, 0.85, 0.07, 0.93)
"""How far along its edge words are tried, the middle first."""

NEARER = 1.5
"""Words that stand so many times nearer to their own edge than to the other belong to it."""

PIECES = 5
"""A block of words is looked at in so many pieces from its left to its right."""

SLANT = 0.25
"""A line leads no flatter to its edge than this, off that for its length, so that it is not taken for the edge."""

OFF_EDGE = 3.0
"""Words below or above the whole piece stand so far off its edge, mm."""

OFF_TICK = 5.0
"""A line ends no nearer to a notch, which it is not to be taken for, mm."""

LEFT = 8.0
"""Words above the whole piece begin so far to the right, mm."""

SHORT = {"lower": noted("garment edge"), "upper": noted("finished edge")}
"""Where the whole has no room at its edge."""

LONGER_LINE = 1.5
"""A line that leads to an edge may be so much longer where words are set in one way less, mm."""

STEPS = 14
"""Places along a line that leads to an edge at which it is not to run over the piece."""


@dataclass(frozen=True)
class Edge:
    """A long edge: its cut line, its seam line, that of the other edge, and how far along it its notches stand, mm."""

    cut: Subpath
    own: Subpath
    other: Subpath
    notches: Sequence[float] = ()

    def has(self, box: Box) -> bool:
        """Tell whether what stands there plainly belongs to this edge, the beginning of its lines as their end."""
        step = (box.x1 - box.x0) / PIECES
        pieces = (Box(box.x0 + k * step, box.y0, box.x0 + (k + 1) * step, box.y1) for k in range(PIECES))
        return all(NEARER * off(one, self.own) <= off(one, self.other) for one in pieces)

    def places(self) -> Iterator[tuple[Point, Point]]:
        """Yield places on the cut line, and where a line that leads there ends, in the middle of the allowance."""
        long = length_of(self.own)
        for share in SHARES:
            if any(abs(share * long - notch) < OFF_TICK for notch in self.notches):
                continue
            at, seam = (place_on(line, share * length_of(line))[0] for line in (self.cut, self.own))
            yield at, ((at[0] + seam[0]) / 2, (at[1] + seam[1]) / 2)


def put_edges(words: Shaped) -> None:
    """Say at each edge how it is sewn: inside the piece beside it, or else outside with a line that leads to it."""
    shape, notches = words.shape, [notch.at_mm for notch in words.piece.figures.notches]
    for name, text in words.piece.edge_words:
        far = shape.second or shape.finished
        edge = Edge(shape.lower, shape.sewn, far, notches) if name == "lower" else Edge(shape.upper, far, shape.sewn)
        if _put(words, edge, told(text)):
            continue
        words.beside.append(Line(told(text)))
        if not shape.doubled:
            _put(words, edge, say(SHORT[name]))


def _put(words: Shaped, edge: Edge, text: str) -> bool:
    blocks = [*_blocks(text, words.joints)]
    return _put_inside(words, edge, blocks) or _put_outside(words, edge, blocks)


def _blocks(text: str, joints: Joints) -> Iterator[Block]:
    """Yield ways to set what is said, in few lines first."""
    ways = [(SMALL, 1), (LEAST, 1), (SMALL, 2), (SMALL, 3)]
    ways += [(SMALL, 4), (LEAST, 4), (LEAST, 5)] if joints != NO_JOINTS else []
    for size, count in ways:
        lines = wrapped(text, text_width(text, size) / count + LONGER, size) if count > 1 else [text]
        if block := columns((tuple(Set(line, size) for line in lines),), 1000.0):
            yield block


def _put_inside(words: Shaped, edge: Edge, blocks: Sequence[Block]) -> bool:
    for block in blocks:
        for share in SHARES:
            near, _ = place_on(edge.own, share * length_of(edge.own))
            place = words.inside.place(block.wide + 2 * CLEAR, block.high, near)
            if place is None:
                # nor has it room anywhere else
                break
            if edge.has(_written(place)):
                words.texts += block.at(place.x0 + CLEAR, place.y1)
                words.inside.taken.append(place.grown(APART / 2))
                return True
    return False


def _written(place: Box) -> Box:
    return Box(place.x0 + CLEAR, place.y0, place.x1 - CLEAR, place.y1)


def _put_outside(words: Shaped, edge: Edge, blocks: Sequence[Block]) -> bool:
    """Put what is said where a short line leads from it to its edge, off the room of the piece only at last."""
    for way in (_in_room, _off_the_piece):
        found = [
            (length_of(line) + LONGER_LINE * number, number, box, line)
            for number, block in enumerate(blocks)
            for box, line in way(words, edge, block)
        ]
        if found:
            _, number, box, line = min(found, key=lambda one: one[:2])
            words.texts += blocks[number].at(box.x0, box.y1)
            words.leaders.append(line)
            words.outside.taken += (box.grown(APART), *(one.grown(ROUND) for one in bits(line)))
            return True
    return False


def _in_room(words: Shaped, edge: Edge, block: Block) -> Iterator[tuple[Box, Subpath]]:
    """Yield places in the room round the piece, each with its line."""
    for at, tip in edge.places():
        place = words.outside.place(block.wide + 2 * CLEAR, block.high, at)
        if place and (line := _line(words, _written(place), at, tip)):
            yield _written(place), line


def _off_the_piece(words: Shaped, edge: Edge, block: Block) -> Iterator[tuple[Box, Subpath]]:
    """Yield places below or above the whole piece, each with its line, where no joint is near."""
    if words.joints != NO_JOINTS:
        return
    high, above = block.high, edge.cut is words.shape.upper
    top = max(words.piece.width, *(one.y1 for one in words.names), 0.0) if above else 0.0
    low = top + OFF_EDGE if above else -OFF_EDGE - high
    for at, tip in edge.places():
        # at the left the line passes that leads to the piece from what stands above
        x = max(min(at[0] - block.wide / 2, words.shape.length - block.wide), LEFT if above else 0.0)
        box = Box(x, low, x + block.wide, low + high)
        free = not any(box.grown(APART / 2).overlaps(text.box) for text in words.texts)
        if free and (line := _line(words, box, at, tip)):
            yield box, line


def _line(words: Shaped, box: Box, at: Point, tip: Point) -> Subpath | None:
    """Return a line from what stands in a box to a place on an edge; none that runs over the piece, words or joints."""
    near = min(max(at[0], box.x0), box.x1), min(max(at[1], box.y0), box.y1)
    way = dist(near, at)
    if not way:
        return None
    start = tuple(a + (b - a) * min(0.5 / way, 0.5) for a, b in zip(near, at, strict=True))
    over = any(encloses(words.shape, _between(near, at, k / STEPS)) for k in range(1, STEPS))
    spans = [Box(a, -FAR, b, FAR) for a, b in words.joints.along]
    spans += [Box(-FAR, a, FAR, b) for a, b in words.joints.across]
    there = [*(text.box.grown(ROUND) for text in words.texts), *words.names, *spans]
    middle = _between(near, at, 0.5)
    flat = off(Box.around([middle]), words.shape.outline) < SLANT * way / 2
    if over or flat or any(crosses(near, end, one) for one in there for end in (at, tip)):
        return None
    return ((start[0], start[1]), at, tip)


def _between(one: Point, other: Point, share: float) -> Point:
    return one[0] + (other[0] - one[0]) * share, one[1] + (other[1] - one[1]) * share


def off(box: Box, line: Subpath) -> float:
    """Return how far a box lies off a line, mm."""
    corners = ((box.x0, box.y0), (box.x1, box.y0), (box.x1, box.y1), (box.x0, box.y1))
    nearest = inf
    for a, b in pairwise(line):
        if crosses(a, b, box):
            return 0.0
        ends = min(box.away(a), box.away(b))
        nearest = min(nearest, ends, *(_off_segment(corner, a, b) for corner in corners))
    return nearest


def _off_segment(point: Point, a: Point, b: Point) -> float:
    x, y = b[0] - a[0], b[1] - a[1]
    along = ((point[0] - a[0]) * x + (point[1] - a[1]) * y) / ((x * x + y * y) or 1.0)
    share = min(max(along, 0.0), 1.0)
    return hypot(point[0] - a[0] - share * x, point[1] - a[1] - share * y)
