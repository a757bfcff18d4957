"""Where the pieces of a drawing lie: below and beside its heading, within the width of a roll; sheet mm."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from tiler.box import Box
from tiler.declaration import Page, PageKind
from tiler.draft.outline import Piece
from tiler.errors import SpecError
from tiler.paper import ONE_SHEET, Margins, PageSize
from tiler.sentence import Place
from tiler.sheets.drawing import Drawing
from tiler.sheets.layout.item import Item
from tiler.sheets.layout.items import group_items
from tiler.sheets.layout.one_sheet import USUAL_ROLL
from tiler.sheets.layout.placed import placed
from tiler.sheets.layout.sheet import Sheet
from tiler.sheets.layout.skyline import packed

BORDER = 10.0
"""White round all, mm."""

GAP = 6.0
"""White between two pieces: a cutter's blade needs some, and an editor's hand, mm."""


def lay_on_plane(pieces: Sequence[Piece], drawing: Drawing, first: tuple[float, float]) -> Sheet:
    """Lay all pieces on one plane with what takes the room ``first`` in its left upper corner.

    They lie along the width where the roll, or without one a usual one, has room for all, and down
    it where it has not.  A drawing is no wider than what is on it, and as long as it must be.

    Raises :class:`SpecError` for a roll that is too narrow.
    """
    grouped = group_items(pieces, drawing.nest)
    groups, items = grouped.groups, grouped.items
    roll = drawing.paper.roll
    room = (roll or USUAL_ROLL) - 2 * BORDER
    turned = any(item.length > room for item in items)
    boxes = [_sides(item, turned) for item in items]
    widest = max(first[0], *(wide for wide, _ in boxes))
    if widest > room:
        raise SpecError(
            f"{roll or USUAL_ROLL:g} mm is too narrow for what is drawn; take {ceil(widest + 2 * BORDER)} mm or more",
            Place("--roll"),
        )
    # white that stands beside the last box may lie beyond the room
    with_gaps = [(wide + GAP, high + GAP) for wide, high in boxes]
    found = packed(with_gaps, (room if roll else widest) + GAP, (first[0] + GAP, first[1] + GAP))
    assert found is not None
    corners, _ = found
    spans = [
        (0.0, 0.0, *first),
        *((x, y, x + wide, y + high) for (x, y), (wide, high) in zip(corners, boxes, strict=True)),
    ]
    # rounded up it may not become wider than the roll
    width = min(ceil(max(span[2] for span in spans) + 2 * BORDER), roll or USUAL_ROLL)
    height = ceil(max(span[3] for span in spans) + 2 * BORDER)
    page = PageSize(ONE_SHEET, float(width), float(height), Margins(0.0, 0.0, 0.0, 0.0), 0.0)
    in_place, shared = [], []
    for group, (x, y), (wide, high) in zip(groups, corners, boxes, strict=True):
        left, top = BORDER + x, page.height - BORDER - y
        box = Box(left, top - high, left + wide, top)
        in_place += [placed(one, group.bounds, box, turned) for one in group.members]
        shared += [placed(one, group.bounds, box, turned) for one in group.shared]
    # a page without a window: nothing of it is cut off, and it is joined to none
    pages = (Page(1, PageKind.COVER),)
    return Sheet(drawing, page, pages, tuple(in_place), tuple(shared), turned, (), None)


def _sides(item: Item, turned: bool) -> tuple[float, float]:
    return (item.width, item.length) if turned else (item.length, item.width)
