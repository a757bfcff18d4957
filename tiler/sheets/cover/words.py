"""What the first page says of the file: its paper, its pieces and where they lie."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from tiler.declaration import COVER, Page
from tiler.draft.edition import Edition
from tiler.lengths import both
from tiler.paper import PAPER_WORDS, PageSize
from tiler.sheets.cover.first_page import CoverPiece, CoverWords
from tiler.sheets.layout.placed import Placed
from tiler.sheets.pieces.lettering import Lettered

if TYPE_CHECKING:
    from tiler.sheets.compensation import Compensation
    from tiler.sheets.cover.sizes import SizePages


def cover_words(
    edition: Edition,
    paper: PageSize,
    pages: Sequence[Page],
    pieces: Sequence[tuple[Lettered, Placed]],
    made_for: Compensation | None,
    one_sheet: bool,
) -> CoverWords:
    """Say what the file holds; ``pages`` are its records, ``pieces`` stand with their places on the sheet."""
    tiles = [page for page in pages if page.kind != COVER]
    sizes = _sizes(tiles, pieces)
    alone = len(tiles) == 1 and len(tiles) == len(pages)
    across, down = (made_for.across, made_for.down) if made_for else (1.0, 1.0)
    size = f"{both(paper.width * across, edition.units)} × {both(paper.height * down, edition.units)}"
    return CoverWords(
        edition.title,
        edition.imprint,
        f"{PAPER_WORDS[paper.name]}, {size}",
        not one_sheet,
        pages[-1].number,
        tuple(_piece(one, place, tiles, bool(sizes), alone) for one, place in pieces),
        sizes,
        made_for.words if made_for else "",
    )


def _piece(one: Lettered, place: Placed, tiles: Sequence[Page], by_size: bool, alone: bool) -> CoverPiece:
    figures = one.piece.figures
    codes = [tile.code or "" for tile in tiles if tile.window and tile.window.overlaps(place.bounds)]
    return CoverPiece(
        figures.name if by_size or figures.size is None else f"{figures.name}, size {figures.size}",
        f"cut {figures.quantity} {'on fold' if one.piece.on_fold else 'full length'}",
        one.piece.cut_size,
        "" if alone else f"on {', '.join(codes)}",
    )


def _sizes(tiles: Sequence[Page], pieces: Sequence[tuple[Lettered, Placed]]) -> tuple[SizePages, ...]:
    """Say which pages each size needs, where there are several of both."""
    if len(tiles) == 1 or all(one.piece.figures.size is None for one, _ in pieces):
        return ()
    # most files have no sizes, and starting is to stay quick
    from tiler.sheets.cover.sizes import pages_of_sizes

    return pages_of_sizes([(place.declared.size, place.declared.sheet_bounds()) for _, place in pieces], tiles)
