"""A job that fits what the instructions leave of page 1 is one sheet, and is told, measured and cut from that."""

from __future__ import annotations

from itertools import combinations

import pytest

from tests.look.test_pages import faults
from tests.sheets.jobs import EXAMPLES, drawn_once
from tests.specs import piece, spec, straight
from tiler.box import Box
from tiler.declaration import Declaration, PageKind
from tiler.paper import PaperChoice, page_size
from tiler.printed import Word
from tiler.proof import prove
from tiler.sheets.cover.first_page import NARROWEST
from tiler.sheets.layout.beside_block import beside_block
from tiler.sheets.layout.item import Item
from tiler.usecases.draft import Wishes

CREW = (EXAMPLES / "saltmarsh-crew.toml").read_text("utf-8")
CUFF = spec(piece("Cuff", "5 cm", straight("22 cm"), cut="on-fold"), units="cm")
"""A neckband that lies beside the instructions, and a cuff that lies below them."""


def words(declaration: Declaration) -> list[str]:
    return [mark.text for mark in declaration.printed[0] if isinstance(mark, Word)]


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("text", [CREW, CUFF], ids=["beside", "below"])
def test_a_short_strip_is_one_sheet(text: str, paper: str) -> None:
    document = drawn_once(text, Wishes(paper=paper))
    declaration = document.declaration
    assert [(page.kind, page.code) for page in declaration.pages] == [(PageKind.TILE, "A1")]
    assert prove(document.data).verdict == "true-to-scale"
    assert faults(document) == []
    said = words(declaration)
    steps = ("Print", "Measure", "Tape", "Cut")
    assert [one for one in said if one[1:2] == " " and one[2:] in steps] == ["1 Print", "2 Measure", "3 Cut"]
    assert "page 1 of 1" in said
    # both axes can be measured to a quarter of a percent at least: a ruler is read to half a millimetre
    for axis in ("across", "down"):
        assert max(rule.nominal_mm for rule in declaration.rules if rule.axis == axis) >= 100
    (place,) = [one.sheet_bounds().moved(10.0, 10.0) for one in declaration.pieces]
    for square in declaration.squares:
        assert not place.overlaps(square.box)
    for rule in declaration.rules:
        assert not place.overlaps(Box(*rule.at, *rule.end))


@pytest.mark.parametrize("wishes", [Wishes(cover=False), Wishes(arrange="grid"), Wishes(arrange="stacked")])
def test_who_asks_for_a_way_of_taping_or_no_first_page_gets_it(wishes: Wishes) -> None:
    declaration = drawn_once(CREW, wishes).declaration
    assert (declaration.pages[0].kind is PageKind.COVER) is wishes.cover
    assert declaration.pages[-1].number == 1 + wishes.cover


def test_where_the_words_have_no_room_beside_the_piece_it_has_a_page_of_its_own() -> None:
    long = drawn_once(spec(piece("Cuff", "9 cm", straight("22 cm"), cut="full-loop"), units="cm"))
    assert long.declaration.pages[0].kind is PageKind.COVER


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_pieces_and_block_lie_in_the_window_and_apart(paper: str) -> None:
    page = page_size(PaperChoice(paper))
    for sizes in ([(240.0, 60.0)], [(150.0, 30.0), (120.0, 40.0)], [(60.0, 20.0)] * 3, [(190.0, 100.0)]):
        ways = list(beside_block([Item(f"p{k}", *size) for k, size in enumerate(sizes)], page))
        assert ways
        for way in ways:
            boxes = [box.moved(page.margins.left, page.margins.bottom) for box in way.layout.boxes]
            assert all(page.frame.grown(1e-6).holds(box) for box in (*boxes, way.block))
            assert way.block.width >= NARROWEST
            assert not any(one.overlaps(other, 1e-6) for one, other in combinations((*boxes, way.block), 2))
    assert list(beside_block([Item("p", 240.0, 90.0)], page)) == []
