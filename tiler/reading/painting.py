"""Interpreting the content of a page, with a bound on how much it may paint.

A few kilobytes can paint without end: a form that paints another ten times, which
paints a third ten times, and so on, or one that paints itself.  So objects and nested forms are counted
while the page is interpreted, and not when all of them have been made.
"""

from __future__ import annotations

from typing import Any

from pdfminer.layout import LTPage
from pdfminer.pdfinterp import PDFPageInterpreter
from pdfminer.pdftypes import PDFStream, resolve1
from pdfminer.psparser import LIT, PSLiteral
from pdfplumber.page import Page, PDFPageAggregatorWithMarkedContent

from tiler.errors import UnreadableError
from tiler.reading.forms import FormsRead, Key, Repeated
from tiler.reading.limits import TooManyObjectsError

DEEPEST_FORM = 40
"""Forms that are nested more deeply are taken for a circle."""


FORM = LIT("Form")


def painted_items(page: Page, most: int, forms: FormsRead) -> LTPage:
    """Give what a page paints, with :class:`Repeated` in the place of forms that were read before.

    Raises :class:`TooManyObjectsError` when it is more than ``most``.
    """
    device = _CountingDevice(page, most, forms)
    _Interpreter(page.pdf.rsrcmgr, device).process_page(page.page_obj)
    return device.get_result()


class _Interpreter(PDFPageInterpreter):
    """pdfminer's own interpreter, which reads a form again only where it looks different."""

    def do_Do(self, xobjid_arg: Any) -> None:  # noqa: N802 - the operator's own letters
        device = self.device
        assert isinstance(device, _CountingDevice)
        key = self._key(xobjid_arg, device)
        if key is None:
            super().do_Do(xobjid_arg)
        elif not device.repeat(key, self.ctm[4:]):
            before = device.left
            super().do_Do(xobjid_arg)
            device.remember(key, self.ctm[4:], before)

    def _key(self, name: Any, device: _CountingDevice) -> Key | None:
        """Give what tells a form that is painted by the page itself; None for all else."""
        form = resolve1(self.xobjmap.get(name.name)) if isinstance(name, PSLiteral) else None
        if device.depth or not isinstance(form, PDFStream) or form.objid is None:
            return None
        if form.get("Subtype") is not FORM or "BBox" not in form or not form.get("Resources"):
            return None
        return (form.objid, tuple(self.ctm[:4]), device.cur_tag)


class _CountingDevice(PDFPageAggregatorWithMarkedContent):
    """pdfplumber's own device, stopped when a page holds too much."""

    def __init__(self, page: Page, most: int, forms: FormsRead) -> None:
        super().__init__(page.pdf.rsrcmgr, pageno=page.page_number, laparams=page.pdf.laparams)
        self._page, self._most, self.left, self.depth = page.page_number, most, most, 0
        self._forms = forms
        self._here: set[Key] = set()

    def repeat(self, key: Key, at: Any) -> bool:
        """Put a form that was read before in its place; False when it was not."""
        if key not in self._here and not self._forms.knows(key):
            return False
        objects, self.cur_tag = self._forms.costs[key]
        self._count(objects)
        self.cur_item.add(Repeated(key, (float(at[0]), float(at[1]))))
        return True

    def remember(self, key: Key, at: Any, before: int) -> None:
        """Note the form that was painted just now."""
        figure: Any = self.cur_item._objs[-1]
        figure.form_key, figure.form_at = key, (float(at[0]), float(at[1]))
        self._here.add(key)
        self._forms.costs[key] = (before - self.left, self.cur_tag)

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
        self.depth += 1
        if self.depth > DEEPEST_FORM:
            raise UnreadableError(f"page {self._page} paints forms inside each other without end; it cannot be read")
        super().begin_figure(*args, **keywords)

    def end_figure(self, *args: Any, **keywords: Any) -> None:
        self.depth -= 1
        super().end_figure(*args, **keywords)

    def _count(self, objects: int = 1) -> None:
        self.left -= objects
        if self.left < 0:
            raise TooManyObjectsError(f"page {self._page} paints more than {self._most} objects; it is not read")
