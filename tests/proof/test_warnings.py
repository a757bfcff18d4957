"""What only warns: the print is right, but something is not as it was made."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, Pdf

from tests.proof import faults as f
from tests.proof.conftest import changed, proved
from tiler.proof import prove
from tiler.sheets.document import Document


def drop(key: str) -> f.Change:
    def change(pdf: Pdf) -> None:
        del pdf.Root[key]

    return change


def unembedded(pdf: Pdf) -> None:
    """Name a standard font on a page without carrying it (ISO 32000-1, 9.6.2.2)."""
    f.own_resources(pdf, 2).Font = Dictionary(
        **{key[1:]: value for key, value in pdf.pages[1].Resources.Font.items()},
        Plain=Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica),
    )


def shifted_origin(pdf: Pdf) -> None:
    """Move the MediaBox and all that stands in it: a viewer shows the same."""
    f.whole_pages(f.moved(10.0, 5.0))(pdf)
    for page in pdf.pages:
        x, y = 10 * f.PT, 5 * f.PT
        page.MediaBox = Array([x, y, float(page.MediaBox[2]) + x, float(page.MediaBox[3]) + y])


def preference(key: str, value: object) -> f.Change:
    def change(pdf: Pdf) -> None:
        pdf.Root.ViewerPreferences[key] = value

    return change


def added_page(pdf: Pdf) -> None:
    pdf.add_blank_page(page_size=(pdf.pages[0].MediaBox[2], pdf.pages[0].MediaBox[3]))


WARNINGS = {
    "pages in another order": (f.swapped_pages, "page-order"),
    "no preferences": (drop("/ViewerPreferences"), "preferences"),
    "scaling left to the viewer": (preference("/PrintScaling", Name.AppDefault), "preferences"),
    "scaling not insisted on": (preference("/Enforce", Array([])), "preferences"),
    "extension not named": (drop("/Extensions"), "preferences"),
    "sides left to the viewer": (preference("/Duplex", Name("/None")), "preferences"),
    "any tray": (preference("/PickTrayByPDFSize", False), "preferences"),
    "no page labels": (drop("/PageLabels"), "document"),
    "no outline": (drop("/Outlines"), "document"),
    "no language": (drop("/Lang"), "document"),
    "font not embedded": (unembedded, "fonts"),
    "page box not at the origin": (shifted_origin, "boxes"),
    "a tile half a millimetre off": (f.whole_pages(f.moved(0.5), [2]), "frame"),
    "a page of somebody else": (added_page, "pages"),
}


@pytest.mark.parametrize(("change", "check"), WARNINGS.values(), ids=WARNINGS.keys())
def test_a_blemish_warns(tiles: Document, change: f.Change, check: str) -> None:
    """This test ensures that a blemish is named and does not turn a true print into a failed one."""
    report = proved(tiles, change)
    assert check in {one.name for one in report.warned}
    assert report.failed == ()
    assert report.verdict == "true-to-scale"


def test_insisting_needs_no_extension_from_pdf_2_on(tiles: Document) -> None:
    """This test ensures that Enforce stands on its own in PDF 2.0 (ISO 32000-2, Table 147)."""

    def change(pdf: Pdf) -> None:
        del pdf.Root["/Extensions"]
        pdf.Root.Version = Name("/2.0")

    assert proved(tiles, change).warned == ()


def test_an_equal_crop_box_is_no_crop(tiles: Document) -> None:
    assert proved(tiles, f.with_box("/CropBox", lambda box: box)).warned == ()
    larger = f.with_box("/CropBox", lambda box: [-20, -20, box[2] + 20, box[3] + 20])
    assert proved(tiles, larger).warned == ()


def test_a_declared_length_beyond_reason_is_no_declaration(tiles: Document) -> None:
    declared = tiles.declaration.to_bytes()
    with_infinity = declared.replace(b'"overlap_mm": 10.0', b'"overlap_mm": 1e999')
    assert with_infinity != declared

    def change(pdf: Pdf) -> None:
        pdf.attachments["tiler.json"] = with_infinity

    assert "declaration" in {check.name for check in proved(tiles, change).failed}


def test_a_page_reference_as_media_box_warns(tiles: Document) -> None:
    def change(pdf: Pdf) -> None:
        pdf.pages[1].MediaBox = pdf.make_indirect(Array([float(side) for side in pdf.pages[1].MediaBox]))

    with pikepdf.open(BytesIO(changed(tiles, change))) as pdf:
        assert pdf.pages[1].obj.get("/MediaBox").is_indirect
    assert "boxes" in {check.name for check in proved(tiles, change).warned}


def test_a_plain_file_that_claims_a_printer_without_naming_it_on_its_pages_fails(tiles: Document) -> None:
    declared = replace(tiles.declaration, printer="study").to_bytes()

    def change(pdf: Pdf) -> None:
        pdf.attachments["tiler.json"] = declared

    report = proved(tiles, change)
    assert report.verdict == "incomplete"
    assert {check.name for check in report.failed} == {"printer"}
    assert prove(tiles.data).verdict == "true-to-scale"
