"""Pages that were taken out of a file: true where whole pieces are left, incomplete where a piece lost a part.

That a print of some pages is as good as it was where every piece on them is whole is common practice.
"""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO

import pytest
from pikepdf import Pdf
from pypdf import PdfReader, PdfWriter

from tests.catalog import bases
from tests.proof import faults as f
from tests.proof.conftest import changed, proved
from tests.sheets.jobs import drawn_once
from tests.specs import piece, spec, straight
from tiler.proof import Report, prove
from tiler.proof.report.wording import sentence
from tiler.sheets.document import Document
from tiler.usecases.draft import Wishes

SIZES = spec(
    piece(
        "Cuff", "6 cm", straight({"S": "15 cm", "M": "16 cm", "L": "17 cm"}), cut="full-loop", seam_allowance="0.6 cm"
    ),
    title="Sizes apart",
    units="cm",
    sizes=["S", "M", "L"],
)
"""Three sizes, each on a page of its own."""

COVER, S, M, L = 1, 2, 3, 4


def cuffs() -> Document:
    return drawn_once(SIZES, Wishes(paper="letter", arrange="grid", nest=False))


def without(*pages: int) -> f.Change:
    def change(pdf: Pdf) -> None:
        for page in sorted(pages, reverse=True):
            del pdf.pages[page - 1]

    return change


def told(report: Report) -> list[str]:
    return [check.detail for check in report.warned if check.name == "pages"]


ONE = "left out: page C1, with size M; the pieces on the other pages are whole"
TWO = "left out: page A1; page E1, with size S; size L; the pieces on the other pages are whole"
FIRST = (
    "the first page is missing, and with it the test squares; "
    "the scale is that of the ruler lines and page frames on the other pages"
)


@pytest.mark.parametrize(
    ("pages", "said"), [((M,), [ONE]), ((S, L), [TWO]), ((COVER,), [FIRST]), ((COVER, M), [ONE, FIRST])]
)
def test_pages_of_whole_pieces_may_be_left_out(pages: tuple[int, ...], said: list[str]) -> None:
    """This test ensures that such a print is true, and that it is said what is not in it."""
    report = proved(cuffs(), without(*pages))
    assert report.failed == ()
    assert report.verdict == "true-to-scale"
    assert told(report) == said
    assert sentence(report).endswith("nothing on them missing, moved or hidden; other pages were left out.")


def by_pypdf(data: bytes) -> bytes:
    """Keep page 1 and the page of size M, in a copy of the file."""
    writer = PdfWriter(clone_from=PdfReader(BytesIO(data)))
    for page in (L, S):
        writer.remove_page(page - 1)
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


def test_pages_that_a_common_program_takes_out_may_be_left_out() -> None:
    report = prove(by_pypdf(cuffs().data))
    assert (report.verdict, told(report)) == ("true-to-scale", [TWO])


def test_a_layer_that_went_with_its_size_is_not_missed_and_one_that_is_shown_is() -> None:
    def without_layer(name: str) -> f.Change:
        def change(pdf: Pdf) -> None:
            groups = pdf.Root.OCProperties.OCGs
            kept = [group for group in groups if str(group.Name) != name]
            assert len(kept) < len(groups)
            pdf.Root.OCProperties.OCGs = f.Array(kept)

        return change

    assert proved(cuffs(), f.both(without(M), without_layer("Size M"))).verdict == "true-to-scale"
    assert {one.name for one in proved(cuffs(), f.both(without(M), without_layer("Size L"))).failed} == {"layers"}


FAULTS = {
    "no piece is left": (without(S, M, L), "incomplete"),
    "what is left is smaller": (f.both(without(COVER, M), f.whole_pages(f.scaled(0.995))), "off-scale"),
    "one page that is left is narrower": (
        f.both(without(COVER), f.whole_pages(f.scaled(0.996, 1.0), [1])),
        "off-scale",
    ),
    "a page that is left is there twice": (f.both(without(M), f.doubled_page(S)), "incomplete"),
    "its page is left, emptied": (lambda pdf: f.write(pdf, M, []), "incomplete"),
    "its page is left without its code": (f.alter_part("TileCode", M, 0, f.removed), "incomplete"),
    "a page of somebody else is in its place": (f.both(without(M), lambda pdf: pdf.add_blank_page()), "incomplete"),
    "a piece that is left is covered": (f.both(without(M), f.over(S, (30, 200, 20, 20))), "incomplete"),
}


@pytest.mark.parametrize(("change", "verdict"), FAULTS.values(), ids=FAULTS.keys())
def test_what_is_left_is_judged_as_before(change: f.Change, verdict: str) -> None:
    report = proved(cuffs(), change)
    assert report.verdict == verdict, report.failed


@pytest.mark.parametrize("page", [2, 3])
def test_a_piece_of_which_a_part_is_left_is_incomplete(one_band: Document, page: int) -> None:
    report = proved(one_band, without(1, page))
    assert report.verdict == "incomplete"
    assert {check.says for check in report.failed if check.name == "pages"} == {"{label} is missing"}


def test_without_ruler_lines_the_page_of_the_squares_is_missed() -> None:
    """This test ensures that a page which measures nothing is not true by itself."""
    declared = cuffs().declaration
    unruled = replace(declared, rules=tuple(rule for rule in declared.rules if rule.page == COVER))

    def change(pdf: Pdf) -> None:
        pdf.attachments["tiler.json"] = unruled.to_bytes()
        for page in (S, M, L):
            for _ in range(2):
                f.alter_part("Rule", page, 0, f.removed)(pdf)
        del pdf.pages[COVER - 1]

    assert "the first page is missing" in {check.detail for check in proved(cuffs(), change).failed}


def test_a_file_that_was_just_made_holds_all_its_pages() -> None:
    """This test ensures that no new file is put in place that lacks a page."""
    report = prove(changed(cuffs(), without(COVER)), as_made=True)
    assert (report.verdict, report.first_failure()) == ("incomplete", "the first page is missing")


def test_beside_pages_of_others_every_page_of_ours_is_wanted(one_band: Document) -> None:
    joined = bases.joined(bases.plain(), one_band, 0)
    out = BytesIO()
    with Pdf.open(BytesIO(joined)) as pdf:
        del pdf.pages[0]
        pdf.save(out)
    assert prove(out.getvalue()).first_failure() == "the first page is missing"
