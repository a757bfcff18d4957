"""The block of the first page, with what it says of this file: its paper, its pieces and where they lie; page mm."""

from __future__ import annotations

from collections.abc import Sequence

from tiler.declaration import Page, PageKind, Rule, Square
from tiler.draft.edition import Edition
from tiler.draft.figures import Figures, named, not_passed
from tiler.lengths import both
from tiler.paper import PAPER_WORDS
from tiler.sentence import counted
from tiler.sheets.canvas import Canvas
from tiler.sheets.cover.first_page import BLOCK_HEIGHT, BLOCK_WIDTH, MARGIN, CoverPiece, CoverWords, draw_cover
from tiler.sheets.cover.sizes import SizePages, pages_of_sizes
from tiler.sheets.layout.placed import Placed
from tiler.sheets.layout.sheet import Sheet

MOST_TOLD, MOST_LINES = 900, 7
"""So many characters about failed checks are told in full; in short so many lines."""

LEAST_FOOT = 6.0
"""Kept white below the block where the drawing is enlarged for a printer, mm."""


def draw_block(canvas: Canvas, sheet: Sheet, edition: Edition, number: int) -> tuple[list[Square], list[Rule]]:
    """Draw the block on the page of this number: the first one, or the only one, beside the pieces."""
    page = sheet.page
    corner = sheet.corner or ((page.width - BLOCK_WIDTH) / 2, page.height - MARGIN)
    height = BLOCK_HEIGHT if sheet.corner else min(BLOCK_HEIGHT, corner[1] - LEAST_FOOT)
    tiles = [one for one in sheet.pages if one.kind is not PageKind.COVER]
    outlines = [place.declared.sheet_bounds() for place in sheet.pieces]
    return draw_cover(canvas, number, corner, _words(sheet, edition, tiles), tiles, outlines, height)


def _words(sheet: Sheet, edition: Edition, tiles: Sequence[Page]) -> CoverWords:
    sizes = _sizes(sheet, tiles)
    alone = len(tiles) == 1 and len(tiles) == len(sheet.pages)
    across, down = sheet.drawing.factors
    size = f"{both(sheet.page.width * across, edition.units)} × {both(sheet.page.height * down, edition.units)}"
    return CoverWords(
        edition.title,
        edition.imprint,
        f"{PAPER_WORDS[sheet.page.name]}, {size}",
        sheet.corner is None,
        sheet.pages[-1].number,
        tuple(_piece(place, tiles, bool(sizes), alone) for place in sheet.pieces),
        sizes,
        sheet.drawing.only_for,
        _failed([place.lettered.piece.figures for place in sheet.pieces]),
    )


def _failed(figures: Sequence[Figures]) -> tuple[str, ...]:
    """Say which checks are not passed; where that is much, only in short, and of the sizes of a piece together."""
    found = not_passed(figures)
    told = [f"{named(pieces)}: {one.text}" for one, pieces in found.items()]
    if sum(map(len, told)) <= MOST_TOLD:
        return tuple(told)
    short: dict[str, list[Figures]] = {}
    for one, pieces in found.items():
        short.setdefault(one.short, []).extend(pieces)
    lines = [f"{named(pieces)}: {said}." for said, pieces in short.items()]
    more = len(lines) - MOST_LINES
    return (*lines[:MOST_LINES], *([f"{counted(more, 'other check')} in the cutting chart."] if more > 0 else []))


def _piece(place: Placed, tiles: Sequence[Page], by_size: bool, alone: bool) -> CoverPiece:
    piece = place.lettered.piece
    figures = piece.figures
    codes = [tile.code or "" for tile in tiles if tile.window and tile.window.overlaps(place.bounds)]
    return CoverPiece(
        figures.name if by_size or figures.size is None else f"{figures.name}, size {figures.size}",
        f"cut {figures.quantity} {figures.cut.words}",
        piece.label.cut_size,
        "" if alone else f"on {', '.join(codes)}",
    )


def _sizes(sheet: Sheet, tiles: Sequence[Page]) -> tuple[SizePages, ...]:
    """Say which pages each size needs, where there are several of both."""
    if len(tiles) == 1 or all(place.declared.size is None for place in sheet.pieces):
        return ()
    return pages_of_sizes([(place.declared.size, place.bounds) for place in sheet.pieces], tiles)
