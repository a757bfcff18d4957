"""What the words on the pages say, held against what is declared of the lines; mm.

All ink is held against the declared words and all lengths against the declared lengths; here the
one is held against the other, as a person would who reads the page with a ruler at hand.  So a square
that says "2 in" and is declared and drawn smaller is off, and so is a piece that is shorter than its
own label.  What the words should say follows from the declared lengths by the rules of the tape.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Sequence
from itertools import pairwise, product

from tiler.declaration import Declaration, printed_pages
from tiler.drawn import Bought, ContourPiece, Piece
from tiler.languages.proved import CUT_SIZE, CUT_WIDTH, SIZE
from tiler.languages.words import Words, in_others, say, speaking
from tiler.printed import Form, Printed, Word
from tiler.proof.compare.left_out import called_piece
from tiler.proof.ink.foot import foot_faults
from tiler.proof.ink.numbers import number_faults
from tiler.proof.ink.where import word_box
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says
from tiler.proof.seen.page import row_and_column
from tiler.proof.words.cutting import cut_lengths, cut_widths, drawn_lengths, how_cut, written
from tiler.proof.words.named import sizes_faults
from tiler.proof.words.numerals import measure_faults
from tiler.proof.words.stacked import band_kept, buttons_kept, cut_size_kept, how_cut_kept, plain, seams_said
from tiler.proof.words.tables import table_faults

LEAST_TITLE = 4
"""Characters of a long title that every place has room for."""

_LENGTH = re.compile(r"\d(?:in|cm)")


def compare_said(declaration: Declaration) -> Iterator[Check]:
    """Hold every size, count, name and page number that is printed against the declared one."""
    with speaking(*declaration.languages):
        checks = [*measure_faults(declaration, _given(declaration)), *_pieces(declaration), *_pages(declaration)]
    yield from checks
    if not checks:
        yield Check(CheckName.WORDS, Status.PASS, Says.SAID_KEPT)


def _given(declaration: Declaration) -> set[str]:
    """Return the words that the maker gave, which may be anything."""
    named: tuple[Piece | Bought, ...] = (*declaration.pieces, *declaration.bought)
    return {declaration.title, *(name for piece in named for name in (piece.name, piece.size) if name)}


def _unlike(label: str, page: int | None = None, name: CheckName = CheckName.WORDS) -> Check:
    return Check(name, Status.FAIL, Says.SAID_UNLIKE, page, label=label)


def _pieces(declaration: Declaration) -> Iterator[Check]:
    """Read the labels of the pieces: name, size, how often and how to cut, length and width."""
    forms = {form.id: form for form in declaration.forms}
    own = {piece.id: piece.name for piece in declaration.pieces}
    shared = {form.id: own.get(form.id[:-1], "") for form in declaration.forms if form.id not in own}
    shared |= {one.id: one.name for one in declaration.shared}
    for piece in declaration.pieces:
        form = forms.get(piece.id)
        text = _plain_form(form) if form else ""
        # what all sizes of a nest share is a form of its own
        kin = [_plain_form(forms[one]) for one, name in shared.items() if name == piece.name and one in forms]
        said = "".join((text, *kin))
        called = called_piece(piece)
        nested = bool(declaration.shared_by(piece))
        tags = {plain(word.text) for word in _words(form.marks)} if form and nested else text
        if plain(piece.name) not in said or not _holds(tags, _sized(piece.size, alone=nested)):
            yield _unlike(called)
        if plain(how_cut(piece).upper()) not in said:
            yield _unlike(Words("how to cut {piece}", piece=called))
        lengths, widths = cut_lengths(piece, declaration.units), cut_widths(piece, declaration.units)
        alone = {plain(say(CUT_SIZE, length=length, width=width)) for length, width in product(lengths, widths)}
        before = {plain(f"{piece.size}: {length}") for length in lengths}
        of_nest = {plain(say(CUT_WIDTH, width=width)) for width in widths}
        row = _row_kept(piece, form, declaration.units) if form and nested else _holds(text, before)
        if not (_holds(text, alone) or (row and _holds("".join(kin), of_nest))):
            yield _unlike(Words("the size of {piece}", piece=called), name=CheckName.SAID_SIZE)
        if isinstance(piece, ContourPiece) and not (
            seams_said(piece, said, declaration.units) and band_kept(piece, said, declaration.units)
        ):
            yield _unlike(Words("the size of {piece}", piece=called), name=CheckName.SAID_SIZE)
        words = [word.text for word in _words(form.marks)] if form else []
        if not buttons_kept(piece, words, declaration.units):
            yield _unlike(Words("the buttonholes of {piece}", piece=called), name=CheckName.SAID_SIZE)
        for _ in in_others():
            if not buttons_kept(piece, words, declaration.units):
                yield _unlike(Words("the buttonholes of {piece}", piece=called), name=CheckName.SAID_SIZE)
            if isinstance(piece, ContourPiece) and not band_kept(piece, said, declaration.units):
                yield _unlike(Words("the size of {piece}", piece=called), name=CheckName.SAID_SIZE)
            if not how_cut_kept(piece, said):
                yield _unlike(Words("how to cut {piece}", piece=called))
            if not cut_size_kept(piece, said, declaration.units):
                yield _unlike(Words("the size of {piece}", piece=called), name=CheckName.SAID_SIZE)


def _row_kept(piece: Piece, form: Form, units: str) -> bool:
    """Tell whether a size's row of the table, where there is one, holds its length and the places of its notches.

    Where the table has no room no size has a row: then the chart tells the lengths.
    """
    words = [plain(word.text) for word in _words(form.marks)]
    said = [word for word in words if _LENGTH.search(word) and word != plain(piece.size or "")]
    ends = {plain(length) for length in drawn_lengths(piece, units)}
    notches = {plain(far) for notch in piece.notches for far in written(notch.at_mm, units)}
    return not said or (said[0] in ends and all(one in notches for one in said[1:]))


def _sized(size: str | None, alone: bool) -> set[str]:
    return {""} if not size else {plain(size)} if alone else {plain(say(SIZE, size=size)), plain(f"{size}: ")}


def _holds(text: Collection[str], wanted: Collection[str]) -> bool:
    return any(one in text for one in wanted)


def _pages(declaration: Declaration) -> Iterator[Check]:
    """Read page 1's table and map, and the foot of each page."""
    pages, names = printed_pages(declaration.pages), _given(declaration)
    title = plain(declaration.title)
    painted = (*declaration.printed, *(form.marks for form in declaration.forms))
    starts = [plain(word.text).rstrip("…") for marks in painted for word in _words(marks)]
    # where a label has little room, the next line of it follows on the same line of type
    least = min(LEAST_TITLE, len(title))
    if not any(one.startswith(f"{title}·") or (len(one) >= least and title.startswith(one)) for one in starts):
        yield _unlike(Words("the title"))
    for records, marks in zip(pages, declaration.printed, strict=False):
        number, words = records[0].number, _words(marks)
        yield from (_unlike(what, number) for what in foot_faults(declaration, records, marks, names))
        wrong = sizes_faults(declaration, records, marks)
        yield from (_unlike(Words("the size of {piece}", piece=piece), number) for piece in wrong)
        if any(square.page == number for square in declaration.squares):
            yield from (_unlike(what, number) for what in table_faults(declaration, words))
            yield from _map(declaration, words, number)
            yield from (_unlike(what, number) for what in number_faults(declaration, words))


def _map(declaration: Declaration, words: Sequence[Word], number: int) -> Iterator[Check]:
    """Read the page map: each page is there, and its code lies as its window does."""
    places = {page.code: row_and_column(page.code) for page in declaration.pages if page.window and page.code}
    found = [(place, word) for word in words if not word.bold and (place := places.get(word.text))]
    if not found or _given(declaration) & set(places):
        # none is drawn, or a name reads like a code
        return
    if {word.text for _, word in found} != set(places):
        yield _unlike(Words("the page map"), number)
    for axis, sign in ((0, -1), (1, 1)):
        lines: dict[int, list[float]] = {}
        for place, word in found:
            lines.setdefault(sign * place[axis], []).append(word_box(word).middle[1 - axis])
        ordered = [lines[line] for line in sorted(lines)]
        if any(max(before) >= min(after) for before, after in pairwise(ordered)):
            yield _unlike(Words("the page map"), number)


def _words(marks: Sequence[Printed]) -> list[Word]:
    return [mark for mark in marks if isinstance(mark, Word)]


def _plain_form(form: Form) -> str:
    return plain("".join(word.text for word in _words(form.marks)))
