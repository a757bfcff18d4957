"""What the codes of a font mean, read in one pass where the map is written plainly (ISO 32000-1, 9.10.3).

The reading library takes a map apart character by character, which is a third of the time that the first
page of a file takes.  A map that holds nothing but pairs of codes is read here; any other is left to the
library whole.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from pdfminer.cmapdb import FileUnicodeMap
from pdfminer.pdffont import PDFFont, PDFSimpleFont
from pdfminer.pdfinterp import PDFResourceManager
from pdfminer.pdftypes import PDFStream, resolve1
from pdfminer.psparser import LIT

_SIMPLE = LIT("TrueType")
_OTHER = re.compile(rb"usecmap|beginbfrange|cid|notdef|[%()\[\]]")
_NAME = re.compile(rb"\([A-Za-z0-9+\-]*\)")
_PAIRS = re.compile(rb"(?:\s*<[0-9A-Fa-f]{2}>\s*<(?:[0-9A-Fa-f]{4})+>)*\s*")

_HEXADECIMAL = re.compile(rb"[0-9A-Fa-f]+")


class FontsOfFile(PDFResourceManager):
    """The library's own store of fonts, with plain maps read fast."""

    def __init__(self) -> None:
        """Begin without any."""
        super().__init__()
        self._plain: dict[object, PDFFont] = {}

    def get_font(self, objid: object, spec: Mapping[str, object]) -> PDFFont:
        """Return the font of a dictionary, made once for each object."""
        if objid in self._plain:
            return self._plain[objid]
        stream = resolve1(spec.get("ToUnicode")) if spec.get("Subtype") is _SIMPLE else None
        known = plain_map(stream.get_data()) if isinstance(stream, PDFStream) else None
        if known is None:
            return super().get_font(objid, spec)
        font = super().get_font(objid, {key: value for key, value in spec.items() if key != "ToUnicode"})
        assert isinstance(font, PDFSimpleFont)
        font.unicode_map = known
        if objid:
            self._plain[objid] = font
        return font


def plain_map(data: bytes) -> FileUnicodeMap | None:
    """Read a map of single bytes; None where it holds anything else."""
    _, *sections = data.split(b"beginbfchar")
    if not sections or _OTHER.search(_NAME.sub(b"", data)):
        return None
    found = FileUnicodeMap()
    for section in sections:
        pairs, end, _ = section.partition(b"endbfchar")
        if not end or not _PAIRS.fullmatch(pairs):
            return None
        words = iter(_HEXADECIMAL.findall(pairs))
        for code, meaning in zip(words, words, strict=True):
            found.add_cid2unichr(int(code, 16), bytes.fromhex(meaning.decode("ascii")))
    return found
