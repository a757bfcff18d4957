"""Ruler lines and test squares on a tile or a page of panes, where they disturb least; page mm."""

from __future__ import annotations

from tiler.declaration import Rule, Square
from tiler.sheets.canvas import Canvas
from tiler.sheets.page.free_places import Places
from tiler.sheets.page.rulers import (
    ON_TILES,
    RULE_DEPTH,
    RULE_OVERHANG,
    SQUARE_WORDS,
    SQUARES,
    draw_rules,
    draw_square,
    rule_words,
)


def draw_tile_rules(canvas: Canvas, page: int, places: Places) -> list[Rule]:
    """Draw a rule across and one down, each in inches and centimetres, as long as there is free room for."""
    rules: list[Rule] = []
    room = min(places.frame.width, places.frame.height)
    pairs = [pair for pair in ON_TILES if pair.length + RULE_OVERHANG <= room]
    for axis in ("across", "down"):
        words = [rule_words(axis, pair) for pair in pairs]
        across = [(pair.length + RULE_OVERHANG, RULE_DEPTH) for pair in pairs]
        shapes = across if axis == "across" else [(high, wide) for wide, high in across]
        index, place = places.take(shapes, from_right=axis == "down", words=words)
        rules += draw_rules(canvas, page, (place.x0, place.y0), axis, pairs[index])
    return rules


def draw_tile_squares(canvas: Canvas, page: int, places: Places) -> list[Square]:
    """Draw both test squares on a tile, for a file without a first page."""
    squares = []
    for nominal, label in SQUARES:
        _, place = places.take([(nominal + 1.0, nominal + 1.0)])
        words = places.inside(place, SQUARE_WORDS)
        squares.append(draw_square(canvas, page, (place.x0 + 0.5, place.y0 + 0.5), nominal, label, words))
    return squares
