"""The whole drawing: heading and pieces on one plane, recorded as they are drawn, and written as SVG; mm."""

from __future__ import annotations

from collections.abc import Sequence

from tiler.draft.edition import Edition
from tiler.draft.outline import Piece
from tiler.sheets.canvas import Canvas
from tiler.sheets.characters import refuse_unprintable
from tiler.sheets.document import Document, declared, draw_form
from tiler.sheets.drawing import Drawing
from tiler.sheets.svg.heading import draw_heading, heading_of
from tiler.sheets.svg.markup import svg
from tiler.sheets.svg.plane import BORDER, lay_on_plane


def draw_svg(pieces: Sequence[Piece], edition: Edition, drawing: Drawing) -> Document:
    """Draw all pieces on one plane, whose width the roll of the paper may set.

    Raises :class:`SpecError` for a roll that is too narrow, and for a character that the font lacks.
    """
    refuse_unprintable(pieces, edition, drawing)
    heading = heading_of(edition)
    sheet = lay_on_plane(pieces, drawing, (heading.width, heading.height))
    canvas = Canvas(drawing.line_weight)
    for place in sheet.painted:
        draw_form(canvas, place.lettered, drawing.colour)
    canvas.begin_page(sheet.page.width, sheet.page.height)
    squares = draw_heading(canvas, heading, (BORDER, sheet.page.height - BORDER))
    canvas.end_page()
    declaration = declared(sheet, edition, squares, (), canvas)
    return Document(svg(declaration), declaration)
