"""Edges taken from drawings: the list to choose from, and the chosen one; mm, degrees.

A PDF whose test squares are off is not measured, unless the squares themselves are to
correct it.  What reads a PDF is loaded when there is one: an SVG needs none of it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack
from pathlib import Path
from typing import TYPE_CHECKING

from tiler.curves import Affine, Curve
from tiler.errors import NothingToMeasureError, OffScaleError
from tiler.reading.drawing import (
    LEAST_LENGTH,
    DrawnCurve,
    is_pdf,
    page_curves,
    pick,
    read_curves,
    refuse_missing_page,
    refuse_page_of_svg,
    svg_curves,
)
from tiler.reading.garbage import seldom_collected
from tiler.usecases.drawings.listing import ListedCurve, Listing

if TYPE_CHECKING:
    from tiler.proof.foreign.drawing_scale import DrawingScale
    from tiler.proof.foreign.labelled import Labelled
    from tiler.reading.pdf.document import PageRead

Progress = Callable[[int, int], None]


def list_curves(
    file: Path,
    page: int | None = None,
    least: float = 0.0,
    *,
    scale_from_square: bool = False,
    progress: Progress | None = None,
) -> Listing:
    """List the curves of a drawing that are at least ``least`` long.

    Raises what reading raises, :class:`OffScaleError`, and
    :class:`NothingToMeasureError` when there is nothing to list.
    """
    if is_pdf(file):
        listing = _of_pdf(file, page, least, scale_from_square, progress)
    else:
        refuse_page_of_svg(file, page)
        _believed(None, scale_from_square)
        drawn, in_px, _ = svg_curves(file)
        listing = Listing(str(file), *_kept([_listed(one, None) for one in drawn], least), in_px=in_px)
    if not listing.curves:
        where = f"{file}, page {page}," if page else f"{file}"
        what = f"no curve of {least:g} mm or more" if listing.shorter else "no curve"
        raise NothingToMeasureError(f"{where} holds {what}; is it the right file, and not a scan?")
    return listing


def edge_curve(
    file: Path,
    *,
    id: str | Sequence[str] | None = None,
    page: int | None = None,
    curve: int | Sequence[int] | None = None,
    scale_from_square: bool = False,
) -> Curve:
    """Return the chosen curve of a drawing at true size; raises what :func:`tiler.reading.drawing.pick` raises.

    Further :class:`OffScaleError` for a PDF whose test squares are off.
    """
    chosen = pick(file, id=id, page=page, curve=curve)
    correction = _believed(measured_scale(file) if is_pdf(file) else None, scale_from_square)
    return chosen.mapped(correction) if correction else chosen


def listed_curves(file: Path, listing: Listing, most: int) -> list[Curve]:
    """Return the first curves of a listing at true size, in its order."""
    rows = listing.curves[:most]
    correction = _believed(measured_scale(file), True) if listing.corrected else None
    drawn: dict[tuple[int | None, int], Curve] = {}
    for page in {row.page for row in rows}:
        drawn |= {(page, one.number): one.curve for one in read_curves(file, page)}
    curves = [drawn[row.page, row.number] for row in rows]
    return [curve.mapped(correction) for curve in curves] if correction else curves


def measured_scale(file: Path) -> DrawingScale | None:
    """Measure the labelled test squares of a PDF; None without one."""
    from tiler.reading.pdf.document import Document

    with Document(file) as document, ExitStack() as stack:
        squares = [square for page in document.pages() for square in _squares(file, page, stack)]
    return _scale(squares)


def _of_pdf(file: Path, page: int | None, least: float, correct: bool, progress: Progress | None) -> Listing:
    from tiler.reading.pdf.document import Document

    squares: list[Labelled] = []
    rows: list[ListedCurve] = []
    with Document(file) as document, ExitStack() as stack, seldom_collected():
        refuse_missing_page(document, page)
        for read in document.pages():
            squares += _squares(file, read, stack)
            if page in (None, read.number):
                rows += _rows(read, None)
            if progress:
                progress(read.number, document.page_count)
        scale = _scale(squares)
        correction = _believed(scale, correct)
        if correction:
            # squares may stand behind the curves, and curves are not kept: so they are read again
            rows = [row for read in document.pages(page) for row in _rows(read, correction)]
    return Listing(
        str(file), *_kept(rows, least), scale=scale.words if scale else None, corrected=correction is not None
    )


def _squares(file: Path, page: PageRead, stack: ExitStack) -> list[Labelled]:
    if not any(sign.isdigit() or sign in "iI" for text in page.texts for sign in text.text):
        return []
    # a second engine, which takes its time to load, and only pages that may state a size need it
    from tiler.proof.foreign.choosing import labelled_squares
    from tiler.proof.ink.rendering import Rendering

    rendering = lambda dots: stack.enter_context(Rendering(file)).ink(page.number, page.boxes, dots)  # noqa: E731
    return labelled_squares(page, rendering)


def _scale(squares: Sequence[Labelled]) -> DrawingScale | None:
    if not squares:
        return None
    from tiler.proof.foreign.drawing_scale import drawing_scale

    return drawing_scale(squares)


def _believed(scale: DrawingScale | None, correct: bool) -> Affine | None:
    """Return the map to true size where one is needed and wanted."""
    if scale is None:
        if correct:
            raise NothingToMeasureError("the drawing has no test square that states its size; leave the correction out")
        return None
    if scale.true:
        return None
    if not correct:
        raise OffScaleError(
            f"the drawing is off scale: {scale.words}; get it at true size, "
            "or let the square correct all lengths with --scale-from-square"
        )
    return scale.correction


def _rows(page: PageRead, correction: Affine | None) -> Iterator[ListedCurve]:
    return (_listed(drawn, correction) for drawn in page_curves(page))


def _listed(drawn: DrawnCurve, correction: Affine | None) -> ListedCurve:
    curve = drawn.curve.mapped(correction) if correction else drawn.curve
    turn = curve.turn
    return ListedCurve(
        number=drawn.number,
        id=drawn.id,
        page=drawn.page,
        length_mm=curve.length,
        turning_deg=abs(curve.turning_deg),
        corners_deg=turn.corners_deg,
        closed=curve.closed,
        bounds=curve.bounds,
    )


def _kept(rows: Sequence[ListedCurve], least: float) -> tuple[tuple[ListedCurve, ...], int]:
    """Keep the curves that are long enough, longest first; points are not curves."""
    drawn = [row for row in rows if row.length_mm >= LEAST_LENGTH]
    kept = [row for row in drawn if row.length_mm >= least]
    kept.sort(key=lambda row: (-row.length_mm, row.page or 0, row.number))
    return tuple(kept), len(drawn) - len(kept)
