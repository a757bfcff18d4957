"""The bracket at the fold: it lies between two press lines, and on none."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.specs import FINISHES, piece, spec, straight, written
from tiler.declaration import Tag
from tiler.draft.compute import figure_job
from tiler.draft.outline import draw_piece
from tiler.draft.spec.read import read_spec


@pytest.mark.parametrize("finish", FINISHES)
def test_the_bracket_keeps_off_press_lines(finish: str, tmp_path: Path) -> None:
    band = piece("Band", "3/8 in", straight("20 in"), finish, cut="on-fold")
    job = read_spec(written(spec(band), tmp_path))
    drawn = draw_piece(figure_job(job)[0], 1, job.edition)
    _, *bracket = next(part.subpaths for part in drawn.parts if part.tag == Tag.FOLD_LINE)
    heights = [y for subpath in bracket for _, y in subpath]
    assert len(drawn.lanes) > 2
    assert not any(min(heights) - 0.5 < lane < max(heights) + 0.5 for lane in drawn.lanes)
    assert max(heights) - min(heights) > 2.0
