"""Pages that are marked as drafted ones are never judged as those of somebody else: ISO 32000-1, 7.11.4 and 14.6."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from pikepdf import Array, Dictionary, Name, Pdf, String

from tests.chosen import long
from tests.proof import faults as f
from tests.proof.conftest import proved
from tiler.errors import ExitCode
from tiler.proof.report.wording import sentence
from tiler.sheets.document import Document


def specification(pdf: Pdf, data: bytes, name: str = "tiler.json") -> Dictionary:
    file = pdf.make_stream(data, Type=Name.EmbeddedFile)
    return pdf.make_indirect(Dictionary(Type=Name.Filespec, F=String(name), EF=Dictionary(F=file)))


def gone(pdf: Pdf) -> None:
    del pdf.attachments["tiler.json"]


def instead(data: bytes) -> f.Change:
    def change(pdf: Pdf) -> None:
        pdf.attachments["tiler.json"] = data

    return change


def in_the_tree(pdf: Pdf, data: bytes) -> None:
    """A second entry of the name tree under another key, first in its order."""
    names = pdf.Root.Names.EmbeddedFiles.Names
    pdf.Root.Names.EmbeddedFiles.Names = Array([String("another"), specification(pdf, data), *names])


def in_the_file(pdf: Pdf, data: bytes) -> None:
    """A second stream for other systems (Table 45)."""
    pdf.attachments["tiler.json"].obj.EF.UF = pdf.make_stream(data, Type=Name.EmbeddedFile)


def of_the_catalog(pdf: Pdf, data: bytes) -> None:
    pdf.Root.AF = Array([specification(pdf, data)])


def of_a_page(pdf: Pdf, data: bytes) -> None:
    pdf.pages[1].AF = Array([specification(pdf, data)])


def of_a_note(pdf: Pdf, data: bytes) -> None:
    note = Dictionary(
        Type=Name.Annot, Subtype=Name.FileAttachment, Rect=Array([0, 0, 9, 9]), FS=specification(pdf, data)
    )
    pdf.pages[1].Annots = Array([pdf.make_indirect(note)])


ROUTES = [in_the_tree, in_the_file, of_the_catalog, of_a_page, of_a_note]


def refused(document: Document, change: f.Change) -> str:
    """Give the sentence of the report, which must be that the file is incomplete."""
    report = proved(document, change)
    assert report.verdict == "incomplete"
    assert report.exit_code is ExitCode.OFF_SCALE
    assert [check.name for check in report.failed] == ["declaration"]
    return sentence(report)


def test_marked_pages_without_a_declaration_are_incomplete(band_tiles: Document) -> None:
    assert "what the file declares of them is gone" in refused(band_tiles, gone)


@pytest.mark.parametrize("data", [b"{", b'{"format": 99}', b"\xff\xfe", b'{"format": 1}', b"[]", b""])
def test_a_damaged_declaration_is_incomplete(band_tiles: Document, data: bytes) -> None:
    assert "what the file declares cannot be read" in refused(band_tiles, instead(data))


@long
def test_another_format_is_named_with_the_way_out(band_tiles: Document) -> None:
    assert "an earlier version of tiler; draft the file again" in refused(band_tiles, instead(b'{"format": 1}'))
    assert "a later version of tiler" in refused(band_tiles, instead(b'{"format": 99}'))


@pytest.mark.parametrize("attach", ROUTES)
def test_two_declarations_are_incomplete_whatever_the_route(
    band_tiles: Document, attach: Callable[[Pdf, bytes], None]
) -> None:
    other = band_tiles.declaration.to_bytes().replace(b'"Heron edges"', b'"Other edges"')
    assert "2 different declarations are attached" in refused(band_tiles, lambda pdf: attach(pdf, other))


@pytest.mark.parametrize("attach", ROUTES[:4])
def test_one_declaration_attached_twice_is_one(band_tiles: Document, attach: Callable[[Pdf, bytes], None]) -> None:
    report = proved(band_tiles, lambda pdf: attach(pdf, band_tiles.declaration.to_bytes()))
    assert (report.failed, report.warned) == ((), ())


def unmarked(pdf: Pdf) -> None:
    """Take the marks off all pages and forms."""
    for page in pdf.pages:
        for holder in (page, *page.Resources.get("/XObject", Dictionary()).values()):
            kept = [one for one in f.read(holder) if str(one[1]) not in ("BMC", "EMC")]
            data = f.pikepdf.unparse_content_stream(kept)
            if holder is page:
                page.Contents = pdf.make_stream(data)
            else:
                holder.write(data)


def test_a_declaration_without_marks_is_incomplete(band_tiles: Document) -> None:
    assert "none of its pages is marked" in refused(band_tiles, unmarked)


def test_without_both_the_printed_squares_decide_and_the_rest_is_said(band_tiles: Document) -> None:
    """This test ensures that a rewritten file is measured by what calls itself a test square, and by nothing else."""
    report = proved(band_tiles, f.both(unmarked, gone))
    assert report.verdict == "true-to-scale"
    assert {check.nominal_mm for check in report.sizes if check.name == "square"} == {50.8, 50.0}
    assert sentence(report).endswith("rewritten since it was drafted; how the pages belong together is not proved.")


def square_piece(pdf: Pdf) -> None:
    """Draw a square of 4 in on the second page that names its size as a piece may: "cut 4 in × 4 in", at 98 %."""
    side = 4 * 72 * 0.98
    box = [f.code("q"), f.code("re", 100, 200, side, side), f.code("S"), f.code("Q")]
    font = next(iter(pdf.pages[0].Resources.Font))
    words = [
        f.code("BT"),
        f.code("Tf", Name(font), 12),
        f.code("Td", 150, 300),
        f.code("Tj", String("4 in")),
        f.code("ET"),
    ]
    f.write(pdf, 2, [*f.read(pdf.pages[1]), *box, *words])


def test_a_square_piece_of_a_rewritten_file_is_no_test_square(band_tiles: Document) -> None:
    report = proved(band_tiles, f.both(unmarked, gone, square_piece))
    assert {check.nominal_mm for check in report.sizes if check.name == "square"} == {50.8, 50.0}
    assert report.verdict == "true-to-scale"


def test_a_rewritten_file_off_scale_is_off(band_tiles: Document) -> None:
    assert proved(band_tiles, f.both(unmarked, gone, f.whole_pages(f.scaled(0.97)))).verdict == "off-scale"
