"""Pages that flow: words of a user stay words, nothing is lost, every page has its head and its foot, fonts are embedded."""

from __future__ import annotations

import re
from io import BytesIO
from pathlib import Path
from typing import Any

import pymupdf
import pytest
from PIL import Image

from tests.chosen import long
from tests.look.faults import page_faults, style_faults
from tests.look.jobs import TITLE
from tests.look.printed import printed
from tests.sheets.jobs import SAMPLE
from tiler.box import Box
from tiler.draft.compute import figure_job
from tiler.draft.edition import Edition, Units
from tiler.sheets.flow import ALL, Again, gap, height, paragraph, table
from tiler.sheets.pagination import flowed
from tiler.sheets.reports.chart import chart_pdf
from tiler.sheets.reports.proof import ProofPage, SizeRow, SquarePicture, proof_page
from tiler.sheets.reports.readings import Chart, Dot, Row, readings_chart
from tiler.sheets.sewing.finishes import finishes_of
from tiler.sheets.sewing.pages import instruction_pdf
from tiler.sheets.style import SMALL
from tiler.usecases.job import read_job

PAGE = Box(0.0, 0.0, 120.0, 160.0)
ROOM = PAGE.grown(-10.0)

MARKUP = (
    '<font color="red" size="40">red</font>',
    "R&amp;D &lt;b&gt;",
    '<img src="/etc/hostname" width="9" height="9"/>',
    '<a href="https://example.org">x</a>',
    '<para fontName="Helvetica"><b>bold</para>',
    "<br/>&#65;<onDraw name='x'/>",
)


def written(data: bytes) -> list[str]:
    """Give the words of each page, and look at what else a page may hold."""
    with pymupdf.open(stream=data, filetype="pdf") as pdf:
        for page in pdf:
            assert all(font[1] == "ttf" for font in page.get_fonts())
            assert page.get_links() == []
            assert {span["color"] for span in page.get_texttrace()} <= {(0.0,), (0.0, 0.0, 0.0)}
        return [" ".join(page.get_text().split()) for page in pdf]


def squeezed(text: str) -> str:
    """Give a text without white, since a line may break anywhere in a long word."""
    return "".join(text.split())


@long
@pytest.mark.parametrize("words", MARKUP)
def test_markup_in_the_words_of_a_user_is_printed_and_does_nothing(words: str, tmp_path: Path) -> None:
    spec = tmp_path / "spec.toml"
    quoted = words.replace("\\", "\\\\").replace('"', '\\"')
    spec.write_text(re.sub('^(title|name) = ".*"', rf'\1 = "{quoted}"', SAMPLE, count=2, flags=re.M), encoding="utf-8")
    job = read_job(spec)
    figures = figure_job(job)
    assert figures[0].name == job.edition.title == words
    report = ProofPage(words, words, words, (SizeRow(("1", words, words), True),), (), (words,), words)
    readings = Chart(words, words, (Row(words, (Dot(1.0, 1.0, 0.01),), words),), 0.01, (words,))
    for data, times in (
        (chart_pdf(figures, Edition(words, Units.IN, words, None, words), "letter"), 3),
        (instruction_pdf(finishes_of(figures, job.edition), "letter").data, 2),
        (proof_page(report), 6),
        (readings_chart(readings, "letter", "tiler"), 3),
    ):
        said = squeezed(" ".join(written(data)))
        assert said.count(squeezed(words)) >= times, said


@long
def test_a_story_flows_over_pages_with_head_and_foot_and_loses_nothing() -> None:
    pages = written(
        flowed(
            PAGE,
            ROOM,
            lambda _: [paragraph(f"word {number}", spaceBefore=1.0) for number in range(300)],
            lambda: [paragraph(("The head", SMALL, True))],
            lambda: "The foot",
        ).file.getvalue()
    )
    assert len(pages) > 9
    for number, page in enumerate(pages, 1):
        assert page.startswith("The head")
        assert page.count(f"The foot page {number} of {len(pages)}") == 1
    assert [int(found) for page in pages for found in re.findall(r"word (\d+)", page)] == list(range(300))


