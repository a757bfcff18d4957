"""Words of a page that read upwards: only in a pane, along a strip that runs up the page."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.chosen import long
from tests.proof.test_pane_faults import ALONG, UP
from tests.sheets.jobs import drawn
from tiler.declaration import Rule
from tiler.printed import Word
from tiler.proof import prove
from tiler.sheets import document
from tiler.sheets.canvas import Canvas
from tiler.sheets.page import joint_words
from tiler.sheets.page.foot import draw_foot
from tiler.usecases.draft import Wishes


@pytest.fixture(autouse=True)
def _upwards(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(joint_words, "_ways", lambda code, _: iter([joint_words._Way([code], turned=True)]))


@long
def test_along_a_strip_that_runs_up_words_may_do_so(tmp_path: Path) -> None:
    file = drawn(UP, tmp_path, Wishes(arrange="stacked", cover=False))
    assert any(one.turned for marks in file.declaration.printed for one in marks if isinstance(one, Word))
    assert prove(file.data).verdict == "true-to-scale"


@long
def test_along_other_strips_they_may_not(tmp_path: Path) -> None:
    report = prove(drawn(ALONG, tmp_path, Wishes(paper="a4", arrange="stacked", cover=False)).data)
    assert report.verdict != "true-to-scale"
    assert "turned" in (report.first_failure() or "")


@long
def test_nor_in_the_margin(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def upwards(canvas: Canvas, *others: Any) -> list[Rule]:
        canvas.text((3.0, 40.0), "up", turned=True)
        return draw_foot(canvas, *others)

    monkeypatch.setattr(document, "draw_foot", upwards)
    report = prove(drawn(UP, tmp_path, Wishes(arrange="stacked", cover=False)).data)
    assert report.verdict != "true-to-scale"
    assert "turned" in (report.first_failure() or "")
