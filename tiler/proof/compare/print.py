"""Every page as it is printed, held against all that is declared to be printed; page mm.

It is drawn again (``tiler.proof.ink.replica``): ink that no mark explains is a fault, and a mark that is not there.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import ExitStack
from dataclasses import dataclass
from itertools import islice
from math import ceil, dist, floor
from statistics import median
from types import TracebackType

from PIL import Image

from tiler.box import Box, Point
from tiler.declaration import Declaration, Page, PageKind, Tag, printed_pages
from tiler.languages.words import Words
from tiler.printed import Line, Printed, Word
from tiler.proof.compare.letters import unread
from tiler.proof.compare.weights import odd_weights
from tiler.proof.ink.comparison import Cell, around, differ, differences, plain, unlike
from tiler.proof.ink.rendering import Rendering, bands, greys_of, shows
from tiler.proof.ink.replica import replica
from tiler.proof.ink.where import Mark, coloured_on, counted_on, marks_on
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says
from tiler.proof.seen.page import PageSeen
from tiler.proof.seen.panes import NOWHERE
from tiler.proof.tolerances import SCALE
from tiler.reading.pdf.document import PageRead

CLOSE = 300
"""Dots per inch where pictures differ: one pixel is less than 0.1 mm."""

WHITE = 2.0
"""Looked at around what differs, mm."""

MOST = 60
"""Faults of one page that are told apart."""


FEW = 3
"""Of so few places a page cannot be said to lie beside its own; squares and ruler lines are asked as well."""

STILL = 0.001
"""A page that lies less than this beside its place lies there, mm."""

PAPER = Words("the paper")
NAMES: dict[str, str] = {
    Tag.CUT_LINE: Words("a cut line"),
    Tag.FOLD_LINE: Words("a fold line"),
    Tag.PRESS_LINE: Words("a press line"),
    Tag.SEAM_LINE: Words("a seam line"),
    Tag.JOIN_LINE: Words("an end seam line"),
    Tag.NOTCH: Words("a notch"),
    Tag.BUTTONHOLE: Words("a buttonhole"),
    Tag.STRETCH_ARROW: Words("a stretch arrow"),
    Tag.GRAIN_LINE: Words("a grain line"),
    Tag.TEST_SQUARE: Words("a side of a test square"),
    Tag.RULE: Words("a stroke of a ruler line"),
    Tag.REGISTER_MARK: Words("a stroke of a register mark"),
    Tag.PAGE_FRAME: Words("a side of the page frame"),
}


@dataclass(frozen=True)
class PrintFault:
    """A place where a page shows something that is not declared (``added``), or lacks what is; page mm.

    ``inside`` says that it lies in a window or on something of ours; ``what`` is the declared mark there.
    """

    page: int
    box: Box
    added: bool
    inside: bool
    what: str


class Expectation:
    """What each page of a file should show; use it as a context."""

    def __init__(self, declaration: Declaration) -> None:
        """Take what is declared; nothing is drawn yet."""
        self.declaration = declaration
        self._pages = printed_pages(declaration.pages)
        self._stack = ExitStack()
        self._drawn: dict[tuple[Point, int, Point | None], Rendering] = {}

    def __enter__(self) -> Expectation:
        """Return the expectation itself."""
        return self

    def __exit__(self, kind: type[BaseException] | None, fault: BaseException | None, at: TracebackType | None) -> None:
        """Close what was drawn."""
        self._stack.close()

    def unlike(self, page: PageSeen, read: PageRead) -> Iterator[Check]:
        """Compare the words that are read on a page, and the weights of its lines, with those declared of it."""
        records = self._records(page)
        if records is None or records[0].number > len(self.declaration.printed):
            return
        number, moved = records[0].number, self._moved(page, records)
        if not self.declaration.printed[number - 1]:
            return
        words = unread(self.declaration, number, moved, read.texts)
        if words:
            numbers = {"count": len(words)}
            yield Check(CheckName.WORDS, Status.FAIL, Says.WORDS_UNREAD, page.number, label=words[0], numbers=numbers)
        for stroke in odd_weights(self.declaration, number, moved, read.strokes)[:1]:
            label = NAMES.get(stroke.tag or "", Words("a line"))
            yield Check(CheckName.INK, Status.FAIL, Says.WEIGHT_OTHER, page.number, stroke.weight, label=label)

    def faults(self, page: PageSeen, file: Rendering) -> tuple[PrintFault, ...]:
        """Compare a page with what is declared of it; a page that is not declared is a fault elsewhere."""
        records = self._records(page)
        if records is None or records[0].number > len(self.declaration.printed):
            return ()
        number = records[0].number
        if self._off_scale(page, number):
            # it has failed, and every mark is elsewhere
            return ()
        moved, quarters = self._moved(page, records), page.boxes.quarters
        size = file.size(page.number)
        whole = page.cell.box if page.cell else Box(0.0, 0.0, *size)
        if page.cell:
            # the whole sheet is drawn again, so that both pictures of a cell begin within the same pixel
            moved = (round(moved[0] + whole.x0, 4), round(moved[1] + whole.y0, 4))
        # a file rounds the size of its pages
        near = dist(size, (self.declaration.page_width_mm, self.declaration.page_height_mm)) < STILL
        expected = self._rendering(moved, quarters, size if page.cell or (near and not quarters) else None)
        dark = self.declaration.dark
        coloured = coloured_on(self.declaration, number, moved, whole, whole_page=bool(quarters))
        # a large sheet is held against what is declared of it piece by piece, in little memory
        parts = [whole]
        if not page.cell and size == expected.size(number):
            parts = [one for part in bands(whole) for one in bands(part, greys=greys_of(part, coloured))]
        look: _Look | None = None
        found: list[PrintFault] = []
        for part in parts:
            seen = part if page.cell or len(parts) > 1 else None
            shown, show = shows(part, coloured, dark)
            coarse = shown(file, page.number, part=seen), show(expected, number, part=seen)
            if coarse[0].size != coarse[1].size:
                return (PrintFault(page.number, whole, False, True, PAPER),) if page.cell else ()
            if not differ(*coarse):
                continue
            if look is None:
                counted = counted_on(self.declaration, records, page.cell.box if page.cell else NOWHERE)
                look = _Look(page.number, counted, list(marks_on(self.declaration, number, moved)))
            if plain(*coarse):
                found += islice(look.faults(part, *coarse, exactly=True), MOST)
                continue
            for odd in around(unlike(*coarse)):
                odd_place = _place(odd, part, coarse[0].size).grown(WHITE).within(whole)
                shown, show = shows(odd_place, coloured, dark)
                for close in bands(odd_place, CLOSE, greys_of(odd_place, coloured)):
                    pictures = shown(file, page.number, CLOSE, close), show(expected, number, CLOSE, close)
                    # in small pixels anything may lie one of them beside its place
                    found += look.faults(close, *pictures, exactly=False)
        return tuple(found)

    def _rendering(self, moved: Point, quarters: int, size: Point | None) -> Rendering:
        key = (moved, quarters, size)
        if key not in self._drawn:
            self._drawn[key] = self._stack.enter_context(Rendering(replica(self.declaration, moved, quarters, size)))
        return self._drawn[key]

    def _records(self, page: PageSeen) -> Sequence[Page] | None:
        codes = {pane.code for pane in page.panes if pane.code}
        for records in self._pages:
            if codes & {record.code for record in records}:
                return records
        return (
            next((records for records in self._pages if records[0].kind is PageKind.COVER), None) if not codes else None
        )

    def _off_scale(self, page: PageSeen, number: int) -> bool:
        for axis in ("across", "down"):
            seen = sorted(one.length for one in page.rules if one.axis == axis)
            stated = sorted(o.nominal_mm for o in self.declaration.rules if o.page == number and o.axis == axis)
            if len(seen) == len(stated) and any(abs(a - b) > SCALE * b for a, b in zip(seen, stated, strict=True)):
                return True
        return False

    def _moved(self, page: PageSeen, records: Sequence[Page]) -> Point:
        """Return how far the page lies beside its place: pages are laid on marks, not on the edges of the paper."""
        pairs = [
            ((pane.frame.x0, pane.frame.y0), (record.frame.x0, record.frame.y0))
            for record in records
            for pane in page.panes
            if pane.frame and record.frame and pane.code == record.code
        ]
        number = records[0].number
        squares = sorted((one for one in self.declaration.squares if one.page == number), key=lambda one: one.at)
        rules = sorted((one for one in self.declaration.rules if one.page == number), key=lambda one: one.at)
        for seen, declared in (
            (sorted((one.box.x0, one.box.y0) for one in page.squares), squares),
            (sorted(one.start for one in page.rules), rules),
        ):
            if len(pairs) < FEW and len(seen) == len(declared):
                pairs += zip(seen, (one.at for one in declared), strict=True)
        if not pairs or page.boxes.quarters:
            return (0.0, 0.0)
        dx = median(xa - xb for (xa, _), (xb, _) in pairs) * self.declaration.factor_across
        dy = median(ya - yb for (_, ya), (_, yb) in pairs) * self.declaration.factor_down
        return (0.0, 0.0) if max(abs(dx), abs(dy)) < STILL else (round(dx, 4), round(dy, 4))


@dataclass(frozen=True)
class _Look:
    """A page that differs, with the marks that are declared on it."""

    page: int
    frames: Sequence[Box]
    marks: Sequence[Mark]

    def faults(self, part: Box, shown: Image.Image, declared: Image.Image, *, exactly: bool) -> Iterator[PrintFault]:
        """Yield what differs in a part of the page."""
        near = [mark for mark in self.marks if mark.box.overlaps(part)]
        for fault in differences(shown, declared, exactly=exactly):
            box = _place(fault.cell, part, shown.size)
            beside = [mark for mark in near if mark.touches(box)]
            inside = bool(beside) or any(frame.overlaps(box) for frame in self.frames)
            yield PrintFault(self.page, box, fault.added, inside, _named(beside))


def beside_cells(pages: Sequence[PageSeen], file: Rendering) -> Iterator[PrintFault]:
    """Yield what a sheet of several pages shows outside them all."""
    cells = [page.cell.box for page in pages if page.cell]
    if not cells:
        return
    number = pages[0].number
    whole = Box(0.0, 0.0, *file.size(number))
    shown = file.grey(number)
    kx, ky = shown.width / whole.width, shown.height / whole.height
    for box in cells:
        # what lies on the rim between two cells belongs to neither
        left, top = max(ceil(box.x0 * kx), 0), max(ceil((whole.y1 - box.y1) * ky), 0)
        right, foot = min(floor(box.x1 * kx), shown.width), min(floor((whole.y1 - box.y0) * ky), shown.height)
        shown.paste(255, (left, top, right, foot))
    for fault in islice(differences(shown, Image.new("L", shown.size, 255), exactly=True), MOST):
        yield PrintFault(number, _place(fault.cell, whole, shown.size), fault.added, False, PAPER)


def _place(cell: Cell, part: Box, pixels: tuple[int, int]) -> Box:
    """Return the place on the page of some pixels in the picture of a part of it; mm."""
    kx, ky = part.width / pixels[0], part.height / pixels[1]
    left, top, right, foot = cell
    return Box(part.x0 + left * kx, part.y1 - foot * ky, part.x0 + right * kx, part.y1 - top * ky)


def _named(marks: Sequence[Mark]) -> str:
    """Name what lies at a place, the smallest first; what lies on nothing lies on the paper."""
    ordered = sorted(marks, key=lambda one: one.box.width * one.box.height)
    names = dict.fromkeys(_name(mark.mark) for mark in ordered)
    first, *more = names or [PAPER]
    return Words("{one} and {other}", one=first, other=more[0]) if more else first


def _name(mark: Printed) -> str:
    match mark:
        case Word():
            return Words('the word "{word}"', word=mark.text)
        case Line():
            return NAMES.get(mark.tag, Words("a line"))
    return Words("a grey area")


def compare_print(faults: Sequence[PrintFault]) -> Iterator[Check]:
    """Yield a check for each page and kind of fault: something lost, added where it counts, or added beside."""
    grouped: dict[tuple[int, Says, Says, Status], list[PrintFault]] = {}
    for fault in faults:
        if not fault.added:
            kind = (Says.INK_LOST, Says.INKS_LOST, Status.FAIL)
        elif fault.inside:
            kind = (Says.INK_ADDED, Says.INKS_ADDED, Status.FAIL)
        else:
            kind = (Says.INK_BESIDE, Says.INK_BESIDE, Status.WARN)
        grouped.setdefault((fault.page, *kind), []).append(fault)
    for (page, one, many, status), group in grouped.items():
        first = min(group, key=lambda fault: fault.what == PAPER)
        yield Check(
            CheckName.INK,
            status,
            one if len(group) == 1 else many,
            page,
            label=first.what,
            box=first.box,
            numbers={"count": len(group) if len(group) < MOST else Words("many")},
        )
    if not any(status is Status.FAIL for *_, status in grouped):
        yield Check(CheckName.INK, Status.PASS, Says.INK_SEEN)
