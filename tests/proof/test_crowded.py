"""Crowded pages: frames, marks, words and rules beside and across the lines of pieces are no faults."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.sheets.jobs import drawn
from tests.specs import FINISHES, piece, spec, straight
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
