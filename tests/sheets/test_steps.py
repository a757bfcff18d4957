"""The instruction pages as printed: size, fonts, words that neither meet nor leave the page, and what they say."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import cache
from io import BytesIO
from itertools import pairwise
from math import hypot
from pathlib import Path
from typing import Any

import pdfplumber
import pikepdf
import pytest

from tiler.draft.finish import Allowances, Finish, press_lines
from tiler.draft.fit import figure_job
from tiler.errors import SpecError
from tiler.release.job import read_job
from tiler.sheets.canvas import Canvas
from tiler.sheets.finish_steps import FinishSteps, finishes_of
from tiler.sheets.step_words import steps
from tiler.sheets.steps import instruction_pdf

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
PT = 72 / 25.4

ISO_4915 = {"301", "304", "401", "504", "514", "406"}
"""Stitch types as the standard numbers them; 406 from memory."""


def neutral(units: str = "in") -> list[FinishSteps]:
    return [FinishSteps(finish, units=units) for finish in Finish]


def of_spec(path: Path) -> tuple[FinishSteps, ...]:
    job = read_job(path)
    return finishes_of(figure_job(job), job.title, job.units)


def many(count: int, name: str = "Neckband of the crew top") -> list[FinishSteps]:
    """Give pages with more strips than have room, all of one spec's first piece."""
    (page, *_) = of_spec(Path(__file__).parents[2] / "examples" / "saltmarsh-vee.toml")
    strips = tuple(replace(page.strips[0], name=f"{name} {k}", cover_mm=3.0 * (k % 2)) for k in range(count))
    return [FinishSteps(finish, "Many strips", "in", strips) for finish in Finish]


def in_ditch() -> list[FinishSteps]:
    return [
        FinishSteps(page.finish, page.title, page.units, tuple(replace(one, cover_mm=3.0) for one in page.strips))
        for page in many(1)
    ]


JOBS = [
    pytest.param(neutral(), id="neutral"),
    pytest.param(neutral("cm"), id="neutral, cm"),
    *(pytest.param(of_spec(path), id=path.stem) for path in EXAMPLES),
    pytest.param(many(1), id="one strip with a corner"),
    pytest.param(many(2), id="two strips"),
    pytest.param(many(40), id="forty strips"),
    pytest.param(many(3, "A name that goes on and on and nearly never ends " * 3), id="long names"),
    pytest.param(in_ditch(), id="in the ditch"),
]


def pages(finishes: Sequence[FinishSteps], paper: str = "letter-a4") -> list[Any]:
    return _pages(tuple(finishes), paper)


@cache
def _pages(finishes: tuple[FinishSteps, ...], paper: str) -> list[Any]:
    with pdfplumber.open(BytesIO(instruction_pdf(finishes, paper))) as pdf:
        for page in pdf.pages:
            page.extract_words()
        return list(pdf.pages)


def text(page: Any) -> str:
    """Give all words of a page, each number and unit a blank apart."""
    return " ".join(re.sub(r"\s+", " ", page.extract_text(x_tolerance=1.5)).split())


Word = tuple[float, float, float, float, str]


def lines_of_words(page: Any) -> list[Word]:
    """Give every word with its box: left, top, right, bottom in points."""
    return [(w["x0"], w["top"], w["x1"], w["bottom"], w["text"]) for w in page.extract_words(x_tolerance=1.5)]


def meeting(words: Iterable[Word], by: float = 0.3) -> list[tuple[str, str]]:
    """Name the pairs of words that lie on each other by more than ``by`` points on both axes."""
    found, ordered = [], sorted(words)
    for index, (_, top, right, bottom, word) in enumerate(ordered):
        for x0, other_top, _, other_bottom, other in ordered[index + 1 :]:
            if x0 >= right - by:
                break
            if min(bottom, other_bottom) - max(top, other_top) > by:
                found.append((word, other))
    return found


