"""Crowded pages: frames, marks, words and rules beside and across the lines of pieces are no faults."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.chosen import long
from tests.sheets.jobs import drawn_once
from tests.specs import FINISHES, armhole, neckline, piece, spec, straight
from tiler.proof import prove
from tiler.usecases.draft import Wishes


def crowded(count: int) -> str:
    pieces = [
        piece(
            f"Band {number}",
            f"{0.7 + (number * 7 % 11) / 10:.1f} cm",
            straight(f"{18 + number * 13 % 60} cm"),
            FINISHES[number % 4],
            cut=("on-fold", "full-loop")[number % 3 == 0],
        )
        for number in range(count)
    ]
    return spec(*pieces, title="Crowded", units="cm")


@long
@pytest.mark.parametrize(
    ("paper", "margin", "overlap"),
    [("letter", 10.0, 10.0), ("a4", 4.3, 8.0), ("letter-a4", 12.7, 22.0), ("legal", 17.1, 15.0)],
)
def test_a_crowded_file_has_nothing_to_complain_of(tmp_path: Path, paper: str, margin: float, overlap: float) -> None:
    document = drawn_once(crowded(6), Wishes(paper, margin, overlap, cover=margin < 15))
    report = prove(document.data)
    assert len(document.declaration.pages) > 2
    assert report.failed == ()
    assert report.warned == ()


@long
def test_a_piece_that_reaches_into_the_strip_of_a_page_not_taped_to_its_own_is_whole(tmp_path: Path) -> None:
    """This test ensures that a page which shows a bit of a piece beside the page that shows it whole need not join it."""
    text = spec(
        piece("Neckband", "1.5 cm", neckline("17.8 cm", "9.3 cm"), fabric="rib", cut="on-fold"),
        piece("Armhole", "0.9 cm", armhole("19.6 cm", "20.6 cm"), "double-fold-binding", fabric="rib", cut="full-loop"),
        piece("Sleeve cuff", "4 cm", straight("19.5 cm"), fabric="rib", cut="full-loop"),
        piece("Waist band", "5 cm", straight("69.5 cm"), fabric="rib", cut="on-fold"),
        piece("Ankle cuff", "6 cm", straight("22.6 cm"), fabric="rib", cut="full-loop"),
        piece("Pocket", "0.8 cm", straight("15.4 cm"), "raw-edge-binding", fabric="rib", cut="full-loop"),
        title="Crowded",
        units="cm",
        fabrics={"rib": "80 %"},
    )
    document = drawn_once(text, Wishes("letter", arrange="grid"))
    joined = {code for mark in document.declaration.marks for code in mark.tiles}
    cuff = next(one for one in document.declaration.pieces if one.name == "Sleeve cuff").sheet_bounds()
    shown = [one.code for one in document.declaration.pages if one.window and one.window.overlaps(cuff)]
    assert len(shown) == 2
    assert len(joined & {*shown}) == 1
    assert prove(document.data).failed == ()
