"""The objects of a PDF, safe to follow: references that lead round in a circle come to an end.

ISO 32000-1, 7.3.10, lets any object be a reference.  pdfminer.six follows a chain of
them for ever when it is closed, so the document that pdfplumber opens is this one.
"""

from __future__ import annotations

from io import BufferedReader, BytesIO

import pdfplumber
import pdfplumber.pdf
from pdfminer.pdfdocument import PDFDocument
from pdfminer.pdftypes import PDFObjRef
from pdfminer.psexceptions import PSSyntaxError

from tiler.reading.pdf.unicode_maps import FontsOfFile

LONGEST_CHAIN = 32
"""References to references; a longer chain is taken for a circle."""


class CarefulDocument(PDFDocument):
    """pdfminer's document, whose objects are never references."""

    def getobj(self, objid: int) -> object:
        """Return an object; raises ``PSSyntaxError`` when it is nothing but references."""
        for _ in range(LONGEST_CHAIN):
            found = super().getobj(objid)
            if not isinstance(found, PDFObjRef):
                return found
            objid = found.objid
        raise PSSyntaxError(f"object {objid} is a circle of references")


def open_pdf(stream: BufferedReader | BytesIO) -> pdfplumber.pdf.PDF:
    """Open a PDF; the stream stays the caller's."""
    # pdfplumber makes its document itself and lets nobody say of which class
    pdfplumber.pdf.PDFDocument = CarefulDocument  # type: ignore[attr-defined]
    pdf = pdfplumber.open(stream)
    pdf.rsrcmgr = FontsOfFile()
    return pdf
