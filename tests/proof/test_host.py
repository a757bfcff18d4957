"""Our pages inside a pattern of somebody else: nothing of the strictness for ours is lost, the rest is any PDF."""

from __future__ import annotations

from functools import cache
from io import BytesIO

import pikepdf
import pytest
from pikepdf import Pdf

from tests.catalog import bases
from tests.chosen import each, long, some
from tests.proof import faults as f
from tests.proof.faults import Fault
from tests.proof.test_faults import HARMLESS, INCOMPLETE, OFF
from tests.sheets.jobs import drawn_in
from tiler.declaration import Host
from tiler.proof import Report, prove
from tiler.proof.report.page_pictures import Pictures
from tiler.proof.report.wording import sentence
from tiler.sheets.document import Document

AFTER = 2
COVER, A1, A2 = AFTER + 1, AFTER + 2, AFTER + 3
MIDDLE = (108.0, 140.0)


@pytest.fixture(scope="module")
def joined(letter: Document) -> bytes:
    """Ours after page 2 of a base that has layers, labels, a form and pages of all shapes."""
    return bases.joined(bases.edited(bases.full(), bases.in_many_shapes), letter, AFTER)


@pytest.fixture(scope="module")
def joined_to_two(letter: Document) -> bytes:
    """Ours after the two pages of a plain base, for faults of ours."""
    return bases.joined(bases.plain(AFTER), letter, AFTER)


def proved(data: bytes, *changes: f.Change) -> Report:
    return prove(bases.edited(data, *changes))


def host_check(report: Report) -> str:
    return next(check.detail for check in report.checks if check.name == "host")


@cache
def alone_once(letter: Document) -> Report:
    return prove(letter.data)


@cache
def sound(joined: bytes) -> Report:
    """Prove the joined file once for all tests that only look at the report."""
    return prove(joined)


@long
@pytest.mark.parametrize(("after", "make"), each([0, 2, None], [bases.plain, bases.full, bases.from_mupdf]))
def test_a_joined_file_is_true_to_scale(letter: Document, make: object, after: int | None) -> None:
    base = make()  # type: ignore[operator]
    report = prove(bases.joined(base, letter, after))
    assert report.failed == ()
    assert report.warned == ()
    assert report.verdict == "true-to-scale"
    alone = [check.measured_mm for check in alone_once(letter).sizes]
    assert [check.measured_mm for check in report.sizes][: len(alone)] == alone


def test_it_is_said_where_ours_stand(joined: bytes, letter: Document) -> None:
    last = AFTER + len(letter.declaration.pages)
    assert host_check(sound(joined)) == f"pages {AFTER + 1} to {last} were added to a pattern of 6 pages"


def test_the_sentence_for_people_tells_ours_from_the_rest(joined: bytes) -> None:
    told = sentence(sound(joined))
    assert told.endswith("pages 3 to 5 were added to a pattern of 6 pages, with nothing missing, moved or hidden.")


FAULTS = [
    Fault("lost the first page", f.lost_page(COVER), INCOMPLETE, "pages"),
    Fault("tile shows a page of the pattern", f.replaced_page(A1, 2), INCOMPLETE, "pages"),
    Fault("first page empty", lambda pdf: f.write(pdf, COVER, []), INCOMPLETE, "pages"),
    Fault("tile in another unit", f.with_entry("/UserUnit", 1.004, [A2]), OFF, "user-unit"),
    Fault("square of the pattern too small", f.whole_pages(f.scaled(0.99), [1]), OFF, "square"),
    Fault("pattern narrower", f.whole_pages(f.scaled(0.99, 1.0), [1]), OFF, "square"),
]

AS_ALONE = [
    Fault("lost a tile", f.lost_page(A2), INCOMPLETE, "pages"),
    Fault("first page twice", f.doubled_page(COVER), INCOMPLETE, "pages"),
    Fault("tile twice", f.doubled_page(A1), INCOMPLETE, "pages"),
    Fault("tile shows another", f.replaced_page(A1, A2), INCOMPLETE, "pages"),
    Fault("tile empty", lambda pdf: f.write(pdf, A2, []), INCOMPLETE, "pages"),
    Fault("tile scaled", f.whole_pages(f.scaled(0.996), [A2]), OFF, "rule"),
    Fault("first page scaled", f.whole_pages(f.scaled(0.996), [COVER]), OFF, "square"),
    Fault("tile moved", f.whole_pages(f.moved(2.0), [A2]), INCOMPLETE, "frame"),
    Fault("tile mirrored", f.whole_pages(f.mirrored(108.0), [A2]), INCOMPLETE, "text"),
    Fault("tile turned by half a quarter", f.with_entry("/Rotate", 45, [A2]), INCOMPLETE, "rotation"),
    Fault("tile cropped", f.with_box("/CropBox", lambda box: [5, 5, *box[2:]], [A2]), INCOMPLETE, "boxes"),
    Fault("tile cut", f.with_box("/MediaBox", lambda box: [0, 20, *box[2:]], [A2]), INCOMPLETE, "page-size"),
    Fault("tile covered", f.over(A2, (0, 0, 220, 300)), INCOMPLETE, "ink"),
    Fault("first page covered", f.over(COVER, (0, 0, 220, 300)), INCOMPLETE, "ink"),
    Fault("piece moved", f.alter_piece(A1, 0, f.by(f.moved(0.5))), INCOMPLETE, "piece"),
    Fault("piece copied", f.alter_piece(A1, 0, f.copied(f.moved(0.0, -30.0))), INCOMPLETE, "stray"),
    Fault("rule removed", f.alter_part("Rule", A2, 0, f.removed), INCOMPLETE, "rule-place"),
]
"""Faults that are put into a file of ours alone as well."""


