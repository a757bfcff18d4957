"""Interpreting the content of a page, with a bound on how much it may paint.

A few kilobytes can paint without end: a form that paints another ten times, which
paints a third ten times, and so on, or one that paints itself.  So objects and nested forms are counted
while the page is interpreted, and not when all of them have been made.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from itertools import accumulate
from typing import Any

from pdfminer.layout import LTPage
from pdfminer.pdffont import PDFUnicodeNotDefined
from pdfminer.pdfinterp import PDFPageInterpreter
from pdfminer.pdftypes import PDFStream, resolve1, stream_value
from pdfminer.psparser import LIT, PSLiteral
from pdfminer.utils import mult_matrix
from pdfplumber.page import Page, PDFPageAggregatorWithMarkedContent

from tiler.errors import UnreadableError
from tiler.reading.limits import TooManyObjectsError
from tiler.reading.pdf.forms import FormsRead, Key, Repeated
from tiler.reading.pdf.operators import Operator, plain_objects
from tiler.reading.pdf.text import Matrix, Run

DEEPEST_FORM = 40
"""Forms that are nested more deeply are taken for a circle."""


SPACE = 32
"""The single-byte code that word spacing is added to (ISO 32000-1, 9.3.3)."""

FORM = LIT("Form")


def painted_items(page: Page, most: int, forms: FormsRead) -> LTPage:
    """Return what a page paints, with :class:`Repeated` in the place of forms that were read before.

    Raises :class:`TooManyObjectsError` when it is more than ``most``.
    """
    device = _CountingDevice(page, most, forms)
    _Interpreter(page.pdf.rsrcmgr, device).process_page(page.page_obj)
    return device.get_result()


class _Interpreter(PDFPageInterpreter):
    """pdfminer's own interpreter, which reads a form again only where it looks different, and plain streams fast."""

    def execute(self, streams: Sequence[object]) -> None:
        """Carry out the operators of a page or a form."""
        found = [stream_value(stream) for stream in streams]
        numbers = {stream.objid for stream in found}
        # a form that paints itself is the library's matter
        own = None in numbers or numbers & self.parent_stream_ids
        objects = None if own else plain_objects([stream.get_data() for stream in found])
        if objects is None:
            super().execute(streams)
            return
        self.stream_ids.clear()
        self.stream_ids.update(number for number in numbers if number is not None)
        for item in objects:
            if type(item) is not Operator:
                self.argstack.append(item)
                continue
            method, operands = _methods().get(item.name, (None, 0))
            if method is None:
                continue
            given = self.pop(operands) if operands else ()
            if len(given) == operands:
                method(self, *given)

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
        """Return what tells a form that is painted by the page itself; None for all else."""
        form = resolve1(self.xobjmap.get(name.name)) if isinstance(name, PSLiteral) else None
        if device.depth or not isinstance(form, PDFStream) or form.objid is None:
            return None
        if form.get("Subtype") is not FORM or "BBox" not in form or not form.get("Resources"):
            return None
        return (form.objid, tuple(self.ctm[:4]), device.cur_tag)


@cache
def _methods() -> dict[bytes, tuple[Any, int]]:
    """Return what the library does for each operator, and with how many operands."""
    words = {"_a": "*", "_w": '"', "_q": "'"}
    methods: dict[bytes, tuple[Any, int]] = {}
    for name in dir(_Interpreter):
        if name.startswith("do_"):
            method, operator = getattr(_Interpreter, name), name[3:]
            for written, meant in words.items():
                operator = operator.replace(written, meant)
            methods[operator.encode("ascii")] = (method, method.__code__.co_argcount - 1)
    return methods


class _CountingDevice(PDFPageAggregatorWithMarkedContent):
    """pdfplumber's own device, stopped when a page holds too much."""

    def __init__(self, page: Page, most: int, forms: FormsRead) -> None:
        super().__init__(page.pdf.rsrcmgr, pageno=page.page_number, laparams=page.pdf.laparams)
        self._page, self._most, self.left, self.depth = page.page_number, most, most, 0
        self._forms = forms
        self._here: set[Key] = set()
        self._letters: dict[Any, dict[int, tuple[str, float]]] = {}

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

    def render_string(self, textstate: Any, seq: Any, ncs: Any, graphicstate: Any) -> None:
        """Place the characters of a string (ISO 32000-1, 9.4.4); vertical type is left to the library."""
        font = textstate.font
        if font.is_vertical():
            super().render_string(textstate, seq, ncs, graphicstate)
            return
        matrix: Matrix = mult_matrix(textstate.matrix, self.ctm)
        a, b, c, d, e, f = matrix
        size, scaling = textstate.fontsize, textstate.scaling * 0.01
        foot = font.get_descent() * size + textstate.rise
        after = textstate.charspace * scaling
        word = 0 if font.is_multibyte() else textstate.wordspace * scaling
        known = self._letters.setdefault(font, {})
        add: Any = self.cur_item._objs.append
        x, y = textstate.linematrix
        between = False
        for part in seq:
            if isinstance(part, bytes):
                codes = list(font.decode(part))
                self._count(len(codes))
                for cid in codes:
                    if cid not in known:
                        known[cid] = self._letter(font, cid)
                # characters with white between them are runs of their own
                for cids in ([cid] for cid in codes) if after or word else [codes] if codes else []:
                    x += after if between else 0
                    stops = list(accumulate((known[cid][1] * size * scaling for cid in cids), initial=x))
                    letters = [known[cid][0] for cid in cids]
                    placed = (a, b, c, d, c * y + e, d * y + f)
                    add(Run.placed(self.cur_tag, placed, letters, stops, foot, size))
                    x = stops[-1] + (word if cids[-1] == SPACE else 0)
                    between = True
            elif isinstance(part, int | float):
                x -= part * 0.001 * size * scaling
                between = True
        textstate.linematrix = (x, y)

    def _letter(self, font: Any, cid: int) -> tuple[str, float]:
        """Return what a code of a font prints, and its width in text space."""
        try:
            return str(font.to_unichr(cid)), float(font.char_width(cid))
        except PDFUnicodeNotDefined:
            return self.handle_undefined_char(font, cid), float(font.char_width(cid))

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
