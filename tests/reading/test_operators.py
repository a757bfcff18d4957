"""Content streams taken apart in one pass, held against the reading library's own parser of them (pdfminer.six).

The library is the reference: what is taken apart here must be what it finds, object for object.
"""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pdfminer.pdfinterp import PDFContentParser
from pdfminer.pdftypes import PDFStream
from pdfminer.psparser import PSEOF, PSKeyword

from tiler.reading.pdf.operators import Operator, plain_objects


def by_library(*streams: bytes) -> list[Any]:
    """Take streams apart with the library's parser."""
    parser = PDFContentParser([PDFStream({}, data) for data in streams])
    objects: list[Any] = []
    while True:
        try:
            _, found = parser.nextobject()
        except PSEOF:
            return objects
        objects.append(Operator(found.name) if isinstance(found, PSKeyword) else found)


PLAIN = {
    "numbers": b"1 0 -1 +2 .5 -.5 5. 007 1.250 0.0001 -12.75 cm ",
    "a path (ISO 32000-1, 8.5)": b"n 10 20 m 30 40 l 1 2 3 4 5 6 c 1 2 3 4 v 1 2 3 4 y h S\n0 0 5 5 re W* n f* B b* ",
    "colours and state": b"0 g 1 0 0 rg .1 .2 .3 .4 K /Cs1 cs 0.5 scn q Q [3 2] 0 d [] 0 d 1 w 0 J 1 j /GS0 gs ",
    "text (9.4)": b"BT /F1+0 11 Tf 13.2 TL 1 0 0 1 5 6 Tm (1A) Tj T* [(A) -120 (b)] TJ (x) ' 1 2 (y) \" ET ",
    "escapes (Table 3)": rb"(a\n\r\t\b\f\(\)\\b) Tj (\101\0\53\1234) Tj (\61x) Tj ",
    "empty and hexadecimal strings": b"() Tj <48656C6C6F> Tj <> Tj ",
    "a glyph's width": b"500 0 0 0 100 100 d1 10 0 d0 ",
    "marked content (14.6)": b"/CutLine BMC 1 2 m 3 4 l S EMC /Artifact MP ",
    "no space between": b"[1 2]0 d(a)Tj/F1 9 Tf[(a)(b)]TJ",
    "an unknown operator": b"1 2 zz 3 4 m ",
    "white space of every kind (7.2.2)": b"1\r2\n3\t4\f5\x00 6\r\nc",
}
ELSEWHERE = {
    "an inline image (8.9.7)": b"q BI /W 1 /H 1 /BPC 8 /CS /G ID \x00 EI Q ",
    "a dictionary": b"/P <</MCID 0>> BDC EMC ",
    "a comment (7.2.4)": b"1 2 m % 3 4 l\n5 6 l S ",
    "brackets inside a string": b"(a (b) c) Tj ",
    "a line end inside a string": b"(a\rb) Tj ",
    "a broken line inside a string": b"(a\\\nb) Tj ",
    "an escape that there is not": b"(a\\qb) Tj ",
    "an octal number that is no byte": b"(\\777) Tj ",
    "a name with a number sign": b"/F#31 9 Tf ",
    "an odd number of hexadecimal digits": b"<484> Tj ",
    "an array in an array": b"[[1] 2] 0 d ",
    "an operator in an array": b"[1 m] 0 d ",
    "a bracket too many": b"1 ] m ",
    "an array without end": b"[1 2 ",
    "a string without end": b"1 2 m (abc",
    "a truth value": b"true false null ",
    "two numbers that run together": b"1.2.3 4--5 m ",
    "a number of very many digits": b"9" * 5000 + b" 0 m ",
    "brace and letter": b"{1} m 5a ",
}


@pytest.mark.parametrize("stream", PLAIN.values(), ids=PLAIN.keys())
def test_a_plain_stream_holds_what_the_library_finds(stream: bytes) -> None:
    assert plain_objects([stream]) == by_library(stream)


@pytest.mark.parametrize("stream", ELSEWHERE.values(), ids=ELSEWHERE.keys())
def test_what_is_not_plain_is_left_to_the_library(stream: bytes) -> None:
    assert plain_objects([stream]) is None


def test_numbers_keep_their_kind() -> None:
    found = plain_objects([b"1 1.0 -0 m"])
    assert found is not None
    assert [type(one) for one in found] == [int, float, int, Operator]


def test_streams_of_one_page_follow_each_other_as_the_library_has_it() -> None:
    streams = (b"q 1 0 0 1 5 5 cm", b"1 2 m 3 4 l", b"S Q")
    assert plain_objects(streams) == by_library(*streams)


def test_a_long_stream_is_left_to_the_library() -> None:
    assert plain_objects([b"1 2 m " * 2**18]) is None


LETTERS = st.text("abc XYZ 019.-+/%[]<>", max_size=8)
NUMBERS = st.integers(-10_000, 10_000).map(str) | st.floats(-1e4, 1e4).map("{:.5f}".format)
STRINGS = LETTERS.map("({})".format)
NAMES = st.text("AZaz09+_.-", min_size=1, max_size=6).map("/{}".format)
OPERANDS = NUMBERS | STRINGS | NAMES
ARRAYS = st.lists(OPERANDS, max_size=4).map(lambda inner: f"[{' '.join(inner)}]")
OPERATORS = st.sampled_from(["q", "cm", "w", "d", "m", "l", "re", "f*", "W*", "n", "BT", "Tj", "T*", "'", "BMC", "gs"])
SPACES = st.sampled_from([" ", "\n", "\r\n", "  ", "\t"])


@given(st.lists(st.tuples(OPERANDS | ARRAYS | OPERATORS, SPACES), max_size=30))
def test_any_mixture_of_plain_objects_is_taken_apart_alike(objects: list[tuple[str, str]]) -> None:
    stream = "".join(one + space for one, space in objects).encode("ascii")
    assert plain_objects([stream]) == by_library(stream)
