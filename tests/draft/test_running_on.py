"""Strips that run on beyond their edge, and free ends on a child's garment."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.chosen import long
from tests.specs import Table, curved, neckline, piece, spec, straight, table, written
from tiler.commands import run
from tiler.draft.edition import Edition
from tiler.draft.outline import draw_piece
from tiler.errors import SpecError

IN = 25.4  # NIST SP 811, App. B
TIED = {"finish": "double-fold-binding", "finished_width": "3/8", "closed": False, "fabric": "half"}


def tied(before: str | None = "16 in", after: str | None = "16 in") -> Table:
    return curved("15 in", "70") | table(before=before, after=after)


def marks(figures):
    return [(str(mark.name), round(mark.at_mm / IN, 3)) for mark in figures.notches]


def test_free_lengths_are_cut_one_to_one(figure):
    band = figure(finished_width="1 1/2", closed=False, ratio="90 %", edge=straight("30 in", before="12 in", after="28 in"),
                  end_allowance="1/2 in")  # fmt: skip
    # 90 % of 30 in, both free lengths as they are, and both ends
    assert band.loop_mm / IN == pytest.approx(27)
    assert band.cut_length_mm / IN == pytest.approx(12 + 27 + 28 + 1)
    assert band.cut.value == "full-loop"
    assert [mark for mark in marks(band) if mark[0] == "leaves the edge"] == [
        ("leaves the edge", 12.5),
        ("leaves the edge", 39.5),
    ]
    drawn = draw_piece(band, 1, Edition("Top", "in"))
    assert [(str(word.text), word.at / IN) for word in drawn.end_words] == [
        ("turned end", pytest.approx(0.5)),
        ("turned end", pytest.approx(67.5)),
    ]


def test_ends_alike_are_cut_on_the_fold(figure):
    tie = figure(**TIED, edge=tied(), ratio="90 %", end_allowance="1/4 in")
    assert (tie.cut.value, tie.cut_length_mm / IN) == ("on-fold", pytest.approx(13.5 / 2 + 16 + 0.25))
    assert marks(tie)[-1] == ("leaves the edge", 6.75)
    assert tie.to_json()["ends"] == {
        "finish": "turned", "allowance_mm": pytest.approx(0.25 * IN),
        "before_mm": pytest.approx(16 * IN), "after_mm": pytest.approx(16 * IN),
    }  # fmt: skip
    one = figure(**TIED, edge=tied(None), ratio="90 %")
    assert [name for name, _ in marks(one)].count("leaves the edge") == 1


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ({"edge": straight("20 in", before="8 in")}, "edge.before: is for a strip with two ends; write closed = false"),
        ({"closed": False, "edge": straight("20 in", after="-1 in")}, "after: '-1 in' is negative"),
        ({"closed": False, "edge": straight("20 in", after="6 m")}, "after: is longer than 196⅞ in (500.0 cm)"),
        ({"closed": False, "edge": straight("20 in", before="8 in"), "cut": "on-fold"},
         'cut: "on-fold" wants both ends alike, and the strip runs on by 8 in (20.3 cm) at one end, 1:1; write "full-loop"'),
    ],
)  # fmt: skip
def test_what_does_not_go_together_is_refused(figure, keys: dict[str, Any], said: str) -> None:
    with pytest.raises(SpecError) as fault:
        figure(**keys)
    assert said in str(fault.value)


@pytest.fixture
def childs(tmp_path: Path) -> Path:
    edge = neckline("7 in", "4 in", before="8 in", after="8 in")
    return written(spec(piece("Neck", edge=edge, closed=False, child=True)), tmp_path)


@long
def test_free_ends_at_a_childs_neck_are_drawn_only_when_accepted(
    childs: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    # 16 CFR 1120 with ASTM F1816; EN 14682
    pdf = tmp_path / "neck.pdf"
    assert run(["figures", str(childs)]) == 0
    assert "EN 14682" in capsys.readouterr().out
    assert run(["draft", str(childs), "-o", str(pdf)]) == 2
    told = " ".join(capsys.readouterr().err.split())
    assert told.startswith("tiler: Neck: not drawn. Free ends at head or neck of a child's garment: 16 CFR 1120")
    assert told.endswith("leave before and after out, or let it pass (--accept ties)")
    assert not pdf.exists()
    assert run(["draft", str(childs), "-o", str(pdf), "--accept", "ties"]) == 0
    assert run(["bundle", str(childs), "-o", str(tmp_path / "release")]) == 2
    assert "--accept ties" in capsys.readouterr().err


def test_other_edges_and_grown_ups_may_have_them(read: Any, figure: Any) -> None:
    assert not figure(**TIED, edge=tied()).free_ends
    assert figure(**TIED, edge=tied(), child=True).free_ends
    assert not figure(closed=False, edge=straight("20 in", after="8 in"), child=True).free_ends
    assert not figure(**TIED, edge=curved("15 in", "70"), child=True).free_ends
