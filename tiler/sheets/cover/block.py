"""The block of the first page, with what it says of this file: its paper, its pieces and where they lie; page mm."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from itertools import groupby
from math import ceil

from tiler.declaration import Page, PageKind, Rule, Square
from tiler.draft.bought import told_marks
from tiler.draft.edition import Edition
from tiler.draft.figures import Figures
from tiler.draft.judged import named, not_passed
from tiler.draft.label import KEEP, Label, label_of
from tiler.draft.strip.fittings import told_fittings
from tiler.draft.views import in_views
from tiler.languages.proved import ON_PAGES, SPAN
from tiler.languages.words import Words, in_each, languages, say, speaking, told
from tiler.lengths import both
from tiler.paper import ONE_SHEET, PAPER_WORDS
from tiler.sentence import span
from tiler.sheets.canvas import Canvas
from tiler.sheets.cover.cutting import MOST_FAILED
from tiler.sheets.cover.first_page import BLOCK_HEIGHT, BLOCK_WIDTH, MARGIN, Cover, cover_height, draw_cover
from tiler.sheets.cover.left_out import left_out
from tiler.sheets.cover.lengths import lengths_by_size
from tiler.sheets.cover.notes import Note
from tiler.sheets.cover.piece_table import BREAK, CoverPiece
from tiler.sheets.cover.sizes import SizePages, pages_of_sizes
from tiler.sheets.cover.words import CoverWords
from tiler.sheets.layout import placed
from tiler.sheets.layout.sheet import Sheet
from tiler.sheets.page.rulers import LONG_DOWN, SHORT

MOST_TOLD = 900
"""So many characters about failed checks are told in full; more of them in short."""

TALLEST = 273.0
"""As high as the block becomes on a page that has the room: that of A4, mm."""

LEAST_FOOT = 10.5
"""Kept below the block for the foot of the page where the drawing is enlarged for a printer, mm."""

WHITE = 6.0
"""White above the cautions at the foot of a block that is as high as it needs, mm."""


def draw_block(canvas: Canvas, sheet: Sheet, edition: Edition, number: int) -> tuple[list[Square], list[Rule]]:
    """Draw the block on the page of this number: the first one, or the only one, beside the pieces."""
    spoken, words = _spoken(sheet, edition)
    with speaking(*spoken):
        made = _drawn(canvas, sheet, words, number)
    return made.squares, made.rules


def unsaid(sheet: Sheet, edition: Edition) -> tuple[tuple[str, ...], tuple[tuple[str, Note], ...]]:
    """Return the failed checks, and the notes with their numbers and pieces, that a first page has no room for."""
    if sheet.pages[0].kind is not PageKind.COVER:
        return (), ()
    spoken, words = _spoken(sheet, edition)
    if not words.notes and len(words.failed) <= MOST_FAILED:
        return (), ()
    with speaking(*spoken):
        made = _drawn(Canvas(), sheet, words, 1)
    notes = enumerate(_notes(sheet, edition).items(), 1)
    return words.failed[made.failed :], tuple(
        (str(number), tuple(say("{about}: {text}", about=named(about), text=text) for text in note))
        for number, (note, about) in notes
        if number > made.notes
    )


def _spoken(sheet: Sheet, edition: Edition) -> tuple[tuple[str, ...], CoverWords]:
    """Return the languages of the block and its words; of two the leading one alone where both have no room.

    The second language leaves cells and notes before it leaves the steps.
    """
    spoken, words = languages(), _words(sheet, edition)
    if len(spoken) == 1:
        return spoken, words
    for way in (words, words.plain):
        if _drawn(Canvas(), sheet, way, 1).left >= 0:
            return spoken, way
    with speaking(spoken[0]):
        return spoken[:1], _words(sheet, edition)


def _drawn(canvas: Canvas, sheet: Sheet, words: CoverWords, number: int) -> Cover:
    page = sheet.page
    corner = sheet.corner or ((page.width - BLOCK_WIDTH) / 2, page.height - MARGIN)
    size = sheet.block
    if sheet.corner is None:
        size = (BLOCK_WIDTH, max(min(BLOCK_HEIGHT, corner[1] - LEAST_FOOT), min(TALLEST, corner[1] - MARGIN)))
    outlines = [place.in_small for place in sheet.pieces]
    return draw_cover(canvas, number, corner, words, _tiles(sheet), outlines, size)


def _tiles(sheet: Sheet) -> list[Page]:
    return [one for one in sheet.pages if one.window]


def block_fits(sheet: Sheet, edition: Edition) -> bool:
    """Tell whether the block has room beside the pieces of a single page, in the leading language at least."""
    width, height = sheet.block
    with speaking(languages()[0]):
        return cover_height(_words(sheet, edition), width, SHORT) <= height


def block_height(sheet: Sheet, edition: Edition) -> float:
    """Return how high the block must be beside the pieces of one page, all of its lists whole."""
    return ceil(cover_height(_words(sheet, edition), BLOCK_WIDTH, LONG_DOWN) + WHITE)


def _words(sheet: Sheet, edition: Edition) -> CoverWords:
    bought = sheet.drawing.bought
    figures = [*(place.lettered.piece.figures for place in sheet.pieces), *bought]
    tiles, notes = _tiles(sheet), _notes(sheet, edition)
    sizes = _sizes(sheet, tiles)
    kin: dict[tuple[str, str], list[placed.Placed]] = {}
    for place in sheet.pieces:
        piece = place.lettered.piece
        kin.setdefault((piece.figures.name, piece.label.cut), []).append(place)
    # what is nowhere else to be read comes first
    listed = [_bought_row(one, edition, notes) for one in bought]
    shown = () if len(tiles) == 1 and len(tiles) == len(sheet.pages) else tiles
    across, down = sheet.drawing.factors
    size = " × ".join(told(both(side, edition.units)) for side in (sheet.page.width * across, sheet.page.height * down))
    return CoverWords(
        title=edition.title,
        edition=edition.imprint,
        paper=f"{say(PAPER_WORDS[sheet.page.name])}, {size}",
        paper_is_fixed=sheet.page.name != ONE_SHEET,
        pages=sheet.pages[-1].number,
        logo=edition.logo,
        projected=sheet.drawing.projected is not None,
        host=sheet.drawing.host,
        taped=bool(sheet.marks),
        in_rows=_in_rows(sheet),
        pieces=(*listed, *(_row([place], shown, notes) for place in sheet.pieces)),
        grouped=(*listed, *(_row(places, () if sizes else shown, notes) for places in kin.values())),
        notes=tuple(notes),
        lengths=lengths_by_size(kin.values()),
        sizes=sizes,
        only_for=sheet.drawing.only_for,
        failed=tuple(line for _ in in_each() for line in _failed(figures)),
        for_child=any(one.for_child for one in figures),
    )


def _in_rows(sheet: Sheet) -> bool:
    """Tell whether pages, not panes, are taped to others beside them and to others below."""
    tiles = {page.code: page for page in sheet.pages if page.kind is PageKind.TILE}
    joints = [[tiles[code] for code in mark.tiles] for mark in sheet.marks if {*mark.tiles} <= {*tiles}]
    return len({one.row == other.row for one, other in joints}) > 1


def _notes(sheet: Sheet, edition: Edition) -> dict[Note, list[Figures]]:
    """Return what is remarked, with the pieces that it is about: fittings, warnings, and what labels left out."""
    drawn = Counter(place.declared.name for place in sheet.pieces)
    found = [
        (one, tuple(told(remark) for _ in in_each()))
        for one in sheet.drawing.bought
        for remark in (one.cut_words, told_marks(one.notches, edition.units, one.first_part), *one.for_sewing)
        if remark
    ]
    for place in sheet.pieces:
        one = place.lettered.piece.figures
        unsaid = left_out(place.lettered, sheet.shared, in_sizes=drawn[one.name] > 1 and one.size is not None)
        fitted = (
            [Words("{fittings}: drawn so", fittings=told_fittings(one.fittings, edition.units))] if one.fittings else []
        )
        remarks = [*fitted, *one.for_sewing]
        found += [(one, note) for note in (*(tuple(told(remark) for _ in in_each()) for remark in remarks), *unsaid)]
    notes: dict[Note, list[Figures]] = {}
    for one, note in found:
        begun = tuple(dict.fromkeys(text[:1].upper() + text[1:] for text in note))
        notes.setdefault(begun, []).append(one)
    return notes


def _bought_row(one: Figures, edition: Edition, notes: Mapping[Note, Sequence[Figures]]) -> CoverPiece:
    """Return the row of what is bought and has no page."""
    labels = [label_of(one, edition) for _ in in_each()]
    return CoverPiece(
        name=told(in_views(one.name, one.views)),
        size=one.size or "",
        count=_each(told(one.cut.counted(one.quantity)) for _ in in_each()),
        measures=_each(_measures(label, label) for _, label in zip(in_each(), labels, strict=True)),
        fabric=" · ".join(part for part in (told(one.finish_words), one.fabric) if part),
        pages="",
        notes=_numbered([number for number, about in enumerate(notes.values(), 1) if one in about]),
    )


def _row(places: Sequence[placed.Placed], tiles: Sequence[Page], notes: Mapping[Note, Sequence[Figures]]) -> CoverPiece:
    """Return the row of a piece, or of one in several sizes, from the first to the last of them."""
    first, last = (place.lettered.piece for place in (places[0], places[-1]))
    figures = first.figures
    own = [place.lettered.piece.figures for place in places]
    codes = [tile.code or "" for tile in placed.pages_of(places, tiles)]
    if tiles and tiles[0].kind is PageKind.PANE:
        codes.sort(key=lambda code: (len(code), code))
    return CoverPiece(
        name=told(in_views(figures.name, figures.views)),
        size=span(figures.size or "", last.figures.size or ""),
        count=_each(told(figures.cut.counted(figures.quantity)) for _ in in_each()),
        measures=_each(_measures(*ends) for _, *ends in zip(in_each(), first.labels, last.labels, strict=False)),
        fabric=figures.fabric or "",
        pages=_on(codes),
        notes=_numbered([number for number, about in enumerate(notes.values(), 1) if any(one in about for one in own)]),
    )


def _numbered(numbers: Sequence[int]) -> str:
    """List numbers, three and more that follow each other as a span."""
    runs = [[number for _, number in run] for _, run in groupby(enumerate(numbers), lambda pair: pair[1] - pair[0])]
    return ", ".join(f"{run[0]}–{run[-1]}" if len(run) > 2 else ", ".join(map(str, run)) for run in runs)


def _each(told: Iterable[str]) -> str:
    """Return what a cell says, in one line for each language that says it otherwise than by its decimal sign."""
    words: dict[str, str] = {}
    for text in told:
        words.setdefault(text.replace(",", "."), text)
    return BREAK.join(words.values())


def _on(codes: Sequence[str]) -> str:
    """List the pages, the last two on one line: one that stood alone would read like the page of a map."""
    return say(ON_PAGES, pages=", ".join([*codes[:-2], f",{KEEP}".join(codes[-2:])])) if codes else ""


def _measures(first: Label, last: Label) -> str:
    """Return length and width, or both ends of what they run over in the sizes of a piece."""
    lengths, widths = (
        end if start == end else say(SPAN, first=bare, last=end)
        for start, bare, end in (
            (first.cut_length, first.end, last.cut_length),
            (first.cut_width, first.cut_width, last.cut_width),
        )
    )
    return f"{lengths} ×{KEEP}{widths}"


def _failed(figures: Sequence[Figures]) -> tuple[str, ...]:
    """Say which checks are not passed; where that is much, only in short, and of the sizes of a piece together."""
    found = not_passed(figures)
    whole = [say("{about}: {text}", about=named(pieces), text=one.on_paper) for one, pieces in found.items()]
    if sum(map(len, whole)) <= MOST_TOLD:
        return tuple(whole)
    short: dict[str, list[Figures]] = {}
    for one, pieces in found.items():
        short.setdefault(one.short, []).extend(pieces)
    return tuple(say("{pieces}: {short}.", pieces=named(pieces), short=said) for said, pieces in short.items())


def _sizes(sheet: Sheet, tiles: Sequence[Page]) -> tuple[SizePages, ...]:
    """Say which pages each size needs, where there are several of both."""
    if len(tiles) == 1 or all(place.declared.size is None for place in sheet.pieces):
        return ()
    return pages_of_sizes(sheet.pieces, tiles, sheet.drawing.host)
