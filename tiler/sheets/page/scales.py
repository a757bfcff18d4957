"""Test squares on the first page of pieces, where they disturb least, for a file without a first page; page mm."""

from __future__ import annotations

from collections.abc import Iterable

from tiler.box import Box
from tiler.declaration import Square
from tiler.sheets.canvas import Canvas
from tiler.sheets.page.free_places import Obstacle, Places
from tiler.sheets.page.rulers import SQUARE_WORDS, SQUARES, draw_square


def draw_tile_squares(canvas: Canvas, page: int, frame: Box, taken: Iterable[Obstacle]) -> list[Square]:
    """Draw both test squares in the window of a page."""
    places, squares = Places(frame, [one.with_white() for one in taken]), []
    for nominal, label in SQUARES:
        _, place = places.take([(nominal + 1.0, nominal + 1.0)])
        words = places.inside(place, SQUARE_WORDS)
        squares.append(draw_square(canvas, page, (place.x0 + 0.5, place.y0 + 0.5), nominal, label, words))
    return squares
