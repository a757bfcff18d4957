"""What stands outside a piece with curved lines: the names of its notches, and what has no room in it; piece mm.

A line leads to the piece or to the tick wherever words stand away from it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise, product
from math import dist, hypot

from tiler.box import Box, Point, Subpath
from tiler.draft.contour.lines import tick
from tiler.draft.contour.shape import Shape
from tiler.draft.label import Line
from tiler.draft.outline import notch_depth
from tiler.languages.words import told
from tiler.sheets.pieces.blocks import Block, Groups, Set, columns
from tiler.sheets.pieces.curved.bits import bits, goes_round
from tiler.sheets.pieces.curved.placing import APART, EDGE, FAR, LONGER, Shaped
from tiler.sheets.pieces.label import LONGEST_LINES, SCALES, grouped
from tiler.sheets.pieces.rows import ASCENT, CLEAR, DESCENT, NO_JOINTS, Text
from tiler.sheets.style import LEAST, SMALL
from tiler.sheets.typesetting import text_width, wrapped

IN_HOLLOW = 3.0
"""White round words in the hollow of a piece; where its joints leave less room, as little as round other words, mm."""

OFF_TICK = 1.0
"""From a cut edge to the name of a notch, mm."""

STEPS = 14
"""So many steps the name of a notch stands off its tick at most, before it stands elsewhere with a line to it."""

ROUND = 0.6
"""White round a word that a line passes, mm."""


def name_notches(words: Shaped) -> None:
    """Write the name of each notch outside the piece at its tick, off its joints where that can be."""
    figures, named = words.piece.figures, list[Box]()
    for word in words.piece.notch_words:
        outer, inner = tick(words.shape, word.at, figures.seam_allowance_mm, notch_depth(figures))
        text, size = told(word.text), (text_width(told(word.text)), ASCENT + DESCENT)
        way = ((outer[0] - inner[0]), (outer[1] - inner[1]))
        places = [*_off_tick(words, outer, (way[0] / hypot(*way), way[1] / hypot(*way)), size, named)]
        box = next((one for one in places if _clear(words, one)), None)
        if box is None:
            line, box = _elsewhere(words, outer, size)
            if box is None:
                # inside at its tick, or else where a joint cuts it
                if words.put_words(text, inner):
                    continue
                box = places[0]
            else:
                words.leaders.append(line)
                words.outside.taken.append(Box.around(line).grown(ROUND))
        named.append(box)
        words.outside.taken.append(box.grown(APART / 2))
        words.texts.append(Text(box.x0, box.y0 + DESCENT, text))


def _off_tick(
    words: Shaped, outer: Point, out: Point, size: tuple[float, float], named: Sequence[Box]
) -> Iterator[Box]:
    """Yield places for a name of this size straight off its tick, off the piece and the other names."""
    way, found = OFF_TICK + abs(out[0]) * size[0] / 2 + abs(out[1]) * size[1] / 2, 0
    while found < (1 if words.joints == NO_JOINTS else STEPS):
        x, y = outer[0] + way * out[0] - size[0] / 2, outer[1] + way * out[1] - size[1] / 2
        if words.shape.on_fold:
            x = max(x, 0.0)
        box = Box(x, y, x + size[0], y + size[1])
        if not _meets(words.shape.outline, box.grown(0.4)) and not any(box.grown(0.6).overlaps(one) for one in named):
            found += 1
            yield box
        way += OFF_TICK


def _elsewhere(words: Shaped, outer: Point, size: tuple[float, float]) -> tuple[Subpath, Box | None]:
    """Return a line to a tick and the place at its other end for a name; none where that line leads over the piece."""
    place = words.outside.place(size[0] + 2 * CLEAR, size[1], outer)
    if place is None:
        return (), None
    box = Box(place.x0 + CLEAR, place.y0, place.x1 - CLEAR, place.y1)
    near = min(max(outer[0], box.x0), box.x1), min(max(outer[1], box.y0), box.y1)
    line = (_beside(near, outer, OFF_TICK / 2), outer)
    # the middle of the line, and what is near its ends
    over = any(encloses(words.shape, _beside(*line, dist(*line) * k / STEPS)) for k in range(1, STEPS))
    return (line, None) if over else (line, box)


def encloses(shape: Shape, point: Point) -> bool:
    """Tell whether a point lies on a piece."""
    return goes_round((*shape.outline, shape.outline[0]), point)


def _clear(words: Shaped, box: Box) -> bool:
    """Tell whether no joint cuts a word in this place."""
    if words.joints == NO_JOINTS:
        return True
    within = words.joints.within
    return (within is None or within.grown(1e-6).holds(box)) and not any(
        box.overlaps(one) for one in words.outside.taken
    )


def _beside(near: Point, far: Point, by: float) -> Point:
    """Return the point so far from one on the way to another."""
    way = dist(near, far) or 1.0
    return near[0] + (far[0] - near[0]) * by / way, near[1] + (far[1] - near[1]) * by / way


def _meets(outline: Subpath, box: Box) -> bool:
    """Tell whether a box has a point of the outline in it, or between two of its points, which lie close together."""
    return any(
        box.x0 < max(a[0], b[0]) and min(a[0], b[0]) < box.x1 and box.y0 < max(a[1], b[1]) and min(a[1], b[1]) < box.y1
        for a, b in pairwise(outline)
    )


def put_beside(words: Shaped) -> None:
    """Write in the hollow of the piece, or above it, what has no room in it, with a line that leads to it.

    Where no joint leaves room for all of it together it stands in several places.
    """
    if not words.beside:
        return
    lines = words.beside
    corner = (words.shape.upper[0][0], max(words.shape.upper[0][1], words.shape.upper[-1][1]))
    counts = range(1, len(lines) + 1) if words.joints != NO_JOINTS else range(1, 2)
    if len(counts) > 1 and not all(any(_found(words, [line], corner)) for line in lines):
        # a line that has no room for itself has none beside others
        counts = range(0)
    for count in counts:
        chunks = [lines[len(lines) * k // count : len(lines) * (k + 1) // count] for k in range(count)]
        before, places = (len(words.texts), len(words.outside.taken)), [*_places(words, chunks, corner)]
        if len(places) == count:
            # what stands there is known now, so no line leads through it
            for place in _stacked(places):
                words.leaders.append(_leader(words, place))
                words.outside.taken += (box.grown(ROUND) for box in bits(words.leaders[-1]))
            return
        del words.texts[before[0] :], words.outside.taken[before[1] :]
    block = columns(grouped(lines, SCALES[-1], LONGEST_LINES[0]), 1000.0)
    assert block is not None
    there = (*words.names, *(text.box for text in words.texts))
    top = max([words.piece.width, *(one.y1 for one in there)]) + 2.0 + block.high
    words.texts += block.at(2 * CLEAR, top)
    words.leaders.append(_leader(words, Box(2 * CLEAR, top - block.high, 2 * CLEAR + block.wide, top)))


def _places(words: Shaped, chunks: Sequence[Sequence[Line]], near: Point) -> Iterator[Box]:
    """Put blocks of lines outside the piece and yield their places, up to one that has no room."""
    for lines in chunks:
        one = next(_found(words, lines, near), None)
        if one is None:
            return
        block, place = one
        words.texts += block.at(place.x0 + 2 * CLEAR, place.y1)
        words.outside.taken.append(place.grown(APART / 2))
        yield Box(place.x0 + 2 * CLEAR, place.y0, place.x1 - 2 * CLEAR, place.y1)


def _found(words: Shaped, lines: Sequence[Line], near: Point) -> Iterator[tuple[Block, Box]]:
    """Yield blocks of these lines, each with the place that has room for it."""
    whites = (IN_HOLLOW, OFF_TICK) if words.joints != NO_JOINTS else (IN_HOLLOW,)
    blocks = [block for way in _ways(words, lines) if (block := columns(way, 1000.0))]
    for block, white in product(blocks, whites):
        place = words.outside.place(block.wide + 4 * CLEAR, block.high, near, white=white)
        if place:
            yield block, place


def _stacked(places: Sequence[Box]) -> list[Box]:
    """Return blocks that stand straight above each other as one."""
    found: list[Box] = []
    for place in sorted(places, key=lambda box: -box.y1):
        above = next((one for one in found if abs(one.x0 - place.x0) < EDGE and one.y0 - place.y1 < 2 * APART), None)
        if above:
            found.remove(above)
        found.append(Box.enclosing((above or place, place)))
    return found


def _ways(words: Shaped, lines: Sequence[Line]) -> Iterator[Groups]:
    """Yield how lines may be set; one that stands alone between joints is broken, and then smaller."""
    yield grouped(lines, SCALES[-1], LONGEST_LINES[0])
    if len(lines) == 1 and words.joints != NO_JOINTS:
        (line,) = lines
        whole = text_width(line.text, SMALL, line.bold)
        for size, count in product((SMALL, LEAST), range(1, 5)):
            broken = wrapped(line.text, whole / count + LONGER, size, line.bold)
            yield (tuple(Set(part, size, line.bold) for part in broken),)


def _leader(words: Shaped, block: Box) -> Subpath:
    """Return a line along a side of a block and on to the piece, off all words and joints where that can be."""
    heights = ((block.y1, block.y0), (block.y0, block.y1))
    sides = [((x, start), (x, end)) for x in (block.x0 - CLEAR, block.x1 + CLEAR) for start, end in heights]
    taken = [
        block,
        *words.names,
        *(text.box.grown(ROUND) for text in words.texts if not block.grown(EDGE).holds(text.box)),
    ]
    taken += [Box.around(at for line in part.subpaths for at in line).grown(ROUND) for part in words.parts]
    spans = [Box(a, -FAR, b, FAR) for a, b in words.joints.along]
    spans += [Box(-FAR, a, FAR, b) for a, b in words.joints.across]
    best: tuple[tuple[int, int, float], Subpath] | None = None
    for (start, end), tip in product(sides, words.tips):
        far = dist(end, tip)
        if best and (0, 0, far) >= best[0]:
            continue
        cost = (
            sum(crosses(end, tip, box) for box in taken),
            sum(crosses(end, tip, span) for span in spans),
            far,
        )
        if best is None or cost < best[0]:
            best = cost, (start, end, tip)
    assert best is not None
    return best[1]


def crosses(one: Point, other: Point, box: Box) -> bool:
    """Tell whether a straight line passes through a box (Liang and Barsky, 1984)."""
    start, end = 0.0, 1.0
    for a, b, low, high in ((one[0], other[0], box.x0, box.x1), (one[1], other[1], box.y0, box.y1)):
        if a == b:
            if not low < a < high:
                return False
            continue
        first, last = sorted(((low - a) / (b - a), (high - a) / (b - a)))
        start, end = max(start, first), min(end, last)
    return start < end
