"""Sizes that a page or pane names on what it shows of a piece, held against what it shows of it; sheet mm.

A size belongs there if the page shows some of it that no other one shows as well, and does not if another one shows
all of that and more.  Of a piece with curved lines one that is named there must be seen there.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from itertools import accumulate, combinations, pairwise, product

from tiler.box import Box, Point
from tiler.declaration import Declaration, Page, Tag
from tiler.drawn import ContourPiece, Piece
from tiler.languages.proved import SIZE, SIZES
from tiler.languages.words import say
from tiler.printed import Printed, Word
from tiler.proof.ink.where import word_box
from tiler.proof.words.stacked import plain

SAME, SEEN = 0.001, 0.05
"""What is declared is rounded: a page that shows so much less shows the same, and what is so small is not seen, mm."""

MORE = 1.0
"""A page shows more than another one if so much of a piece lies beyond that, mm."""

MOST_LINES = 12
"""A name is printed on so many lines at most."""


def sizes_faults(declaration: Declaration, records: Sequence[Page], marks: Sequence[Printed]) -> Iterator[str]:
    """Name the pieces of which a page, or a pane of it, names a size that it does not show, or not all that it does."""
    sized = [piece for piece in declaration.pieces if piece.size]
    words = [mark for mark in marks if isinstance(mark, Word) and not mark.bold]
    for page in records if sized else ():
        frame = page.frame
        if page.window and frame:
            inside = [plain(word.text) for word in words if frame.away(word_box(word).middle) == 0.0]
            yield from _untrue(declaration, page, inside)


def _untrue(declaration: Declaration, page: Page, words: Sequence[str]) -> Iterator[str]:
    names = {plain(piece.name): piece.name for piece in declaration.pieces}
    for start in range(len(words)):
        texts = [*accumulate(words[start : start + MOST_LINES])]
        # a name may begin with another one
        own = max((name for name in names if texts[-1].startswith(name)), key=len, default="")
        if not own or not texts[-1].startswith(f"{own},"):
            continue
        pieces = [piece for piece in declaration.pieces if plain(piece.name) == own and piece.size]
        kin: dict[Point, list[Piece]] = {}
        for piece in pieces:
            kin.setdefault(piece.at, []).append(piece)
        every = tuple(piece.size or "" for piece in pieces)
        said = [sizes for text in texts for sizes in _read(text.removeprefix(f"{own},"), every)]
        if said and not any(_kept(declaration, page, *one) for one in product(said, kin.values())):
            yield names[own]


def _read(text: str, every: tuple[str, ...]) -> Iterator[set[str]]:
    """Yield the sizes that words may mean: one, from one to another, or one after the other."""
    for template, field in ((SIZE, "size"), (SIZES, "sizes")):
        before, _, behind = plain(say(template, **{field: "@"})).partition("@")
        if not (text.startswith(before) and text.endswith(behind)):
            continue
        sizes = text[len(before) : len(text) - len(behind)]
        spans = _spans(every)
        yield from spans.get(sizes, ())
        listed = [spans.get(one, ()) for one in sizes.split("/")]
        if len(listed) > 1 and all(listed):
            yield set[str]().union(*(some[0] for some in listed))


@lru_cache(16)  # each page that shows a piece asks for them
def _spans(every: tuple[str, ...]) -> Mapping[str, Sequence[set[str]]]:
    """Return what each span of sizes that follow each other may mean, and each size alone."""
    found: dict[str, list[set[str]]] = {}
    for first, last in combinations(range(len(every) + 1), 2):
        some = every[first:last]
        found.setdefault(plain(some[0] if len(some) == 1 else f"{some[0]}–{some[-1]}"), []).append({*some})
    return found


def _kept(declaration: Declaration, page: Page, said: set[str], kin: Sequence[Piece]) -> bool:
    """Tell whether these are the sizes of a nest, or of a piece alone, that belong on a page."""
    if not said <= {piece.size for piece in kin}:
        return False
    return all(
        _may_be_there(declaration, piece, page) if piece.size in said else not _must_be_there(declaration, piece, page)
        for piece in kin
    )


def _may_be_there(declaration: Declaration, piece: Piece, page: Page) -> bool:
    if isinstance(piece, ContourPiece):
        return _is_seen(declaration, piece, page)
    own, others = _shown(declaration, piece, page)
    return own is not None and not any(
        window.grown(SAME).holds(own) and page.window and not page.window.grown(MORE).holds(other)
        for window, other in others
    )


def _must_be_there(declaration: Declaration, piece: Piece, page: Page) -> bool:
    if isinstance(piece, ContourPiece):
        # which of several pages has to show a bit of a curve is not told by what each shows
        return False
    own, others = _shown(declaration, piece, page)
    return own is not None and not any(window.grown(SEEN).holds(own) for window, _ in others)


def _shown(declaration: Declaration, piece: Piece, page: Page) -> tuple[Box | None, list[tuple[Box, Box]]]:
    """Return what a page shows of the bounds of a piece, and the windows of all other pages with what these show."""
    bounds = piece.sheet_bounds()
    windows = {one.code: one.window for one in declaration.pages if one.window and one.window.overlaps(bounds, SAME)}
    own = windows.pop(page.code, None)
    return own and bounds.within(own), [(window, bounds.within(window)) for window in windows.values()]


def _is_seen(declaration: Declaration, piece: Piece, page: Page) -> bool:
    """Tell whether a page may show any of the outline of a piece."""
    lines = [
        [piece.on_sheet(point) for point in line]
        for part in declaration.parts_of(piece)
        if part.tag in (Tag.CUT_LINE, Tag.FOLD_LINE)
        for line in part.subpaths
    ]
    window = page.window
    return window is not None and any(
        Box.around(ends).grown(SEEN).overlaps(window) for line in lines for ends in pairwise(line)
    )
