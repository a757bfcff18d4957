"""Files that two readers may take in two ways are refused: ours always, others where it can change what is measured.

Sections are those of ISO 32000-1.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import partial
from io import BytesIO

import pikepdf
import pytest

from tiler.errors import ExitCode, UnreadableError
from tiler.proof import prove
from tiler.sheets.document import Document

Edit = Callable[[bytes], bytes]

SIDE = 144
"""A side of 2 in, points."""


def plain(data: bytes) -> bytes:
    """Give the file with nothing packed and one table of objects, so that it can be changed as a text."""
    out = BytesIO()
    with pikepdf.open(BytesIO(data)) as pdf:
        pdf.save(
            out,
            compress_streams=False,
            stream_decode_level=pikepdf.StreamDecodeLevel.generalized,
            object_stream_mode=pikepdf.ObjectStreamMode.disable,
        )
    return out.getvalue()


@pytest.fixture(scope="module")
def ours(band_tiles: Document) -> bytes:
    return plain(band_tiles.data)


@pytest.fixture(scope="module")
def theirs() -> bytes:
    """Two pages of somebody else: a labelled square, and a line."""
    pdf = pikepdf.new()
    words = f"BT /F 12 Tf 110 350 Td (2 in) Tj ET 100 300 {SIDE} {SIDE} re S"
    for content in (words, "1 w 100 100 m 300 100 l S"):
        page = pdf.add_blank_page(page_size=(612, 792))
        face = pikepdf.Dictionary(Type=pikepdf.Name.Font, Subtype=pikepdf.Name.Type1, BaseFont=pikepdf.Name.Helvetica)
        page.Resources = pikepdf.Dictionary(Font=pikepdf.Dictionary(F=face))
        page.Contents = pdf.make_stream(content.encode())
    pdf.docinfo["/Title"] = "Heron"
    out = BytesIO()
    pdf.save(out)
    return plain(out.getvalue())


def objects(data: bytes) -> dict[int, int]:
    """Give where every object begins."""
    return {int(found[1]): found.start(1) for found in re.finditer(rb"(?m)^([0-9]+) 0 obj\b", data)}


def tabled(body: bytes, trailer: bytes, sections: bytes | None = None) -> bytes:
    """Give a file with a table for its objects (7.5.4)."""
    places = objects(body)
    rows = b"".join(b"%d 1\n%010d 00000 n \n" % (number, at) for number, at in sorted(places.items()))
    table = b"xref\n0 1\n0000000000 65535 f \n" + rows + (sections or b"")
    return body + table + b"trailer\n" + trailer + b"\nstartxref\n%d\n%%%%EOF\n" % len(body)


def taken_apart(data: bytes) -> tuple[bytes, bytes]:
    """Give the objects of a file, and the dictionary of its trailer."""
    start = data.rindex(b"xref", 0, data.rindex(b"startxref"))
    trailer = data[data.index(b"trailer", start) + 7 : data.rindex(b"startxref")].strip()
    return data[:start], trailer


def edited(old: bytes, new: bytes, data: bytes) -> bytes:
    """Change the text of a file in its first such place, and its table with it."""
    body, trailer = taken_apart(data)
    assert old in body
    return tabled(body.replace(old, new, 1), trailer)


def content_of(data: bytes, page: int) -> tuple[int, bytes]:
    with pikepdf.open(BytesIO(data)) as pdf:
        content = pdf.pages[page - 1].Contents
        return content.objgen[0], content.read_bytes()


def content(change: Edit, page: int, data: bytes) -> bytes:
    """Change the content of a page, and its length with it."""
    with pikepdf.open(BytesIO(data)) as pdf:
        pdf.pages[page - 1].Contents = pdf.make_stream(change(pdf.pages[page - 1].Contents.read_bytes()))
        out = BytesIO()
        pdf.save(out)
    return out.getvalue()


def first(text: bytes, change: bytes) -> Edit:
    return lambda data: data.replace(text, change, 1)


def behind(more: bytes) -> Edit:
    return lambda data: data + b"\n" + more


def table_twice(data: bytes) -> bytes:
    """A table with two entries for the content of the first page."""
    body, trailer = taken_apart(data)
    number, _ = content_of(data, 1)
    other, _ = content_of(data, 2)
    return tabled(body, trailer, b"%d 1\n%010d 00000 n \n" % (number, objects(body)[other]))


def older_state(data: bytes) -> bytes:
    """A later state of the content of the first page that cannot be read, so that some readers take the older one."""
    number, _ = content_of(data, 1)
    _, trailer = taken_apart(data)
    before = int(data[data.rindex(b"startxref") + 9 :].split()[0])
    row = b"xref\n%d 1\n%010d 00000 n \n" % (number, 0)
    more = b"trailer\n" + trailer[:-2].rstrip() + b" /Prev %d >>" % before
    return data + row + more + b"\nstartxref\n%d\n%%%%EOF\n" % len(data)


def missing_object(data: bytes) -> bytes:
    """A table with an entry that leads nowhere, for an object that a page refers to: null for all readers (7.3.10)."""
    body, trailer = taken_apart(edited(BOX, BOX + b" /Thumb 99 0 R", data))
    return tabled(body, trailer, b"99 1\n0000000000 00000 n \n")


def beside(data: bytes, *, agree: bool = False) -> bytes:
    """A hybrid file (7.5.8.4): a stream of references beside the table, for the content of the first page."""
    body, trailer = taken_apart(data)
    (number, _), (other, _) = content_of(data, 1), content_of(data, 2)
    at = objects(body)[number if agree else other]
    row = b"\1" + at.to_bytes(4, "big") + b"\0"
    own = max(objects(body)) + 1
    start = len(body)
    entries = b"<< /Type /XRef /Size %d /W [1 4 1] /Index [%d 1] /Length %d >>" % (own + 1, number, len(row))
    body += b"%d 0 obj\n%s\nstream\n%s\nendstream\nendobj\n" % (own, entries, row)
    return tabled(body, trailer[:-2].rstrip() + b" /XRefStm %d >>" % start)


def two_states(data: bytes) -> bytes:
    """A file with two states of an object, whose table cannot be found."""
    number, _ = content_of(data, 1)
    late = b"%d 0 obj\n<< /Length 6 >>\nstream\n0 0 m\n\nendstream\nendobj\n" % number
    body, trailer = taken_apart(data)
    return body + late + b"trailer\n" + trailer + b"\n%%EOF\n"


def length(by: int, data: bytes) -> bytes:
    """State another length of the content of the first page (7.3.8.2)."""
    number, held = content_of(data, 1)
    body, trailer = taken_apart(data)
    start = objects(body)[number]
    old, new = b"/Length %d" % len(held), b"/Length %d" % (len(held) + by)
    assert old in body[start : start + 60]
    return tabled(body[:start] + body[start:].replace(old, new, 1), trailer)


BOX = b"/MediaBox [ 0 0 612 792 ]"
OF_FILE: dict[str, tuple[Edit, str]] = {
    "box twice": (partial(edited, BOX, BOX + b" /MediaBox [ 0 0 600 792 ]"), "states its /MediaBox twice"),
    "name written otherwise": (partial(edited, BOX, BOX + b" /Me#64iaBox [ 0 0 600 792 ]"), "its /MediaBox twice"),
    "table names one twice": (table_twice, "names one of them twice"),
    "older state": (older_state, "an older state of it can"),
    "two tables": (beside, "two tables of objects disagree"),
    "two states": (two_states, "objects of one number are there twice"),
    "length too short": (partial(length, -20), "longer or shorter than it states"),
    "length too long": (partial(length, 24), "longer or shorter than it states"),
}


def refused(data: bytes, what: str) -> None:
    with pytest.raises(UnreadableError, match=re.escape(what)) as caught:
        prove(data)
    assert caught.value.code is ExitCode.UNREADABLE
    assert "save it once as a new PDF" in str(caught.value)


@pytest.mark.parametrize(("edit", "what"), OF_FILE.values(), ids=OF_FILE.keys())
def test_a_file_with_two_meanings_is_refused(ours: bytes, theirs: bytes, edit: Edit, what: str) -> None:
    """This test ensures it for ours and for others: each of these changes what a page shows."""
    refused(edit(ours), what)
    refused(edit(theirs), what)


IN_CONTENT: dict[str, tuple[Edit, str]] = {
    "too few": (behind(b"100 m 200 200 l S"), "the operator m has 1 operands instead of 2"),
    "none": (behind(b"q cm Q"), "the operator cm has 0 operands instead of 6"),
    "exponent": (behind(b"1e2 100 m 200 200 l S"), "operator"),
    "two signs": (behind(b"--5 100 m 200 200 l S"), "written as no number is"),
    "a sign within": (behind(b"1-5 100 m 200 200 l S"), "written as no number is"),
    "two points": (behind(b"10.5.3 100 m 200 200 l S"), "written as no number is"),
    "no number": (behind(b"NaN 100 m 200 200 l S"), "operator"),
    "beyond 32 bits": (behind(b"4294967396 100 m 200 200 l S"), "larger than readers agree on"),
    "far beyond": (behind(b"100 99999999999999999999999 m 200 200 l S"), "larger than readers agree on"),
}
STRICT: dict[str, tuple[Edit, str]] = {
    "too many": (behind(b"7 100 100 m 200 200 l S"), "the operator m has 3 operands instead of 2"),
    "no operator": (behind(b"fill"), "'fill' is no operator"),
    "left over": (behind(b"5 q Q"), "the operator q has 1 operands instead of 0"),
}


@pytest.mark.parametrize(("change", "what"), [*IN_CONTENT.values(), *STRICT.values()], ids=[*IN_CONTENT, *STRICT])
def test_content_of_ours_with_two_meanings_is_refused(ours: bytes, change: Edit, what: str) -> None:
    refused(content(change, 2, ours), what)


@pytest.mark.parametrize(("change", "what"), IN_CONTENT.values(), ids=IN_CONTENT.keys())
def test_content_of_others_is_refused_where_it_is_measured(theirs: bytes, change: Edit, what: str) -> None:
    refused(content(change, 1, theirs), what)
    assert prove(content(change, 2, theirs)).verdict == "true-to-scale"


@pytest.mark.parametrize("change", [one for one, _ in STRICT.values()], ids=STRICT.keys())
def test_what_all_readers_pass_over_is_passed_over_in_files_of_others(theirs: bytes, change: Edit) -> None:
    assert prove(content(change, 1, theirs)).verdict == "true-to-scale"


def test_a_title_stated_twice_is_a_doubt_of_ours_alone(ours: bytes, theirs: bytes) -> None:
    refused(edited(b"/Title (Heron edges)", b"/Title (Heron edges) /Title (Other)", ours), "states its /Title twice")
    again = edited(b"/Title (Heron)", b"/Title (Heron) /Title (Other)", theirs)
    assert prove(again).verdict == "true-to-scale"


HARMLESS: dict[str, Edit] = {
    "nothing": lambda data: data,
    "same key, same value": partial(edited, BOX, BOX + b" " + BOX),
    "an object that is missing": missing_object,
    "two tables that agree": partial(beside, agree=True),
    "one byte for the end of line": partial(length, 1),
    "zeros and signs": partial(content, behind(b"q 0000000000001 0 -0 +1 0. .0 cm Q"), 1),
    "a long number in words": partial(content, behind(b"BT 0 -50 Td (12345678901234) ' ET"), 2),
    "signs in words": partial(content, behind(b"BT 0 -50 Td (a (well--known 1.2.3) \\\\) ' % 1-2\nET"), 2),
    "a comment": partial(content, behind(b"q % 1 2 3 m\nQ"), 1),
    "colours": partial(content, behind(b"q /DeviceRGB cs 0 0 0 sc /DeviceGray CS 0 SC 0 0 0 rg 0 G Q"), 1),
    "compatibility": partial(content, behind(b"BX EX /Any MP 0 i /Perceptual ri"), 1),
}


@pytest.mark.parametrize("edit", HARMLESS.values(), ids=HARMLESS.keys())
def test_what_has_one_meaning_is_read(theirs: bytes, edit: Edit) -> None:
    assert prove(edit(theirs)).verdict == "true-to-scale"


@pytest.mark.parametrize("name", [name for name in HARMLESS if "in words" not in name])
def test_what_has_one_meaning_is_read_in_ours(ours: bytes, name: str) -> None:
    report = prove(HARMLESS[name](ours))
    assert (report.verdict, report.failed) == ("true-to-scale", ())
