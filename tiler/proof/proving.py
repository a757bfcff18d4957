"""The proof of a file: measure the pages, put them together, compare with what was declared."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack, nullcontext
from dataclasses import dataclass, field, replace
from functools import partial
from pathlib import Path

from tiler.declaration import Declaration, DeclarationError
from tiler.errors import UnreadableError
from tiler.languages.words import speaking
from tiler.proof.alike import Alike
from tiler.proof.compare.carried import compare_carried
from tiler.proof.compare.cells import cells_of, compare_cells
from tiler.proof.compare.compensated import compare_printer, names_printer, undone
from tiler.proof.compare.hints import compare_fonts, compare_hints
from tiler.proof.compare.host import compare_host
from tiler.proof.compare.itself import compare_itself
from tiler.proof.compare.layers import compare_layers, switched_off
from tiler.proof.compare.left_out import compare_left_out
from tiler.proof.compare.pages import Pairs, compare_boxes, compare_codes, compare_words, identify, page_of
from tiler.proof.compare.print import Expectation, PrintFault, beside_cells, compare_print
from tiler.proof.compare.said import compare_said
from tiler.proof.compare.sheet import compare_frames, compare_marks, compare_pieces, compare_places, places_on_sheet
from tiler.proof.compare.unchanged import compare_checksums
from tiler.proof.foreign.any_pdf import Expected, Noted, Others
from tiler.proof.ink.rendering import Rendering
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says
from tiler.proof.report.verdict import Report
from tiler.proof.seen.page import Cell, PageSeen, is_tagged, see, without_pieces
from tiler.proof.seen.rules import compare_rules
from tiler.proof.seen.squares import compare_squares
from tiler.proof.seen.tiles import assemble
from tiler.proof.seen.turned import turn_of
from tiler.reading.garbage import seldom_collected
from tiler.reading.limits import MOST_OBJECTS
from tiler.reading.pdf.document import Document, PageRead

Progress = Callable[[int, int], None]
"""Told how many of how many pages are measured."""


def prove(
    source: str | Path | bytes,
    progress: Progress | None = None,
    expected: Expected | None = None,
    most_objects: int = MOST_OBJECTS,
    as_made: bool = False,
    called: str | None = None,
    alike: Alike | None = None,
) -> Report:
    """Measure a PDF and judge it; ``expected`` stands in for a missing label in a file that is not ours.

    A page that paints more than ``most_objects`` is not read.  A file that is looked at ``as_made`` has to hold
    all its pages; else those of whole pieces may be left out.  In messages it is ``called`` so, instead of by its path.
    Pages of others that are ``alike`` in a file that was measured before, with nothing to measure, are not read again.
    Raises :class:`UnreadableError` and :class:`EncryptedError`; everything else is
    part of the report.
    """
    with Document(source, most_objects, called) as document, ExitStack() as stack:
        stack.enter_context(seldom_collected())
        # Until all is measured it only says whether squares must speak for themselves.
        declaration, fault = _declared(document.declarations())
        off = switched_off(declaration, document.facts.layers)
        rendering = stack.enter_context(Rendering(document.all_layers_on() if off else source))
        _count_alike(document, rendering)
        expectation = stack.enter_context(Expectation(declaration)) if declaration else None
        # what its words must be is told in its own language; what is found is told later
        stack.enter_context(speaking(*declaration.languages) if declaration else nullcontext())
        measured = _Measured(Others(expected or Expected()))
        alike = alike or Alike(keeps=False)
        for number, page in alike.pages(document):
            if isinstance(page, Noted):
                measured.size = measured.size or page.size
                measured.others.note(number, page)
            else:
                alike.keep(document, number, _measure(measured, page, document, rendering, expectation))
            if progress:
                progress(number, document.page_count)
        document.refuse_doubts(measured.tagged, measured.others.measured_pages())
        if declaration and measured.seen:
            checks = tuple(_compared(declaration, measured, document, as_made))
            media = measured.seen[0].boxes.media
            size, spoken = (media.width, media.height), declaration.languages
            return Report(document.name, document.page_count, checks, declaration.printer, size, spoken)
        drafted = bool(measured.tagged or declaration)
        # a file without an attachment has no fault that anybody need be told of
        told = fault if drafted or document.declarations() else None
        checks = tuple(_of_others(measured, told, drafted))
        return Report(document.name, document.page_count, checks, page_mm=measured.size)


@dataclass
class _Measured:
    """What was measured page by page: pages of ours, how they are printed and read, and what is of others."""

    others: Others
    seen: list[PageSeen] = field(default_factory=list)
    printed: list[PrintFault] = field(default_factory=list)
    beside: list[PrintFault] = field(default_factory=list)
    read: list[Check] = field(default_factory=list)
    tagged: set[int] = field(default_factory=set)
    size: tuple[float, float] | None = None


def _count_alike(document: Document, rendering: Rendering) -> None:
    """Refuse a file in which the two engines do not find as many pages."""
    if rendering.page_count != document.page_count:
        raise UnreadableError(
            f"{document.name} is damaged: one reader finds {document.page_count} pages, another "
            f"{rendering.page_count}; make or download it again"
        )


def _measure(
    measured: _Measured, page: PageRead, document: Document, rendering: Rendering, expectation: Expectation | None
) -> Noted | None:
    """Measure a page, or each cell of a sheet of several, and look at how it is printed.

    Return what was noted of a page of others on which there is nothing to measure.
    """
    measured.size = measured.size or (page.boxes.media.width, page.boxes.media.height)
    ours = is_tagged(page)
    if ours:
        measured.tagged.add(page.number)
    if expectation is None or not ours:
        ink = partial(rendering.ink, page.number, page.boxes)
        noted = measured.others.look(without_pieces(page) if ours else page, ink)
        return None if ours else noted
    upright, turned = _upright(page, document, rendering)
    here: list[PageSeen] = []
    for one, cell in cells_of(expectation.declaration, upright) or [(upright, None)]:
        here.append(replace(_for_printer(one, expectation.declaration, cell), turned=turned))
        measured.printed += expectation.faults(here[-1], rendering)
        measured.read += expectation.unlike(here[-1], one)
    measured.beside += beside_cells(here, rendering)
    measured.seen += here
    return None


def _compared(declaration: Declaration, measured: _Measured, document: Document, as_made: bool) -> Iterator[Check]:
    """Compare what was measured with what is declared, and the declaration with itself."""
    yield from _ours(declaration, measured.seen, document, whole=as_made or bool(measured.beside))
    yield from compare_print([*measured.printed, *measured.beside])
    yield from measured.read
    yield from compare_itself(declaration)
    yield from compare_said(declaration)
    yield from compare_host(declaration, measured.seen, document.page_count)
    yield from measured.others.measured()


def _of_others(measured: _Measured, fault: Check | None, drafted: bool) -> Iterator[Check]:
    """Judge a file by its squares and lines alone; one that says it was ``drafted`` never passes as anybody's file."""
    if drafted:
        yield fault or Check(CheckName.DECLARATION, Status.FAIL, Says.TAGS_LOST)
        yield from measured.others.checks()
    else:
        yield from measured.others.checks(replace(fault, status=Status.WARN) if fault else None)


