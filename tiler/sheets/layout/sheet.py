"""The sheet: the pieces in their places, the pages that show them, and the marks where pages meet; sheet mm."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from tiler.declaration import Mark, Page, PageKind
from tiler.paper import ONE_SHEET, Arrangement, PageSize, page_size, with_foot
from tiler.sheets.cover.first_page import BLOCK_HEIGHT, BLOCK_WIDTH
from tiler.sheets.drawing import Drawing
from tiler.sheets.layout.beside_block import beside_block
from tiler.sheets.layout.choose import Arranged, Plan, arrange_as
from tiler.sheets.layout.item import Item
from tiler.sheets.layout.items import Grouped
from tiler.sheets.layout.marks import Around, pane_marks, register_marks
from tiler.sheets.layout.off_joints import off_joints
from tiler.sheets.layout.one_sheet import OneSheet, arrange_one_sheet
from tiler.sheets.layout.placed import Placed, pages_of, placed
from tiler.sheets.page.free_places import ON_TEXT


@dataclass(frozen=True)
class Sheet:
    """All that is known of a file before anything is drawn.

    ``page`` is one page in true mm, ``pages`` are the records of all; ``corner`` is the
    upper left one of the instructions on the page, where one page holds everything.
    """

    drawing: Drawing
    page: PageSize
    pages: tuple[Page, ...]
    pieces: tuple[Placed, ...]
    shared: tuple[Placed, ...]
    """The lines and words that sizes of a piece share."""
    turned: bool
    marks: tuple[Mark, ...]
    plan: Plan | None
    corner: tuple[float, float] | None = None
    block: tuple[float, float] = (BLOCK_WIDTH, BLOCK_HEIGHT)
    """Width and height of the instructions beside the pieces of one page."""
    squares_on: int = 1
    """The page of pieces that has the test squares where there is no first page."""

    @property
    def has_block(self) -> bool:
        """Tell whether a page, the first one or the only one, has the instructions."""
        return self.corner is not None or self.pages[0].kind is PageKind.COVER

    @property
    def painted(self) -> tuple[Placed, ...]:
        """Pieces and shared words, in the order in which they are painted."""
        return (*self.pieces, *self.shared)

    @cached_property
    def needed(self) -> Mapping[str, Sequence[Page]]:
        """The pages or panes that each piece needs, by its id."""
        return {place.declared.id: pages_of([place], self.pages) for place in self.pieces}

    def pieces_on(self, records: Sequence[Page]) -> list[Placed]:
        """Return the pieces that need any of these pages or panes."""
        return [place for place in self.pieces if any(one in records for one in self.needed[place.declared.id])]

    def marks_of(self, page: Page) -> list[Mark]:
        """Return the register marks that a tile or pane shares with its neighbours."""
        return [mark for mark in self.marks if page.code in mark.tiles]


def lay_out(
    grouped: Grouped,
    drawing: Drawing,
    has_room: Callable[[Sheet], bool] | None = None,
    block: float = BLOCK_HEIGHT,
) -> Sheet:
    """Put lettered pieces on the sheet; one that is large leaves room for a ``block`` so high.

    Where they fit what the instructions leave of the first page, as ``has_room`` tells, that is the only one.

    Raises :class:`SpecError` for a paper that leaves no window, and for more pages than
    anybody would tape.
    """
    items = grouped.items
    if has_room and drawing.cover and drawing.paper.name != ONE_SHEET and drawing.paper.arrange == Arrangement.FEWEST:
        page = _page(drawing)
        for way in beside_block(items, page):
            sheet = _placed(grouped, drawing, page, Arranged(way.layout, (), None))
            left = way.block
            sheet = replace(sheet, corner=(left.x0, left.y1), block=(left.width, left.height))
            if has_room(sheet):
                return sheet
    # where words of a curved piece have no room on the pages that show any of it, others show them
    lettered = [replace(item, painted=(*item.painted, *item.words) if item.painted else ()) for item in items]
    for some in (items, lettered):
        page, arranged, corner = _arranged(some, drawing, block)
        sheet = _placed(grouped, drawing, page, arranged)
        if _shows_words(sheet):
            break
    return replace(sheet, corner=corner, block=(BLOCK_WIDTH, block))


def _shows_words(sheet: Sheet) -> bool:
    """Tell whether each word of a curved piece is whole on a page."""
    windows = [page.window for page in sheet.pages if page.window]
    curved = [place for place in sheet.painted if place.bits]
    return all(any(window.holds(word) for window in windows) for place in curved for word in place.words)


def _placed(grouped: Grouped, drawing: Drawing, page: PageSize, arranged: Arranged) -> Sheet:
    layout = arranged.layout
    in_place: list[Placed] = []
    shared: list[Placed] = []
    for number, (group, family, box) in enumerate(zip(grouped.groups, grouped.families, layout.boxes, strict=True)):
        windows = [pane.window for pane in arranged.panes if pane.item == number]
        windows = windows or [tile.window for tile in layout.tiles]
        final = off_joints(group, family, box, windows, layout.turned)
        in_place += [placed(one, group.bounds, box, layout.turned) for one in final.members]
        shared += [placed(one, group.bounds, box, layout.turned) for one in final.shared]
    around = [
        Around(place.bounds, [one.box for one in place.obstacles if one.cost == ON_TEXT], place.cuts, place.outline)
        for place in (*in_place, *shared)
    ]
    marks = (
        pane_marks(arranged.panes, page.overlap, layout.turned, around)
        if arranged.panes
        else register_marks(layout.tiles, page.overlap, around)
    )
    # what has no plan is one page, with the instructions on it
    cover = drawing.cover and drawing.paper.name != ONE_SHEET and arranged.plan is not None
    pages = tuple(_pages(arranged, page, cover))
    return Sheet(drawing, page, pages, tuple(in_place), tuple(shared), layout.turned, marks, arranged.plan)


def _page(drawing: Drawing) -> PageSize:
    page = page_size(drawing.paper)
    return drawing.compensation.true_page(page) if drawing.compensation else page


def _arranged(
    items: Sequence[Item], drawing: Drawing, block: float
) -> tuple[PageSize, Arranged, tuple[float, float] | None]:
    """Choose the page, lay the items out, and say where the instructions stand where there is one page alone."""
    paper, made_for = drawing.paper, drawing.compensation
    if paper.name != ONE_SHEET:
        page = _page(drawing)
        return page, arrange_as(items, page, paper.arrange), None
    paper = replace(paper, margins=with_foot(paper.margins))
    if made_for:
        paper = replace(paper, margins=made_for.true_margins(paper.margins))
    found = arrange_one_sheet(items, paper, *drawing.factors, block)
    if isinstance(found, OneSheet):
        return found.page, Arranged(found.layout, (), None), found.corner
    # pages as long as these are taped in a grid, unless somebody wants it otherwise
    return (
        found,
        arrange_as(items, found, Arrangement.STACKED if paper.arrange == Arrangement.STACKED else Arrangement.GRID),
        None,
    )


def _pages(arranged: Arranged, page: PageSize, cover: bool) -> list[Page]:
    pages = [Page(1, PageKind.COVER)] if cover else []
    first = len(pages) + 1
    for pane in arranged.panes:
        part = pane.part
        pages.append(
            Page(first + pane.page, PageKind.PANE, part.code, part.strip, part.number, pane.window, pane.frame)
        )
    for number, tile in enumerate(arranged.layout.tiles, first):
        pages.append(Page(number, PageKind.TILE, tile.code, tile.row, tile.column, tile.window, page.frame))
    return pages
