"""Charts, instruction pages, reports and readings: no words on others, off the page, or crossed by a line."""

from __future__ import annotations

import random
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from tests.chosen import long
from tests.look.faults import page_faults, style_faults
from tests.look.jobs import LONG, THREE, TITLE, TWELVE, sizes
from tests.look.printed import printed
from tests.sheets.jobs import EXAMPLES, MIXED
from tiler.draft.compute import figure_job
from tiler.draft.spec.read import Job
from tiler.sheets.reports.chart import chart_pdf
from tiler.sheets.reports.proof import ProofPage, SizeRow, SquarePicture, proof_page
from tiler.sheets.reports.readings import Chart, Dot, Row, readings_chart
from tiler.sheets.sewing.finishes import finishes_of
from tiler.sheets.sewing.pages import instruction_pdf
from tiler.usecases.job import read_job

SPECS = {
    "mixed": MIXED,
    "twelve sizes": sizes(TWELVE, 0.25, units="cm"),
    "long names": sizes(THREE, 0.5, LONG, "double-fold-binding", "3/4 in"),
    "child": (EXAMPLES / "saltmarsh-child.toml").read_text("utf-8"),
    "vee": (EXAMPLES / "saltmarsh-vee.toml").read_text("utf-8"),
    "eight sizes": (EXAMPLES / "saltmarsh-sizes.toml").read_text("utf-8"),
}


def faults(data: bytes) -> list[str]:
    pages = list(printed(data))
    assert all(page.words and page.strokes for page in pages)
    return [fault for page in pages for fault in (*page_faults(page), *style_faults(page))]


@pytest.fixture(params=SPECS)
def job(request: pytest.FixtureRequest, tmp_path: Path) -> Job:
    path = tmp_path / "spec.toml"
    path.write_text(SPECS[request.param], encoding="utf-8")
    return read_job(path)


@long
def test_chart_and_instructions(job: Job) -> None:
    figures = figure_job(job)
    edition = replace(job.edition, version="2.1", date="2026-10-04", copyright="Saltmarsh Knits")
    paper = "letter" if job.edition.units == "in" else "a4"
    assert faults(chart_pdf(figures, edition, paper)) == []
    assert faults(instruction_pdf(finishes_of(figures, job.edition), paper).data) == []


@pytest.mark.parametrize("count", [1, 3, 6])
def test_a_report(count: int) -> None:
    drawing = BytesIO()
    Image.new("L", (90, 90), 255).save(drawing, "PNG")
    cells = ("12", "square of 2 in at the foot", "31, 210 mm", "2.000 in  50.80 mm", "50.80 mm  exact")
    page = ProofPage(
        file=f"{TITLE}.pdf".replace(" ", "-"),
        facts=f"12 pages, first page 215.9 × 279.4 mm; SHA-256 {'0123456789abcdef' * 4}",
        verdict="Off scale: the squares are 2 % too small, so a strip of 20 in comes out ⅜ in short. " * count,
        rows=tuple(SizeRow((*cells, "49.80 mm  −2.0 %"), index == 3) for index in range(4 * count)),
        pictures=(
            SquarePicture(drawing.getvalue(), 90, 90, ("page 1: square of 2 in", "49.80 × 50.80 mm", "−2.0 % across")),
        )
        * count,
        remarks=("A remark on what the file shows, on what may have caused it, and on what to do next. " * 3,)
        * 2
        * count,
        made_by="Measured by tiler 1. Right means: within 0.5 %, in files of tiler within 0.1 %.",
    )
    assert faults(proof_page(page)) == []


@pytest.mark.parametrize("testers", [1, 5, 60])
def test_readings(testers: int) -> None:
    chance = random.Random(testers)

    def dot(far: float) -> Dot:
        return Dot(1 + chance.gauss(0, 0.01) + far, 1 + chance.gauss(0, 0.01), 0.005)

    chart = Chart(
        title=f"{TITLE}.csv",
        facts="60 readings of 12 testers; median across 99.8 %, down 100.1 %",
        rows=tuple(
            Row(
                f"A tester with a long name, {number}",
                tuple(dot(0.3 if number == 2 else 0.0) for _ in range(chance.randint(1, 4))),
                "like fit-to-page: 2 of 3" if number % 2 else "",
            )
            for number in range(testers)
        ),
        tolerance=0.01,
        remarks=("Percent of nominal. Full dot: across; ring: down. Grey: within 1 %, the heavy line is 100 %. " * 2,)
        * 3,
    )
    assert faults(readings_chart(chart, "a4", "tiler 1")) == []
