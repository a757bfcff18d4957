"""Several of our pages on one larger sheet at 100 %: as true as each of them, and as faulty.

Pages laid beside each other on a larger sheet and cut apart again are common practice of printing (imposition).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache
from io import BytesIO
from random import Random

import pikepdf
import pytest
from pikepdf import Array, Pdf

from tests.chosen import long
from tests.proof import faults as f
from tests.proof.conftest import changed, proved
from tests.proof.imposed import Laid, Save, merged, placed, shown, side_by_side
from tests.proof.test_left_out import cuffs
from tests.proof.test_pane_faults import ALONG
from tests.sheets.jobs import ONE_BAND, SAMPLE, drawn_once
from tests.usecases.test_compensated import DEN
from tiler.proof import Report, prove
from tiler.proof.report.wording import sentence
from tiler.sheets.document import Document
from tiler.usecases.draft import Wishes

COVER, A1, A2 = 1, 2, 3
W, H = 215.9, 279.4
TABLOID, SQUARE = (2 * W, H), (2 * W, 2 * H)
BOTH = [side_by_side([A1, A2], W)]
PAIRS = [side_by_side([COVER, A1], W), side_by_side([A2], W)]
ALL = [[Laid(COVER, 0, H), Laid(A1, W, H), Laid(A2, 0, 0)]]
GAPS = [[Laid(COVER, 3.217, H + 8.4), Laid(A1, W + 12.9, H + 9.1), Laid(A2, 1.11, 1.3)]]
WIDE = (2 * W + 20, 2 * H + 20)

T1, T2 = 1, 2
"""The same tiles in the file that has no first page of its own."""
TWO = [side_by_side([T1, T2], W)]


def by(change: f.Change) -> Callable[[Document], Save]:
    return lambda document: lambda _: changed(document, change)


def as_it_comes(save: Save) -> Callable[[Document], Save]:
    return lambda _: save


TRUE = {
    "placed, tiles": (by(placed(TABLOID, BOTH)), 2),
    "placed, in pairs": (by(placed(TABLOID, PAIRS)), 1),
    "placed, all, with gaps": (by(placed(WIDE, GAPS)), 1),
    "placed, turned by a quarter": (by(placed(TABLOID, BOTH, 90)), 2),
    "placed, upside down": (by(placed(WIDE, GAPS, 180)), 1),
    "merged, in pairs": (as_it_comes(merged(TABLOID, PAIRS)), 1),
    "merged, all, with gaps": (as_it_comes(merged(WIDE, GAPS)), 1),
    "shown, tiles": (as_it_comes(shown(TABLOID, BOTH)), 2),
    "shown, all, with gaps": (as_it_comes(shown(WIDE, GAPS)), 1),
}


def sheets(report: Report) -> list[str]:
    return [check.detail for check in report.warned if check.name == "pages"]


@pytest.mark.parametrize(("save", "sheet"), TRUE.values(), ids=TRUE.keys())
def test_pages_beside_each_other_are_true_and_named(
    one_band: Document, save: Callable[[Document], Save], sheet: int
) -> None:
    """This test ensures that each page is found in its cell and that it is said to cut the sheet apart."""
    report = prove(save(one_band)(one_band.data))
    assert report.failed == ()
    assert report.verdict == "true-to-scale"
    assert {check.name for check in report.warned} <= {"pages", "document", "rotation"}
    assert {check.page for check in report.warned if check.name == "pages"} >= {sheet}
    assert sheets(report)[0].startswith("one sheet holds several pages at 100 %, to be cut apart: ")
    assert "page A1" in sheets(report)[0]
    assert [check.measured_mm for check in report.sizes] == pytest.approx(measured_alone(one_band), abs=0.001)


@cache
def measured_alone(document: Document) -> list[float]:
    return [check.measured_mm for check in prove(document.data).sizes]


@long
def test_pages_of_a4_on_a_sheet_of_a2(a4: Document) -> None:
    """This test ensures it for papers that fill the sheet: A2 is 420 × 594 mm (ISO 216), four of A4."""
    corners = [(0, 297), (210, 297), (0, 0)]
    report = proved(a4, placed((420, 594), [[Laid(page, *at) for page, at in enumerate(corners, 1)]]))
    assert (report.verdict, report.failed) == ("true-to-scale", ())


@long
def test_pages_of_panes_and_of_sizes_on_their_layers() -> None:
    strips = drawn_once(ALONG, Wishes(paper="a4", arrange="stacked"))
    report = proved(strips, placed((420, 297), [[Laid(1, 0), Laid(2, 210)]]))
    assert report.verdict == "true-to-scale", report.failed
    assert sheets(report)[0].endswith("the first page, the page of pane 1A")
    four = [side_by_side([1, 2], W), side_by_side([3, 4], W)]
    for data in (changed(cuffs(), placed(TABLOID, four)), merged(TABLOID, four)(cuffs().data)):
        assert prove(data).verdict == "true-to-scale"


@long
def test_a_name_that_stands_for_forms_with_and_without_a_layer_is_on_none() -> None:
    """This test ensures that a line is on a layer only where nothing else can be meant (ISO 32000-1, 8.11)."""

    def clash(pdf: Pdf) -> None:
        name = next(iter(pdf.pages[1].Resources.XObject))
        placed(TABLOID, [side_by_side([1, 2], W), side_by_side([3, 4], W)])(pdf)
        empty = pdf.make_stream(b"", Type=pikepdf.Name.XObject, Subtype=pikepdf.Name.Form, BBox=Array([0, 0, 1, 1]))
        pdf.pages[0].Resources.XObject[name] = empty

    assert {check.name for check in proved(cuffs(), clash).failed} == {"piece"}


def test_sheets_of_a_file_for_one_printer_are_not_proved() -> None:
    """This test ensures that what is right on one place of a printer's paper is not taken for right on another."""
    document = drawn_once(SAMPLE, Wishes(printer=DEN))
    first, second = document.declaration.pages[:2]
    sheet = [side_by_side([first.number, second.number], document.declaration.page_width_mm)]
    report = proved(document, placed((2 * document.declaration.page_width_mm, 300), sheet))
    assert report.verdict in ("incomplete", "off-scale")


