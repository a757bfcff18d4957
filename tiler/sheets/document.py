"""The whole file: pieces are put on the sheet, drawn page by page, and declared.

Every piece is one Form XObject that each tile paints under a clip at the place
that its window asks for; lengths are mm on the sheet until the canvas takes over.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from tiler.catalog import finish_document
from tiler.declaration import ALONE, Declaration, Page, PageKind, Rule, Square, Tag, printed_pages
from tiler.draft.edition import Edition
from tiler.draft.outline import Piece
from tiler.draft.views import in_views
from tiler.drawn import Bought, Part, Shared, any_of
from tiler.languages.words import languages, told
from tiler.paper import ONE_SHEET, Projected, with_foot
from tiler.sheets.canvas import Canvas
from tiler.sheets.characters import refuse_unprintable
from tiler.sheets.cover.block import block_fits, block_height, draw_block
from tiler.sheets.cover.first_page import BLOCK_HEIGHT
from tiler.sheets.cover.notes_page import draw_notes_page, with_notes
from tiler.sheets.drawing import Drawing
from tiler.sheets.layout.choose import Plan
from tiler.sheets.layout.items import Grouped, group_items
from tiler.sheets.layout.placed import Placed
from tiler.sheets.layout.sheet import Sheet, lay_out
from tiler.sheets.page.foot import draw_foot, feet_fit
from tiler.sheets.page.free_places import Obstacle
from tiler.sheets.page.pane import draw_panes
from tiler.sheets.page.scales import draw_tile_squares, squares_fit
from tiler.sheets.page.tile import draw_tile
from tiler.sheets.pieces.lettering import Lettered
from tiler.sheets.style import HAIR, LEAST_LEADING

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
    pieces: Sequence[Piece],
    edition: Edition,
    drawing: Drawing,
    progress: Progress | None = None,
    sheet: Sheet | None = None,
    grouped: Grouped | None = None,
) -> Document:
    """Draw all pieces on one paper, true to scale or true on one printer.

    On a ``sheet`` they are laid out already, and ``grouped`` they are lettered already.

    Raises :class:`SpecError` for a paper that leaves no window, for more pages than
    anybody would tape, and for a character that the font lacks.
    """
    refuse_unprintable(pieces, edition, drawing)
    sheet = sheet or laid_out(grouped or group_items(pieces, drawing.nest), edition, drawing)
    dark = drawing.projected is Projected.DARK
    if dark:
        # the colours of a logo would be turned round with all others
        edition = replace(edition, logo=None)
    canvas = Canvas(drawing.line_weight, *drawing.factors, dark=dark)
    for place in sheet.painted:
        draw_form(canvas, place.lettered, drawing.colour)
    squares: list[Square] = []
    rules: list[Rule] = []
    for records in printed_pages(sheet.pages):
        canvas.begin_page(sheet.page.width, sheet.page.height)
        on_page = _draw_page(canvas, sheet, edition, records)
        canvas.end_page()
        squares += on_page[0]
        rules += on_page[1]
        if progress:
            progress(records[0].number, sheet.pages[-1].number)
    declaration = declared(sheet, edition, squares, rules, canvas)
    data, declaration = finish_document(canvas.finish(), declaration, edition.copyright, sheet.needed, _layers(sheet))
    return Document(data, declaration, sheet.plan)


def draw_form(canvas: Canvas, one: Lettered, in_colour: bool) -> None:
    """Draw a piece, or what sizes share, as a form of its id."""
    with canvas.form(one.piece.id, one.bounds, one.colour if in_colour else None):
        for part in one.parts:
            canvas.stroke_part(part.tag, part.subpaths, one.pattern if _is_end(part) else ())
        if one.leaders:
            canvas.stroke(one.leaders, HAIR)
        for text in one.texts:
            canvas.text((text.x, text.y), text.printed, text.size, text.bold)


def _is_end(part: Part) -> bool:
    """Tell whether a part is a cut line across the strip, and not along it."""
    return part.tag == Tag.CUT_LINE and part.subpaths[0][0][1] != part.subpaths[0][-1][1]


def _draw_page(
    canvas: Canvas, sheet: Sheet, edition: Edition, records: Sequence[Page]
) -> tuple[Sequence[Square], Sequence[Rule]]:
    """Draw one page, whose panes have a record each, and return its test squares and ruler lines."""
    page = records[0]
    taken: Sequence[Obstacle] = ()
    if page.kind is PageKind.NOTES:
        draw_notes_page(canvas, sheet, edition, page)
    elif page.kind is not PageKind.COVER:
        # the windows come first: what follows the last frame belongs to the page
        taken = _draw_windows(canvas, sheet, records)
    squares: Sequence[Square] = ()
    rules: Sequence[Rule] = ()
    if page.kind is PageKind.COVER or sheet.corner:
        squares, rules = draw_block(canvas, sheet, edition, page.number)
    elif page.number == sheet.squares_on:
        squares = draw_tile_squares(canvas, page.number, sheet.page.frame, taken)
    return squares, [*rules, *draw_foot(canvas, sheet, edition, records)]


def laid_out(grouped: Grouped, edition: Edition, drawing: Drawing) -> Sheet:
    """Put the pieces on the sheet; only for a title that has no room in both margins the lower one is made larger."""

    def has_room(sheet: Sheet) -> bool:
        return block_fits(sheet, edition)

    def in_place(drawing: Drawing, block: float) -> Sheet:
        sheet = with_notes(lay_out(grouped, drawing, has_room, block), edition)
        return sheet if sheet.has_block else replace(sheet, squares_on=_free(sheet))

    block = BLOCK_HEIGHT
    sheet = in_place(drawing, block)
    if sheet.page.name == ONE_SHEET and sheet.corner:
        # of one page what a first page says is as high as its lists
        block = block_height(sheet, edition)
        sheet = in_place(drawing, block)
    while not feet_fit(sheet, edition, printed_pages(sheet.pages)):
        margins = with_foot(drawing.paper.margins)
        larger = replace(margins, bottom=margins.bottom + LEAST_LEADING)
        drawing = replace(drawing, paper=replace(drawing.paper, margins=larger))
        sheet = in_place(drawing, block)
    return sheet


def _draw_windows(canvas: Canvas, sheet: Sheet, records: Sequence[Page]) -> Sequence[Obstacle]:
    in_panes = records[0].kind is PageKind.PANE
    return draw_panes(canvas, sheet, records) if in_panes else draw_tile(canvas, sheet, records[0])


def _free(sheet: Sheet) -> int:
    """Return the first page of pieces that has room for both test squares; the first of all where none has."""
    for records in printed_pages(sheet.pages):
        canvas = Canvas()
        canvas.begin_page(sheet.page.width, sheet.page.height)
        if squares_fit(sheet.page.frame, _draw_windows(canvas, sheet, records)):
            return records[0].number
    return 1


def _layers(sheet: Sheet) -> dict[str, Sequence[str]]:
    """Return the layers with any of which each form shows."""
    names = sheet.drawing.layers
    own = {place.declared.id: (names.of(place.declared.size),) for place in sheet.pieces if place.declared.size}
    return {**own, **{place.declared.id: layers for place, layers in _shared(sheet)}}


def _shared(sheet: Sheet) -> Iterator[tuple[Placed, Sequence[str]]]:
    """Yield what sizes share with the layers that show it: one for all sizes, else those of the sizes that have it."""
    sizes, names = {place.declared.id: place.declared.size for place in sheet.pieces}, sheet.drawing.layers
    for place in sheet.shared:
        of = place.lettered.of
        whole = all({*other.lettered.of} <= {*of} for other in sheet.shared if {*other.lettered.of} & {*of})
        yield place, (names.all_sizes,) if whole else [names.of(sizes[one]) for one in of]


def declared(
    sheet: Sheet, edition: Edition, squares: Sequence[Square], rules: Sequence[Rule], canvas: Canvas
) -> Declaration:
    """Return the record of all that was drawn."""
    drawing, page = sheet.drawing, sheet.page
    across, down = drawing.factors
    return Declaration(
        title=edition.title,
        version=edition.version,
        date=edition.date,
        units=edition.units,
        paper=page.name,
        page_width_mm=page.width * across,
        page_height_mm=page.height * down,
        overlap_mm=page.overlap,
        pages=sheet.pages,
        squares=tuple(squares),
        rules=tuple(rules),
        marks=sheet.marks,
        pieces=tuple(place.declared for place in sheet.pieces),
        forms=tuple(canvas.forms),
        printed=tuple(canvas.printed),
        checksums=(),
        printer=drawing.compensation.printer if drawing.compensation else None,
        host=drawing.host if drawing.host != ALONE else None,
        factor_across=across,
        factor_down=down,
        languages=languages(),
        layers=drawing.layers,
        dark=drawing.projected is Projected.DARK,
        bought=_listed(sheet),
        shared=tuple(_declared_shared(place, any_of(layers)) for place, layers in _shared(sheet)),
    )


def _listed(sheet: Sheet) -> tuple[Bought, ...]:
    """Return what the first page lists besides the pieces."""
    return tuple(
        Bought(told(in_views(one.name, one.views)), one.size, one.quantity, one.cut_length_mm, one.cut_width_mm)
        for one in (sheet.drawing.bought if sheet.has_block else ())
    )


def _declared_shared(place: Placed, layer: str) -> Shared:
    one = place.declared
    return Shared(one.id, one.name, one.bounds, one.at, one.turned, one.parts, place.lettered.of, layer)
