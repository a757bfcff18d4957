"""The label of a piece: its lines in columns, broken and joined to fit the rows of the strip; piece mm.

Between two columns there is white, through which a strip can be cut into parts.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from tiler.draft.label import Line
from tiler.sheets.pieces.rows import APART, CLEAR, Row, Strip
from tiler.sheets.style import SMALL
from tiler.sheets.typesetting import text_width, wrapped


def merged(label: Sequence[Line], longest: float) -> list[Line]:
    """Break plain lines at ``longest`` mm and join neighbours, a dot between two facts; the bold ones stay alone."""
    parts = [
        (part, " " if index else " · ")
        for line in label
        if not line.bold
        for index, part in enumerate(wrapped(line.text, longest, SMALL))
    ]
    pairs = [parts[start : start + 2] for start in range(0, len(parts), 2)]
    joined = [Line(pair[0][0] + "".join(before + part for part, before in pair[1:])) for pair in pairs]
    return [*broken([line for line in label if line.bold], longest), *joined]


def broken(label: Sequence[Line], room: float) -> list[Line]:
    """Break lines that are longer than the strip is."""
    return [Line(part, line.bold) for line in label for part in wrapped(line.text, room, SMALL, line.bold)]


def put_scattered(strip: Strip, rows: Sequence[Row], lines: Sequence[Line]) -> bool:
    """Put each line in the next row that has room; False when the rows do not do.

    Between joints there is room for more lines than one in a row.
    """
    if strip.joints.along:
        return all(strip.put_first(rows, text, bold) for text, bold in lines)
    waiting = list(rows)
    # beside a slanted end the lines of the label stand flush all the same
    flush, _ = strip.room(0.0, strip.piece.width)
    for text, bold in lines:
        while waiting and not strip.put_first(waiting[:1], text, bold, start=flush):
            waiting.pop(0)
        if not waiting:
            return False
        waiting.pop(0)
    return True


def columns(lines: Sequence[Line], rows: int) -> list[Sequence[Line]]:
    """Share the lines of the label out over as few columns as the rows allow, none much shorter than the others."""
    count = ceil(len(lines) / max(rows, 1))
    high = ceil(len(lines) / max(count, 1))
    return [lines[start : start + high] for start in range(0, len(lines), high or 1)]


def put_block(
    strip: Strip, rows: Sequence[Row], lines: Sequence[Line], after: float = 0.0, before: float = 0.0
) -> bool:
    """Put lines flush below each other where neighbouring rows are free; False when there is no such place.

    ``after`` is white that later words of these rows leave at their right; ``before`` is
    white at their left in all rows, that a cut can go through.
    """
    wide = max(text_width(text, SMALL, bold) for text, bold in lines)
    found = free_block(strip, rows, len(lines), wide, before)
    if found is None:
        return False
    block, x = found
    for row, (text, bold) in zip(block, lines, strict=True):
        strip.put(row, x, text, bold)
        row.taken.append((x, x + wide + after))
    return True


def free_block(
    strip: Strip, rows: Sequence[Row], count: int, wide: float, before: float = 0.0
) -> tuple[Sequence[Row], float] | None:
    """Return neighbouring rows that are free side by side, and where a block begins in them; None without any."""
    # beside a slanted end the lines of the label stand flush all the same
    flush, _ = strip.room(0.0, strip.piece.width)
    taken = _stretches(strip) if before else []
    for start in range(len(rows) - count + 1):
        block = rows[start : start + count]
        first = strip.inner.index(block[0])
        if strip.inner[first : first + count] != block:
            # words of another kind would stand between the lines
            continue
        places = {max(flush, place) for row in block for place in row.places(wide, flush)}
        places |= {end + before + APART for _, end in taken}
        for x in sorted(places):
            if all(row.fits(x, wide) for row in block) and not any(
                end > x - before - 2 * CLEAR and begin < x for begin, end in taken
            ):
                return block, x
    return None


def _stretches(strip: Strip) -> list[tuple[float, float]]:
    """Return from where to where words and notches stand."""
    words = [(text.box.x0, text.box.x1) for text in strip.texts]
    return words + [(word.at, word.at) for word in strip.piece.notch_words]
