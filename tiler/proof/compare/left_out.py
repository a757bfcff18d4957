"""Pages that were taken out of a file: whole pieces may be, with every page that shows them; sheet mm.

What is kept is then as good a print as it was.  A piece of which a page is missing is none.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from tiler.declaration import Declaration, Page, PageKind
from tiler.drawn import Piece
from tiler.languages.proved import SIZE
from tiler.languages.words import Words, listed
from tiler.proof.compare.pieces import TOUCHING
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says

MOST_NAMED = 6
"""Pages or pieces of one list that are written out."""


@dataclass(frozen=True)
class LeftOut:
    """The declared pages and panes that are missing without harm to the others, and the pieces that went with them."""

    pages: tuple[Page, ...] = ()
    pieces: tuple[Piece, ...] = ()


NOTHING_LEFT_OUT = LeftOut()


def left_out(declaration: Declaration, lost: Sequence[Page]) -> LeftOut:
    """Return what is left out when all ``lost`` pages may be missing, else nothing."""
    gone = {page.number for page in lost}
    kept = [page for page in declaration.pages if page.number not in gone]
    whole = [piece for piece in declaration.pieces if not _shown(piece, lost)]
    if any(page not in lost for page in declaration.pages if page.number in gone):
        # a part of a page is no page that was taken out
        return NOTHING_LEFT_OUT
    shown = [piece for piece in declaration.pieces if _shown(piece, kept)]
    if not shown or any(piece not in whole for piece in shown):
        return NOTHING_LEFT_OUT
    if _squares_among(declaration, lost) and not _all_ruled(declaration, kept):
        return NOTHING_LEFT_OUT
    return LeftOut(tuple(lost), tuple(piece for piece in declaration.pieces if piece not in shown))


def _shown(piece: Piece, pages: Sequence[Page]) -> bool:
    bounds = piece.sheet_bounds()
    return any(page.window is not None and bounds.overlaps(page.window, TOUCHING) for page in pages)


def _squares_among(declaration: Declaration, pages: Sequence[Page]) -> Page | None:
    """Return the page of those that has the test squares."""
    numbers = {square.page for square in declaration.squares}
    return next((page for page in pages if page.number in numbers), None)


def _all_ruled(declaration: Declaration, pages: Sequence[Page]) -> bool:
    """Tell whether each of the pages measures itself: across by a ruler line, down by its page frame."""
    ruled = {rule.page for rule in declaration.rules if rule.axis == "across"}
    return all(page.number in ruled and page.frame for page in pages)


def compare_left_out(declaration: Declaration, left: LeftOut) -> Iterator[Check]:
    """Say which pages and pieces are left out, and with them the test squares."""
    squares = _squares_among(declaration, left.pages)
    pages = [page for page in left.pages if page.code]
    if pages:
        pieces = {"pieces": _listed(_names(declaration, left.pieces)) or Words("no piece")}
        label = _listed([called(page) for page in pages])
        yield Check(CheckName.PAGES, Status.WARN, Says.PAGES_LEFT_OUT, label=label, numbers=pieces)
    if squares:
        yield Check(CheckName.PAGES, Status.WARN, Says.SQUARES_LEFT_OUT, label=called(squares))


def called(page: Page) -> Words:
    """Name a page or pane as people do."""
    if page.kind is PageKind.PANE:
        return Words("pane {code}", code=page.code)
    return Words("page {code}", code=page.code) if page.code else Words("the first page")


def called_piece(piece: Piece) -> str:
    """Name a piece with its size, where it has one."""
    return in_size(piece.name, piece.size)


def in_size(name: str, size: str | None) -> str:
    """Name what is cut in this size, or in one only."""
    return Words("{name}, size {size}", name=name, size=size) if size else name


def _names(declaration: Declaration, pieces: Sequence[Piece]) -> list[str]:
    """Name pieces, those of a whole size by the size alone."""
    kept = {piece.size for piece in declaration.pieces if piece not in pieces}
    names = [
        Words(SIZE, size=piece.size) if piece.size and piece.size not in kept else called_piece(piece)
        for piece in pieces
    ]
    return list(dict.fromkeys(names))


def _listed(names: Sequence[str]) -> str:
    rest = len(names) - MOST_NAMED
    shown = listed(names[:MOST_NAMED])
    return shown if rest <= 0 else Words("{names} and {count} more", names=shown, count=rest)
