"""Pages as PDFium renders them: the second engine, which shares no code with the first.

The only module that imports pypdfium2.  One page is held at a time.  Pixels are
addressed from the lower left corner of the page as it is shown, in mm.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import ceil
from pathlib import Path
from typing import TYPE_CHECKING

import pypdfium2 as pdfium
from pypdfium2 import raw

from tiler.box import Box
from tiler.errors import UnreadableError
from tiler.proof.ink.pixels import Pixels
from tiler.reading.pdf.boxes import PageBoxes

if TYPE_CHECKING:
    from PIL.Image import Image

AT_ONCE = 2_000_000
"""Greys of a large page that are looked at in one piece; a pixel in colour has three."""

Show = Callable[..., "Image"]
"""Renders a page, as :meth:`Rendering.grey` does."""

POINTS = 72 / 25.4

DOTS_PER_INCH = 100
MOST_PIXELS = 40_000_000
"""A larger page is rendered more coarsely, so that memory stays flat."""


class Rendering:
    """An open PDF, ready to be rendered; use it as a context."""

    def __init__(self, source: str | Path | bytes) -> None:
        """Open a file or its bytes; raises :class:`UnreadableError`."""
        try:
            self._pdf = pdfium.PdfDocument(source)
        except pdfium.PdfiumError as fault:
            raise UnreadableError("the file has no pages or is damaged; make or download it again") from fault
        self._rotate: dict[int, int] = {}
        self._held: tuple[int, pdfium.PdfPage] | None = None

    def __enter__(self) -> Rendering:
        """Return the rendering itself."""
        return self

    def __exit__(self, *_: object) -> None:
        """Close the file."""
        self._let_go()
        self._pdf.close()

    @property
    def page_count(self) -> int:
        """How many pages this engine finds."""
        return len(self._pdf)

    def turn(self, number: int, rotate: int) -> None:
        """Show a page from now on turned clockwise by ``rotate`` degrees, whatever it asks viewers for."""
        self._rotate[number] = rotate
        self._let_go()

    def ink(self, number: int, boxes: PageBoxes, dots_per_inch: int | None = None) -> Pixels:
        """Render a page in grey and give its ink; pages count from 1."""
        bitmap = self._bitmap(number, True, dots_per_inch or DOTS_PER_INCH)
        return Pixels(
            bytes(bitmap.buffer),
            bitmap.stride,
            bitmap.width,
            bitmap.height,
            boxes.shown,
        )

    def grey(self, number: int, dots_per_inch: int = DOTS_PER_INCH, part: Box | None = None) -> Image:
        """Render a page in grey, or a part of it; mm from the lower left corner of the page as it is shown."""
        bitmap = self._bitmap(number, True, dots_per_inch, part)
        image: Image = bitmap.to_pil().copy()
        return image

    def size(self, number: int) -> tuple[float, float]:
        """Return the size of a page as it is shown, mm."""
        if number in self._rotate:
            width, height = self._page(number).get_size()
        else:
            width, height = self._pdf.get_page_size(number - 1)
        return width / POINTS, height / POINTS

    def pictures(self, number: int) -> list[tuple[float, float]]:
        """Return the share of its page that each picture covers, and how many of its pixels make an inch there."""
        found = []
        page = self._page(number)
        width, height = page.get_size()
        for one in page.get_objects(filter=(raw.FPDF_PAGEOBJ_IMAGE,)):
            x0, y0, x1, y1 = one.get_bounds()
            covered = (min(x1, width) - max(x0, 0.0)) * (min(y1, height) - max(y0, 0.0)) / (width * height)
            pixels = one.get_px_size()
            longer = max(x1 - x0, y1 - y0)
            if covered > 0 and longer > 0:
                found.append((covered, max(pixels) / longer * 72))
        return found

    def image(
        self, number: int, dots_per_inch: int = DOTS_PER_INCH, part: Box | None = None, most: int = MOST_PIXELS
    ) -> Image:
        """Render a page in colour, or a part of it as :meth:`grey` does, in at most so many pixels."""
        bitmap = self._bitmap(number, False, dots_per_inch, part, most)
        image: Image = bitmap.to_pil().convert("RGB")
        return image

    def _bitmap(
        self,
        number: int,
        grayscale: bool,
        dots_per_inch: int = DOTS_PER_INCH,
        part: Box | None = None,
        most: int = MOST_PIXELS,
    ) -> pdfium.PdfBitmap:
        page = self._page(number)
        width, height = page.get_size()
        crop = (0.0, 0.0, 0.0, 0.0)
        if part:
            x0, y0, x1, y1 = part.x0 * POINTS, part.y0 * POINTS, part.x1 * POINTS, part.y1 * POINTS
            crop = (x0, y0, width - x1, height - y1)
        area = (width - crop[0] - crop[2]) * (height - crop[1] - crop[3])
        scale = min(dots_per_inch / 72, (most / area) ** 0.5)
        # What counts is the print: hidden layers and marks for the screen are left out as a printer would.
        return page.render(scale=scale, crop=crop, grayscale=grayscale, optimize_mode="print")

    def _page(self, number: int) -> pdfium.PdfPage:
        """Return a page, which is held until another is asked for: it is looked at in many parts."""
        if self._held is None or self._held[0] != number:
            self._let_go()
            try:
                page = self._pdf[number - 1]
            except (pdfium.PdfiumError, IndexError) as fault:
                raise UnreadableError(f"page {number} cannot be rendered: it is damaged") from fault
            if number in self._rotate:
                page.set_rotation(self._rotate[number])
            self._held = number, page
        return self._held[1]

    def _let_go(self) -> None:
        if self._held:
            self._held[1].close()
        self._held = None


def bands(whole: Box, dots_per_inch: int = DOTS_PER_INCH, greys: int = 1) -> list[Box]:
    """Return what a large part of a page is rendered in: bands over each other, from the foot up, that overlap; mm."""
    count = max(1, ceil(greys * whole.width * whole.height * (dots_per_inch / 25.4) ** 2 / AT_ONCE))
    high = whole.height / count
    return [
        Box(whole.x0, max(whole.y0, whole.y0 + k * high - 1.0), whole.x1, whole.y0 + (k + 1) * high)
        for k in range(count)
    ]


def in_colour(rendering: Rendering, number: int, dots_per_inch: int = DOTS_PER_INCH, part: Box | None = None) -> Image:
    """Render a page in colour, in no more memory than a grey one takes."""
    return rendering.image(number, dots_per_inch, part, MOST_PIXELS // 3)


def negative(show: Show) -> Show:
    """Return what shows pages in the same way, but black for white."""
    from PIL import ImageOps

    return lambda *page, **how: ImageOps.invert(show(*page, **how))


def greys_of(part: Box, coloured: Sequence[Box]) -> int:
    """Return how many greys make a pixel of a part of a page: one where nothing in it is printed in a colour."""
    return 3 if any(box.overlaps(part) for box in coloured) else 1


def shows(part: Box, coloured: Sequence[Box], dark: bool) -> tuple[Show, Show]:
    """Return what shows a part of the file, and of what is declared: in colour a line must keep its colour too.

    What is painted as the negative is held against its positive.
    """
    show: Show = in_colour if greys_of(part, coloured) > 1 else Rendering.grey
    return negative(show) if dark else show, show
