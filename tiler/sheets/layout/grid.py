"""Where the pieces lie on the sheet, and which tiles show them; mm.

The sheet is cut by windows of A along the strips and B across them, which share
the overlap o with each neighbour, so that a window starts every a = A - o and
b = B - o.  Pieces go into lanes along the strips, by decreasing width and first
fit (shelf packing); several lane lengths, with lanes kept clear of the seams or
running on across them, are tried for the sheet as it is and turned by 90 degrees.
Fewest printed pages win, then fewest crossed seams, then the unturned sheet.

The pieces of each size lie apart on rows of their own, with an empty row between two
sizes, so that nobody prints pages for a size that is not sewn.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, inf

from tiler.box import Box
from tiler.errors import SpecError
from tiler.paper import MOST_PAGES, PageSize

GAP = 1.0
"""White between the bounds of two pieces."""

TINY = 1e-6


@dataclass(frozen=True)
class Item:
    """What is laid out: the extent of a piece's bounds along the strip and across it, and the size it belongs to.

    Inside them, from their lower left corner: its words and notches, and the least
    and greatest height of the strip itself, which is as wide as the bounds unless it is
    given; ``border`` is white that stands round all.  ``lane`` is the most that lies between
    two of its long lines.
    """

    name: str
    length: float
    width: float
    size: str | None = None
    words: tuple[Box, ...] = ()
    notches: tuple[Box, ...] = ()
    strip: tuple[float, float] | None = None
    border: float = 0.0
    lane: float = inf

    @property
    def body(self) -> tuple[float, float]:
        """From where to where the strip goes across the bounds."""
        return self.strip or (0.0, self.width)


@dataclass(frozen=True)
class Grid:
    """Windows along and across the strips: their extents and the shared overlap."""

    along: float
    across: float
    overlap: float

    @property
    def step_along(self) -> float:
        """From one window to the next along the strips."""
        return self.along - self.overlap

    @property
    def step_across(self) -> float:
        """From one window to the next across the strips."""
        return self.across - self.overlap


@dataclass(frozen=True)
class Spot:
    """Where an item lies: its distance along and across from the sheet's first corner."""

    along: float
    across: float


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


