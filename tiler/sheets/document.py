"""The whole file: pieces are lettered, laid out, drawn tile by tile or pane by pane, and declared.

Every piece is one Form XObject that each tile paints under a clip at the place
that its window asks for; lengths are mm on the sheet until the canvas takes over.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from tiler.box import Box
from tiler.catalog import finish_document
from tiler.declaration import (
    ALL_SIZES,
    COVER,
    PANE,
    TILE,
    Declaration,
    Mark,
    Page,
    Rule,
    Square,
    Tag,
    layer_name,
    printed_pages,
)
from tiler.draft.edition import Edition
from tiler.draft.outline import Piece
from tiler.paper import GRID, ONE_SHEET, STACKED, PageSize, page_size
from tiler.sheets.canvas import Canvas, refuse_missing_characters
from tiler.sheets.cover.first_page import BLOCK_HEIGHT, BLOCK_WIDTH, MARGIN, draw_cover
from tiler.sheets.cover.words import cover_words
from tiler.sheets.drawing import Drawing
from tiler.sheets.edition import facts_line, refuse_unprintable
from tiler.sheets.layout.choose import Arranged, Plan, arrange_as
from tiler.sheets.layout.items import group_items
from tiler.sheets.layout.marks import pane_marks, register_marks
from tiler.sheets.layout.one_sheet import OneSheet, arrange_one_sheet
from tiler.sheets.layout.placed import Placed, placed
from tiler.sheets.page.free_places import ON_TEXT, Obstacle, Places
from tiler.sheets.page.pane import draw_page_title, draw_pane_code, frame_obstacles, join_words
from tiler.sheets.page.tile import (
    TileWords,
    draw_frame,
    draw_marks,
    draw_tile_rules,
    draw_tile_squares,
    draw_title,
    mark_obstacles,
)
from tiler.sheets.pieces.group import Group
from tiler.sheets.pieces.lettering import Lettered
from tiler.sheets.style import HAIR

LEAST_FOOT = 6.0
"""Kept white below the first page's block where the drawing is enlarged for a printer, mm."""

NO_COVER_NOTE = "Print at 100 %; measure both squares before you cut cloth."

Progress = Callable[[int, int], None]
"""Told how many of how many pages are drawn."""


@dataclass(frozen=True)
class Document:
    """A finished file and what it declares."""

    data: bytes
    declaration: Declaration
    plan: Plan | None = None
    """How it was arranged; None on one sheet."""


def draw_document(
    pieces: Sequence[Piece], edition: Edition, drawing: Drawing, progress: Progress | None = None
) -> Document:
    """Draw all pieces on one paper, true to scale or true on one printer.

    Raises :class:`SpecError` for a paper that leaves no window, for more pages than
    anybody would tape, and for a character that the font lacks.
    """
    refuse_unprintable(pieces, edition)
    refuse_missing_characters(drawing.compensation.printer if drawing.compensation else "", "printer")
    paper, cover, compensation = drawing.paper, drawing.cover, drawing.compensation
    groups, items = group_items(pieces, drawing.nest)
    if paper.name == ONE_SHEET:
        margins, across, down = paper.margins, 1.0, 1.0
        if compensation:
            margins, across, down = compensation.true_margins(margins), compensation.across, compensation.down
        sheet = arrange_one_sheet(items, margins, paper.overlap, paper.roll, across, down)
        if isinstance(sheet, OneSheet):
            arranged = Arranged(sheet.layout, (), None)
            return _Drawing(groups, edition, drawing, sheet.page, arranged, False, sheet, progress).run()
        page, cover = sheet, False
        # pages as long as these are taped in a grid, unless somebody wants it otherwise
        arranged = arrange_as(items, page, STACKED if paper.arrange == STACKED else GRID)
    else:
        page = page_size(paper)
        if compensation:
            page = compensation.true_page(page)
        arranged = arrange_as(items, page, paper.arrange)
    return _Drawing(groups, edition, drawing, page, arranged, cover, None, progress).run()