def _upright(page: PageRead, document: Document, rendering: Rendering) -> tuple[PageRead, int]:
    """Return a page the way up that its words are read, and its turn; from here on it is rendered that way too."""
    turn = turn_of(page)
    if turn and page.boxes.rotate % 90 == 0:
        rotate = (page.boxes.rotate + 90 * turn) % 360
        page = document.turned(page.number, rotate)
        rendering.turn(page.number, rotate)
    if page.boxes.quarters:
        page = replace(page, boxes=page.boxes.as_shown())
    return page, -90 * turn % 360


def _for_printer(page: PageRead, declaration: Declaration, cell: Cell | None) -> PageSeen:
    """Measure a page, or a cell of a sheet, as the printer that it is made for will show it."""
    if declaration.printer is None:
        return see(page, cell)
    shown = see(undone(page, declaration.factor_across, declaration.factor_down))
    # words are as tall as they are drawn, which is larger than true by the factor down the page
    lines = [(text.text, text.size / declaration.factor_down) for text in page.texts]
    return replace(shown, only_for=names_printer(lines, declaration.printer))


def _declared(attached: Sequence[bytes]) -> tuple[Declaration | None, Check | None]:
    """Return the declaration, or what is wrong with it."""
    if len(attached) > 1:
        count = {"count": len(attached)}
        return None, Check(CheckName.DECLARATION, Status.FAIL, Says.DECLARATION_MANY, numbers=count)
    if not attached:
        return None, Check(CheckName.DECLARATION, Status.FAIL, Says.DECLARATION_NONE)
    try:
        return Declaration.from_bytes(attached[0]), None
    except DeclarationError as fault:
        reason = {"reason": str(fault)}
        return None, Check(CheckName.DECLARATION, Status.FAIL, Says.DECLARATION_BROKEN, numbers=reason)


def _ours(declaration: Declaration, seen: Sequence[PageSeen], document: Document, whole: bool) -> Iterator[Check]:
    facts, pages = document.facts, document.page_count
    panes = [pane for page in seen for pane in page.panes]
    # beside what is of others nobody can tell a page that was taken out from one that has lost its marks
    alone = len({page.number for page in seen}) == pages
    pairs, checks, left = identify(declaration, panes, may_be_left_out=alone and not whole)
    yield from _scales(declaration, pairs, seen)
    yield from compare_boxes(declaration, seen)
    yield from compare_cells(declaration, pairs, seen)
    yield from checks
    yield from compare_left_out(declaration, left)
    yield from compare_codes(pairs)
    assembly = assemble(panes)
    tiles = [(declared, page) for declared, page in pairs if declared.window]
    yield from compare_frames(pairs)
    yield from compare_marks(declaration, assembly)
    places = places_on_sheet(tiles, assembly)
    yield from compare_places(tiles, places)
    yield from compare_pieces(declaration, pairs, places, assembly, left)
    if declaration.printer is not None:
        yield from compare_printer(declaration.printer, declaration, seen)
    yield from compare_words(seen)
    yield from compare_layers(declaration, facts.layers, seen, pages, left)
    yield from compare_carried(facts, seen, pages)
    yield from compare_hints(facts, declaration, pairs)
    yield from compare_fonts(seen)
    yield from compare_checksums(declaration, pairs, {page.number: document.checksum(page.number) for page in seen})


def _scales(declaration: Declaration, pairs: Pairs, seen: Sequence[PageSeen]) -> Iterator[Check]:
    pages = {page.panes[0].page: page for page in seen}
    on_page: dict[tuple[int, int], set[int]] = {}
    for declared, place in page_of(pairs).items():
        on_page.setdefault(place, set()).add(declared)
    for place, numbers in on_page.items():
        page = pages[place]
        squares = [square for square in declaration.squares if square.page in numbers]
        rules = [rule for rule in declaration.rules if rule.page in numbers]
        yield from compare_squares(squares, page.squares, page.number)
        yield from compare_rules(rules, page.rules, page.odd_ticks, page.number)
        if page.odd_squares:
            yield Check(CheckName.SQUARE_PLACE, Status.FAIL, Says.SQUARE_BROKEN, page.number)
