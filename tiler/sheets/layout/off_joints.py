"""Words that a joint would cut are put elsewhere on their piece, once it is known where the joints lie; sheet mm.

The piece keeps its place and its bounds, so no page is added; where no other place is
better the words stay.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise, product

from tiler.box import Box
from tiler.declaration import Tag
from tiler.draft.outline import Piece
from tiler.sheets.layout.placed import Placed, placed
from tiler.sheets.pieces.group import Group
from tiler.sheets.pieces.lettering import BORDER
from tiler.sheets.pieces.nest import nest as lettered
from tiler.sheets.pieces.rows import Joints

HIDDEN = 10
"""What it costs that no page shows a word whole, where a word that is cut on one page costs 1."""

NOTHING = (0, 0, 0)

SEEN = 0.01
"""Less of a word is not seen on a page, mm."""


def off_joints(group: Group, family: Sequence[Piece], box: Box, windows: Sequence[Box], turned: bool) -> Group:
    """Return a group at its place ``box`` with as few words cut by its windows as can be."""
    shown = [window for window in windows if window.overlaps(box)]
    curved = family[0].figures.shape is not None
    # no page is printed for the words of a curved piece alone
    if len(shown) < 2 - curved or (cost := _cut(group, group.bounds, box, shown, turned)) == NOTHING:
        return group
    joints = _joints(group, box, shown, turned)
    if curved:
        inner = group.bounds.grown(-BORDER)
        joints = replace(joints, within=inner, hidden=tuple(_hidden(group, box, shown, turned)))
    # where words have no room but in what two pages share across the strip, they stand there whole on both
    edges = replace(joints, across=tuple((edge, edge) for one in joints.across for edge in one))
    found = [(cost, group)]
    tries = [joints, edges]
    if curved:
        tries.append(replace(edges, along=tuple((edge, edge) for one in joints.along for edge in one)))
    for way in (lettered(family, one) for one in dict.fromkeys(tries)):
        if group.bounds.grown(1e-6).holds(way.bounds):
            found.append((_cut(way, group.bounds, box, shown, turned), way))
            if found[-1][0] == NOTHING:
                break
    return min(found, key=lambda one: one[0])[1]


def in_place(group: Group, bounds: Box, box: Box, turned: bool) -> list[Placed]:
    """Put all of a group where the layout wants the bounds that it had then."""
    return [placed(one, bounds, box, turned) for one in group.all]


def _cut(group: Group, bounds: Box, box: Box, windows: Sequence[Box], turned: bool) -> tuple[int, int, int]:
    """Return what the cut words cost, whether a table lies on several pages, and the cut leaders.

    Each row of such a table is read all the same, and so is a leader.
    """
    places = in_place(group, bounds, box, turned)
    words = [
        Box.around(place.declared.on_sheet(at) for at in ((text.box.x0, text.box.y0), (text.box.x1, text.box.y1)))
        for place in places
        for text in place.lettered.texts
    ]
    words += [
        Box.around(place.declared.on_sheet(point) for line in part.subpaths for point in line)
        for place in places
        for part in place.declared.parts
        if part.tag in (Tag.STRETCH_ARROW, Tag.GRAIN_LINE)
    ]
    leaders = [
        Box.around(place.declared.on_sheet(at) for at in leader)
        for place in places
        for leader in place.lettered.leaders
    ]
    parted = False
    if group.table:
        ends = ((group.table.x0, group.table.y0), (group.table.x1, group.table.y1))
        table = Box.around(map(places[0].declared.on_sheet, ends))
        parted = not any(window.grown(SEEN).holds(table) for window in windows)
    return _cost(words, windows), int(parted), _cost(leaders, windows)


def _cost(places: Sequence[Box], windows: Sequence[Box]) -> int:
    cost = 0
    for place in places:
        cost += sum(window.overlaps(place, SEEN) and not window.grown(0.01).holds(place) for window in windows)
        cost += 0 if any(window.grown(0.01).holds(place) for window in windows) else HIDDEN
    return cost


def _joints(group: Group, box: Box, windows: Sequence[Box], turned: bool) -> Joints:
    """Return what two windows share of a piece, in its own coordinates."""
    along: set[tuple[float, float]] = set()
    across: set[tuple[float, float]] = set()
    x, y = group.bounds.x0, group.bounds.y0
    for one in windows:
        for two in windows:
            if one is two or not one.overlaps(two):
                continue
            shared = one.within(two)
            # parts of a strip that are not as wide as each other do not meet at their long sides
            right = one.x0 < two.x0 and shared.width < min(one.width, two.width) / 2
            above = one.y0 < two.y0 and shared.height < min(one.height, two.height) / 2
            sides = (
                (along if not turned else across, right, shared.x0 - box.x0, shared.x1 - box.x0),
                (across if not turned else along, above, shared.y0 - box.y0, shared.y1 - box.y0),
            )
            for spans, apart, low, high in sides:
                # a turned strip has its upper edge at the left
                span = (box.width - high, box.width - low) if turned and spans is across else (low, high)
                at = x if spans is along else y
                if apart:
                    spans.add((round(span[0] + at, 4), round(span[1] + at, 4)))
    return Joints(tuple(sorted(along)), tuple(sorted(across)))


def _hidden(group: Group, box: Box, windows: Sequence[Box], turned: bool) -> Iterator[Box]:
    """Yield what of the bounds no window shows, in the coordinates of the piece."""
    xs = sorted({box.x0, box.x1, *(x for one in windows for x in (one.x0, one.x1) if box.x0 < x < box.x1)})
    ys = sorted({box.y0, box.y1, *(y for one in windows for y in (one.y0, one.y1) if box.y0 < y < box.y1)})
    left, low = group.bounds.x0, group.bounds.y0
    for (xa, xb), (ya, yb) in product(pairwise(xs), pairwise(ys)):
        if not any(one.grown(SEEN).holds(Box(xa, ya, xb, yb)) for one in windows):
            # a turned piece has its height to the left
            yield (
                Box(left + ya - box.y0, low + box.x1 - xb, left + yb - box.y0, low + box.x1 - xa)
                if turned
                else Box(left + xa - box.x0, low + ya - box.y0, left + xb - box.x0, low + yb - box.y0)
            )