def struck(page: Any) -> list[str]:
    """Name the words that a drawn line runs through."""
    rows: dict[int, list[tuple[float, float]]] = defaultdict(list)
    for path in (*page.lines, *page.curves):
        for (x0, y0), (x1, y1) in pairwise(path["pts"]):
            count = int(hypot(x1 - x0, y1 - y0)) + 1
            for k in range(count + 1):
                x, y = x0 + (x1 - x0) * k / count, y0 + (y1 - y0) * k / count
                rows[int(y)].append((x, y))
    return [
        word
        for x0, top, x1, bottom, word in lines_of_words(page)
        if any(
            x0 + 0.5 < x < x1 - 0.5 and top + 1.5 < y < bottom - 1.5
            for row in range(int(top), int(bottom) + 1)
            for x, y in rows[row]
        )
    ]


@pytest.mark.parametrize("finishes", JOBS)
def test_words_meet_neither_each_other_nor_a_line_nor_the_margin(finishes: Sequence[FinishSteps]) -> None:
    for page in pages(finishes):
        words = lines_of_words(page)
        assert len(words) > 200
        assert meeting(words) == []
        assert struck(page) == []
        assert min(x0 for x0, *_ in words) >= 10 * PT - 0.1
        assert max(x1 for _, _, x1, _, _ in words) <= float(page.width) - 10 * PT + 0.1
        # the boxes of the type reach a little above and below its ink
        assert min(top for _, top, *_ in words) >= 10 * PT - 1
        assert max(bottom for _, _, _, bottom, _ in words) <= float(page.height) - 10 * PT + 1
        drawn = [x for path in (*page.lines, *page.curves, *page.rects) for x, _ in path["pts"]]
        assert min(drawn) >= 10 * PT
        assert max(drawn) <= float(page.width) - 10 * PT


def test_words_that_meet_are_found() -> None:
    assert meeting([(0, 0, 10, 8, "one"), (8, 4, 20, 12, "two"), (21, 0, 30, 8, "three")]) == [("one", "two")]


def test_a_struck_word_is_found() -> None:
    canvas = Canvas()
    canvas.begin_page(100, 100)
    canvas.text((10, 50), "struck")
    canvas.text((10, 20), "free")
    canvas.stroke([((12, 40), (12, 60))], 0.2)
    canvas.end_page()
    with pdfplumber.open(canvas.finish()) as pdf:
        assert struck(pdf.pages[0]) == ["struck"]


@pytest.mark.parametrize(
    ("paper", "width", "height"),
    [("letter", 215.9, 279.4), ("a4", 210.0, 297.0), ("letter-a4", 210.0, 279.4), ("a3", 297.0, 420.0)],
)
def test_the_pages_have_the_size_of_the_paper(paper: str, width: float, height: float) -> None:
    # ISO 216:2007; letter 8.5 x 11 in
    found = pages(neutral(), paper)
    assert len(found) == len(Finish)
    for page in found:
        assert (float(page.width) / PT, float(page.height) / PT) == pytest.approx((width, height), abs=0.01)


def test_every_font_is_embedded_and_no_type_is_small() -> None:
    data = instruction_pdf(neutral(), "letter")
    with pikepdf.open(BytesIO(data)) as pdf:
        fonts = [font for page in pdf.pages for font in page.Resources.Font.values()]
        assert fonts
        assert all("/FontFile2" in font.FontDescriptor for font in fonts)
        assert str(pdf.Root.Lang) == "en"
        assert [str(entry.title) for entry in pdf.open_outline().root] == [
            "Folded band",
            "Double-fold binding",
            "French binding",
            "Raw-edge binding",
        ]
    for page in pages(neutral()):
        assert {round(char["size"], 1) for char in page.chars} == {8.0, 9.5, 16.0}


