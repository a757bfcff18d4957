"""The objects of a PDF, safe to follow, with what another reader may take otherwise noted on the way.

ISO 32000-1, 7.3.10, lets any object be a reference.  pdfminer.six follows a chain of
them for ever when it is closed, so the document that pdfplumber opens is this one.
"""

from __future__ import annotations

from io import BufferedReader, BytesIO
from typing import Any, NoReturn

import pdfminer.pdfdocument
import pdfplumber
import pdfplumber.pdf
from pdfminer.pdfdocument import PDFDocument, PDFNoPageLabels
from pdfminer.pdfparser import PDFParser, PDFStreamParser
from pdfminer.pdftypes import PDFObjRef, PDFStream
from pdfminer.psexceptions import PSEOF, PSException, PSSyntaxError

from tiler.reading.pdf.doubts import Doubts, uneven
from tiler.reading.pdf.unicode_maps import FontsOfFile

LONGEST_CHAIN = 32
"""References to references; a longer chain is taken for a circle."""

LONGEST_LINE = 64
"""The line that begins a stream is no longer, bytes."""


class CarefulDocument(PDFDocument):
    """pdfminer's document, whose objects are never references, and which notes its ``doubts``."""

    def __init__(self, parser: PDFParser, password: str = "") -> None:
        """Read the tables of objects."""
        self.doubts, self._starts, self._unread = Doubts(), list[int](), set[int]()
        super().__init__(parser, password)
        here = parser.fp.tell()
        self.doubts.tables(self.xrefs, self._starts, parser.fp)
        parser.fp.seek(here)

    def read_xref_from(self, parser: PDFParser, start: int, xrefs: list[Any]) -> None:
        """Read a table and those before it."""
        self._starts.append(start)
        super().read_xref_from(parser, start, xrefs)

    def getobj(self, objid: int) -> object:
        """Return an object; raises ``PSSyntaxError`` when it is nothing but references."""
        for _ in range(LONGEST_CHAIN):
            found = super().getobj(objid)
            if not isinstance(found, PDFObjRef):
                return found
            objid = found.objid
        raise PSSyntaxError(f"object {objid} is a circle of references")

    def _getobj_parse(self, pos: int, objid: int) -> object:
        try:
            found = super()._getobj_parse(pos, objid)
        except (PSEOF, PSException):
            self._unread.add(objid)
            raise
        # an older state stands in for one that cannot be read: others may take the object for missing
        if objid in self._unread:
            self.doubts.note("an object cannot be read, and an older state of it can", measured=True)
        return found

    def get_page_labels(self) -> NoReturn:
        """Refuse the labels to the library, which follows their tree without end; ``facts`` reads them."""
        raise PDFNoPageLabels


class _Careful:
    """What both parsers do with a finished dictionary."""

    doc: Any

    def end_type(self, type: str) -> tuple[int, list[Any]]:
        """Return what stands between the signs of an array, a procedure or a dictionary."""
        found: tuple[int, list[Any]] = super().end_type(type)  # type: ignore[misc]
        pairs = found[1]
        if type == "d" and len({*map(id, pairs[::2])}) < (len(pairs) + 1) // 2 and self.doc is not None:
            self.doc.doubts.keys(pairs)
        return found


class CarefulParser(_Careful, PDFParser):
    """pdfminer's parser of a file."""

    def do_keyword(self, pos: int, token: Any) -> None:
        """Take a keyword; after a stream, see whether it is as long as it says."""
        super().do_keyword(pos, token)
        stream = self.curstack[-1][1] if token is self.KEYWORD_STREAM and self.curstack else None
        if not isinstance(stream, PDFStream) or self.fallback:
            return
        end = self.bufpos
        held = len(stream.rawdata or b"")
        self.fp.seek(pos)
        head = self.fp.read(LONGEST_LINE + 2)
        begin = pos + len(head.split(b"\n", 1)[0]) + 1
        if end - begin - held > 2 or b"endstream" in (stream.rawdata or b""):
            self.fp.seek(pos)
            stream.uneven = uneven(stream, self.fp.read(max(0, end - pos)))  # type: ignore[attr-defined]
        self.fp.seek(end)


class CarefulStreamParser(_Careful, PDFStreamParser):
    """pdfminer's parser of what a stream of objects holds."""


def doubts_of(pdf: pdfplumber.pdf.PDF) -> Doubts:
    """Return what is in doubt about an open PDF so far."""
    assert isinstance(pdf.doc, CarefulDocument)
    return pdf.doc.doubts


def open_pdf(stream: BufferedReader | BytesIO) -> pdfplumber.pdf.PDF:
    """Open a PDF; the stream stays the caller's."""
    # the libraries make document and parsers themselves and let nobody say of which class
    pdfplumber.pdf.PDFDocument = CarefulDocument  # type: ignore[attr-defined, assignment]
    pdfplumber.pdf.PDFParser = CarefulParser  # type: ignore[attr-defined]
    pdfminer.pdfdocument.PDFStreamParser = CarefulStreamParser  # type: ignore[attr-defined]
    pdf = pdfplumber.open(stream)
    pdf.rsrcmgr = FontsOfFile()
    return pdf
