"""Names of notches below a strip: each beside a line that leads to its notch, in as many rows as they need; piece mm.

A name stands to the right of its line, or to its left where it would reach beyond the
strip and no other line is in its way.  Those to the left come first, then from right to
left the others: so no name ever stands where a later line must pass.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tiler.box import Box, Subpath
from tiler.sheets.pieces.rows import ASCENT, DESCENT, Text
from tiler.sheets.style import LEADING
from tiler.sheets.typesetting import text_width

WHITE = 0.4
"""Least white round names and lines, mm."""

BELOW = 0.6
"""From the edge of the strip to a line, mm."""


@dataclass(frozen=True)
class Flag:
    """The name of a notch and the line that leads to it."""

    text: Text
    leader: Subpath


def flags(wanted: Sequence[tuple[float, str]], length: float, walls: Sequence[float] = ()) -> list[Flag]:
    """Return the flags of these notches in the order given, clear of each other and off ``walls`` where that can be."""
    lettered, lines = list[Box](), list[Box]()
    sides = [_to_left(at, name, wanted, length, walls) for at, name in wanted]
    order = sorted(range(len(wanted)), key=lambda k: (not sides[k], wanted[k][0] if sides[k] else -wanted[k][0]))
    found: dict[int, Flag] = {}
    for index in order:
        at, name = wanted[index]
        x = at - 1.0 - text_width(name) if sides[index] else at + 1.0
        row, beside, above = 0, None, None
        while True:
            text = Text(x, -1.6 - ASCENT - row * LEADING, name)
            leader = Box(at, text.y - DESCENT, at, -BELOW)
            place, way = text.box.grown(WHITE), leader.grown(WHITE)
            if beside is None or above is None:
                # what lies to the left or the right does so in every row
                beside = [one for one in (*lettered, *lines) if one.x0 < place.x1 and place.x0 < one.x1]
                above = [one for one in lettered if one.x0 < way.x1 and way.x0 < one.x1]
            # leaders may run together, as those of two sizes do whose notches all but coincide
            if not any(_touch(one, place) for one in beside) and not any(_touch(one, way) for one in above):
                break
            row += 1
        lettered.append(text.box)
        lines.append(leader)
        found[index] = Flag(text, ((at, -BELOW), (at, text.y - DESCENT)))
    return [found[index] for index in range(len(wanted))]


def _to_left(at: float, name: str, wanted: Sequence[tuple[float, str]], length: float, walls: Sequence[float]) -> bool:
    reach = text_width(name) + 1.0
    cut = [any(low < wall < low + reach for wall in walls) for low in (at, at - reach)]
    if (at + reach <= length and not cut[0]) or at - reach < 0.0 or cut[1]:
        return False
    return not any(at - reach - 2 * WHITE < other < at for other, _ in wanted)


def _touch(one: Box, two: Box) -> bool:
    return one.x0 < two.x1 and two.x0 < one.x1 and one.y0 < two.y1 and two.y0 < one.y1
