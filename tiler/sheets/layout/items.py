"""What lies on the sheet: lettered pieces, or nests of sizes, and what of them no cut may cross; piece mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil

from tiler.box import Box, Subpath
from tiler.declaration import Tag
from tiler.draft.outline import Piece
from tiler.sheets.layout.item import Item
from tiler.sheets.pieces.group import Group
from tiler.sheets.pieces.lettering import BORDER
from tiler.sheets.pieces.nest import families
from tiler.sheets.pieces.nest import nest as lettered

STEP, TOUCH = 10.0, 0.5
"""From one place inside a curved piece to the next, and what a page must show of one, mm."""


@dataclass(frozen=True)
class Grouped:
    """What lies on any sheet as one: families of pieces, how they are lettered, and their extents."""

    families: list[list[Piece]]
    groups: list[Group]
    items: list[Item]


def group_items(pieces: Sequence[Piece], nest: bool = False) -> Grouped:
    """Letter the pieces, each or its sizes as one, and return their extents with what no cut may cross."""
    kin = families(pieces) if nest else [[piece] for piece in pieces]
    groups = [lettered(family) for family in kin]
    return Grouped(kin, groups, [_item(group, nest) for group in groups])


def _item(group: Group, nest: bool) -> Item:
    first = group.members[0].piece
    bounds = group.bounds
    ones = group.all
    arrows = [
        _around(*part.subpaths) for one in ones for part in one.parts if part.tag in (Tag.STRETCH_ARROW, Tag.GRAIN_LINE)
    ]
    leaders = [_around(line) for one in ones for line in one.leaders]
    words = [*(text.box for one in ones for text in one.texts), *arrows, *leaders]
    notches = [_around(*part.subpaths) for one in ones for part in one.parts if part.tag == Tag.NOTCH]
    ends = sorted(one.piece.length for one in group.members)
    return Item(
        first.id,
        bounds.width,
        bounds.height,
        None if nest else first.figures.size,
        tuple(box.moved(-bounds.x0, -bounds.y0) for box in words),
        tuple(box.moved(-bounds.x0, -bounds.y0) for box in notches),
        (-bounds.y0, first.width - bounds.y0),
        BORDER,
        max(high - low for low, high in pairwise(first.lanes)),
        (-bounds.x0, ends[-1] - bounds.x0),
        tuple(end - bounds.x0 for end in ends[:-1] if ends[-1] - end > 0.1),
        tuple(box.moved(-bounds.x0, -bounds.y0) for box in (*_inside(first), *words, *notches))
        if first.figures.shape
        else (),
    )


def _inside(piece: Piece) -> Iterator[Box]:
    """Yield small boxes that together lie all over a piece with curved lines, its cut line wholly in them."""
    shape = piece.figures.shape
    if shape is None:
        return
    for start, end in pairwise(shape.outline):
        yield Box.around((start, end)).grown(TOUCH)
    steps = max(1, ceil(shape.length / STEP))
    rows = max(1, ceil(piece.figures.finished_width_mm / STEP))
    for along in range(steps + 1):
        (xa, ya), (xb, yb) = (line[round(along / steps * (len(line) - 1))] for line in (shape.lower, shape.upper))
        for row in range(1, rows):
            x, y = xa + (xb - xa) * row / rows, ya + (yb - ya) * row / rows
            yield Box(x, y, x, y).grown(TOUCH)


def _around(*subpaths: Subpath) -> Box:
    return Box.around(point for subpath in subpaths for point in subpath)
