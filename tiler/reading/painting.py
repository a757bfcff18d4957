"""Interpreting the content of a page, with a bound on how much it may paint.

A few kilobytes can paint without end: a form that paints another ten times, which
paints a third ten times, and so on, or one that paints itself.  So objects and nested forms are counted
while the page is interpreted, and not when all of them have been made.
"""

from __future__ import annotations

from typing import Any

from pdfminer.layout import LTPage
from pdfminer.pdfinterp import PDFPageInterpreter
from pdfplumber.page import Page, PDFPageAggregatorWithMarkedContent

from tiler.errors import UnreadableError
from tiler.reading.limits import TooManyObjectsError

DEEPEST_FORM = 40
"""Forms that are nested more deeply are taken for a circle."""


def painted_items(page: Page, most: int) -> LTPage:
    """Give what a page paints; raises :class:`TooManyObjectsError` when it is more than ``most``."""
    device = _CountingDevice(page, most)
    PDFPageInterpreter(page.pdf.rsrcmgr, device).process_page(page.page_obj)
    return device.get_result()


class _CountingDevice(PDFPageAggregatorWithMarkedContent):
    """pdfplumber's own device, stopped when a page holds too much."""

    def __init__(self, page: Page, most: int) -> None:
        super().__init__(page.pdf.rsrcmgr, pageno=page.page_number, laparams=page.pdf.laparams)
        self._page, self._most, self._left, self._depth = page.page_number, most, most, 0

    def render_char(self, *args: Any, **keywords: Any) -> float:
        self._count()
        advance: float = super().render_char(*args, **keywords)
        return advance

    def render_image(self, *args: Any, **keywords: Any) -> None:
        self._count()
        super().render_image(*args, **keywords)

    def paint_path(self, *args: Any, **keywords: Any) -> None:
        self._count()
        super().paint_path(*args, **keywords)

    def begin_figure(self, *args: Any, **keywords: Any) -> None:
        self._count()
        self._depth += 1
        if self._depth > DEEPEST_FORM:
            raise UnreadableError(f"page {self._page} paints forms inside each other without end; it cannot be read")
        super().begin_figure(*args, **keywords)

    def end_figure(self, *args: Any, **keywords: Any) -> None:
        self._depth -= 1
        super().end_figure(*args, **keywords)

    def _count(self) -> None:
        self._left -= 1
        if self._left < 0:
            raise TooManyObjectsError(f"page {self._page} paints more than {self._most} objects; it is not read")