class _Drawing:
    """One file in the making."""

    def __init__(
        self,
        groups: Sequence[Group],
        edition: Edition,
        drawing: Drawing,
        page: PageSize,
        arranged: Arranged,
        cover: bool,
        one_sheet: OneSheet | None,
        progress: Progress | None,
    ) -> None:
        self.lettered = [one for group in groups for one in group.members]
        self.shared = [group.shared for group in groups if group.shared]
        self.edition, self.page = edition, page
        layout = arranged.layout
        self.arranged, self.layout, self.cover, self.one_sheet = arranged, layout, cover, one_sheet
        self.progress, self.compensation = progress, drawing.compensation
        self.factors = drawing.factors
        self.canvas = Canvas(drawing.line_weight, *self.factors)
        self.squares: list[Square] = []
        self.rules: list[Rule] = []
        self.places: list[Placed] = []
        self.word_places: list[Placed] = []
        for group, box in zip(groups, layout.boxes, strict=True):
            self.places += [placed(one, group.bounds, box, layout.turned) for one in group.members]
            if group.shared:
                self.word_places.append(placed(group.shared, group.bounds, box, layout.turned))
        self.pages = self._pages()
        words = [(place.bounds, [o.box for o in place.obstacles if o.cost == ON_TEXT]) for place in self._all_places]
        self.marks = (
            pane_marks(arranged.panes, page.overlap, layout.turned, words)
            if arranged.panes
            else register_marks(layout.tiles, page.overlap, words)
        )

    def run(self) -> Document:
        for one in (*self.lettered, *self.shared):
            _draw_form(self.canvas, one)
        marks = _by_tile(self.marks)
        for page, *others in printed_pages(self.pages):
            self.canvas.begin_page(self.page.width, self.page.height)
            if page.kind == COVER:
                corner = ((self.page.width - BLOCK_WIDTH) / 2, self.page.height - MARGIN)
                self._cover_block(page.number, corner)
            elif page.kind == PANE:
                self._panes([page, *others], marks)
            else:
                self._tile(page, marks.get(page.code or "", []))
            self.canvas.end_page()
            if self.progress:
                self.progress(page.number, self.pages[-1].number)
        declaration = self._declaration()
        data = finish_document(self.canvas.finish(), declaration, self.edition.copyright, self._layers())
        return Document(data, declaration, self.arranged.plan)

    def _layers(self) -> dict[str, str]:
        layers = {one.piece.id: layer_name(one.piece.figures.size) for one in self.lettered if one.piece.figures.size}
        return layers | {one.piece.id: ALL_SIZES for one in self.shared}

    @property
    def _all_places(self) -> list[Placed]:
        return [*self.places, *self.word_places]

    def _pages(self) -> list[Page]:
        pages = [Page(1, COVER)] if self.cover else []
        first = len(pages) + 1
        for pane in self.arranged.panes:
            part = pane.part
            number = first + pane.page
            pages.append(Page(number, PANE, part.code, part.strip, part.number, pane.window, pane.frame))
        frame = self._inside_margins()
        for tile in self.layout.tiles:
            pages.append(Page(len(pages) + 1, TILE, tile.code, tile.row, tile.column, tile.window, frame))
        return pages

    def _inside_margins(self) -> Box:
        margins = self.page.margins
        return Box(margins.left, margins.bottom, self.page.width - margins.right, self.page.height - margins.top)

    def _tile(self, page: Page, marks: Sequence[Mark]) -> None:
        assert page.frame is not None
        shown, obstacles = self._window(page)
        obstacles += mark_obstacles(draw_marks(self.canvas, page, marks))
        places = Places(page.frame, [one.with_white() for one in obstacles])
        if self.one_sheet:
            left, top = self.one_sheet.corner
            places.occupy(Box(left, top - BLOCK_HEIGHT, left + BLOCK_WIDTH, top))
        draw_title(self.canvas, places, TileWords(page.code or "", self._words(page, shown), self._only_for))
        if self.one_sheet:
            self._cover_block(page.number, self.one_sheet.corner)
            return
        self._scales(page.number, places)

    def _panes(self, pages: Sequence[Page], marks: Mapping[str, Sequence[Mark]]) -> None:
        """Draw the panes of a page, then what stands round them: the proof tells them apart by this order."""
        windows = [self._window(page) for page in pages]
        taken: list[Obstacle] = []
        for page, (_, obstacles) in zip(pages, windows, strict=True):
            assert page.frame is not None
            own = [*obstacles, *mark_obstacles(draw_marks(self.canvas, page, marks.get(page.code or "", [])))]
            joins = join_words(page, self.pages, self.layout.turned)
            code = draw_pane_code(self.canvas, page.frame, own, page.code or "", joins)
            inside = [Obstacle(one.box.within(page.frame), one.cost) for one in own]
            taken += [*inside, *frame_obstacles(page.frame), Obstacle(code, ON_TEXT)]
        places = Places(self._inside_margins(), taken)
        pieces = {place.declared.id: place for shown, _ in windows for place in shown}
        draw_page_title(self.canvas, places, self._words(pages[0], list(pieces.values())), self._only_for)
        self._scales(pages[0].number, places)

    def _scales(self, number: int, places: Places) -> None:
        if not self.cover and number == 1:
            self.squares += draw_tile_squares(self.canvas, number, places)
        self.rules += draw_tile_rules(self.canvas, number, places)

    def _window(self, page: Page) -> tuple[list[Placed], list[Obstacle]]:
        """Paint what one window shows, and its frame; give the pieces there and what they occupy on the page."""
        assert page.window is not None
        assert page.frame is not None
        dx, dy = page.frame.x0 - page.window.x0, page.frame.y0 - page.window.y0
        shown = [place for place in self.places if place.bounds.overlaps(page.window)]
        with_words = [place for place in self._all_places if place.bounds.overlaps(page.window)]
        for place in with_words:
            declared = place.declared
            at = (declared.at[0] + dx, declared.at[1] + dy)
            self.canvas.place(declared.id, page.frame, at, declared.turned)
        draw_frame(self.canvas, page.frame)
        obstacles = [
            Obstacle(obstacle.box.moved(dx, dy), obstacle.cost)
            for place in with_words
            for obstacle in place.obstacles
            if obstacle.box.overlaps(page.window)
        ]
        return shown, obstacles

    @property
    def _only_for(self) -> str:
        return self.compensation.words if self.compensation else ""

    def _words(self, page: Page, shown: Sequence[Placed]) -> tuple[str, ...]:
        edition = self.edition
        names: dict[str, list[str]] = {}
        for place in shown:
            sizes = names.setdefault(place.declared.name, [])
            sizes += [place.declared.size] if place.declared.size else []
        first = page.number == 1
        title = edition.heading
        return (
            *([NO_COVER_NOTE] if first and not self.one_sheet else []),
            title,
            *([self._only_for] if self._only_for else []),
            facts_line(
                f"page {page.number} of {self.pages[-1].number}",
                ", ".join(" ".join((name, "/".join(sizes))).strip() for name, sizes in names.items()),
            ),
        )

    def _cover_block(self, number: int, corner: tuple[float, float]) -> None:
        pieces = list(zip(self.lettered, self.places, strict=True))
        words = cover_words(
            self.edition, self.page, self.pages, pieces, self.compensation, one_sheet=self.one_sheet is not None
        )
        tiles = [page for page in self.pages if page.kind != COVER]
        outlines = [place.declared.sheet_bounds() for place in self.places]
        height = BLOCK_HEIGHT if self.one_sheet else min(BLOCK_HEIGHT, corner[1] - LEAST_FOOT)
        squares, rules = draw_cover(self.canvas, number, corner, words, tiles, outlines, height)
        self.squares += squares
        self.rules += rules

    def _declaration(self) -> Declaration:
        edition = self.edition
        return Declaration(
            title=edition.title,
            version=edition.version,
            date=edition.date,
            units=edition.units,
            paper=self.page.name,
            page_width_mm=self.page.width * self.factors[0],
            page_height_mm=self.page.height * self.factors[1],
            overlap_mm=self.page.overlap,
            pages=tuple(self.pages),
            squares=tuple(self.squares),
            rules=tuple(self.rules),
            marks=self.marks,
            pieces=tuple(place.declared for place in self.places),
            printer=self.compensation.printer if self.compensation else None,
            factor_across=self.factors[0],
            factor_down=self.factors[1],
        )


def _by_tile(marks: Sequence[Mark]) -> dict[str, list[Mark]]:
    table: dict[str, list[Mark]] = {}
    for mark in marks:
        for code in mark.tiles:
            table.setdefault(code, []).append(mark)
    return table


def _draw_form(canvas: Canvas, one: Lettered) -> None:
    with canvas.form(one.piece.id, one.bounds):
        for part in one.parts:
            canvas.stroke_part(part.tag, part.subpaths, one.pattern if part.tag == Tag.CUT_LINE else ())
        if one.leaders:
            canvas.stroke(one.leaders, HAIR)
        for text in one.texts:
            canvas.text((text.x, text.y), text.printed, bold=text.bold)
