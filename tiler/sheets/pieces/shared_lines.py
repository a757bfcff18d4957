"""Which lines of a nest are whose: each is drawn once, for all sizes that have it; piece mm.

Lines along the strip are parted where a size ends, so that every stretch belongs to just
the sizes that reach beyond it.  The seam lines of the ends are left out: so near to the
cut lines of other sizes they would be taken for these, and the label gives the allowance.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from tiler.box import Box, Subpath
from tiler.declaration import Tag
from tiler.draft.outline import Piece
from tiler.drawn import Part

ALIKE = 0.01
"""Lines that differ by less are one."""

Owners = tuple[str, ...]
"""The ids of the pieces that have a line."""


def shared_out(pieces: Sequence[Piece]) -> dict[Owners, list[Part]]:
    """Return the lines of all sizes by the ids of the pieces that have them, in their order here."""
    along: dict[tuple[str, float], list[tuple[str, Subpath]]] = {}
    others: dict[tuple[object, ...], tuple[Part, list[str]]] = {}
    for piece in pieces:
        for part in _plain(piece):
            (x0, y0), (x1, y1) = part.subpaths[0][0], part.subpaths[0][-1]
            if part.tag in (Tag.CUT_LINE, Tag.PRESS_LINE, Tag.SEAM_LINE) and y0 == y1 and x0 != x1:
                along.setdefault((part.tag, round(y0, 2)), []).append((piece.id, part.subpaths[0]))
            else:
                others.setdefault(_key(part), (part, []))[1].append(piece.id)
    found: dict[Owners, list[Part]] = {}
    for (tag, _), lines in along.items():
        for owners, line in _stretches(lines):
            found.setdefault(owners, []).append(Part(tag, (line,)))
    for part, having in others.values():
        found.setdefault(tuple(having), []).append(part)
    return found


def _plain(piece: Piece) -> Iterator[Part]:
    """Yield the lines of a piece, its outline parted into long sides and ends."""
    for part in piece.parts:
        if part.tag == Tag.CUT_LINE:
            yield from (Part(part.tag, (line,)) for line in _sides(part.subpaths[0], piece.on_fold))
        elif part.tag != Tag.JOIN_LINE:
            yield part


def _sides(outline: Subpath, on_fold: bool) -> tuple[Subpath, ...]:
    """Return the lower side, the right end and the upper side, and the left end where there is one."""
    if on_fold:
        right = outline[1:-1]
        return (outline[0], right[0]), right, (outline[-1], right[-1])
    count = (len(outline) - 1) // 2
    right, left = outline[1 : 1 + count], (outline[0], *reversed(outline[1 + count : -1]))
    return (left[0], right[0]), right, (left[-1], right[-1]), left


def _key(part: Part) -> tuple[object, ...]:
    return part.tag, tuple(tuple((round(x, 2), round(y, 2)) for x, y in subpath) for subpath in part.subpaths)


def _stretches(lines: Sequence[tuple[str, Subpath]]) -> Iterator[tuple[Owners, Subpath]]:
    """Part lines that lie on each other where one of them begins or ends."""
    y = lines[0][1][0][1]
    places = sorted(x for _, line in lines for x, _ in line)
    places = [x for before, x in pairwise([places[0] - 1.0, *places]) if x - before > ALIKE]
    for start, end in pairwise(places):
        middle = (start + end) / 2
        owners = tuple(owner for owner, line in lines if line[0][0] < middle < line[-1][0])
        if owners:
            yield owners, ((start, y), (end, y))


def around(parts: Sequence[Part]) -> Box:
    """Return the box around all lines."""
    return Box.around(point for part in parts for subpath in part.subpaths for point in subpath)
