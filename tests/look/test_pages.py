"""Pages of pieces: no words on others, off the page, or crossed by a line, whatever the job.

Each file is drawn once, without its proof, and read through MuPDF.  Every side of a piece
is a stroke, cut line or fold line; so words that no stroke crosses stand either wholly
inside the piece or wholly outside it, where labels of thin strips, flags of notches
and the letters of sizes are meant to be.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.chosen import long, some
from tests.look.faults import page_faults, style_faults
from tests.look.jobs import ARRANGEMENTS, AT_JOINTS, CROWDED, NARROW, NESTS, WIDTHS, Case, cases, pairs
from tests.look.printed import Area, printed
from tests.sheets.jobs import EXAMPLES, MIXED, drawn_once
from tiler.sheets.document import Document
from tiler.usecases.draft import Wishes
from tiler.usecases.printers.profiles import Axis, Printer

CASES = cases()
SOME = some(CASES, 2, 1)


def faults(document: Document) -> list[str]:
    """Read the pages of a drawn file; one for a printer has sizes and weights of its own."""
    declaration = document.declaration
    height, across, down = declaration.page_height_mm, declaration.factor_across, declaration.factor_down
    frames = [
        (
            page.number,
            Area(
                across * page.frame.x0,
                height - down * page.frame.y1,
                across * page.frame.x1,
                height - down * page.frame.y0,
            ),
        )
        for page in declaration.pages
        if page.frame
    ]
    pages = list(printed(document.data, frames))
    assert len(pages) == declaration.pages[-1].number
    assert all(page.words and page.strokes for page in pages)
    styled = () if declaration.printer else pages
    return [
        *(fault for page in pages for fault in page_faults(page)),
        *(f for page in styled for f in style_faults(page)),
    ]


def test_the_jobs_cover_every_pair() -> None:
    found = {pair for case in CASES for pair in pairs(case)}
    wanted = {
        pair
        for width in WIDTHS
        for arrange in ARRANGEMENTS
        for case in CASES
        for pair in pairs(case._replace(width=width, arrange=arrange))
        if (width, arrange) != ("12 in", "stacked")
    }
    assert wanted <= found


def test_every_choice_is_tried() -> None:
    for of_all, of_some in zip(zip(*CASES, strict=True), zip(*SOME, strict=True), strict=True):
        assert set(of_some) == set(of_all)


@pytest.mark.parametrize("case", SOME, ids=lambda case: "-".join(case).replace(" ", "")[:60])
def test_a_piece_of_any_width(case: Case) -> None:
    assert faults(drawn_once(case.spec, case.wishes)) == []


@long
@pytest.mark.parametrize("name", NESTS)
def test_sizes(name: str) -> None:
    spec, wishes = NESTS[name]
    assert faults(drawn_once(spec, wishes)) == []


@long
@pytest.mark.parametrize("name", AT_JOINTS)
def test_what_has_little_room_between_joints(name: str) -> None:
    spec, wishes = AT_JOINTS[name]
    assert faults(drawn_once(spec, wishes)) == []


def test_a_narrow_binding_in_parts() -> None:
    """This test ensures that lanes thinner than the code of a part, and words all along them, leave room for it."""
    assert faults(drawn_once(NARROW, Wishes(arrange="stacked"))) == []


@long
def test_squares_on_a_page_full_of_pieces() -> None:
    """This test ensures that squares lie over pieces so that no line crosses their words, nor they those of a piece."""
    wishes = Wishes(paper="a4", margin=15.0, overlap=8.0, cover=False)
    assert faults(drawn_once(CROWDED, wishes)) == []


@long
@pytest.mark.parametrize(
    "wishes",
    [Wishes(), Wishes(paper="tabloid"), Wishes(paper="one-sheet"), Wishes(arrange="grid", cover=False)],
    ids=["fewest", "tabloid", "one sheet", "no first page"],
)
def test_many_pieces(wishes: Wishes) -> None:
    assert faults(drawn_once(MIXED, wishes)) == []


@pytest.mark.parametrize("paper", ["letter", "one-sheet"])
def test_a_file_for_one_printer(paper: str) -> None:
    printer = Printer("the laser printer in the hall", Axis(150.0, 148.2, 0.5), Axis(200.0, 196.6, 0.5))
    assert (
        faults(drawn_once((EXAMPLES / "saltmarsh-crew.toml").read_text("utf-8"), Wishes(paper=paper, printer=printer)))
        == []
    )


@pytest.mark.parametrize("example", some(sorted(EXAMPLES.glob("*.toml")), 2, 1), ids=lambda path: path.stem)
def test_the_examples(example: Path) -> None:
    assert faults(drawn_once(example.read_text("utf-8"))) == []