def test_a_table_has_its_head_again_in_other_words() -> None:
    def story(_: Any) -> list[Any]:
        head = Again(paragraph("the head"), paragraph("the head (continued)"))
        return [
            table(
                [[head], *([f"row {number}"] for number in range(80))], [100.0], ("TOPPADDING", *ALL, 1.0), repeatRows=1
            )
        ]

    pages = written(flowed(PAGE, ROOM, story).file.getvalue())
    assert len(pages) == 3
    assert ["(continued)" in page for page in pages] == [False, True, True]
    assert all(page.startswith("the head") for page in pages)


def test_what_is_measured_is_what_is_set() -> None:
    story = [paragraph("words " * 40), gap(3.0), paragraph("more words " * 40, spaceBefore=2.0)]
    high = height(story, ROOM.width)
    for less, count in ((-0.01, 1), (0.01, 2)):
        room = Box(ROOM.x0, ROOM.y1 - high + less, ROOM.x1, ROOM.y1)
        assert len(written(flowed(PAGE, room, lambda _: list(story)).file.getvalue())) == count


def test_long_titles_wrap(tmp_path: Path) -> None:
    spec = tmp_path / "spec.toml"
    spec.write_text(re.sub('^title = ".*"', f'title = "{TITLE}"', SAMPLE, count=1, flags=re.M), encoding="utf-8")
    job = read_job(spec)
    figures = figure_job(job)
    for data in (
        chart_pdf(figures, Edition(TITLE, Units.IN), "letter"),
        instruction_pdf(finishes_of(figures, job.edition), "letter").data,
    ):
        for page in written(data):
            assert TITLE in page
            assert "…" not in page


@long
def test_many_remarks_of_a_report_go_on_to_another_page() -> None:
    drawing = BytesIO()
    Image.new("L", (90, 90), 255).save(drawing, "PNG")
    remarks = tuple(f"Remark {number}: " + "what the file shows and what to do next. " * 5 for number in range(40))
    rows = tuple(SizeRow((str(number), "a square", "–", "50.80 mm", "–", "–"), False) for number in range(20))
    picture = SquarePicture(drawing.getvalue(), 90, 90, ("page 1",))
    data = proof_page(ProofPage("some.pdf", "20 pages", "True to scale", rows, (picture,) * 6, remarks, "Measured."))
    pages = written(data)
    assert len(pages) > 1
    for number, page in enumerate(pages, 1):
        assert page.startswith("Proof of scale some.pdf")
        assert f"Measured. page {number} of {len(pages)}" in page
    assert [int(found) for page in pages for found in re.findall(r"Remark (\d+):", page)] == list(range(40))
    assert "and 12 more, all right" in pages[0]
    assert [fault for page in printed(data) for fault in (*page_faults(page), *style_faults(page))] == []


def test_what_is_wrong_stands_first_in_a_report_and_is_never_left_out() -> None:
    rows = tuple(SizeRow((str(n), f"square {n}", "–", "50.80 mm", "–", "–"), n % 2 == 1) for n in range(60))
    name = f"{'a-file-of-a-pattern-with-a-long-name-' * 4}x.pdf"
    said = " ".join(written(proof_page(ProofPage(name, "60 pages", "Off scale", rows, (), (), "Measured."))))
    assert [int(found) for found in re.findall(r"square (\d+)", said)] == list(range(1, 60, 2))
    assert "and 30 more, all right" in said
    # a heading goes on behind a hyphen, in whole words
    assert re.search(r"(?:a-file-of-a-pattern-with-a-long-name-)+ ?(?:[a-z-]+- ?)*x\.pdf", said)


@long
def test_many_remarks_on_readings_go_on_to_another_page() -> None:
    rows = tuple(Row(f"Tester {number}", (Dot(1.0, 0.99, 0.0025),), "") for number in range(90))
    remarks = tuple(f"Remark {number}: " + "who stands out, and by how much. " * 6 for number in range(40))
    data = readings_chart(Chart("round.csv", "90 readings", rows, 0.01, remarks), "letter", "tiler")
    pages = written(data)
    assert len(pages) > 1
    assert [int(found) for page in pages for found in re.findall(r"Tester (\d+)", page)] == list(range(90))
    assert [int(found) for page in pages for found in re.findall(r"Remark (\d+):", page)] == list(range(40))
    assert [fault for page in printed(data) for fault in (*page_faults(page), *style_faults(page))] == []
