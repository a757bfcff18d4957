"""The tables of the first page, read as they are printed: what is cut of each piece, and how long each size is.

Columns are told apart by where their words begin, rows by the bold words that head them.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from itertools import product, takewhile

from tiler.declaration import Declaration
from tiler.drawn import Bought, Piece
from tiler.languages.proved import CUT, FROM_THE_FOLD, LENGTHS_BY_SIZE, ON_PAGES, SIZE_HEAD
from tiler.languages.words import Words, in_each, in_others, pattern, say
from tiler.printed import Word
from tiler.proof.words.cutting import cut_lengths, cut_widths, drawn_lengths, how_cut, spans
from tiler.proof.words.stacked import plain

_CODES = "(?P<codes>(?:[A-Z0-9]+, )*[A-Z0-9]+)"
Key = tuple[str, bool]
"""A piece in all its sizes: its name, and whether it is cut on the fold."""


def table_faults(declaration: Declaration, words: Sequence[Word]) -> Iterator[str]:
    """Name the pieces of which the tables among these words say something else than is declared."""
    yield from (Words("{piece} in the table of pieces", piece=name) for name in _of_pieces(declaration, words))
    yield from (Words("{piece} in the table of lengths", piece=name) for name in _of_lengths(declaration, words))


def _of_pieces(declaration: Declaration, words: Sequence[Word]) -> Iterator[str]:
    """Read the table of pieces cell by cell: a name, its size or sizes, how to cut it, length × width, pages."""
    listed: list[Piece | Bought] = [*declaration.pieces, *declaration.bought]
    named = [(plain(piece.name), piece) for piece in listed]
    unread = {(one.name, one.size) for one in declaration.bought}
    how = re.compile("|".join(pattern(template, count=r"\d+") for template in CUT.values()), re.IGNORECASE)
    codes = {page.code for page in declaration.pages if page.window}
    for cut in (index for index, word in enumerate(words) if not word.bold and how.fullmatch(word.text)):
        pieces = _named(named, words[:cut])
        begin = _column(words[cut])
        # the second language says it on the next line
        others = _in_column(words[cut + 1 :], begin)
        row = _right_of(words[cut + 1 + len(others) :], begin)
        if not pieces or not row:
            # a name or a title may read like how to cut a piece
            continue
        measured = _in_column(row, _column(row[0]))
        told = how_cut(pieces[0]) == words[cut].text and others in ([], _others(pieces[0]))
        said = " ".join(word.text for word in row).replace("\u00a0", " ")
        if not (told and _measured(pieces, measured, declaration.units) and _on_pages(said) <= codes):
            yield pieces[0].name
        unread -= {(piece.name, piece.size) for piece in pieces}
    # nothing else says how long it is cut
    yield from (name for name, _ in unread)


def _others(piece: Piece | Bought) -> list[str]:
    """Return how a piece is cut in the languages behind the leading one, where they say it otherwise."""
    return list(dict.fromkeys(how_cut(piece) for _ in in_each()))[1:]


def _on_pages(said: str) -> set[str]:
    """Return the pages that a row names."""
    pages = re.search(f" {pattern(ON_PAGES, pages=_CODES)}", said)
    return {*pages["codes"].split(", ")} if pages else set()


def _named(named: Sequence[tuple[str, Piece | Bought]], before: Sequence[Word]) -> Sequence[Piece | Bought]:
    """Return the piece that the bold words before a cell name, or the first and the last of its sizes."""
    bold = list(takewhile(lambda word: word.bold, reversed(before)))[::-1]
    for start, end in product(range(len(bold)), range(len(bold), 0, -1)):
        name, size = (plain("".join(word.text for word in part)) for part in (bold[start:end], bold[end:]))
        pieces = [piece for one, piece in named if one == name]
        for way in (*((one,) for one in pieces), *product(pieces, pieces)):
            if plain("–".join(one.size or "" for one in way)) == size:
                return way
    return ()


def _measured(pieces: Sequence[Piece | Bought], said: Sequence[str], units: str) -> bool:
    """Tell whether a cell says length and width of its piece, or what they run over in its sizes, and no more.

    It may say the same in the second language behind that.
    """
    alone = plain("".join(said))
    leading = _measures(pieces, units)
    if alone in leading:
        return True
    return any(alone in {a + b for a, b in product(leading, _measures(pieces, units))} for _ in in_others())


def _measures(pieces: Sequence[Piece | Bought], units: str) -> set[str]:
    first, last = pieces[0], pieces[-1]
    starts, ends = drawn_lengths(first, units), cut_lengths(last, units)
    lengths = {*(cut_lengths(first, units) & ends), *spans(starts, ends)}
    across, over = cut_widths(first, units), cut_widths(last, units)
    widths = {*(across & over), *spans(across, over)}
    return {plain(f"{length} × {width}") for length, width in product(lengths, widths)}


def _of_lengths(declaration: Declaration, words: Sequence[Word]) -> Iterator[str]:
    """Read the tables that a line heads which says so; every size of each of their pieces must be there."""
    kin: dict[Key, dict[str, Piece]] = {}
    for piece in declaration.pieces:
        kin.setdefault((piece.name, piece.cut == "on-fold"), {})[plain(piece.size or "")] = piece
    title = say(LENGTHS_BY_SIZE)
    for start in (index for index, word in enumerate(words) if word.bold and word.text == title):
        heads = list(takewhile(lambda word: word.bold, words[start + 1 :]))[:-1]
        if not heads or heads[0].text != say(SIZE_HEAD):
            if not any(title == piece.name for piece in declaration.pieces) and title != declaration.title:
                yield title
            continue
        columns = _columns(heads, kin)
        told = _told(words[start + 1 + len(heads) :], columns, {size for sizes in kin.values() for size in sizes})
        yield from (text for text, _, key in told if not key)
        for key in dict.fromkeys(key for key in columns.values() if isinstance(key, tuple)):
            said = [(size, text) for text, size, one in told if one == key]
            right = {size: _lengths(piece, kin[key], declaration.units) for size, piece in kin[key].items()}
            if sorted(size for size, _ in said) != sorted(right) or any(text not in right[size] for size, text in said):
                yield key[0]


def _columns(heads: Sequence[Word], kin: Collection[Key]) -> Mapping[float, Key | str]:
    """Return for each column whose lengths it has, by where it begins; for that of the sizes, and others, its head."""
    lines: dict[float, str] = {}
    for word in heads:
        lines[_column(word)] = lines.get(_column(word), "") + word.text
    fold = say(FROM_THE_FOLD)
    keys = {plain(name + (fold if on_fold else "")): (name, on_fold) for name, on_fold in kin}
    return {at: head if head == say(SIZE_HEAD) else keys.get(plain(head), head) for at, head in lines.items()}


def _told(
    words: Sequence[Word], columns: Mapping[float, Key | str], sizes: Collection[str]
) -> list[tuple[str, str, Key | None]]:
    """Return each cell with its size and its piece, as far as the table goes; no piece where its head names none.

    It ends with what stands in no column of it, and with what is bold and no size.
    """
    found: list[tuple[str, str, Key | None]] = []
    size = ""
    for word in words:
        head = columns.get(_column(word))
        if head is None or (head == say(SIZE_HEAD)) != word.bold:
            break
        if word.bold:
            size = plain(word.text)
            if size not in sizes:
                break
        else:
            found.append((plain(word.text), size, head if isinstance(head, tuple) else None))
    return found


def _lengths(piece: Piece, kin: Mapping[str, Piece], units: str) -> set[str]:
    """Return what a cell may say: a length, and with it the width where that differs from size to size."""
    widths = cut_widths(piece, units)
    alike = all(cut_widths(other, units) & widths for other in kin.values())
    wide = {"", *(f" × {width}" for width in widths)} if alike else {f" × {width}" for width in widths}
    return {plain(length + one) for length, one in product(drawn_lengths(piece, units), wide)}


def _in_column(words: Sequence[Word], at: float) -> list[str]:
    """Return the lines of the first cell, which begins at ``at``; nothing where another column does."""
    return [word.text for word in takewhile(lambda word: not word.bold and _column(word) == at, words)]


def _right_of(words: Sequence[Word], at: float) -> list[Word]:
    """Return the words of the cells behind one that begins at ``at``, up to the end of the row."""
    return list(takewhile(lambda word: not word.bold and _column(word) > at, words))


def _column(word: Word) -> float:
    return round(word.at[0], 2)
