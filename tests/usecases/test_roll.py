"""One sheet on a roll, split where viewers end, and heavier lines for a projector."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.sheets.jobs import EXAMPLES
from tests.specs import piece, spec, straight, written
from tiler.errors import SpecError
from tiler.paper import LONGEST_PAGE
from tiler.usecases.draft import Proved, Wishes, draft_file

BINDINGS = EXAMPLES / "saltmarsh-bindings.toml"
HEM = spec(
    piece(
        "Hem binding",
        "1/4 in",
        straight("260 in"),
        finish="double-fold-binding",
        cover="1/8 in",
        cut="full-loop",
        ratio="100 %",
    ),
    title="Long strips",
)


def drafted(folder: Path, spec: Path, roll: float | None = None, line_weight: float | None = None) -> Proved:
    return draft_file(spec, folder / "out.pdf", Wishes("one-sheet", roll=roll, line_weight=line_weight))


@pytest.mark.parametrize("roll", [400.0, 609.6, 914.4])
def test_a_page_is_no_wider_than_the_roll(tmp_path: Path, roll: float) -> None:
    made = drafted(tmp_path, BINDINGS, roll)
    assert made.declaration.page_width_mm <= roll
    assert made.declaration.page_height_mm >= made.declaration.page_width_mm
    assert len(made.declaration.pages) == 1


@pytest.mark.parametrize("roll", [None, 609.6])
def test_what_is_longer_than_viewers_show_is_split_with_register_marks(tmp_path: Path, roll: float | None) -> None:
    """Pages beyond 14,400 units (200 in) show blank in some viewers, so a strip of 260 in lies on two of 200 in."""
    made = drafted(tmp_path, written(HEM, tmp_path), roll)
    assert made.declaration.page_height_mm == LONGEST_PAGE == 14400 / 72 * 25.4
    assert [page.code for page in made.declaration.pages] == ["A1", "B1"]
    assert made.declaration.marks
    assert made.report.verdict == "true-to-scale"


def test_a_roll_that_leaves_no_room_for_the_squares_is_refused(tmp_path: Path) -> None:
    with pytest.raises(SpecError, match="too narrow"):
        drafted(tmp_path, BINDINGS, 203.2)


def test_a_roll_is_for_one_sheet_only(tmp_path: Path) -> None:
    with pytest.raises(SpecError, match="--paper one-sheet"):
        draft_file(BINDINGS, tmp_path / "out.pdf", Wishes("a4", roll=914.4))


@pytest.mark.parametrize("weight", [0.2, 1.0, 1.2])
def test_lines_of_any_weight_are_proved(tmp_path: Path, weight: float) -> None:
    assert drafted(tmp_path, BINDINGS, line_weight=weight).report.verdict == "true-to-scale"


@pytest.mark.parametrize("weight", [0.05, 5.0])
def test_a_line_that_is_none_is_refused(tmp_path: Path, weight: float) -> None:
    with pytest.raises(SpecError, match="line-weight"):
        drafted(tmp_path, BINDINGS, line_weight=weight)