def test_pages_are_black_and_white() -> None:
    greys = {(0,), (0, 0, 0), (1,), 0, 1, None}
    for page in pages(neutral()):
        for item in (*page.lines, *page.curves, *page.rects, *page.chars):
            assert item["stroking_color"] in greys
            assert item["non_stroking_color"] in greys


@pytest.mark.parametrize("finishes", JOBS)
def test_every_stitch_number_is_one_of_the_standard(finishes: Sequence[FinishSteps]) -> None:
    for page in pages(finishes):
        said = text(page).partition("Step by step")[2].partition("Cautions")[0]
        numbers = set(re.findall(r"(?<![\d.])[3-6]\d\d(?![\d.])", said))
        assert numbers
        assert numbers <= ISO_4915
        assert "ISO 4915" in said


@pytest.mark.parametrize("finishes", JOBS)
def test_every_page_says_what_to_stretch_and_what_to_try_first(finishes: Sequence[FinishSteps]) -> None:
    for page in pages(finishes):
        said = text(page)
        for words in (
            "Stretch the strip to the edge. Never stretch the garment's edge",
            "Wash and dry both fabrics",
            "Sew a scrap",
            "pull it over the head",
            "close the guard",
            "The rules of the place where the garment is sold or worn decide",
        ):
            assert words in said


def test_the_steps_use_the_figures_of_the_strip() -> None:
    page = next(page for page in of_spec(EXAMPLES[0]) if page.finish is Finish.FRENCH)
    said = text(pages([page])[0])
    # the example's hem: 39 in of edge, 37 in of strip, finished 1/4 in wide
    assert "stretch 37 in (94.0 cm) of strip to 39 in (99.1 cm) of edge" in said
    assert "pin it to a ring of 37 in (94.0 cm)" in said
    assert "¼ in (0.6 cm) from the raw edges" in said


def test_the_steps_name_the_press_lines_as_the_piece_does() -> None:
    for page in neutral():
        named = {name for step in steps(page) for name in re.findall("“(.+?)”", step.text)}
        assert named == {line.label for line in press_lines(page.finish, 10.0, Allowances())}


def test_without_a_strip_the_words_are_neutral() -> None:
    for page in pages(neutral()):
        assert not re.search(r"\d (in|cm)\b", text(page))


def test_strips_that_differ_share_no_figure() -> None:
    (page, *_) = many(2)
    one, two = page.strips
    unlike = FinishSteps(page.finish, "Two", "in", (one, replace(two, loop_mm=500.0, seam_allowance_mm=9.525)))
    said = text(pages([unlike])[0])
    work = said.partition("Step by step")[2]
    assert "one seam allowance" in work
    assert "until it is as long as the edge" in work
    assert "(50.0 cm) of strip" in said


def test_strips_beyond_the_room_are_counted() -> None:
    for page in pages(many(40)):
        said = text(page)
        left = re.search(r"(\d+) strips more: the cutting chart has the figures of all", said)
        assert left
        assert int(left[1]) + len(re.findall(r"Neckband of the crew top \d+ cut", said)) == 40


def test_the_ditch_is_taken_only_where_the_back_passes_the_seam() -> None:
    assert [page.in_ditch for page in neutral()] == [False, False, False, True]
    for page, said in zip(in_ditch(), map(text, pages(in_ditch())), strict=True):
        assert ("in the ditch" in said) == (not page.finish.is_band), page.finish


def test_a_finish_that_no_piece_uses_gets_no_page() -> None:
    found = of_spec(EXAMPLES[0])
    assert [page.finish for page in found] == [Finish.DOUBLE_FOLD, Finish.FRENCH, Finish.RAW_EDGE]


def test_the_same_strips_give_the_same_bytes() -> None:
    assert instruction_pdf(many(3), "a4") == instruction_pdf(many(3), "a4")


def test_a_name_that_the_font_cannot_print_is_refused() -> None:
    with pytest.raises(SpecError, match="U\\+1F9F5"):
        instruction_pdf(many(1, "Band \U0001f9f5"), "letter")
