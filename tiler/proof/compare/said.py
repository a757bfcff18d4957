"""What the words on the pages say, held against what is declared of the lines; mm.

All ink is held against the declared words and all lengths against the declared lengths; here the
one is held against the other, as a person would who reads the page with a ruler at hand.  So a square
that says "2 in" and is declared and drawn smaller is off, and so is a piece that is shorter than its
own label.  What the words should say follows from the declared lengths by the rules of the tape.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Sequence
from itertools import pairwise, product, takewhile

from tiler.box import Box
from tiler.declaration import Declaration, Rule, Square, printed_pages
from tiler.drawn import Piece
from tiler.languages.proved import CUT, CUT_SIZE, CUT_WIDTH, ON_PAGES, SIZE
from tiler.languages.words import Words, in_others, pattern, say, speaking
from tiler.printed import Form, Printed, Word
from tiler.proof.compare.left_out import called_piece
from tiler.proof.foreign.size_words import sizes_named
from tiler.proof.ink.foot import foot_faults
from tiler.proof.ink.numbers import number_faults
from tiler.proof.ink.where import word_box
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says
from tiler.proof.seen.page import row_and_column
from tiler.proof.tolerances import VECTOR
from tiler.proof.words.cutting import cut_lengths, cut_widths, drawn_lengths, how_cut, spans, written
from tiler.proof.words.stacked import cut_size_kept, how_cut_kept, plain

UNITS = {"in": 25.4, "cm": 10.0}
"""NIST SP 811, App. B: 1 in = 25.4 mm exactly."""

BESIDE = 4.0
"""The numerals of a ruler line stand no further beside it, mm."""

AT_TICK = 1.2
"""The middle of a numeral stands no further from its tick along the line, mm."""

BEYOND = 8.0
"""The unit of a ruler line stands no further beyond its end, mm."""

LEAST_TITLE = 4
"""Characters of a long title that every place has room for."""

_LENGTH = re.compile(r"\d(?:in|cm)")
_CODES = "(?P<codes>(?:[A-Z0-9]+, )*[A-Z0-9]+)"


def compare_said(declaration: Declaration) -> Iterator[Check]:
    """Hold every size, count, name and page number that is printed against the declared one."""
    with speaking(*declaration.languages):
        checks = [*_measures(declaration), *_pieces(declaration), *_pages(declaration)]
    yield from checks
    if not checks:
        yield Check(CheckName.WORDS, Status.PASS, Says.SAID_KEPT)


def _given(declaration: Declaration) -> set[str]:
    """Return the words that the maker gave, which may be anything."""
    return {declaration.title, *(name for piece in declaration.pieces for name in (piece.name, piece.size) if name)}


def _off(said: float, stated: float, label: str, page: int) -> Check:
    return Check(CheckName.SAID_SIZE, Status.FAIL, Says.SAID_SIZE, page, stated, said, label=label)


def _unlike(label: str, page: int | None = None, name: CheckName = CheckName.WORDS) -> Check:
    return Check(name, Status.FAIL, Says.SAID_UNLIKE, page, label=label)


def _measures(declaration: Declaration) -> Iterator[Check]:
    """Read what stands in the squares and at the ticks of the ruler lines."""
    others = _given(declaration)
    for number, marks in enumerate(declaration.printed, 1):
        words = [(word.text, word_box(word)) for word in _words(marks) if word.text]
        for square in declaration.squares:
            if square.page == number:
                yield from _square(square, words)
        yield from _numerals([rule for rule in declaration.rules if rule.page == number], words, number, others)


def _square(square: Square, words: Sequence[tuple[str, Box]]) -> Iterator[Check]:
    sizes = [size for text, at in words if square.box.holds(at) for size, _ in sizes_named(text)]
    for size in sizes:
        if abs(size - square.nominal_mm) > VECTOR:
            yield _off(size, square.nominal_mm, Words("the {label} square", label=square.label), square.page)
    if not sizes:
        yield _unlike(Words("the {label} square", label=square.label), square.page)


def _numerals(
    rules: Sequence[Rule], words: Sequence[tuple[str, Box]], number: int, others: Collection[str]
) -> Iterator[Check]:
    """Give each numeral and unit to the ruler line that it stands nearest to, and hold it against its place.

    A size or a name may be a numeral that belongs to none: ``others``.
    """
    marked: list[set[str]] = [set() for _ in rules]
    for text, box in words:
        if not (text.isdecimal() or text in UNITS):
            continue
        near = sorted((*_on(rule, box), index) for index, rule in enumerate(rules))
        near = [one for one in near if one[0] <= BESIDE and -AT_TICK <= one[1] <= rules[one[2]].nominal_mm + BEYOND]
        fit = [index for _, along, index in near if _at(rules[index], text, along)]
        if fit:
            marked[fit[0]].add(text)
        elif near and text not in others:
            rule = rules[near[0][2]]
            yield _off(_said(rule, text), near[0][1], Words("{rule}, a numeral", rule=_called(rule)), number)
    for rule, texts in zip(rules, marked, strict=True):
        count, unit = round(rule.nominal_mm / UNITS.get(_unit(rule), 1.0)), _unit(rule)
        if not {str(count), unit} <= texts:
            yield _unlike(_called(rule), number)


def _at(rule: Rule, text: str, along: float) -> bool:
    """Tell whether a numeral stands at its tick, or a unit beyond the end of its own line."""
    if text in UNITS:
        return text == _unit(rule) and along >= rule.nominal_mm - AT_TICK
    return abs(_said(rule, text) - along) <= AT_TICK


def _said(rule: Rule, text: str) -> float:
    return int(text) * UNITS.get(_unit(rule), 0.0) if text.isdecimal() else rule.nominal_mm


def _unit(rule: Rule) -> str:
    return rule.label.split()[-1]


def _called(rule: Rule) -> str:
    return Words("the {label} ruler line {axis}", label=rule.label, axis=Words(rule.axis))


def _on(rule: Rule, box: Box) -> tuple[float, float]:
    """Return how far beside a ruler line a word begins, and where along it its middle stands."""
    (x, y), (u, v) = rule.at, box.middle
    if rule.axis == "across":
        return min(abs(box.y0 - y), abs(box.y1 - y)), u - x
    return min(abs(box.x0 - x), abs(box.x1 - x)), v - y


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
        for _ in in_others():
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
        if any(square.page == number for square in declaration.squares):
            yield from _table(declaration, words, number)
            yield from _map(declaration, words, number)
            yield from (_unlike(what, number) for what in number_faults(declaration, words))


def _table(declaration: Declaration, words: Sequence[Word], number: int) -> Iterator[Check]:
    """Read the table of pieces cell by cell: a name, its size or sizes, how to cut it, length × width, pages."""
    named = [(plain(piece.name), piece) for piece in declaration.pieces]
    how = re.compile("|".join(pattern(template, count=r"\d+") for template in CUT.values()), re.IGNORECASE)
    on_pages = re.compile(f" {pattern(ON_PAGES, pages=_CODES)}")
    for cut in (index for index, word in enumerate(words) if not word.bold and how.fullmatch(word.text)):
        pieces = _named(named, words[:cut])
        row = list(takewhile(lambda word: not word.bold, words[cut + 1 :]))
        if not pieces or not row or row[0].at[0] <= words[cut].at[0]:
            # a name or a title may read like how to cut a piece
            continue
        said = " ".join(word.text for word in row).replace("\u00a0", " ")
        pages = on_pages.search(said)
        told = how_cut(pieces[0]) == words[cut].text and _measured(pieces, said, declaration.units)
        if not told or (pages and not set(pages["codes"].split(", ")) <= {page.code for page in declaration.pages}):
            yield _unlike(Words("{piece} in the table of pieces", piece=pieces[0].name), number)


def _named(named: Sequence[tuple[str, Piece]], before: Sequence[Word]) -> Sequence[Piece]:
    """Return the piece that the bold words before a cell name, or the first and the last of its sizes."""
    bold = list(takewhile(lambda word: word.bold, reversed(before)))[::-1]
    for start, end in product(range(len(bold)), range(len(bold), 0, -1)):
        name, size = (plain("".join(word.text for word in part)) for part in (bold[start:end], bold[end:]))
        pieces = [piece for one, piece in named if one == name]
        for way in (*((one,) for one in pieces), *product(pieces, pieces)):
            if plain("–".join(one.size or "" for one in way)) == size:
                return way
    return ()


def _measured(pieces: Sequence[Piece], said: str, units: str) -> bool:
    """Tell whether a row begins with the length and width of its piece, or with what they run over in its sizes."""
    first, last = pieces[0], pieces[-1]
    starts, ends = drawn_lengths(first, units), cut_lengths(last, units)
    lengths = {*(cut_lengths(first, units) & ends), *spans(starts, ends)}
    across, over = cut_widths(first, units), cut_widths(last, units)
    runs = lengths, {*(across & over), *spans(across, over)}
    return any(plain(said).startswith(plain(f"{length} × {width}")) for length, width in product(*runs))


def _map(declaration: Declaration, words: Sequence[Word], number: int) -> Iterator[Check]:
    """Read the page map: each page is there, and its code lies as its window does."""
    places = {page.code: row_and_column(page.code) for page in declaration.pages if page.code}
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