@pytest.mark.parametrize("fault", [*FAULTS, *some(AS_ALONE, 2)], ids=lambda fault: fault.name)
def test_a_fault_is_found_in_a_joined_file(joined_to_two: bytes, fault: Fault) -> None:
    report = proved(joined_to_two, fault.change)
    assert fault.check in {check.name for check in report.failed}, report.failed
    assert report.verdict == fault.verdict, report.failed


@pytest.mark.parametrize("save", some(list(HARMLESS.values()), 3, 1))
def test_a_harmless_save_of_a_joined_file_passes(joined: bytes, save: object) -> None:
    report = prove(save(joined))  # type: ignore[operator]
    assert report.failed == ()
    assert report.verdict == "true-to-scale"


def test_a_pattern_page_between_ours_warns(joined: bytes) -> None:
    def change(pdf: Pdf) -> None:
        page = pdf.pages[0]
        pdf.pages.insert(A1, page)
        del pdf.pages[0]

    report = proved(joined, change)
    assert report.verdict == "true-to-scale"
    assert "page-order" in {check.name for check in report.warned}


def test_ours_in_another_order_warn(joined: bytes) -> None:
    def change(pdf: Pdf) -> None:
        page = pdf.pages[A1 - 1]
        pdf.pages.insert(A2, page)
        del pdf.pages[A1 - 1]

    report = proved(joined, change)
    assert report.verdict == "true-to-scale"
    assert "page-order" in {check.name for check in report.warned}


def test_a_lost_pattern_page_warns(joined: bytes) -> None:
    report = proved(joined, f.lost_page(1))
    assert report.verdict == "true-to-scale"
    assert "had 6 pages of its own when these were added, and has 5" in host_check(report)


def test_ours_elsewhere_in_the_pattern_warn(joined: bytes) -> None:
    def change(pdf: Pdf) -> None:
        page = pdf.pages[0]
        pdf.pages.append(page)
        del pdf.pages[0]

    report = proved(joined, change)
    assert report.verdict == "true-to-scale"
    assert host_check(report) == "the pages were added after page 2 of the pattern, and stand elsewhere"


def test_a_false_host_is_seen(joined: bytes) -> None:
    """This test ensures that the pages decide where ours stand, and that a wrong statement is named."""
    with pikepdf.open(BytesIO(joined)) as pdf:
        attached = pdf.attachments["tiler.json"].get_file().read_bytes()
    stated = attached.replace(b'"host": {"after": 4, "before": 2}', b'"host": {"after": 4, "before": 3}')
    assert stated != attached

    def change(pdf: Pdf) -> None:
        pdf.attachments["tiler.json"] = stated

    assert "had 7 pages" in host_check(proved(joined, change))


def test_a_declaration_from_before_hosts_is_still_read(letter: Document) -> None:
    declared = letter.declaration.to_bytes().replace(b'"host": null, ', b"")
    assert declared != letter.declaration.to_bytes()

    def change(pdf: Pdf) -> None:
        pdf.attachments["tiler.json"] = declared

    assert proved(letter.data, change).warned == ()


def test_a_stray_page_of_any_size_in_a_file_of_ours_warns(letter: Document) -> None:
    def change(pdf: Pdf) -> None:
        pdf.add_blank_page(page_size=(300, 300))

    report = proved(letter.data, change)
    assert report.verdict == "true-to-scale"
    assert [(check.name, check.page) for check in report.warned] == [("pages", len(letter.declaration.pages) + 1)]


def test_plain_pages_in_a_host_do_not_pass_for_those_of_a_printer(joined: bytes) -> None:
    with pikepdf.open(BytesIO(joined)) as pdf:
        declared = pdf.attachments["tiler.json"].get_file().read_bytes()
    stated = declared.replace(b'"printer": null', b'"printer": "study"')

    def change(pdf: Pdf) -> None:
        pdf.attachments["tiler.json"] = stated

    report = proved(joined, change)
    assert report.verdict == "incomplete"
    assert {check.name for check in report.failed} == {"printer"}


@long
def test_the_assembled_picture_shows_our_tiles_only(joined: bytes, letter: Document) -> None:
    there = drawn_in(letter, Host(AFTER, 6 - AFTER))
    with Pictures(joined) as pictures, Pictures(there.data) as alone:
        assert pictures.tile_count == alone.tile_count
        assert pictures.assembled().tobytes() == alone.assembled().tobytes()


def test_our_pages_taken_out_of_a_pattern_are_true(letter: Document) -> None:
    """This test ensures that a whole set stays proved; what the catalog still holds of the pattern prints nothing."""

    def alone(pdf: Pdf) -> None:
        del pdf.pages[len(letter.declaration.page_labels()) :]
        assert pdf.Root.AcroForm.Fields

    report = proved(bases.joined(bases.full(), letter, 0), alone)
    assert report.verdict == "true-to-scale"
    assert [check.name for check in report.warned] == ["host"]
