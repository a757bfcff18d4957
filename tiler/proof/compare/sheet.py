"""The tiles against the declared sheet: marks, frames, places, and whether the windows leave a gap; mm."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from math import dist, floor
from statistics import median

from tiler.box import Box, Point
from tiler.declaration import Declaration, Page, PageKind
from tiler.drawn import ContourPiece, Shared
from tiler.proof.compare.left_out import LeftOut
from tiler.proof.compare.pieces import TOUCHING, Laid, compare_sizes, compare_tile, extent, laid
from tiler.proof.contour.stretches import stretches
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says
from tiler.proof.seen.page import Line, PaneSeen
from tiler.proof.seen.squares import moved, size_check
from tiler.proof.seen.tiles import Assembly
from tiler.proof.tolerances import SCALE, VECTOR

CELL = 100.0
"""Windows are looked up by cells of this size, mm."""


def compare_marks(declaration: Declaration, assembly: Assembly) -> Iterator[Check]:
    """Check how the tiles meet, then compare the marks with their declared places."""
    worst = 0.0
    for join in assembly.joins:
        page = assembly.tiles[join.first].number
        if join.step is None:
            ours, theirs = join.marks
            yield Check(
                CheckName.REGISTER_MARKS,
                Status.FAIL,
                Says.MARKS_UNLIKE,
                page,
                label=join.first,
                numbers={"other": join.second, "count": ours, "others": theirs},
            )
            continue
        worst = max(worst, join.apart)
        if join.apart > VECTOR:
            yield Check(
                CheckName.REGISTER_MARKS,
                Status.FAIL,
                Says.MARKS_APART,
                page,
                join.apart,
                0.0,
                label=join.first,
                numbers={"other": join.second},
            )
    yield from _marks_in_place(declaration, assembly)
    if assembly.joins and worst <= VECTOR:
        count = {"count": len(assembly.joins)}
        yield Check(CheckName.REGISTER_MARKS, Status.PASS, Says.MARKS_MEET, None, worst, 0.0, numbers=count)


def _marks_in_place(declaration: Declaration, assembly: Assembly) -> Iterator[Check]:
    wanted: dict[str, list[Point]] = {}
    pages = {page.code: page for page in declaration.pages if page.code}
    for mark in declaration.marks:
        for code in mark.tiles:
            page = pages.get(code)
            if page and page.window and page.frame:
                x, y = mark.at
                wanted.setdefault(code, []).append(
                    (x - page.window.x0 + page.frame.x0, y - page.window.y0 + page.frame.y0)
                )
    name = CheckName.REGISTER_MARKS
    usual = median([mark.size for seen in assembly.tiles.values() for mark in seen.marks] or [0.0])
    for code, seen in assembly.tiles.items():
        places = wanted.get(code, [])
        if len(seen.marks) != len(places):
            counts = {"count": len(seen.marks), "wanted": len(places)}
            yield Check(name, Status.FAIL, Says.MARKS_COUNTED, seen.number, label=code, numbers=counts)
        if any(not mark.whole or abs(mark.size - usual) > VECTOR for mark in seen.marks):
            yield Check(name, Status.FAIL, Says.MARK_BROKEN, seen.number, label=code)
        offs = [min(dist(mark.at, place) for place in places) for mark in seen.marks if places]
        off = max(offs, default=0.0)
        if off > VECTOR:
            yield Check(name, moved(off), Says.MARK_MOVED, seen.number, off, 0.0, label=code)


def compare_frames(pages: Sequence[tuple[Page, PaneSeen]]) -> Iterator[Check]:
    """Compare the page frames with their declared places; the highest of a page measures it down the page."""
    worst = 0.0
    sizes: dict[tuple[int, int], list[Check]] = {}
    for declared, seen in pages:
        if declared.frame is None:
            continue
        if seen.frame is None or seen.frames != 1:
            says, count = Says.FRAMES_MANY if seen.frame else Says.FRAME_MISSING, {"count": seen.frames}
            yield Check(CheckName.FRAME, Status.FAIL, says, seen.number, label=declared.code or "", numbers=count)
            continue
        want, got = declared.frame, seen.frame
        high, crooked = want.height, seen.frame_crooked
        sizes.setdefault(seen.page, []).append(
            size_check(CheckName.FRAME_SIZE, seen.number, got.height, high, declared.code or "", "down", crooked)
        )
        off = max(abs(want.x0 - got.x0), abs(want.y0 - got.y0), abs(want.x1 - got.x1), abs(want.y1 - got.y1))
        worst = max(worst, off)
        if off > VECTOR or seen.frame_crooked > VECTOR:
            status = Status.FAIL if seen.frame_crooked > VECTOR else moved(off)
            label = declared.code or ""
            yield Check(CheckName.FRAME, status, Says.FRAME_MOVED, seen.number, off, 0.0, label=label)
    for found in sizes.values():
        ratios = [one.ratio or 0.0 for one in found]
        # where they disagree it is the frames that are wrong, and not the scale of the page
        if max(ratios) - min(ratios) <= 2 * SCALE:
            yield max(found, key=lambda one: one.nominal_mm or 0.0)
    if worst <= VECTOR and any(declared.frame for declared, _ in pages):
        yield Check(CheckName.FRAME, Status.PASS, Says.FRAMES_PLACED, None, worst, 0.0)


def places_on_sheet(pages: Sequence[tuple[Page, PaneSeen]], assembly: Assembly) -> dict[str, Point]:
    """Carry every group of tiles to the sheet as a whole, and return each tile's place there.

    A group is laid where most of its windows say, so that one moved frame does not
    move the others.
    """
    declared = {page.code: page for page, _ in pages if page.code and page.window}
    places: dict[str, Point] = {}
    for group in assembly.groups:
        shifts = []
        for code, (x, y) in group.items():
            page, seen = declared.get(code), assembly.tiles[code]
            if page and page.window and seen.frame:
                shifts.append((page.window.x0 - seen.frame.x0 - x, page.window.y0 - seen.frame.y0 - y))
        if shifts:
            dx, dy = median(x for x, _ in shifts), median(y for _, y in shifts)
            places |= {code: (x + dx, y + dy) for code, (x, y) in group.items()}
    return places


def compare_places(pages: Sequence[tuple[Page, PaneSeen]], places: Mapping[str, Point]) -> Iterator[Check]:
    """Compare where each page came to lie with the declared window."""
    worst, count = 0.0, 0
    for declared, seen in pages:
        place = places.get(declared.code or "")
        if place is None or declared.window is None or declared.frame is None:
            continue
        count += 1
        want = (declared.window.x0 - declared.frame.x0, declared.window.y0 - declared.frame.y0)
        off = dist(place, want)
        worst = max(worst, off)
        if off > VECTOR:
            label = declared.code or ""
            yield Check(CheckName.ASSEMBLY, moved(off), Says.TILE_MOVED, seen.number, off, 0.0, label=label)
    if count and worst <= VECTOR:
        numbers = {"count": count}
        yield Check(CheckName.ASSEMBLY, Status.PASS, Says.TILES_JOINED, None, worst, 0.0, numbers=numbers)


def compare_pieces(
    declaration: Declaration,
    pages: Sequence[tuple[Page, PaneSeen]],
    places: Mapping[str, Point],
    assembly: Assembly,
    left: LeftOut,
) -> Iterator[Check]:
    """Compare the pieces of every tile with the declaration, and the windows against those not ``left`` out."""
    pieces = [laid(one, declaration.layers) for one in declaration.drawn]
    cells, curved = _by_cell(pieces), _curved(declaration)
    found: dict[str, set[Line]] = {}
    page_of: dict[str, int] = {}
    windows: dict[str, list[tuple[str, Box]]] = {}
    painted: dict[str, list[Box]] = {}
    for declared, seen in pages:
        code, place = declared.code or "", places.get(declared.code or "")
        if declared.window is None or seen.frame is None or place is None:
            yield from _lines_elsewhere(seen)
            continue
        near = _near(cells, declared.window)
        needed = [one for one in near if one.bounds.overlaps(declared.window, TOUCHING)]
        allowed = [one for one in near if not one.bounds.overlaps(declared.window, TOUCHING)]
        yield from compare_tile(seen, place, needed, allowed, found)
        yield from _turned_text(seen, place, needed)
        words = [box.moved(*place) for box in seen.words]
        for one in needed:
            if declared.kind is PageKind.PANE or one.piece.id in curved:
                painted.setdefault(one.piece.id, []).extend(box for box in words if box.overlaps(one.bounds))
            page_of.setdefault(one.piece.id, seen.number)
            windows.setdefault(one.piece.id, []).append((code, seen.frame.moved(*place)))
    gone = {piece.id for piece in left.pieces}
    pieces = [one for one in pieces if not gone.issuperset(_ids(one))]
    yield from compare_sizes(declaration, pieces, found, page_of)
    group_of = {code: number for number, group in enumerate(assembly.groups) for code in group}
    yield from _coverage(pieces, windows, painted, group_of, curved)


def _curved(declaration: Declaration) -> set[str]:
    """Return the ids of pieces with curved lines, and of what their sizes share."""
    curved = {piece.id for piece in declaration.pieces if isinstance(piece, ContourPiece)}
    return curved | {shared.id for shared in declaration.shared if curved & {*shared.pieces}}


def _ids(one: Laid) -> Sequence[str]:
    return one.piece.pieces if isinstance(one.piece, Shared) else (one.piece.id,)


def _lines_elsewhere(seen: PaneSeen) -> Iterator[Check]:
    if seen.lines:
        yield Check(CheckName.STRAY, Status.FAIL, Says.LINES_ELSEWHERE, seen.number)
    if seen.sideways:
        yield Check(CheckName.TEXT, Status.FAIL, Says.WORDS_SIDEWAYS, seen.number)


def _turned_text(seen: PaneSeen, place: Point, needed: Sequence[Laid]) -> Iterator[Check]:
    homes = [one.bounds for one in needed if one.piece.turned]
    for box in seen.sideways:
        moved = box.moved(*place)
        if not any(home.overlaps(moved) for home in homes):
            yield Check(CheckName.TEXT, Status.FAIL, Says.WORDS_UNLIKE_PIECE, seen.number)
            return


def _by_cell(pieces: Sequence[Laid]) -> dict[tuple[int, int], list[Laid]]:
    cells: dict[tuple[int, int], list[Laid]] = {}
    for one in pieces:
        for cell in _cells(one.bounds):
            cells.setdefault(cell, []).append(one)
    return cells


def _cells(box: Box) -> Iterator[tuple[int, int]]:
    for column in range(floor(box.x0 / CELL), floor(box.x1 / CELL) + 1):
        for row in range(floor(box.y0 / CELL), floor(box.y1 / CELL) + 1):
            yield column, row


def _near(cells: Mapping[tuple[int, int], list[Laid]], window: Box) -> list[Laid]:
    near = {one.piece.id: one for cell in _cells(window) for one in cells.get(cell, ())}
    return [one for one in near.values() if one.bounds.overlaps(window, -TOUCHING)]


def _coverage(
    pieces: Sequence[Laid],
    windows: Mapping[str, list[tuple[str, Box]]],
    painted: Mapping[str, list[Box]],
    group_of: Mapping[str, int],
    curved: Collection[str],
) -> Iterator[Check]:
    """Check that the windows show all of each piece.

    Panes, and the pages of a piece with curved lines, leave out what is white round its lines and words.
    """
    whole = True
    everything = list(dict.fromkeys(box for shown in windows.values() for _, box in shown))
    for one in pieces:
        shown = windows.get(one.piece.id, [])
        words = painted.get(one.piece.id)
        areas = [one.bounds] if words is None else [extent(line) for line in one.lines]
        if one.piece.id in curved:
            # round a bend there may be pages of which nothing is painted
            areas = [box for line in one.lines for box in stretches(line.points)]
        own = [box for _, box in shown]
        # words that sizes share may reach beyond the smaller one, to where only a larger one is shown
        if not _all_covered(areas, own) or not all(
            any(window.holds(word) for window in own) or _covered(word.grown(-VECTOR), everything)
            for word in words or ()
        ):
            whole = False
            yield Check(CheckName.COVERAGE, Status.FAIL, Says.LEFT_OUT, label=one.piece.name)
        elif not any(_all_covered(areas, boxes) for boxes in _by_group(shown, group_of)):
            whole = False
            yield Check(CheckName.COVERAGE, Status.FAIL, Says.FALLEN_APART, label=one.piece.name)
    if whole and pieces:
        yield Check(CheckName.COVERAGE, Status.PASS, Says.COVERED)


def _by_group(shown: Sequence[tuple[str, Box]], group_of: Mapping[str, int]) -> Iterable[list[Box]]:
    """Return the windows of each group of pages that are put together."""
    groups: dict[int, list[Box]] = {}
    for code, box in shown:
        groups.setdefault(group_of[code], []).append(box)
    return groups.values()


def _all_covered(areas: Sequence[Box], windows: Sequence[Box]) -> bool:
    return all(_covered(area.grown(-VECTOR), windows) for area in areas)


def _covered(box: Box, windows: Sequence[Box]) -> bool:
    """Tell whether the windows cover the whole box: every cell between their edges lies in one of them."""
    if any(window.holds(box) for window in windows):
        return True
    xs = sorted({box.x0, box.x1, *(x for window in windows for x in (window.x0, window.x1) if box.x0 < x < box.x1)})
    ys = sorted({box.y0, box.y1, *(y for window in windows for y in (window.y0, window.y1) if box.y0 < y < box.y1)})
    return all(
        any(window.holds(Box(x, y, x, y)) for window in windows)
        for xa, xb in pairwise(xs)
        for ya, yb in pairwise(ys)
        for x, y in [((xa + xb) / 2, (ya + yb) / 2)]
    )
