"""A map of codes read in one pass means what the library reads in it (ISO 32000-1, 9.10.3)."""

from __future__ import annotations

from io import BytesIO

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pdfminer.cmapdb import CMapParser, FileUnicodeMap
from pypdf import PdfReader

from tiler.reading.pdf.unicode_maps import plain_map
from tiler.sheets.document import Document

HEAD = b"/CIDInit /ProcSet findresource begin begincmap 1 begincodespacerange <00> <FF> endcodespacerange\n"


def by_library(data: bytes) -> dict[int, str]:
    found = FileUnicodeMap()
    CMapParser(found, BytesIO(data)).run()
    return found.cid2unichr


@given(st.lists(st.tuples(st.integers(0, 255), st.text(min_size=1, max_size=3)), max_size=9), st.integers(0, 9))
def test_plain_pairs_mean_the_same(pairs: list[tuple[int, str]], first: int) -> None:
    """This test ensures that later pairs win, in one section or several, as the library has it."""
    written = [
        b"<%02X> <%s>\n" % (code, text.encode("utf-16-be", "surrogatepass").hex().encode()) for code, text in pairs
    ]
    data = HEAD + b"".join(
        b"%d beginbfchar\n" % len(part) + b"".join(part) + b"endbfchar\n" for part in (written[:first], written[first:])
    )
    known = plain_map(data)
    assert known is not None
    assert known.cid2unichr == by_library(data)


@pytest.mark.parametrize(
    "data",
    [
        b"1 beginbfrange <00> <05> <0041> endbfrange",
        b"1 beginbfchar <0001> <0041> endbfchar",
        b"1 beginbfchar <01> /A endbfchar",
        b"1 beginbfchar <01> <0041>",
        b"1 beginbfchar % <01>\n <01> <0041> endbfchar",
        b"/Other usecmap 1 beginbfchar <01> <0041> endbfchar",
        b"",
    ],
)
def test_anything_else_is_left_to_the_library(data: bytes) -> None:
    assert plain_map(HEAD + data) is None


def test_the_maps_of_our_fonts_are_plain(letter: Document) -> None:
    for font in PdfReader(BytesIO(letter.data)).pages[0]["/Resources"]["/Font"].values():
        data = font.get_object()["/ToUnicode"].get_data()
        known = plain_map(data)
        assert known is not None
        assert known.cid2unichr == by_library(data)
