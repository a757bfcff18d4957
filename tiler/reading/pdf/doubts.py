"""What readers of a PDF may take in two ways, noted while it is read.

A file is what its readers make of it.  ISO 32000-1 says what is right (7.3.7: the keys of a
dictionary are unique; 7.3.8.2: the length of a stream; 7.5.4 and 7.5.8.4: one entry an object;
7.8.2: the operands of an operator) and little of what a reader should do with the rest.
"""

from __future__ import annotations

import re
import zlib
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, BinaryIO

from pdfminer.pdfdocument import PDFXRef, PDFXRefFallback, PDFXRefStream
from pdfminer.pdftypes import PDFObjRef, PDFStream
from pdfminer.psparser import PSLiteral

MEASURED = re.compile(
    r"BBox|BaseState|Contents|Count|CropBox|D|DecodeParms|Encoding|ExtGState|FF|Filter|First|FirstChar|"
    r"Font|FontMatrix|Index|Kids|Length|Matrix|MediaBox|N|OC|OCGs|OCProperties|OFF|ON|Pages|Parent|Prev|"
    r"Resources|Root|Rotate|Size|Subtype|ToUnicode|Type|UserUnit|W|Widths|XObject|XRefStm"
)
"""Keys that decide what is painted, where, and how large."""

LONGEST_TABLE = 2**22
"""Of a longer table only the beginning is looked at, bytes."""

_SUBSECTION = re.compile(rb"(?m)^[ ]*([0-9]{1,10})[ ]+([0-9]{1,10})[ ]*\r?$")
_OBJECT = re.compile(rb"(?:^|[\r\n\s])([0-9]{1,10})\s+[0-9]{1,5}\s+obj\b")
_LINE = re.compile(rb"[^\r\n]*(?:\r\n|\r|\n)")


@dataclass(frozen=True)
class Doubt:
    """One such thing in words, and its page, None for the file; ``measured`` if it can change a measured length."""

    what: str
    page: int | None
    measured: bool


class Doubts:
    """All that was noted so far of a file."""

    def __init__(self) -> None:
        """Begin without any."""
        self._found: dict[Doubt, None] = {}

    def note(self, what: str, page: int | None = None, *, measured: bool) -> None:
        """Note a thing."""
        self._found[Doubt(what, page, measured)] = None

    def first(self, ours: Collection[int], measured: Collection[int]) -> Doubt | None:
        """Return the first that counts: of a file with pages of ours any, of others what changes a measured page."""
        for doubt in self._found:
            if doubt.page is None:
                if doubt.measured or ours:
                    return doubt
            elif doubt.page in ours or (doubt.measured and doubt.page in measured):
                return doubt
        return None

    def keys(self, pairs: Sequence[Any]) -> None:
        """Look at the keys and values of a dictionary as they are written."""
        held: dict[Any, Any] = {}
        for key, value in zip(pairs[::2], pairs[1::2], strict=False):
            if key in held and not _same(held[key], value):
                name = str(key.name) if isinstance(key, PSLiteral) else str(key)
                weighty = MEASURED.fullmatch(name) is not None or isinstance(value, PDFObjRef)
                self.note(f"a dictionary states its /{name} twice", measured=weighty)
            held[key] = value

    def tables(self, xrefs: Sequence[Any], starts: Sequence[int], file: BinaryIO) -> None:
        """Look at the cross-reference tables and streams, in the order that they were read in, and where."""
        if any(isinstance(xref, PDFXRefFallback) for xref in xrefs):
            file.seek(0)
            numbers = _OBJECT.findall(file.read())
            if len({int(number) for number in numbers}) < len(numbers):
                self.note("its table of objects is broken, and objects of one number are there twice", measured=True)
            return
        for xref, after in zip(xrefs, [*xrefs[1:], None], strict=True):
            if isinstance(xref, PDFXRef) and isinstance(after, PDFXRefStream) and "XRefStm" in xref.trailer:
                held = {number: after.get_pos(number) for number in after.get_objids()}
                if any(held.get(number, place)[:2] != place[:2] for number, place in xref.offsets.items()):
                    self.note("its two tables of objects disagree", measured=True)
        for start, xref in zip(starts, xrefs, strict=False):
            if isinstance(xref, PDFXRef):
                file.seek(start)
                table = file.read(LONGEST_TABLE).split(b"trailer", 1)[0]
                parts = sorted((int(first), int(count)) for first, count in _SUBSECTION.findall(table))
                if any(first + count > other for (first, count), (other, _) in pairwise(parts)):
                    self.note("its table of objects names one of them twice", measured=True)


def _same(one: Any, other: Any) -> bool:
    if isinstance(one, PDFObjRef) and isinstance(other, PDFObjRef):
        return bool(one.objid == other.objid)
    return bool(one == other)


def uneven(stream: PDFStream, written: bytes) -> bool | None:
    """Tell whether a stream and its stated length disagree: None for no, True if that changes what it holds.

    ``written`` is all from the line with ``stream`` to ``endstream``.
    """
    line = _LINE.match(written)
    held = written[line.end() :] if line else written
    data = stream.rawdata or b""
    if b"endstream" not in data and not held[len(data) :].strip(b"\0\t\n\f\r "):
        return None
    inflate = zlib.decompressobj()
    try:
        inflate.decompress(data)
    except zlib.error:
        return True
    return not inflate.eof
