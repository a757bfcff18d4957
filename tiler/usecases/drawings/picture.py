"""The picture of a drawing's curves as a PNG."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path

from tiler.box import Box
from tiler.proof.ink.rendering import Rendering
from tiler.proof.report.curve_picture import Backdrop, NumberedCurve, curve_picture
from tiler.reading.drawing import DrawnCurve, page_curves, svg_curves
from tiler.reading.pdf.document import Document
from tiler.usecases.drawings.listing import Listing


def drawn_picture(file: Path, listing: Listing) -> tuple[bytes, int | None]:
    """Draw the listed curves of one page, of a PDF the page with the longest one; return its number as well."""
    page = listing.curves[0].page
    drawn, area, backdrop = _page(file, page) if page is not None else _svg(file)
    by_number = {one.number: one.curve for one in drawn}
    rows = [row for row in listing.curves if row.page == page]
    curves = [NumberedCurve(row.number, by_number[row.number], row.length_mm) for row in rows]
    picture = curve_picture(curves, area, backdrop)
    data = BytesIO()
    picture.save(data, "PNG")
    return data.getvalue(), page


def _page(file: Path, number: int) -> tuple[tuple[DrawnCurve, ...], Box, Backdrop]:
    with Document(file) as document:
        page = next(document.pages(number))
    with Rendering(file) as rendering:
        backdrop = rendering.image(number)
    return tuple(page_curves(page)), page.boxes.shown, backdrop


def _svg(file: Path) -> tuple[tuple[DrawnCurve, ...], Box, None]:
    curves, _, (width, height) = svg_curves(file)
    # what an SVG draws outside its own size counts all the same
    boxes = [Box(0.0, 0.0, width, height), *(one.curve.bounds for one in curves)]
    x0, y0 = min(box.x0 for box in boxes), min(box.y0 for box in boxes)
    return curves, Box(x0, y0, max(box.x1 for box in boxes), max(box.y1 for box in boxes)).grown(5.0), None
