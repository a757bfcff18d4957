"""What is laid out on the sheet: an extent along the strip and across it, with what no cut may cross; mm.

And on which windows of the sheet an item then lies.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from itertools import product
from math import ceil, inf

from tiler.box import Box, Point
from tiler.paper import PageSize
from tiler.sheets.layout.joints import TINY, tiles_needed
from tiler.sheets.pieces.curved.bits import fewest


@dataclass(frozen=True)
class Item:
    """What is laid out: the extent of a piece's bounds along the strip and across it, and the size it belongs to.

    Inside them, from their lower left corner: its words and notches, and the least
    and greatest height of the strip itself, which is as wide as the bounds unless it is
    given; ``border`` is white that stands round all.  ``lane`` is the most that lies between
    two of its long lines; ``run`` is from where to where the strip goes along the bounds,
    in a nest the longest one; ``stops`` is where the shorter ones end.
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
    run: tuple[float, float] | None = None
    stops: tuple[float, ...] = ()
    painted: tuple[Box, ...] = ()
    """Of a piece with curved lines, the bits that pages must show; the rest of its bounds is empty paper."""
    spread: tuple[Point, ...] = ()
    """Of such a piece, places all over it."""
    each: float = 0.0
    """For how much of its length each of these stands."""

    @property
    def ends(self) -> tuple[float, float]:
        """From where to where the strip goes along the bounds."""
        return self.run or (0.0, self.length)

    @property
    def body(self) -> tuple[float, float]:
        """From where to where the strip goes across the bounds."""
        return self.strip or (0.0, self.width)

    @property
    def tags(self) -> tuple[float, float] | None:
        """From where to where the words below the strip stand, from the top of the bounds down."""
        below = [word for word in self.words if word.y1 <= self.body[0]]
        return (
            (self.width - max(word.y1 for word in below), self.width - min(word.y0 for word in below))
            if below
            else None
        )

    @property
    def lettered(self) -> tuple[float, float] | None:
        """From where to where all words stand, from the top of the bounds down."""
        if not self.words:
            return None
        return self.width - max(word.y1 for word in self.words), self.width - min(word.y0 for word in self.words)


def fits(item: Item, page: PageSize) -> bool:
    """Tell whether an item fits one page, one way or the other."""
    short, long = sorted((item.length, item.width))
    low, high = sorted((page.window_width, page.window_height))
    return short <= low + TINY and long <= high + TINY


@dataclass(frozen=True)
class Grid:
    """Windows along and across the strips: their extents and the shared overlap; ``turned`` strips run up the page."""

    along: float
    across: float
    overlap: float
    turned: bool = False

    @property
    def step_along(self) -> float:
        """From one window to the next along the strips."""
        return self.along - self.overlap

    @property
    def step_across(self) -> float:
        """From one window to the next across the strips."""
        return self.across - self.overlap


Cell = tuple[int, int]
"""A window: which one along and which across."""


@dataclass(frozen=True)
class Spot:
    """Where an item lies: its distance along and across from the sheet's first corner."""

    along: float
    across: float


def cells_of(item: Item, spot: Spot, grid: Grid) -> tuple[range, range]:
    """Return the windows along and across in which an item lies."""
    return (
        tiles_needed(spot.along, spot.along + item.length, grid.along, grid.step_along),
        tiles_needed(spot.across, spot.across + item.width, grid.across, grid.step_across),
    )


def shown_of(item: Item, spot: Spot, grid: Grid, within: tuple[range, range]) -> set[tuple[int, int]]:
    """Return the windows that an item needs: all its bounds lie ``within``, or of a curved one those that show any.

    Of these none shows only what others show, and all hang together.
    """
    along, across = within
    cells = {(i, j) for i in along for j in across}
    if not item.painted or len(cells) == 1:
        return cells
    options: dict[tuple[range, range], None] = {}
    for box in item.painted:
        low, high = (item.length - box.x1, item.length - box.x0) if grid.turned else (box.x0, box.x1)
        top, foot = item.width - box.y1, item.width - box.y0
        columns = _showing(spot.along + low, spot.along + high, along, grid.along, grid.step_along)
        rows = _showing(spot.across + top, spot.across + foot, across, grid.across, grid.step_across)
        options[columns, rows] = None
    found = fewest([(i, j) for i in columns for j in rows] for columns, rows in options)
    return found | _joining(found, {(i, j) for columns, rows in options for i in columns for j in rows} - found)


def _showing(start: float, end: float, windows: range, window: float, step: float) -> range:
    """Return those of the windows that show all of a stretch; one that is longer than what they share has the first."""
    first = max(ceil((end - window - TINY) / step), windows.start)
    last = min(int((start + TINY) // step), windows.stop - 1)
    return range(first, last + 1) if first <= last else range(last, last + 1)


def _joining(found: Collection[Cell], others: Collection[Cell]) -> set[Cell]:
    """Return which others join windows that meet at a corner alone."""
    joining = set[Cell]()
    for (i, j), step in product(sorted(found), (1, -1)):
        corners = ((i + 1, j), (i, j + step))
        if (i + 1, j + step) in found and not {*corners} & {*found, *joining}:
            joining.add(next((one for one in corners if one in others), corners[0]))
    return joining
