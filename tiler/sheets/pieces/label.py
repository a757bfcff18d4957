"""The label of a piece: one block of lines where a lane has room for it; piece mm.

Where none has, its head and its facts stand as two blocks, and on a narrow strip its lines
stand behind each other.  What has no room so is set smaller, and at last in fewer words.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import product

from tiler.box import Box
from tiler.draft.label import Line, Rank
from tiler.sheets.pieces.blocks import Block, Groups, Set, columns, line_of, stacked
from tiler.sheets.pieces.rows import LEAST_WHITE, NARROW, Strip, Text, ascent, descent
from tiler.sheets.style import FACT, HEADING, LEAST, SMALL, TITLE
from tiler.sheets.typesetting import wrapped

SCALES = (
    (TITLE, HEADING, FACT, SMALL),
    (TITLE, HEADING, SMALL, SMALL),
    (HEADING, HEADING, FACT, SMALL),
    (HEADING, SMALL, SMALL, SMALL),
    (SMALL, SMALL, SMALL, SMALL),
)
"""Sizes of the lines of each rank, the largest that have room."""

TINIEST = (LEAST, LEAST, LEAST, LEAST)
"""On narrow strips, and nowhere else."""

LONGEST_LINES = (120.0, 90.0, 70.0, 50.0)
"""Where lines are broken; longer ones are hard to keep off the joints, mm."""

LONGEST_LINE = LONGEST_LINES[0]

WIDEST = 165.0
"""A wider block is hard to keep off the joints, mm."""

LOWER = 0.6
"""A block so much lower than its lane finds room beside what stands there, too."""

LEAST_LINE, STEP = 30.0, 4.0
"""Lines are made alike to this step, and none shorter than this, mm."""

BETWEEN_BLOCKS = 10.0
"""White between two blocks on top of that between texts: a strip can be cut there into parts, mm."""


def put_label(strip: Strip, lines: Sequence[Line]) -> bool:
    """Put the label into a strip, as large and in as many words as there is room for; False where there is none."""
    narrow = strip.piece.width < NARROW
    for said in ways(lines):
        for scale in (*SCALES, *([TINIEST] if narrow else [])):
            if narrow:
                if put_line(strip, set_as(said, scale)):
                    return True
                continue
            head = [line for line in said if line.rank < Rank.FACT]
            facts = [line for line in said if line.rank is Rank.FACT]
            if _put_whole(strip, head, facts, scale) or _put_parts(strip, head, facts, scale):
                return True
    if not narrow and any(put_line(strip, set_as(said, scale)) for said in ways(lines) for scale in SCALES):
        return True
    scales = (SCALES[-1], TINIEST) if narrow else SCALES[-1:]
    return any(_put_each(strip, said, scale) for said in ways(lines) for scale in scales)


def ways(lines: Sequence[Line]) -> Iterator[list[Line]]:
    """Yield a label in all of its languages, then from below in one, and that in fewer and fewer words.

    A list of sizes is shortened first, the rest from below.
    """
    said = [line.in_one for line in lines]
    if any(line.alone for line in lines):
        head = sum(line.rank < Rank.FACT for line in lines)
        for count in (len(lines), (head + len(lines)) // 2, head):
            yield [*lines[:count], *said[count:]]
    yield said
    while any(line.shorter for line in said):
        for index in sorted(range(len(said)), key=lambda index: (said[index].rank is not Rank.CUT, -index)):
            if said[index].shorter:
                text, *shorter = said[index].shorter
                said[index] = said[index]._replace(text=text, shorter=tuple(shorter))
                yield [line for line in said if line.text]


def grouped(lines: Sequence[Line], scale: Sequence[float], longest: float) -> Groups:
    """Break lines at ``longest`` mm into lines that are alike; what was one line stays together."""
    return tuple(
        tuple(Set(part, scale[line.rank], line.bold) for part in _even(line.text, scale[line.rank], line.bold, longest))
        for line in lines
    )


@lru_cache(2**12)
def _even(text: str, size: float, bold: bool, longest: float) -> tuple[str, ...]:
    """Break a text into lines that are alike, none longer than ``longest`` mm; many blocks are tried with them."""
    parts = wrapped(text, longest, size, bold)
    while longest > LEAST_LINE:
        longest -= STEP
        other = wrapped(text, longest, size, bold)
        if len(other) > len(parts):
            break
        parts = other
    return tuple(part.strip(" ·") for part in parts)


def set_as(lines: Sequence[Line], scale: Sequence[float], longest: float = LONGEST_LINE) -> list[Set]:
    """Set lines in the sizes of a scale, broken at ``longest`` mm."""
    return [one for group in grouped(lines, scale, longest) for one in group]


def _put_whole(strip: Strip, head: Sequence[Line], facts: Sequence[Line], scale: Sequence[float]) -> bool:
    """Put head and facts as one block of columns."""
    for groups in dict.fromkeys(grouped([*head, *facts], scale, longest) for longest in LONGEST_LINES):
        for low, top in strip.cells:
            block = columns(groups, top - low - 2 * LEAST_WHITE)
            if block and block.wide <= WIDEST and put_block(strip, block, [(low, top)]):
                return True
    return False


def _put_parts(strip: Strip, head: Sequence[Line], facts: Sequence[Line], scale: Sequence[float]) -> bool:
    """Put the head as a block or in one line, and the facts as blocks below it or elsewhere."""
    before = strip.mark()
    # short lines are broken alike at several lengths: each way is tried once
    below = list(dict.fromkeys(grouped(facts, scale, longest) for longest in LONGEST_LINES))
    for low, top in strip.cells:
        high = top - low - 2 * LEAST_WHITE
        ways = product((high, LOWER * high), (LONGEST_LINES[0], LONGEST_LINES[-1]))
        heads = [columns(grouped(head, scale, longest), lower) for lower, longest in ways]
        for block in dict.fromkeys((*heads, line_of(set_as(head, scale), high))):
            if block is None or block.wide > WIDEST or not put_block(strip, block, [(low, top)]):
                continue
            # rather behind the head, which may stand behind a joint
            starts = (strip.taken[-1].x0, None)
            for start, white, groups in product(starts, (BETWEEN_BLOCKS, 0.0), below):
                if _put_facts(strip, groups, low, white, start):
                    return True
            strip.back_to(before)
    return False


def _put_facts(strip: Strip, groups: Groups, head: float, white: float, start: float | None) -> bool:
    """Put facts in columns into the lanes, those below the ``head`` first, ``white`` before each other column."""
    before, rest = strip.mark(), groups
    for low, top in sorted(strip.cells, key=lambda cell: cell[1] > head + LEAST_WHITE):
        space, high = 0.0 if top <= head + LEAST_WHITE else white, top - low - 2 * LEAST_WHITE
        for lower in (high, LOWER * high):
            for count, block in stacked(rest, lower):
                if not put_block(strip, block, [(low, top)], space, start):
                    break
                rest = rest[count:]
                space = white
        if not rest:
            return True
    strip.back_to(before)
    return False


def _put_each(strip: Strip, lines: Sequence[Line], scale: Sequence[float]) -> bool:
    """Put each line, or the lines that it is broken into, where it has room; False when one has none."""
    before = strip.mark()
    for line in lines:
        groups = [grouped([line], scale, longest) for longest in LONGEST_LINES]
        ways = ((cell, columns(one, cell[1] - cell[0] - 2 * LEAST_WHITE)) for one in groups for cell in strip.cells)
        if not any(block and put_block(strip, block, [cell]) for cell, block in ways):
            strip.back_to(before)
            return False
    return True


def put_block(
    strip: Strip,
    block: Block,
    cells: Sequence[tuple[float, float]],
    before: float = 0.0,
    start: float | None = None,
) -> bool:
    """Put a block in the first place that has room; False when there is none."""
    place = next(strip.block_places(block.high, block.wide, cells, before, start), None)
    if place is None:
        return False
    x, top = place
    strip.texts += block.at(x, top)
    # nothing else stands between its lines
    strip.taken.append(Box(x, top - block.high, x + block.wide, top))
    return True


def put_line(strip: Strip, lines: Sequence[Set]) -> bool:
    """Put lines behind each other along the strip, and on in the lane below; False when the strip does not do."""
    before = strip.mark()
    cells, start = strip.cells, 0.0
    largest = max(one.size for one in lines)
    high = ascent(largest) + descent(largest)
    for one in lines:
        while cells:
            low, top = cells[0]
            base = (low + top) / 2 + (descent(largest) - ascent(largest)) / 2
            if top - low >= high + 2 * LEAST_WHITE and not strip.is_cut(low, top):
                x = next(strip.places(base - descent(one.size), base + ascent(one.size), one.wide, start), None)
                if x is not None:
                    strip.put(Text(x, base, one.text, one.size, one.bold))
                    start = x
                    break
            cells, start = cells[1:], 0.0
        else:
            strip.back_to(before)
            return False
    return True