def test_some_pages_of_whole_pieces_may_be_laid_out_alone() -> None:
    report = proved(cuffs(), f.both(placed(TABLOID, [side_by_side([1, 3], W)]), f.lost_page(1), f.lost_page(1)))
    assert report.verdict == "true-to-scale", report.failed
    assert "left out: page A1; page E1, with size S; size L; the pieces on the other pages are whole" in sheets(report)


@long
@pytest.mark.parametrize("seed", range(2))
def test_sheets_at_random_are_true_and_each_cell_counts(one_band: Document, seed: int) -> None:
    """This test ensures that any order, place and turn is read, and one cell that is 0.5 % off is found on it."""
    random = Random(seed)
    pages = random.sample([COVER, A1, A2], 3)
    cells = [
        Laid(page, index % 2 * (W + 9) + random.uniform(0, 9), index // 2 * (H + 9) + random.uniform(0, 9))
        for index, page in enumerate(pages)
    ]
    turn = random.choice([0, 90, 180, 270])
    assert proved(one_band, placed(WIDE, [cells], turn)).verdict == "true-to-scale"
    off = random.randrange(3)
    cells[off] = replace(cells[off], matrix=f.scaled(random.choice([0.995, 1.005])))
    assert proved(one_band, placed(WIDE, [cells], turn)).verdict == "off-scale"


def a_cell(page: int, matrix: f.Matrix) -> f.Change:
    """Change one cell of the sheet of all pages as a whole."""
    return placed(SQUARE, [[replace(one, matrix=matrix) if one.page == page else one for one in ALL[0]]])


def a_tile(page: int, matrix: f.Matrix) -> f.Change:
    """Change one cell of the sheet of both tiles as a whole."""
    return placed(TABLOID, [[replace(one, matrix=matrix) if one.page == page else one for one in TWO[0]]])


def on_the_sheet(box: tuple[float, float, float, float], grey: float) -> f.Change:
    return f.both(placed(WIDE, GAPS), f.over(1, box, grey))


def from_another_file(pdf: Pdf) -> None:
    """Lay the second tile of a band that is 1 mm longer beside the first one of ours."""
    other = drawn_once(ONE_BAND.replace("30 cm", "30.1 cm"), Wishes(paper="letter", arrange="grid", cover=False))
    with Pdf.open(BytesIO(other.data)) as source:
        pdf.pages[T2 - 1] = source.pages[T2 - 1]
        placed(TABLOID, TWO)(pdf)


FAULTS = {
    "the sheet smaller": (f.both(placed(SQUARE, ALL), f.whole_pages(f.scaled(0.995))), "off-scale"),
    "the first page smaller": (a_cell(COVER, f.scaled(0.995)), "off-scale"),
    "a tile below smaller": (a_cell(A2, f.scaled(0.995)), "off-scale"),
    "a tile twice": (placed(SQUARE, [[*ALL[0], Laid(A1, W, 0)]]), "incomplete"),
    "the first page twice": (placed(SQUARE, [[*ALL[0], Laid(COVER, W, 0)]]), "incomplete"),
    "a tile missing": (f.both(placed(TABLOID, [side_by_side([COVER, A1], W)]), f.lost_page(1)), "incomplete"),
    "a square removed": (f.both(f.alter_part("TestSquare", 1, 0, f.removed), placed(SQUARE, ALL)), None),
    "black in a window": (on_the_sheet((100, 100, 6, 1), 0.0), "incomplete"),
    "white in a window": (on_the_sheet((30, 190, 40, 40), 1.0), "incomplete"),
    "white over a cell": (on_the_sheet((0, H + 8, W + 5, H), 1.0), "incomplete"),
    "a note over a cell": (f.both(placed(SQUARE, ALL), f.annotation_over(1, (30, 190, 30, 30))), "incomplete"),
    "a piece of somebody beside the cells": (
        f.both(
            placed(SQUARE, ALL),
            lambda pdf: f.write(pdf, 1, [*f.read(pdf.pages[0]), f.code("re", 700, 60, 400, 120), f.code("S")]),
        ),
        None,
    ),
}
TILE_FAULTS = {
    "a tile smaller": (a_tile(T2, f.scaled(0.995)), "off-scale"),
    "a tile narrower": (a_tile(T1, f.scaled(0.996, 1.0)), "off-scale"),
    "a tile sheared": (a_tile(T1, f.sheared(0.0015)), "off-scale"),
    "a tile mirrored": (a_tile(T2, f.mirrored(W / 2)), None),
    "a tile upside down": (a_tile(T2, f.turned(180, (W / 2, H / 2))), None),
    "a tile askew": (a_tile(T2, f.turned(0.1, (W / 2, H / 2))), None),
    "tiles that overlap by 2 mm": (placed(TABLOID, [[Laid(T1, 0), Laid(T2, W - 2)]]), None),
    "a tile over the edge of the sheet": (placed(TABLOID, [[Laid(T1, -3), Laid(T2, W)]]), None),
    "a tile over another": (placed(TABLOID, [[Laid(T1, 0), Laid(T2, 0)]]), None),
    "a tile of another file": (from_another_file, "incomplete"),
    "a piece moved": (f.both(f.alter_piece(T2, 0, f.by(f.moved(0.3))), placed(TABLOID, TWO)), "incomplete"),
    "a piece copied": (f.both(f.alter_piece(T2, 0, f.copied(f.moved(0, -50))), placed(TABLOID, TWO)), "incomplete"),
    "a rule moved": (f.both(f.alter_part("Rule", T1, 0, f.by(f.moved(0.3))), placed(TABLOID, TWO)), "incomplete"),
    "a code removed": (f.both(f.alter_part("TileCode", T1, 0, f.removed), placed(TABLOID, TWO)), None),
    "a frame removed": (f.both(f.alter_part("PageFrame", T1, 0, f.removed), placed(TABLOID, TWO)), None),
    "the sheet cropped": (
        f.both(placed(TABLOID, TWO), f.with_box("/CropBox", lambda box: [5, 5, *box[2:]])),
        None,
    ),
    "the sheet in another unit": (f.both(placed(TABLOID, TWO), f.with_entry("/UserUnit", 1.004)), "off-scale"),
    "nothing declared": (
        f.both(placed(TABLOID, TWO), lambda pdf: pdf.attachments.__delitem__("tiler.json")),
        "incomplete",
    ),
}
"""Faults with their verdicts; None where the sheet cannot be taken apart, and more than one fault is told."""


@pytest.mark.parametrize(("change", "verdict"), FAULTS.values(), ids=FAULTS.keys())
def test_a_fault_on_a_sheet_of_several_pages_is_found(
    one_band: Document, change: f.Change, verdict: str | None
) -> None:
    """This test ensures that a cell is judged as strictly as a page of its own."""
    refused(proved(one_band, change), verdict)


@pytest.mark.parametrize(("change", "verdict"), TILE_FAULTS.values(), ids=TILE_FAULTS.keys())
def test_a_fault_on_a_sheet_of_two_tiles_is_found(band_tiles: Document, change: f.Change, verdict: str | None) -> None:
    refused(proved(band_tiles, change), verdict)


def refused(report: Report, verdict: str | None) -> None:
    assert report.failed
    assert report.verdict in ((verdict,) if verdict else ("off-scale", "incomplete"))


def test_pages_that_cannot_be_told_apart_are_not_proved_and_it_is_said(one_band: Document) -> None:
    report = proved(one_band, placed(TABLOID, [[Laid(A1, 0), Laid(A2, W - 2)]]))
    assert report.verdict == "incomplete"
    assert "page A1 and page A2 stand on one sheet" in sentence(report)


def test_a_line_between_the_cells_warns(one_band: Document) -> None:
    report = proved(one_band, on_the_sheet((W + 8, 0, 0.3, 2 * H + 20), 0.0))
    assert (report.verdict, report.failed) == ("true-to-scale", ())
    assert "something that is not declared is printed beside the pieces" in " ".join(
        check.detail for check in report.warned
    )


@long
def test_with_anything_between_the_cells_no_page_may_be_left_out() -> None:
    """This test ensures that a page which lost its marks is not taken for one that was left out."""
    change = f.both(placed(WIDE, [[Laid(1, 0), Laid(3, W + 9)]]), f.lost_page(1), f.lost_page(1))
    assert proved(cuffs(), change).verdict == "true-to-scale"
    assert proved(cuffs(), f.both(change, f.over(1, (20, H + 5, 30, 1), 0.0))).verdict == "incomplete"


@long
def test_one_page_on_a_larger_sheet_belongs_to_sheets_of_several(one_band: Document) -> None:
    """This test ensures that a page is not at home on any larger paper: that is asked for nowhere."""
    report = proved(one_band, placed(TABLOID, [side_by_side([A2], W)]))
    assert [(check.name, check.page) for check in report.failed] == [("page-size", 3)]
    last = proved(one_band, placed(TABLOID, PAIRS))
    assert "a larger sheet holds one page at 100 %, to be cut out: page A2" in sheets(last)


def test_what_is_declared_beside_its_page_is_never_taken_for_a_cell(one_band: Document) -> None:
    """This test ensures that no declaration makes the cells smaller than what is measured in them."""
    low = replace(one_band.declaration, page_height_mm=268.0).to_bytes()

    def change(pdf: Pdf) -> None:
        pdf.attachments["tiler.json"] = low
        placed(SQUARE, ALL)(pdf)
        # over the upper side of a window, beyond what a cell would show
        f.over(1, (W + 20, H + 268.5, 40, 6))(pdf)

    assert proved(one_band, change).verdict != "true-to-scale"


def overlaid(pdf: Pdf) -> None:
    sheet = pdf.add_blank_page(page_size=(1224, 792))
    for at, page in enumerate((A1, A2)):
        sheet.add_overlay(pdf.pages[page - 1], pikepdf.Rectangle(612 * at, 0, 612 * at + 612, 792))
    del pdf.pages[A1 - 1 : A2]


def test_pages_that_a_library_lays_over_a_sheet_are_true(one_band: Document) -> None:
    assert proved(one_band, overlaid).verdict == "true-to-scale"


def test_the_cells_of_a_sheet_whose_box_is_not_at_the_origin_are_found(one_band: Document) -> None:
    def change(pdf: Pdf) -> None:
        placed(SQUARE, ALL)(pdf)
        f.whole_pages(f.moved(10.0, 5.0))(pdf)
        x, y = 10 * f.PT, 5 * f.PT
        pdf.pages[0].MediaBox = Array([x, y, 2 * W * f.PT + x, 2 * H * f.PT + y])

    assert proved(one_band, change).verdict == "true-to-scale"