def tiles_needed(start: float, end: float, window: float, step: float) -> range:
    """Return the windows that together show the stretch from ``start`` to ``end``, none too many."""
    first = int((start + TINY) // step)
    last = max(first, ceil((end - window - TINY) / step))
    return range(first, last + 1)


@dataclass
class _Lane:
    across: float
    width: float
    end: float = 0.0


def _start(end: float, length: float, grid: Grid, clear: bool) -> float:
    """Return the place along a lane for the next item."""
    start = end + GAP if end else 0.0
    return _clear_of_seam(start, length, grid.along, grid.overlap) if clear else start


def _clear_of_seam(start: float, extent: float, window: float, overlap: float) -> float:
    """Move what crosses more seams than it must on to the next window, behind the shared strip if it fits there."""
    step = window - overlap
    if len(tiles_needed(start, start + extent, window, step)) <= len(tiles_needed(0, extent, window, step)):
        return start
    following = (int(start // step) + 1) * step
    behind = following + overlap
    fewest = len(tiles_needed(following, following + extent, window, step))
    return behind if len(tiles_needed(behind, behind + extent, window, step)) == fewest else following


def _pack(items: Sequence[Item], order: Sequence[int], grid: Grid, columns: int, clear: bool) -> list[Spot]:
    longest = columns * grid.step_along + grid.overlap
    lanes: list[_Lane] = []
    spots: list[Spot | None] = [None] * len(items)
    bottom = 0.0
    for index in order:
        item = items[index]
        for lane in lanes:
            if item.width > lane.width + TINY:
                continue
            start = _start(lane.end, item.length, grid, clear)
            if start + item.length <= longest + TINY:
                break
        else:
            across = _clear_of_seam(bottom, item.width, grid.across, grid.overlap) if clear else bottom
            lane = _Lane(across, item.width)
            lanes.append(lane)
            bottom = across + item.width + GAP
            start = 0.0
        spots[index] = Spot(start, lane.across)
        lane.end = start + item.length
    return [spot for spot in spots if spot is not None]


def _cells(item: Item, spot: Spot, grid: Grid) -> tuple[range, range]:
    return (
        tiles_needed(spot.along, spot.along + item.length, grid.along, grid.step_along),
        tiles_needed(spot.across, spot.across + item.width, grid.across, grid.step_across),
    )


def _cost(items: Sequence[Item], spots: Sequence[Spot], grid: Grid) -> tuple[int, int]:
    printed: set[tuple[int, int]] = set()
    seams = 0
    for item, spot in zip(items, spots, strict=True):
        along, across = _cells(item, spot, grid)
        printed.update((i, j) for i in along for j in across)
        seams += len(along) * len(across) - 1
    return len(printed), seams


def _candidates(items: Sequence[Item], grid: Grid) -> Iterator[list[Spot]]:
    def columns(item: Item) -> int:
        return len(tiles_needed(0, item.length, grid.along, grid.step_along))

    widest_first = sorted(range(len(items)), key=lambda i: (-items[i].width, -items[i].length, i))
    longest_first = sorted(range(len(items)), key=lambda i: (-columns(items[i]), -items[i].width, i))
    least = max(columns(item) for item in items)
    most = min(least + 3, max(least, sum(columns(item) for item in items)))
    for clear in (True, False):
        for order in (widest_first, longest_first):
            for count in range(least, most + 1):
                yield _pack(items, order, grid, count, clear)


def _shelved(items: Sequence[Item], grid: Grid) -> list[Spot]:
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
            spots[index] = Spot(0.0, across)
            across += items[index].width + GAP
        # the next row begins where no window of this one shows anything more
        base = ceil((base + used + GAP - TINY) / grid.step_across) * grid.step_across
    return [spots[index] for index in range(len(items))]


def _best(items: Sequence[Item], grid: Grid) -> tuple[tuple[int, int], list[Spot]]:
    """Return the cheapest way to lay items out, with its pages and seams; shelves only where they save a page."""
    best = min(((_cost(items, spots, grid), spots) for spots in _candidates(items, grid)), key=lambda pair: pair[0])
    shelved = _shelved(items, grid)
    cost = _cost(items, shelved, grid)
    return (cost, shelved) if cost[0] < best[0][0] else best


def arrange(items: Sequence[Item], page: PageSize) -> Layout:
    """Lay the items out on windows of a page and return the tiles to print.

    Raises :class:`SpecError` when more pages are needed than anybody would tape.
    """
    upright = Grid(page.window_width, page.window_height, page.overlap)
    turned = Grid(page.window_height, page.window_width, page.overlap)
    sizes = dict.fromkeys(item.size for item in items)
    groups = [[index for index, item in enumerate(items) if item.size == size] for size in sizes]
    results = []
    for grid in (upright, turned):
        best = [_best([items[index] for index in group], grid) for group in groups]
        cost = (sum(pages for (pages, _), _ in best), sum(seams for (_, seams), _ in best))
        results.append((cost, grid is turned, [spots for _, spots in best], grid))
    (pages, _), is_turned, found, grid = min(results, key=lambda result: result[:2])
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
            along, across = _cells(items[index], spot, grid)
            rows = max(rows, (along if is_turned else across).stop)
        first_row += rows + 1
    return _laid(items, [placed[index] for index in range(len(items))], grid, page, is_turned)


def _laid(items: Sequence[Item], spots: Sequence[tuple[Spot, int]], grid: Grid, page: PageSize, turned: bool) -> Layout:
    printed: set[tuple[int, int]] = set()
    for item, (spot, first_row) in zip(items, spots, strict=True):
        along, across = _cells(item, spot, grid)
        printed.update((first_row + j, i) if not turned else (first_row + i, j) for i in along for j in across)
    rows = max(row for row, _ in printed) + 1
    step_down = page.window_height - page.overlap
    step_right = page.window_width - page.overlap
    height = (rows - 1) * step_down + page.window_height
    boxes = []
    for item, (spot, first_row) in zip(items, spots, strict=True):
        left, down, wide, high = (
            (spot.across, spot.along, item.width, item.length)
            if turned
            else (spot.along, spot.across, item.length, item.width)
        )
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
