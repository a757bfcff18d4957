"""Test squares on a page of pieces, where they disturb least, for a file without a first page; page mm.

Where all of the page is taken a square lies over pieces: its sides then keep off words and
marks, and its own words stand between the lines, set smaller where they must be.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from tiler.box import Box, Point
from tiler.declaration import Square
from tiler.sheets.canvas import Canvas
from tiler.sheets.page.free_places import ON_BLOCK, ON_TEXT, Obstacle, Places
from tiler.sheets.page.rulers import SQUARES, SquareWords, draw_square, square_words

SIDE = 0.5
"""From the side of a square to the edge of its place, mm."""


def draw_tile_squares(canvas: Canvas, page: int, frame: Box, taken: Iterable[Obstacle]) -> list[Square]:
    """Draw both test squares in the window of a page."""
    return [
        draw_square(canvas, page, (one.place.x0 + SIDE, one.place.y0 + SIDE), nominal, label, one.words)
        for (nominal, label), one in zip(SQUARES, _placed(frame, taken), strict=True)
    ]


def squares_fit(frame: Box, taken: Iterable[Obstacle]) -> bool:
    """Tell whether both squares have a place in a window where nothing crosses them or their words."""
    return all(one.free for one in _placed(frame, taken))


@dataclass(frozen=True)
class _Placed:
    """The place of a square with its words and their middle, and whether nothing crosses them."""

    place: Box
    words: tuple[SquareWords, Point]
    free: bool


def _placed(frame: Box, taken: Iterable[Obstacle]) -> list[_Placed]:
    obstacles, found = [one.with_white() for one in taken], []
    for nominal, label in SQUARES:
        found.append(_place(frame, obstacles, nominal + 2 * SIDE, square_words(label)))
        obstacles.append(Obstacle(found[-1].place.grown(2.0), ON_BLOCK))
    return found


def _place(frame: Box, obstacles: Sequence[Obstacle], side: float, ways: Sequence[SquareWords]) -> _Placed:
    """Return where a square disturbs least of where nothing crosses it or its words.

    Where there is no such place it is the one that disturbs least.
    """
    places = Places(frame, obstacles)
    _, first = places.take([(side, side)])
    # what stood there before the square
    before = Places(frame, obstacles)
    for place in _places(first, before, side):
        words = before.inside(place, [way.shape for way in ways]) if _clear(place, obstacles) else None
        if words:
            return _Placed(place, (ways[words[0]], words[1].middle), True)
    return _Placed(first, (ways[0], first.middle), False)


def _places(first: Box, places: Places, side: float) -> Iterator[Box]:
    yield first
    yield from places.by_cost((side, side))


def _clear(place: Box, obstacles: Sequence[Obstacle]) -> bool:
    """Tell whether the sides of a square lie off words and marks, and all of it off another square."""
    inner = place.grown(-2 * SIDE)
    near = [one for one in obstacles if one.cost >= ON_TEXT and one.box.overlaps(place)]
    return all(one.cost < ON_BLOCK and inner.holds(one.box) for one in near)
