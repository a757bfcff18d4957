"""Sizes that a page names are those that it shows; whoever rewrites them is found by what is declared of the pieces."""

from __future__ import annotations

import pytest

from tests.proof.test_said import failed, reworded
from tests.sheets.jobs import drawn_once
from tests.sheets.test_piece_names import IN_A_GRID, IN_PANES
from tests.specs import piece, spec, straight
from tiler.proof.compare.said import compare_said
from tiler.usecases.draft import Wishes

SIZES = {"S": "70 cm", "M": "74 cm", "L": "78 cm"}


@pytest.mark.parametrize(
    ("job", "code", "said", "other"),
    [
        (IN_PANES, "1C", "32–44", "30–44"),
        (IN_PANES, "1C", "32–44", "34–44"),
        (IN_A_GRID, "A1", "sizes M–L", "sizes S–L"),
        (IN_A_GRID, "A1", "sizes M–L", "size L"),
        (IN_A_GRID, "A1", "sizes M–L", "sizes S/L"),
    ],
)
def test_a_label_that_names_other_sizes_than_its_page_shows_is_found(
    job: tuple[str, str, str], code: str, said: str, other: str
) -> None:
    text, paper, arrange = job
    declaration = drawn_once(text, Wishes(paper=paper, arrange=arrange)).declaration
    assert failed(declaration) == set()
    faults = [one for one in compare_said(reworded(said, other)(declaration)) if one.status == "fail"]
    assert [(one.name, one.page) for one in faults] == [
        ("words", page.number) for page in declaration.pages if page.code == code
    ]


@pytest.mark.parametrize("name", ["Hem, size S", "Hem, sizes", "Hem,"])
def test_a_piece_may_be_called_like_another_with_its_size(name: str) -> None:
    text = spec(
        piece("Hem", "3 cm", straight(SIZES), cut="full-loop"),
        piece(name, "3 cm", straight(SIZES), cut="full-loop"),
        title="Hem",
        sizes=list(SIZES),
        units="cm",
    )
    assert failed(drawn_once(text, Wishes(arrange="grid")).declaration) == set()
