"""Where the pieces lie on the sheet, and which tiles show them; mm.

The sheet is cut by windows of A along the strips and B across them, which share
the overlap o with each neighbour, so that a window starts every a = A - o and
b = B - o.  Pieces go into lanes along the strips, by decreasing width and first
fit (shelf packing); several lane lengths, with lanes kept clear of the seams or
running on across them, are tried for the sheet as it is and turned by 90 degrees.
A joint leaves enough of a strip on either side, and no strip that fits one page is split; then
fewest printed pages win, then fewest pieces with cut words, then fewest crossed seams, then the
unturned sheet.

The pieces of each size lie apart on rows of their own, with an empty row between two
sizes, so that nobody prints pages for a size that is not sewn.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil

from tiler.box import Box
from tiler.errors import SpecError
from tiler.paper import MOST_PAGES, PageSize
from tiler.sheets.layout.curved.moving import all_moved, apart, over_joints, scraps
from tiler.sheets.layout.item import Grid, Item, Spot, cells_of, fits, shown_of
from tiler.sheets.layout.joints import TINY, Span, place_for, tiles_needed

GAP = 1.0
"""White between the bounds of two pieces."""


@dataclass(frozen=True)
class Tile:
    """A printed window: row (from the top) and column, and what it shows of the sheet."""

    row: int
    column: int
    window: Box

    @property
    def code(self) -> str:
        """Row letters and column number, such as B3."""
        return f"{row_letters(self.row)}{self.column + 1}"


@dataclass(frozen=True)
class Layout:
    """The sheet: bounds of each item on it in the order given, and the printed tiles in reading order."""

    turned: bool
    boxes: tuple[Box, ...]
    tiles: tuple[Tile, ...]


def row_letters(row: int) -> str:
    """Name a row: A ... Z, AA, AB ..."""
    letters = ""
    row += 1
    while row:
        row, rest = divmod(row - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


@dataclass
class _Lane:
    across: float
    width: float
    end: float = 0.0


def _along(item: Item, grid: Grid) -> Span:
    low, high = item.ends
    words = None
    if item.painted:
        # the names at the ends of a curved piece reach beyond them
        words = min(word.x0 for word in item.words), max(word.x1 for word in item.words)
    if grid.turned:
        # a turned strip begins below
        low, high = item.length - high, item.length - low
        words = words and (item.length - words[1], item.length - words[0])
    return Span(item.length, low, high, grid.along, grid.overlap, words=words)


def _across(item: Item, grid: Grid, alone: bool, tags: bool = False) -> Span:
    """Return what an item takes across the strips, where that is asked for with its row of short names."""
    low, high = item.body
    # beside a strip that lies alone on one row of windows there is no joint
    edged = not alone or item.width > grid.across + TINY
    row = item.tags if tags else None
    return Span(item.width, item.width - high, item.width - low, grid.across, grid.overlap, edged, row, item.lettered)


Cost = tuple[int, int, int, int]
"""Bad joints, pages, pieces whose words a window cuts that does not show them whole, and seams crossed."""

Spans = Sequence[tuple[Span, Span]]
"""What each item takes along the strips, and across them."""


def _pack(
    items: Sequence[Item], spans: Spans, order: Sequence[int], grid: Grid, columns: int, clear: bool
) -> list[Spot]:
    longest = columns * grid.step_along + grid.overlap
    lanes: list[_Lane] = []
    spots: list[Spot | None] = [None] * len(items)
    bottom = 0.0
    for index in order:
        item = items[index]
        along, across = spans[index]
        for lane in lanes:
            if item.width > lane.width + TINY or across.bad(lane.across):
                continue
            start = place_for(lane.end + GAP if lane.end else 0.0, along, clear)
            if start + item.length <= longest + TINY:
                break
        else:
            lane = _Lane(place_for(bottom, across, clear), item.width)
            lanes.append(lane)
            bottom = lane.across + item.width + GAP
            start = along.settled(0.0)
        spots[index] = Spot(start, lane.across)
        lane.end = start + item.length
    return [spot for spot in spots if spot is not None]


def _cost(items: Sequence[Item], spans: Spans, spots: Sequence[Spot], grid: Grid) -> Cost:
    printed: set[tuple[int, int]] = set()
    seams = bad = cut = 0
    for item, (on_length, on_width), spot in zip(items, spans, spots, strict=True):
        cells = cells_of(item, spot, grid)
        shown = shown_of(item, spot, grid, cells)
        printed |= shown
        seams += len(shown) - 1
        if item.spread:
            # what is left of a curved piece is told by its outline
            bad += scraps(item, spot, grid, shown) + (len(shown) > 1 and not over_joints(item, grid))
        else:
            bad += on_length.bad(spot.along) if len(cells[0]) > 1 else 0
            bad += on_width.bad(spot.across)
        cut += on_width.cut_words(spot.across) + on_length.cut_words(spot.along)
    return bad, len(printed), cut, seams


def _moved(items: Sequence[Item], spans: Spans, spots: Sequence[Spot], grid: Grid) -> Iterator[list[Spot]]:
    """Yield ways to lay items out of which curved ones run over joints."""

    def alone(index: int, spot: Spot) -> Cost:
        return _cost([items[index]], [spans[index]], [spot], grid)

    def together(some: Sequence[int]) -> list[Spot]:
        own, kept = [items[index] for index in some], [spans[index] for index in some]
        return min(_candidates(own, kept, grid), key=lambda way: _cost(own, kept, way, grid))

    curved = [index for index, item in enumerate(items) if over_joints(item, grid)]
    if curved:
        yield from all_moved(spots, grid)
        yield apart(items, curved, grid, alone, together)


def _candidates(items: Sequence[Item], spans: Spans, grid: Grid) -> Iterator[list[Spot]]:
    def columns(item: Item) -> int:
        return len(tiles_needed(0, item.length, grid.along, grid.step_along))

    widest_first = sorted(range(len(items)), key=lambda i: (-items[i].width, -items[i].length, i))
    longest_first = sorted(range(len(items)), key=lambda i: (-columns(items[i]), -items[i].width, i))
    least = max(columns(item) for item in items)
    most = min(least + 3, max(least, sum(columns(item) for item in items)))
    for clear in (True, False):
        for order in (widest_first, longest_first):
            for count in range(least, most + 1):
                yield _pack(items, spans, order, grid, count, clear)


def _shelved(items: Sequence[Item], spans: Spans, grid: Grid) -> list[Spot]:
    """Fill rows of windows one by one, the widest first, each item into the first row that has room for it."""
    rows: list[tuple[float, list[int]]] = []
    for index in sorted(range(len(items)), key=lambda i: -items[i].width):
        width = items[index].width
        for number, (used, row) in enumerate(rows):
            if used + GAP + width <= grid.across + TINY:
                rows[number] = (used + GAP + width, [*row, index])
                break
        else:
            rows.append((width, [index]))
    spots: dict[int, Spot] = {}
    base = 0.0
    for used, row in rows:
        across = base
        for index in row:
            spots[index] = Spot(spans[index][0].settled(0.0), across)
            across += items[index].width + GAP
        # the next row begins where no window of this one shows anything more
        base = ceil((base + used + GAP - TINY) / grid.step_across) * grid.step_across
    return [spots[index] for index in range(len(items))]


def _best(items: Sequence[Item], grid: Grid) -> tuple[Cost, list[Spot]]:
    """Return the cheapest way to lay items out, with its bad joints, pages and seams; shelves where they save any.

    Where a joint cuts short names, and it costs no page, all lies so that none does.
    """
    alone = len(items) == 1
    spans = [(_along(item, grid), _across(item, grid, alone)) for item in items]
    ways = ((_cost(items, spans, spots, grid), spots) for spots in _candidates(items, spans, grid))
    best = min(ways, key=lambda pair: pair[0])
    shelved = _shelved(items, spans, grid)
    cost = _cost(items, spans, shelved, grid)
    best = (cost, shelved) if cost[:2] < best[0][:2] else best
    if best[0][0]:
        ways = ((_cost(items, spans, spots, grid), spots) for spots in _moved(items, spans, best[1], grid))
        best = min((best, *ways), key=lambda pair: pair[0])
    tagged = [(along, _across(item, grid, alone, True)) for item, (along, _) in zip(items, spans, strict=True)]

    def cut(spots: Sequence[Spot]) -> int:
        return sum(across.cut_tags(spot.across) for (_, across), spot in zip(tagged, spots, strict=True))

    if not cut(best[1]):
        return best
    others = ((_cost(items, spans, spots, grid), spots) for spots in _candidates(items, tagged, grid))
    return min((best, *others), key=lambda way: (*way[0][:2], cut(way[1]), way[0][2:]))


def arrange(items: Sequence[Item], page: PageSize) -> Layout:
    """Lay the items out on windows of a page and return the tiles to print.

    Raises :class:`SpecError` when more pages are needed than anybody would tape.
    """
    upright = Grid(page.window_width, page.window_height, page.overlap)
    turned = Grid(page.window_height, page.window_width, page.overlap, turned=True)
    sizes = dict.fromkeys(item.size for item in items)
    groups = [[index for index, item in enumerate(items) if item.size == size] for size in sizes]
    results = []
    for grid in (upright, turned):
        best = [_best([items[index] for index in group], grid) for group in groups]
        bad, pages, cut, seams = (sum(counts) for counts in zip(*(cost for cost, _ in best), strict=True))
        # a strip that would fit the page the other way round is not split
        split = sum(
            len(along) * len(across) > 1 and fits(items[index], page)
            for group, (_, spots) in zip(groups, best, strict=True)
            for index, spot in zip(group, spots, strict=True)
            for along, across in [cells_of(items[index], spot, grid)]
        )
        results.append(((split + bad, pages, cut, seams), grid.turned, [spots for _, spots in best], grid))
    (_, pages, *_), is_turned, found, grid = min(results, key=lambda result: result[:2])
    if pages > MOST_PAGES:
        raise SpecError(
            f"the pieces need {pages} pages of {page.name}, more than the {MOST_PAGES} that are allowed; "
            f"check the lengths and their units, or take a larger paper{' or fewer --sizes' if len(sizes) > 1 else ''}"
        )
    placed: dict[int, tuple[Spot, int]] = {}
    first_row = 0
    for group, spots in zip(groups, found, strict=True):
        rows = 0
        for index, spot in zip(group, spots, strict=True):
            placed[index] = (spot, first_row)
            along, across = cells_of(items[index], spot, grid)
            rows = max(rows, (along if is_turned else across).stop)
        first_row += rows + 1
    return _laid(items, [placed[index] for index in range(len(items))], grid, page, is_turned)


def _laid(items: Sequence[Item], spots: Sequence[tuple[Spot, int]], grid: Grid, page: PageSize, turned: bool) -> Layout:
    printed: set[tuple[int, int]] = set()
    for item, (spot, first_row) in zip(items, spots, strict=True):
        shown = shown_of(item, spot, grid, cells_of(item, spot, grid))
        printed.update((first_row + j, i) if not turned else (first_row + i, j) for i, j in shown)
    rows = max(row for row, _ in printed) + 1
    step_down = page.window_height - page.overlap
    step_right = page.window_width - page.overlap
    height = (rows - 1) * step_down + page.window_height
    boxes = []
    for item, (spot, first_row) in zip(items, spots, strict=True):
        left, down, wide, high = spot.along, spot.across, item.length, item.width
        if turned:
            left, down, wide, high = down, left, high, wide
        down += first_row * step_down
        boxes.append(Box(left, height - down - high, left + wide, height - down))
    tiles = tuple(
        Tile(
            row,
            column,
            Box(
                column * step_right,
                height - row * step_down - page.window_height,
                column * step_right + page.window_width,
                height - row * step_down,
            ),
        )
        for row, column in sorted(printed)
    )
    return Layout(turned, tuple(boxes), tiles)
