"""Views of a garment: what belongs to which, and how much cloth each takes."""

from __future__ import annotations

import csv
import tomllib
from io import BytesIO, StringIO

import pymupdf
import pytest

from tests.chosen import long
from tests.sheets.jobs import drawn_once
from tests.specs import piece, spec, straight
from tiler.commands.output.cutting_chart import chart
from tiler.commands.output.edge_story import to_buy
from tiler.draft.chart_csv import chart_csv
from tiler.draft.compute import figure_job
from tiler.draft.spec.read import read_tables
from tiler.draft.views import by_view
from tiler.errors import SpecError
from tiler.proof import prove
from tiler.proof.report.verdict import Verdict
from tiler.sheets.reports.chart import chart_pdf

FABRICS = {"rib": {"stretch": "60 %", "width": "60 in"}}
ROUND = piece("Round band", "3/4 in", straight("22 in"), cut="full-loop", fabric="rib", view="A")
VEE = piece("Vee band", "1 in", straight("26 in"), cut="full-loop", fabric="rib", view=["B", "C"])
CUFF = piece("Cuff", "2 in", straight("9 in"), cut="full-loop", fabric="rib", quantity=2)
VIEWS = spec(ROUND, VEE, CUFF, fabrics=FABRICS)


def words(data: bytes) -> str:
    with pymupdf.open(stream=BytesIO(data)) as pdf:
        return " ".join("\n".join(page.get_text() for page in pdf).split())


@long
def test_page_1_and_labels_name_the_views_of_a_piece_and_are_proved() -> None:
    document = drawn_once(VIEWS)
    said = words(document.data)
    assert said.count("Round band, view A") == 1
    assert said.count("Vee band, views B, C") == 1
    assert "view\u00a0A · CUT 1 FULL LENGTH" in said.replace("view A ·", "view\u00a0A ·")
    assert "Cuff, view" not in said
    assert prove(document.data).verdict is Verdict.TRUE


def test_each_view_has_its_own_cloth_with_what_belongs_to_all() -> None:
    job = read_tables(tomllib.loads(VIEWS), "spec.toml:")
    figures = figure_job(job)
    views = by_view(figures)
    assert {view: [one.name for one in own] for view, own in views.items()} == {
        "A": ["Round band", "Cuff"],
        "B": ["Vee band", "Cuff"],
        "C": ["Vee band", "Cuff"],
    }
    lines = [line.text.strip() for line in chart(job, figures)]
    for view, own in views.items():
        ((fabric, told),) = to_buy(own, "in")
        assert any(line.startswith(f"view {view}: {fabric}") and told[:14] in line for line in lines)
    # rows of 2 and 4 1/2 in, of 2 1/2 and 4 1/2 in: the cuts of either cuff lie beside each other on 60 in
    assert "at least 6 1/2 in" in dict(to_buy(views["A"], "in"))["rib"].replace("½", " 1/2")


def test_chart_and_list_name_the_views() -> None:
    job = read_tables(tomllib.loads(VIEWS), "spec.toml:")
    figures = figure_job(job)
    said = words(chart_pdf(figures, job.edition, "letter"))
    assert "Round band view A · folded band" in said
    rows = list(csv.DictReader(StringIO(chart_csv(figures).lstrip("\ufeff"))))
    assert [row["views"] for row in rows] == ["A", "B; C", ""]


@pytest.mark.parametrize(
    ("view", "why"), [(1, "view"), ([1], "view"), ("", "view"), (["A"] * 13, "are 13; at most 12 fit")]
)
def test_what_is_no_view_is_refused(view: object, why: str) -> None:
    with pytest.raises(SpecError, match=why):
        read_tables(tomllib.loads(spec(piece("Cuff", "2 in", straight("9 in"), view=view))), "spec.toml:")
