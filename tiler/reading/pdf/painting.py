"""Interpreting the content of a page, with a bound on how much it may paint.

A few kilobytes can paint without end: a form that paints another ten times, which
paints a third ten times, and so on, or one that paints itself.  So objects and nested forms are counted
while the page is interpreted, and not when all of them have been made.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from functools import cache
from itertools import accumulate
from typing import Any

from pdfminer.layout import LTPage
from pdfminer.pdffont import PDFUnicodeNotDefined
from pdfminer.pdfinterp import PDFContentParser, PDFPageInterpreter
from pdfminer.pdftypes import PDFStream, resolve1, stream_value
from pdfminer.psexceptions import PSEOF
from pdfminer.psparser import LIT, PSKeyword, PSLiteral
from pdfminer.utils import mult_matrix
from pdfplumber.page import Page, PDFPageAggregatorWithMarkedContent

from tiler.errors import UnreadableError
from tiler.reading.limits import TooManyObjectsError
from tiler.reading.pdf.forms import FormsRead, Key, Repeated
from tiler.reading.pdf.objects import doubts_of
from tiler.reading.pdf.operators import Operator, has_odd_numbers, plain_objects
from tiler.reading.pdf.text import Matrix, Run

DEEPEST_FORM = 40
"""Forms that are nested more deeply are taken for a circle."""


COLOURS = {b"SC", b"SCN", b"sc", b"scn"}
"""Operators with as many operands as the space of colours has components."""

UNREAD = {b"d0", b"d1", b"BX", b"EX", b"MP", b"DP", b"ri", b"i", b"gs", b"sh"}
"""Operators of ISO 32000-1, Table 51, that the library may pass over."""

MOST = 2**31 - 1
"""Larger numbers are taken otherwise by readers of 32 bits (ISO 32000-1, Table C.1)."""

_LONG = re.compile(rb"[0-9]{10}")

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
        if None in numbers or numbers & self.parent_stream_ids:
            super().execute(streams)
            return
        device = self.device
        assert isinstance(device, _CountingDevice)
        data = [stream.get_data() for stream in found]
        objects = plain_objects(data)
        device.look_at(found, data, objects)
        self.stream_ids.clear()
        self.stream_ids.update(number for number in numbers if number is not None)
        methods = _methods()
        for item in _slowly(found) if objects is None else objects:
            if type(item) is not Operator:
                self.argstack.append(item)
                continue
            method, operands = methods.get(item.name, (None, 0))
            given, self.argstack = self.argstack, []
            if len(given) == operands and method is not None:
                method(self, *given)
            elif item.name in COLOURS:
                # as many as the space of colours has: the library counts them itself
                self.argstack = given
                method(self)
                self.argstack = []
            elif method is not None:
                device.miscounted(item.name, len(given), operands)
                if len(given) > operands:
                    method(self, *given[len(given) - operands :])
            elif item.name not in UNREAD:
                device.doubt(f"{item.name.decode('latin-1')!r} is no operator", measured=False)
        self.argstack = []

    def do_gs(self, name: Any) -> None:
        """Take the weight and the dashes of lines out of a state that has a name (ISO 32000-1, Table 58)."""
        states = resolve1(self.resources.get("ExtGState"))
        state = resolve1(states.get(name.name)) if isinstance(states, dict) and isinstance(name, PSLiteral) else None
        if isinstance(state, dict):
            weight, dashes = resolve1(state.get("LW")), resolve1(state.get("D"))
            if isinstance(weight, int | float):
                self.do_w(weight)
            if isinstance(dashes, list) and len(dashes) == 2:
                self.do_d(*dashes)

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


def _slowly(streams: Sequence[PDFStream]) -> Iterator[Any]:
    """Yield the objects of streams as the library takes them apart."""
    try:
        parser = PDFContentParser(streams)
        while True:
            _, item = parser.nextobject()
            yield Operator(item.name) if isinstance(item, PSKeyword) else item
    except PSEOF:
        return


def _beyond(objects: Iterable[Any]) -> bool:
    return any(isinstance(one, int | float) and abs(one) > MOST for one in objects)


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
        self.pdf = page.pdf
        self._here: set[Key] = set()
        self._letters: dict[Any, dict[int, tuple[str, float]]] = {}

    def doubt(self, what: str, *, measured: bool) -> None:
        """Note what another reader may take otherwise."""
        doubts_of(self.pdf).note(what, self._page, measured=measured)

    def look_at(self, streams: Sequence[PDFStream], data: Sequence[bytes], plain: Sequence[Any] | None) -> None:
        """Note what is in doubt about streams, their data, and their objects where they are plain."""
        for stream in streams:
            changing = getattr(stream, "uneven", None)
            if changing is not None:
                doubts_of(self.pdf).note("a stream is longer or shorter than it states", measured=changing)
        if plain is None and any(map(has_odd_numbers, data)):
            self.doubt("a number is written as no number is", measured=True)
        if any(_LONG.search(one) for one in data) and _beyond(_slowly(streams) if plain is None else plain):
            self.doubt("a number is larger than readers agree on", measured=True)

    def miscounted(self, operator: bytes, given: int, wanted: int) -> None:
        """Note an operator with another number of operands; of too many all readers take the last ones."""
        what = f"the operator {operator.decode('latin-1')} has {given} operands instead of {wanted}"
        self.doubt(what, measured=given < wanted)

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
