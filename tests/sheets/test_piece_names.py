"""Every page that shows a part of a piece names it there, where the part has room."""

from __future__ import annotations

from io import BytesIO

import pikepdf
import pytest

from tests.chosen import long
from tests.sheets.jobs import MIXED, drawn_once
from tests.sheets.test_foot import at_foot
from tests.sheets.test_joint_words import words_in
from tests.specs import piece, spec, straight
from tiler.box import Box
from tiler.declaration import Declaration, Page
from tiler.drawn import Piece
from tiler.printed import Word
from tiler.proof.ink.where import word_box
from tiler.usecases.draft import Wishes

SIZES = {"S": "70 cm", "M": "74 cm", "L": "78 cm"}
NESTED = spec(piece("Hem", "3 cm", straight(SIZES), cut="full-loop"), title="Hem", sizes=list(SIZES), units="cm")
MANY = {str(30 + 2 * step): f"{64 + 4 * step} cm" for step in range(8)}
IN_PANES = (spec(piece("Hem", "3 cm", straight(MANY)), title="Hem", sizes=list(MANY), units="cm"), "a4", "stacked")
FEW = {"S": "59 cm", "M": "73 cm", "L": "87 cm"}
IN_A_GRID = (
    spec(piece("Hem", "3 cm", straight(FEW), cut="full-loop"), title="Hem", sizes=list(FEW), units="cm"),
    "letter",
    "grid",
)
"""Nests whose smallest size ends in what two pages share."""

NARROW = spec(
    piece("Binding", "8 mm", straight("75 cm"), "double-fold-binding", cut="full-loop", ratio="usual"),
    title="Narrow",
    units="cm",
)


def part(own: Piece, page: Page) -> Box:
    """Return what a page shows of a strip itself, on the sheet."""
    assert page.window is not None
    ends = ((0.0, 0.0), (own.cut_length_mm, own.cut_width_mm))
    return Box.around(map(own.on_sheet, ends)).within(page.window)


def named(declaration: Declaration, own: Piece, page: Page) -> bool:
    """Tell whether a page names a piece on the part that it shows, on the label or beside it."""
    assert page.window is not None
    assert page.frame is not None
    shown = part(own, page)
    label = [
        Box.around(own.on_sheet(at) for at in ((box.x0, box.y0), (box.x1, box.y1)))
        for form in declaration.forms
        if form.id in (own.id, f"{own.id}s")
        for mark in form.marks
        if isinstance(mark, Word) and mark.text.startswith(own.name)
        for box in (word_box(mark),)
    ]
    if any(page.window.holds(box) for box in label):
        return True
    dx, dy = page.window.x0 - page.frame.x0, page.window.y0 - page.frame.y0
    said = [word_box(one).moved(dx, dy) for one in words_in(declaration, page.code or "") if own.name in one.text]
    return any(shown.grown(2.5).holds(box) for box in said)


@long
@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_each_page_of_a_grid_names_its_pieces(paper: str) -> None:
    declaration = drawn_once(MIXED, Wishes(paper=paper, arrange="grid")).declaration
    seen = 0
    for page in declaration.pages:
        for own in declaration.pieces if page.window else ():
            shown = part(own, page)
            if page.window and shown.overlaps(page.window) and min(shown.width, shown.height) > 15.0:
                assert named(declaration, own, page), (own.name, page.code)
                seen += max(shown.width, shown.height) < own.cut_length_mm
    # of pieces that lie whole on a page the label says it
    assert seen


def test_the_sizes_that_a_page_shows_are_named_too() -> None:
    declaration = drawn_once(NESTED, Wishes(arrange="grid")).declaration
    said = [word.text for page in declaration.pages if page.code for word in words_in(declaration, page.code)]
    assert [text for text in said if text.startswith("Hem")] == ["Hem, sizes S–L"] * (len(declaration.pages) - 2)


@pytest.mark.parametrize(
    ("job", "code", "sizes"), [(IN_PANES, "1C", [*MANY][1:]), (IN_A_GRID, "A1", ["M", "L"])], ids=["panes", "grid"]
)
def test_a_size_that_the_page_before_shows_whole_is_not_named(
    job: tuple[str, str, str], code: str, sizes: list[str]
) -> None:
    """This test ensures that a page, its foot and the bookmarks say the same of its sizes."""
    text, paper, arrange = job
    document = drawn_once(text, Wishes(paper=paper, arrange=arrange))
    declaration = document.declaration
    page = next(one for one in declaration.pages if one.code == code)
    assert page.window is not None
    span = f"{sizes[0]}–{sizes[-1]}"
    # the page shows the end of its strip, too
    assert len([one for one in declaration.pieces if one.sheet_bounds().overlaps(page.window)]) == len(sizes) + 1
    assert f"Hem, sizes {span}" in " ".join(word.text for word in words_in(declaration, code))
    with pikepdf.open(BytesIO(document.data)) as pdf, pdf.open_outline() as outline:
        titles = [str(item.title) for item in outline.root if str(item.title).startswith("Hem")]
    assert [title.startswith("Hem, size") and code in title for title in titles] == [
        one.size in sizes for one in declaration.pieces
    ]
    if arrange == "grid":
        # the page of a pane has others, which show all sizes
        assert f"Hem {span}" in {word.text for word in at_foot(declaration, page.number)}


def test_lanes_too_narrow_for_a_name_across_have_it_along_the_strip() -> None:
    declaration = drawn_once(NARROW, Wishes(paper="tabloid", arrange="stacked")).declaration
    (own,) = declaration.pieces
    assert own.turned
    for page in declaration.pages[1:]:
        assert named(declaration, own, page), page.code
