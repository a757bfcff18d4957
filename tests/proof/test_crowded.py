"""Crowded pages: frames, marks, words and rules beside and across the lines of pieces are no faults."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.sheets.jobs import drawn
from tiler.proof import prove
from tiler.usecases.draft import Wishes

PIECE = """
[[pieces]]
name = "Band {number}"
finish = "{finish}"
finished-width = "{width} cm"
cut = "{cut}"
edge = {{ kind = "straight", whole = "{edge} cm" }}
"""
FINISHES = ("folded-band", "double-fold-binding", "french-binding", "raw-edge-binding")


def crowded(count: int) -> str:
    pieces = [
        PIECE.format(
            number=number,
            finish=FINISHES[number % 4],
            width=f"{0.7 + (number * 7 % 11) / 10:.1f}",
            cut=("on-fold", "full-loop")[number % 3 == 0],
            edge=18 + number * 13 % 60,
        )
        for number in range(count)
    ]
    return 'title = "Crowded"\nunits = "cm"\n' + "".join(pieces)


@pytest.mark.parametrize(
    ("paper", "margin", "overlap"),
    [("letter", 10.0, 10.0), ("a4", 4.3, 8.0), ("letter-a4", 12.7, 22.0), ("legal", 17.1, 15.0)],
)
def test_a_crowded_file_has_nothing_to_complain_of(tmp_path: Path, paper: str, margin: float, overlap: float) -> None:
    document = drawn(crowded(17), tmp_path, Wishes(paper, margin, overlap, cover=margin < 15))
    report = prove(document.data)
    assert len(document.declaration.pages) > 4
    assert report.failed == ()
    assert report.warned == ()
