"""What lies on the sheet: lettered pieces, or nests of sizes, and what of them no cut may cross; piece mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from tiler.box import Box, Subpath
from tiler.declaration import Tag
from tiler.draft.outline import Piece
from tiler.paper import LEAST_WINDOW
from tiler.sheets.layout.item import Item
from tiler.sheets.pieces.curved.bits import TOUCH, bits, spread
from tiler.sheets.pieces.group import Group
from tiler.sheets.pieces.lettering import BORDER
from tiler.sheets.pieces.nest import families
from tiler.sheets.pieces.nest import nest as lettered


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
    # in a nest enough of the largest size is left at a joint
    shape = max((one.piece for one in group.members), key=lambda piece: piece.length).figures.shape
    places, each = spread(shape) if shape else ((), 0.0)
    return Item(
        first.id,
        bounds.width,
        bounds.height,
        None if nest else first.figures.size,
        tuple(box.moved(-bounds.x0, -bounds.y0) for box in words),
        tuple(box.moved(-bounds.x0, -bounds.y0) for box in notches),
        (-bounds.y0, max(one.piece.width for one in group.members) - bounds.y0),
        BORDER,
        max(high - low for low, high in pairwise(first.lanes)),
        (-bounds.x0, ends[-1] - bounds.x0),
        tuple(end - bounds.x0 for end in ends[:-1] if ends[-1] - end > 0.1),
        tuple(box.moved(-bounds.x0, -bounds.y0) for one in group.members for box in _inside(one.piece)),
        tuple((x - bounds.x0, y - bounds.y0) for x, y in places),
        each,
    )


def _inside(piece: Piece) -> Iterator[Box]:
    """Yield small boxes in which all lines of a piece with curved lines lie, and others all over a wide one."""
    shape = piece.figures.shape
    if shape is None:
        return
    for line in (line for part in piece.parts for line in part.subpaths):
        yield from (box.grown(TOUCH) for box in bits(line))
    if piece.figures.finished_width_mm > LEAST_WINDOW / 2:
        # a page may lie between its lines
        yield from (Box(x, y, x, y).grown(TOUCH) for x, y in spread(shape)[0])


def _around(*subpaths: Subpath) -> Box:
    return Box.around(point for subpath in subpaths for point in subpath)
