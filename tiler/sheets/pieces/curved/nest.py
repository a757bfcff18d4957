"""Sizes of a piece with curved lines drawn within each other: one fold, and from there each its own lines; piece mm.

All begin at the same corner of the waist or of the neck, at the fold.  From there their lines run apart, so each size
has all of its own, cut line and seam lines, in its own pattern and on its own layer, and is declared and proved as if
it were alone; what is the same for all, the fold and a notch at it, is drawn once.  Words stand where no line of any
size runs, the name of a size at its end.  A piece that is not cut on the fold has no such corner, and is drawn apart.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cache
from itertools import pairwise
from math import ceil, dist, floor, hypot

from tiler.box import Box, Point, Subpath
from tiler.declaration import Tag
from tiler.draft.contour.shape import Shape
from tiler.draft.label import Line, in_languages
from tiler.draft.outline import Piece
from tiler.drawn import Part
from tiler.languages.proved import CUT_SIZE
from tiler.languages.words import in_each, say, told
from tiler.sheets.pieces.blocks import Set, columns
from tiler.sheets.pieces.curved.outside import encloses
from tiler.sheets.pieces.curved.placing import LONGER, Shaped, shaped
from tiler.sheets.pieces.rows import ASCENT, CLEAR, DESCENT, NO_JOINTS, Joints, Text
from tiler.sheets.style import LEADING, SMALL
from tiler.sheets.typesetting import text_width, wrapped

ALIKE = 0.01
"""Lines that differ by less are one, mm."""

CLOSEST = 3.0
"""Ends nearer than this cannot be told apart with scissors in hand; ours."""

REACH = 36
"""So far from its end the name of a size stands at most, mm."""

FAR_OFF = 8.0
"""A name further from its end has a line that leads there, mm."""

OUTSIDE = 2.0
"""A name outside its size has a line from so far on, mm; white round what stands there."""

WHITE = 0.6
"""Round the name of a size, mm."""


def shape_of(piece: Piece) -> Shape:
    """Return the shape of a piece that has one."""
    shape = piece.figures.shape
    assert shape is not None
    return shape


def kin(piece: Piece) -> tuple[object, ...]:
    """Return what sizes of a piece have in common where they can lie within each other; else what it is alone."""
    figures, shape = piece.figures, shape_of(piece)
    if figures.size is None or not shape.on_fold:
        return (piece.id,)
    (x, low), (_, high) = shape.lower[0], shape.upper[0]
    widths = (figures.finished_width_mm, figures.seam_allowance_mm, figures.join_allowance_mm, high - low, x)
    ends = (figures.end.allowance_along, figures.is_open, figures.ends)
    return (figures.name, figures.quantity, shape.doubled, shape.grain, *ends, *(round(width, 2) for width in widths))


def told_apart(family: Sequence[Piece]) -> bool:
    """Tell whether the ends of all sizes can be told apart."""
    ends = sorted((shape_of(one) for one in piled(family)), key=lambda shape: shape.sewn_mm)
    return all(
        min(dist(small.lower[-1], large.lower[-1]), dist(small.upper[-1], large.upper[-1])) >= CLOSEST
        and small.sewn_mm + CLOSEST <= large.sewn_mm
        for small, large in pairwise(ends)
    )


def piled(family: Sequence[Piece]) -> list[Piece]:
    """Return the sizes with their cut edges at the garment meeting at the fold, none below y = 0."""
    top = max(shape_of(piece).lower[0][1] for piece in family)
    return [_raised(piece, top - shape_of(piece).lower[0][1]) for piece in family]


def _raised(piece: Piece, by: float) -> Piece:
    if not by:
        return piece

    def up(line: Subpath) -> Subpath:
        return tuple((x, round(y + by, 4)) for x, y in line)

    shape = shape_of(piece)
    raised = replace(
        shape,
        lower=up(shape.lower),
        sewn=up(shape.sewn),
        finished=up(shape.finished),
        upper=up(shape.upper),
        second=up(shape.second),
        ends=tuple(map(up, shape.ends)),
    )
    section = piece.figures.section
    assert section is not None
    figures = replace(piece.figures, section=replace(section, shape=raised))
    parts = tuple(Part(part.tag, tuple(map(up, part.subpaths))) for part in piece.parts)
    return replace(piece, figures=figures, parts=parts, width=raised.width, lanes=(0.0, raised.width))


def shared_parts(pieces: Sequence[Piece]) -> tuple[list[Part], list[list[Part]]]:
    """Return the lines that all sizes have, and those that each has for itself."""
    first, *others = pieces
    common = [part for part in first.parts if _is_fold(part) or all(_has(one, part) for one in others)]
    own = [
        [part for part in one.parts if not _is_fold(part) and not any(_same(part, other) for other in common)]
        for one in pieces
    ]
    return common, own


def _is_fold(part: Part) -> bool:
    return part.tag == Tag.FOLD_LINE


def _has(piece: Piece, part: Part) -> bool:
    return any(_same(part, other) for other in piece.parts)


def _same(one: Part, other: Part) -> bool:
    """Tell whether two parts are the same line."""
    if one.tag != other.tag or [*map(len, one.subpaths)] != [*map(len, other.subpaths)]:
        return False
    lines = zip(one.subpaths, other.subpaths, strict=True)
    return all(dist(a, b) <= ALIKE for p, q in lines for a, b in zip(p, q, strict=True))


def begun(piece: Piece, pieces: Sequence[Piece], joints: Joints) -> Shaped:
    """Return the common piece of a nest without words, and with the room that the lines of no size cross."""
    return shaped(piece, shape_of(piece), joints, [shape_of(one) for one in pieces])


def name_size(words: Shaped, index: int, pieces: Sequence[Piece]) -> tuple[list[Text], list[Subpath]]:
    """Write the name of a size at its end, off the lines of all, and the line that leads there from further off.

    ``pieces`` come from the smallest to the largest; inside a smaller size the name would be taken for that one's.
    """
    piece, smaller = pieces[index], [shape_of(one) for one in pieces[:index]]
    shape, size = shape_of(piece), piece.figures.size or ""
    wide, high = text_width(size, SMALL, bold=True) + 2 * WHITE, ASCENT + DESCENT + 2 * WHITE
    # just inside its end
    back = _inwards(shape, piece.figures.join_allowance_mm + 1.0 + hypot(wide, high) / 2)
    blocked = _cells(pieces, Box(*back, *back).grown(REACH + wide))
    taken, limit = [*words.inside.taken, *words.outside.taken], words.joints.within
    boxes = (_round((back[0] + right, back[1] + up), wide, high) for right, up in _spiral())
    box = next(
        (
            box
            for box in boxes
            if box.x0 >= 0.0
            and not any((x, y) in blocked for x in _span(box.x0, box.x1) for y in _span(box.y0, box.y1))
            and not any(box.overlaps(one) for one in taken)
            and (limit is None or limit.holds(box))
            and not any(encloses(one, box.middle) for one in smaller)
        ),
        _round(back, wide, high),
    )
    place = [Box(box.x0 - CLEAR, box.y0 - CLEAR, box.x1 + CLEAR, box.y1 + CLEAR)]
    leaders: list[Subpath] = []
    end = _nearest(box.middle, shape.lower[-1], shape.upper[-1])
    near = (min(max(end[0], box.x0), box.x1), min(max(end[1], box.y0), box.y1))
    if dist(near, end) > (FAR_OFF + piece.figures.join_allowance_mm if encloses(shape, box.middle) else OUTSIDE):
        leaders.append((near, end))
        place.append(Box.around((near, end)).grown(WHITE))
    words.names.append(box)
    words.inside.taken += place
    words.outside.taken += place
    return [Text(box.x0 + WHITE, box.y0 + WHITE + DESCENT, size, bold=True)], leaders


def _cells(pieces: Sequence[Piece], around: Box) -> set[tuple[int, int]]:
    """Return the square millimetres round a place through which a line runs."""
    found: set[tuple[int, int]] = set()
    for line in (line for one in pieces for part in one.parts for line in part.subpaths):
        for (xa, ya), (xb, yb) in pairwise(line):
            if max(xa, xb) < around.x0 or min(xa, xb) > around.x1 or max(ya, yb) < around.y0 or min(ya, yb) > around.y1:
                continue
            count = ceil(2 * dist((xa, ya), (xb, yb))) or 1
            found |= {(floor(xa + (xb - xa) * k / count), floor(ya + (yb - ya) * k / count)) for k in range(count + 1)}
    return found


def _span(low: float, high: float) -> range:
    """Return the millimetres of a stretch, and those beside it, which a line may pass between two of its steps."""
    return range(floor(low) - 1, floor(high) + 2)


def _round(middle: Point, wide: float, high: float) -> Box:
    return Box(middle[0] - wide / 2, middle[1] - high / 2, middle[0] + wide / 2, middle[1] + high / 2)


def _nearest(point: Point, a: Point, b: Point) -> Point:
    """Return the place on a straight line that is nearest to a point."""
    x, y = b[0] - a[0], b[1] - a[1]
    share = ((point[0] - a[0]) * x + (point[1] - a[1]) * y) / (x * x + y * y)
    held = min(max(share, 0.0), 1.0)
    return a[0] + held * x, a[1] + held * y


def _inwards(shape: Shape, by: float) -> Point:
    """Return the place so far inside the end of a piece, in its middle."""
    (xa, ya), (xb, yb) = shape.lower[-1], shape.upper[-1]
    far = dist(shape.lower[-1], shape.upper[-1])
    across = ((xb - xa) / far, (yb - ya) / far)
    # the piece lies to the left of its end seam, run upwards
    return (xa + xb) / 2 - across[1] * by, (ya + yb) / 2 + across[0] * by


@cache
def _spiral() -> Sequence[tuple[float, float]]:
    """Return steps of 1 mm round a place, the nearest first."""
    steps = [(float(x), float(y)) for x in range(-REACH, REACH + 1) for y in range(-REACH, REACH + 1)]
    return sorted(steps, key=lambda step: hypot(*step))


def row_of(piece: Piece) -> Line:
    """Return what is said of the cut size of one size of a nest."""
    each = []
    for _, label in zip(in_each(), piece.labels, strict=True):
        cut = say(CUT_SIZE, length=label.cut_length, width=label.cut_width)
        each.append([Line(say("{about}: {text}", about=piece.figures.size or "", text=told(cut)))])
    (line,) = in_languages(each)
    return line


def put_rows(words: Shaped, pieces: Sequence[Piece]) -> list[list[Text]]:
    """Put the rows of all sizes together where there is room for them, inside or else outside, and return them.

    Where joints leave no such room they stand in several places, and at last above the piece and all else.
    """
    rows = [row_of(piece).text for piece in pieces]
    bare = words.copy()
    for count in range(1, len(rows) + 1):
        chunks = [rows[len(rows) * k // count : len(rows) * (k + 1) // count] for k in range(count)]
        found = [texts for chunk in chunks for texts in _put_chunk(words, chunk)]
        if len(found) == len(rows) or words.joints == NO_JOINTS:
            break
        words.inside.taken, words.outside.taken = [*bare.inside.taken], [*bare.outside.taken]
    if len(found) == len(rows):
        return found
    top = max([words.piece.width, *(text.box.y1 for text in words.texts)]) + 2.0
    return [[Text(2 * CLEAR, top + DESCENT + LEADING * k, text)] for k, text in enumerate(reversed(rows))][::-1]


def _put_chunk(words: Shaped, rows: Sequence[str]) -> Iterator[list[Text]]:
    """Yield the lines of each row where all of them have room together; one alone may be broken."""
    ways = [[[row] for row in rows]]
    if len(rows) == 1:
        ways += [[wrapped(rows[0], text_width(rows[0]) / count + LONGER, SMALL)] for count in (2, 3)]
    for way in ways:
        block = columns((tuple(Set(line, SMALL) for lines in way for line in lines),), 1000.0)
        assert block is not None
        wide, near = block.wide, words.middle(0.3)
        place = words.inside.place(wide + 2 * CLEAR, block.high, near)
        if place is None:
            place = words.outside.place(wide + 2 * CLEAR, block.high, near, white=OUTSIDE)
            room = words.outside
        else:
            room = words.inside
        if place:
            room.taken.append(place.grown(1.0))
            texts = iter([*block.at(place.x0 + CLEAR, place.y1)])
            yield from ([next(texts) for _ in lines] for lines in way)
            return
