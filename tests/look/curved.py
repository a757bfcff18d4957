"""What must not be seen on the pages of curved pieces, read from their declaration with Shapely."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import astuple

from shapely import Polygon, box
from shapely.ops import unary_union

from tiler.declaration import Declaration, PageKind, Tag
from tiler.drawn import ContourPiece

LEAST_LEFT = 40.0


def bodies(declaration: Declaration) -> list[tuple[ContourPiece, Polygon]]:
    """Return each curved piece with all that is cut out, on the sheet."""
    return [
        (one, Polygon([one.on_sheet(at) for at in line]).buffer(0.0))
        for one in declaration.pieces
        if isinstance(one, ContourPiece)
        for part in declaration.parts_of(one)
        if part.tag == Tag.CUT_LINE
        for line in part.subpaths
    ]


def scraps(declaration: Declaration) -> Iterator[str]:
    """Name pages that show nothing of a piece, only what others show, or too little of a curved one, mm along it."""
    pages = [page for page in declaration.pages if page.window]
    windows = {page.code: box(*astuple(page.window)) for page in pages if page.window}
    curved = bodies(declaration)
    straight = [one.sheet_bounds() for one in declaration.pieces if not isinstance(one, ContourPiece)]
    for page in pages:
        assert page.window
        own = windows[page.code]
        rest = unary_union([shape for code, shape in windows.items() if code != page.code])
        strips = any(page.window.overlaps(bounds) for bounds in straight)
        if not strips and not any(body.difference(rest).intersects(own) for _, body in curved):
            yield f"page {page.code} shows nothing of a piece that others do not"
        if page.kind is PageKind.PANE:
            # of a strip that is cut across joints are told by how far it reaches
            continue
        for one, body in curved:
            wide = one.contour.width_mm + 2 * one.contour.allowance_mm
            alone = body.intersection(own).difference(rest).area / wide
            if body.area / wide > 2 * LEAST_LEFT and 0.1 < alone < LEAST_LEFT - 1.0 and not own.contains(body):
                yield f"page {page.code} has {alone:.0f} mm of a curved piece for itself"
