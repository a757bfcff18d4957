"""Sheets that show several of our pages beside each other, at 100 %, and their cells; mm.

Each cell is taken out as a page of its own and judged as one.  Where it lies follows from its page
frame or, of the first page, from its test squares; from there on nothing may be elsewhere.  A sheet
that cannot be taken apart without a rest stays what it is, and fails.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from math import dist

from tiler.box import Box, Point
from tiler.declaration import PIECE_TAGS, Declaration, Page, PageKind, Square, Tag
from tiler.languages.words import Words
from tiler.proof.compare.left_out import called
from tiler.proof.compare.pages import Pairs
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says
from tiler.proof.seen.page import LONG, Cell, PageSeen
from tiler.proof.seen.panes import away
from tiler.proof.tolerances import MISPLACED, VECTOR
from tiler.reading.pdf.boxes import PageBoxes
from tiler.reading.pdf.carried import NOTHING_CARRIED
from tiler.reading.pdf.document import PageRead
from tiler.reading.pdf.strokes import Stroke
from tiler.reading.pdf.text import Text
from tiler.sentence import joined

BROAD = 3.0
"""What is drawn beside all cells, is long, and on its shorter side wider than this may be a piece."""

MOST_CELLS = 64
"""A sheet with more is not taken apart."""

RIM = 0.1
"""So far a mark of a page may reach beyond its cell, mm."""


@dataclass(frozen=True)
class _Found:
    """A cell: where it lies on its sheet, and up to which of the painted paths its windows go; 0 without any."""

    box: Box
    last: int = 0


def cells_of(declaration: Declaration, sheet: PageRead) -> tuple[tuple[PageRead, Cell], ...]:
    """Return each cell of a sheet as a page, and where it lies; nothing for a page that is no such sheet.

    A file that is drawn for one printer is not taken apart: its errors are those of places on its paper.
    """
    wide, high = declaration.page_width_mm, declaration.page_height_mm
    if declaration.printer is not None or not _holds_two(sheet.boxes, wide, high) or not _on_paper(declaration):
        return ()
    tiles = _tiles(declaration, sheet)
    covers = None if tiles is None else _covers(declaration, sheet, tiles)
    if tiles is None or covers is None:
        return ()
    found = [*tiles, *covers]
    whole = Box(0.0, 0.0, sheet.boxes.width, sheet.boxes.height).grown(VECTOR)
    if not 0 < len(found) <= MOST_CELLS or not all(whole.holds(one.box) for one in found):
        return ()
    if any(one.box.overlaps(other.box, VECTOR) for one, other in combinations(found, 2)):
        return ()
    shares = _shares(sheet, sorted(found, key=lambda one: one.last))
    return tuple(_taken_out(sheet, *share, index) for index, share in enumerate(shares)) if shares else ()


def _holds_two(boxes: PageBoxes, wide: float, high: float) -> bool:
    """Tell whether a sheet, which is shown whole and upright, has room for two pages."""
    shown = boxes.shown
    cut = max(shown.x0, shown.y0, boxes.width - shown.x1, boxes.height - shown.y1)
    if cut > VECTOR or boxes.rotate or boxes.user_unit != 1.0:
        return False
    return int((boxes.width + VECTOR) // wide) * int((boxes.height + VECTOR) // high) > 1


def _tiles(declaration: Declaration, sheet: PageRead) -> list[_Found] | None:
    """Find the cells that have page frames, by the codes in them; None when one of them cannot be told."""
    records = {page.code: page for page in declaration.pages if page.code and page.frame}
    frames = [stroke for stroke in sheet.strokes if stroke.tag == Tag.PAGE_FRAME]
    pages: dict[int, list[tuple[Page, Stroke]]] = {}
    taken: set[int] = set()
    for code in (text for text in sheet.texts if text.tag == Tag.TILE_CODE):
        record = records.get(code.text)
        at = code.box.middle
        homes = [index for index, frame in enumerate(frames) if _within(at, frame.box)]
        if record and record.kind is PageKind.TILE and frames and not homes:
            # it stands in the foot of the page, below its frame
            homes = [min(range(len(frames)), key=lambda index: away(at, frames[index].box))]
        if record is None or len(homes) != 1 or homes[0] in taken:
            return None
        taken.add(homes[0])
        pages.setdefault(record.number, []).append((record, frames[homes[0]]))
    if len(taken) < len(frames):
        return None
    return [found for placed in pages.values() for found in _grouped(declaration, placed)]


def _grouped(declaration: Declaration, placed: Sequence[tuple[Page, Stroke]]) -> Iterator[_Found]:
    """Put the frames of one declared page together that lie as its own do; a copy of a page is a cell of its own."""
    groups: list[tuple[Point, list[tuple[Page, Stroke]]]] = []
    for record, frame in placed:
        assert record.frame is not None
        at = (frame.box.x0 - record.frame.x0, frame.box.y0 - record.frame.y0)
        home = next((group for first, group in groups if dist(first, at) <= MISPLACED), None)
        if home is not None and record.kind is PageKind.PANE:
            home.append((record, frame))
        else:
            groups.append((at, [(record, frame)]))
    for at, group in groups:
        yield _Found(_page_at(declaration, at), max(frame.order for _, frame in group))


def _covers(declaration: Declaration, sheet: PageRead, tiles: Sequence[_Found]) -> list[_Found] | None:
    """Find the cells of the first page by its test squares; None when they do not lie as they are declared."""
    first = next((page.number for page in declaration.pages if page.kind is PageKind.COVER), None)
    squares = [square for square in declaration.squares if square.page == first]
    groups: list[tuple[Point, list[Square]]] = []
    for stroke in sheet.strokes:
        box = stroke.box
        if stroke.tag != Tag.TEST_SQUARE or any(tile.box.grown(RIM).holds(box) for tile in tiles):
            continue
        square = min(squares, key=lambda one: abs(one.nominal_mm - box.width), default=None)
        if square is None:
            return None
        at = (box.x0 - square.at[0], box.y0 - square.at[1])
        home = next((group for where, group in groups if dist(where, at) <= MISPLACED and square not in group), None)
        if home is None:
            groups.append((at, [square]))
        else:
            home.append(square)
    if any(len(group) != len(squares) for _, group in groups):
        return None
    return [_Found(_page_at(declaration, at)) for at, _ in groups]


def _page_at(declaration: Declaration, at: Point) -> Box:
    # without the dust of a subtraction; 0.0 is added for -0.0
    return _paper(declaration).moved(round(at[0], 4) + 0.0, round(at[1], 4) + 0.0)


def _paper(declaration: Declaration) -> Box:
    return Box(0.0, 0.0, declaration.page_width_mm, declaration.page_height_mm)


def _on_paper(declaration: Declaration) -> bool:
    """Tell whether all that is measured is declared to lie on its page, so that a cell shows it."""
    boxes = [
        *(page.frame for page in declaration.pages if page.frame),
        *(square.box for square in declaration.squares),
        *(Box(*rule.at, *rule.end) for rule in declaration.rules),
    ]
    return all(_paper(declaration).holds(box) for box in boxes)


def _within(at: Point, box: Box) -> bool:
    return box.x0 <= at[0] <= box.x1 and box.y0 <= at[1] <= box.y1


def _shares(sheet: PageRead, cells: Sequence[_Found]) -> list[tuple[_Found, list[Stroke], list[Text]]] | None:
    """Give each cell what is painted for it; None when a mark of ours, or what may be a piece, belongs to none.

    Pieces are painted whole, under clips that are not known here, and then the frame.  So what is painted from
    the first line of a piece up to the last frame of its cell belongs to that cell; all else does where it lies.
    """
    shares: list[tuple[_Found, list[Stroke], list[Text]]] = [(cell, [], []) for cell in cells]
    windows = [index for index, cell in enumerate(cells) if cell.last]
    begun: dict[int, int] = {}
    for stroke in sheet.strokes:
        block = next((index for index in windows if stroke.order <= cells[index].last), None)
        piece = stroke.tag in PIECE_TAGS
        if block is not None and piece:
            begun.setdefault(block, stroke.order)
        elif piece:
            return None
        home = block if block in begun else _home(stroke.box, cells)
        if home is not None:
            shares[home][1].append(stroke)
        elif stroke.tag in tuple(Tag) or _like_a_piece(stroke):
            return None
    for text in sheet.texts:
        block = next((index for index in windows if text.order < cells[index].last), None)
        inside = block is not None and begun.get(block, text.order + 1) <= text.order
        home = block if inside else _home(text.box, cells)
        if home is not None:
            shares[home][2].append(text)
        elif text.tag == Tag.TILE_CODE:
            return None
    return shares


def _like_a_piece(stroke: Stroke) -> bool:
    box = stroke.box
    return stroke.stroked and max(box.width, box.height) >= LONG and min(box.width, box.height) > BROAD


def _home(box: Box, cells: Sequence[_Found]) -> int | None:
    homes = (
        index for index, cell in enumerate(cells) if cell.box.grown(RIM).holds(box) and _within(box.middle, cell.box)
    )
    return next(homes, None)


def _taken_out(
    sheet: PageRead, cell: _Found, strokes: Sequence[Stroke], texts: Sequence[Text], index: int
) -> tuple[PageRead, Cell]:
    """Return a cell as a page; what the sheet carries besides is told of its first cell alone."""
    x, y = cell.box.x0, cell.box.y0
    paper = Box(0.0, 0.0, cell.box.width, cell.box.height)
    page = replace(
        sheet,
        boxes=PageBoxes(paper, paper, 0, 1.0, direct=True),
        strokes=tuple(stroke.moved(-x, -y) for stroke in strokes),
        texts=tuple(text.moved(-x, -y) for text in texts),
        unembedded=sheet.unembedded if index == 0 else (),
        carried=sheet.carried if index == 0 else NOTHING_CARRIED,
    )
    return page, Cell(index, cell.box, sheet.boxes)


def compare_cells(declaration: Declaration, pairs: Pairs, seen: Sequence[PageSeen]) -> Iterator[Check]:
    """Name the sheets of several pages, and the pages on them; one alone may be the last of such sheets."""
    sheets = {page.number: page.cell.sheet.media for page in seen if page.cell}
    cells = {number: sum(page.number == number for page in seen) for number in sheets}
    shared = [media for number, media in sheets.items() if cells[number] > 1]
    for number, media in sheets.items():
        several = cells[number] > 1
        names = dict.fromkeys(_named(declaration, page) for page, pane in pairs if pane.number == number)
        if several or any(dist(_size(media), _size(other)) <= VECTOR for other in shared):
            says = Says.SHEET_OF_SEVERAL if several else Says.SHEET_OF_ONE
            yield Check(CheckName.PAGES, Status.WARN, says, number, label=joined(", ", names))
            continue
        wide, high = declaration.page_width_mm, declaration.page_height_mm
        numbers = {"high": media.height, "stated": high}
        yield Check(CheckName.PAGE_SIZE, Status.FAIL, Says.PAGE_SIZED, number, media.width, wide, numbers=numbers)


def _named(declaration: Declaration, page: Page) -> str:
    """Name a page; one of several panes by its first."""
    if page.kind is not PageKind.PANE:
        return called(page)
    first = next(one for one in declaration.pages if one.number == page.number)
    return Words("the page of {pane}", pane=called(first))


def _size(box: Box) -> Point:
    return box.width, box.height
