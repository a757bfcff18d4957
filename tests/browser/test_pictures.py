"""Pictures of the page: what they show is what the engine says, to scale, and in words too."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from base64 import b64decode
from html import unescape
from itertools import pairwise
from pathlib import Path

import pytest

import tiler.browser
from tests.browser.conftest import Window
from tests.browser.test_make_a_strip import CREW, text_of
from tiler.browser.pictures.edge import edge_picture
from tiler.browser.pictures.measuring import SAME
from tiler.browser.pictures.ranges import range_bar
from tiler.commands.one_piece.options import ALL
from tiler.draft.compute import figure_job
from tiler.draft.plan import plan_of
from tiler.draft.spec.read import Job, read_tables

DRAWINGS = Path(tiler.browser.__file__).parent / "static" / "where"
SCOOP = {"shape": "scoop", "neck-width": "18 cm", "front-depth": "10 cm", "back-depth": "2.5 cm"}


def job_of(edge: dict[str, object], **more: object) -> Job:
    piece = {"name": "Band", "finish": "folded-band", "finished-width": "1.5 cm", "fabric": "rib", "edge": edge, **more}
    fabrics = {"rib": {"stretch": "60 %"}}
    return read_tables({"title": "t", "units": "cm", "fabrics": fabrics, "pieces": [piece]}, "t.toml")


def length(points: list[complex]) -> float:
    return sum(abs(b - a) for a, b in pairwise(points))


def polyline(svg: str, kind: str) -> list[complex]:
    found = re.search(rf'<polyline class="{kind}" points="([^"]*)"', svg)
    assert found
    return [complex(*map(float, point.split(","))) for point in found[1].split()]


def test_a_described_neckline_is_drawn_to_scale_with_its_notches(window: Window) -> None:
    page = window.get("/strip", query_string=SCOOP | {"width": "1.5 cm", "stretch": "60 %"}).text
    front, back = polyline(page, "seam"), polyline(page, "back")
    job = job_of({"kind": "neckline", **SCOOP})
    (figures,) = figure_job(job)
    # chords of arcs of four degrees are shorter by a two-thousandth
    assert length(front) + length(back) == pytest.approx(figures.edge.edge_mm, rel=5e-4)
    # from neck point to neck point, as wide and as deep as stated, y downwards
    for line, depth in ((front, 100), (back, 25)):
        assert line[0] == pytest.approx(complex(-90, 0), abs=0.1)
        assert line[-1] == pytest.approx(complex(90, 0), abs=0.1)
        assert max(point.imag for point in line) == pytest.approx(depth, abs=0.1)
    marks = re.findall(r'<circle class="mark" cx="([-0-9.]+)" cy="([-0-9.]+)"', page)
    assert [complex(*map(float, mark)) for mark in marks] == pytest.approx([-90, 90, 100j, 25j], abs=0.1)
    assert "seam line to scale, as the garment lies flat" in text_of(page)


def test_a_line_of_the_scale_is_as_long_as_it_says(window: Window) -> None:
    page = window.get("/strip", query_string=SCOOP | {"width": "1.5 cm"}).text
    found = re.search(r'<path class="scale" d="M([-0-9.]+) [-0-9.]+ H([-0-9.]+)"', page)
    assert found
    assert float(found[2]) - float(found[1]) == pytest.approx(50)
    assert ">5 cm</text>" in page


@pytest.mark.parametrize("shape", ["vee", "square"])
def test_the_corners_of_a_described_neckline_are_marked(shape: str) -> None:
    job = job_of({"kind": "neckline", **SCOOP, "shape": shape})
    (figures,) = figure_job(job)
    picture = edge_picture(job.pieces[0], figures, "cm")
    assert picture.shape
    points = {(round(mark.x), round(mark.y)) for mark in picture.shape.marks}
    assert (0, 100) in points
    assert ((90, 100) in points) == (shape == "square")


def test_an_edge_of_which_only_lengths_are_known_is_straightened_and_says_so(window: Window) -> None:
    page = window.get("/strip", query_string=CREW).text
    assert "<polyline" not in page
    assert "straightened, since its shape is not known" in text_of(page)
    places = re.findall(r'<line class="mark[^"]*" x1="([0-9.]+)%" y1="38"', page)
    # 3 3/4, 7 1/4, 7 1/4 and 3 3/4 of 22 in
    assert list(map(float, places)) == pytest.approx([0, 100 * 3.75 / 22, 50, 100 * 18.25 / 22, 100], abs=0.01)
    names = re.findall(r'<text x="[0-9.]+%" y="(?:16|33)" text-anchor="[a-z]+">([^<]*)</text>', page)
    assert names == ["CB", "shoulder", "CF", "shoulder", "CB"]


def test_marks_whose_names_would_meet_are_numbered_and_the_table_names_them(window: Window) -> None:
    parts = ["right front", "56 cm", "back neck", "18 cm", "left front", "56 cm"]
    answers = {"kind": "curved", "part": parts, "turning": "90", "width": "2 cm", "ends": "turned"}
    page = window.get("/strip", query_string=answers).text
    names = re.findall(r'<text x="[0-9.]+%" y="(?:16|33)" text-anchor="[a-z]+">([^<]*)</text>', page)
    assert names == ["1", "2", "3", "4", "5"]
    assert "2 right front / back neck 56.0 cm" in text_of(page)


def test_a_straight_edge_is_as_it_is(window: Window) -> None:
    page = text_of(window.get("/strip", query_string={"kind": "straight", "edge": "21 cm", "width": "4 cm"}).text)
    assert "The straight seam line, 21.0 cm" in page
    assert "straightened" not in page


def test_where_each_notch_lies_is_told_in_words(window: Window) -> None:
    page = window.get("/strip", query_string=CREW).text
    table = re.search(r"<summary>Where each notch lies</summary>(.*?)</details>", page, re.DOTALL)
    assert table
    assert "shoulder 3¾ in (9.5 cm) 3⅛ in (8.0 cm)" in text_of(table[1])


@pytest.mark.parametrize(
    ("edge", "more", "names", "along"),
    [
        # from the end seam: at CB, at a shoulder, at CF of an open one, front left of an armhole
        ({"front-half": "18 cm", "back-half": "9 cm"}, {}, "CB shoulder CF shoulder CB", [0, 9, 27, 45, 54]),
        (
            {"front-half": "18 cm", "back-half": "9 cm"},
            {"join-at": "shoulder", "cut": "full-loop"},
            "shoulder CF shoulder CB shoulder",
            [0, 18, 36, 45, 54],
        ),
        (
            {"front-half": "18 cm", "back-half": "9 cm"},
            {"closed": False},
            "CF shoulder CB shoulder CF",
            [0, 18, 27, 36, 54],
        ),
        ({"kind": "armhole", "front": "21 cm", "back": "23 cm"}, {}, "underarm shoulder underarm", [0, 21, 44]),
        (
            {"kind": "armhole", "front": "21 cm", "back": "23 cm"},
            {"cut": "on-fold"},
            "underarm shoulder underarm",
            [0, 21, 44],
        ),
        ({"kind": "straight", "whole": "20 cm"}, {}, "end seam half end seam", [0, 10, 20]),
        ({"kind": "straight", "whole": "20 cm"}, {"closed": False}, "end half end", [0, 10, 20]),
    ],
)
def test_the_notches_meet_the_edge_where_its_parts_end(
    edge: dict[str, object], more: dict[str, object], names: str, along: list[float]
) -> None:
    job = job_of({"kind": "neckline", **edge}, **more)
    (figures,) = figure_job(job)
    plan = plan_of(job.pieces[0], figures, "cm")
    assert [mark.name for mark in plan.marks] == re.findall("end seam|[^ ]+", names)
    assert [mark.edge_mm for mark in plan.marks] == pytest.approx([10 * one for one in along])
    assert plan.marks[-1].strip_mm == pytest.approx(figures.loop_mm)
    # what is drawn of the whole strip is where these say
    if more.get("cut") == "full-loop" or (edge.get("kind") == "armhole" and not more):
        drawn = [notch.at_mm - figures.left_end.longest for notch in figures.notches]
        assert [mark.strip_mm for mark in plan.marks if mark.strip_mm not in (0.0, figures.loop_mm)] == pytest.approx(
            drawn
        )


def test_a_part_with_a_ratio_of_its_own_meets_its_own_strip() -> None:
    parts = [{"name": "a", "length": "30 cm", "ratio": "100 %"}, {"name": "b", "length": "20 cm"}]
    job = job_of({"kind": "curved", "turning": 90, "parts": parts}, ratio="90 %")
    (figures,) = figure_job(job)
    plan = plan_of(job.pieces[0], figures, "cm")
    assert [(stretch.name, *stretch.strip_mm) for stretch in plan.stretches] == [
        ("a", 0, pytest.approx(300)),
        ("b", pytest.approx(300), pytest.approx(480)),
    ]
    assert [mark.edge_mm for mark in plan.marks if mark.name == "a / b"] == pytest.approx([300])


@pytest.mark.parametrize(("ratio", "own"), [("80 %", "this strip"), ("advised", "this strip, as advised")])
def test_the_bar_runs_from_the_tightest_to_the_longest_with_the_strip_on_it(ratio: str, own: str) -> None:
    job = job_of({"kind": "neckline", "front-half": "18 cm", "back-half": "9 cm"}, ratio=ratio)
    (figures,) = figure_job(job)
    bar = range_bar(figures, "cm")
    at = {tick.kind: float(tick.at.rstrip("%")) for tick in bar.ticks}
    shares = {"tightest": figures.ratio.tightest, "longest": figures.ratio.flat, "own": figures.ratio.used}
    first, last = at["tightest"], at["longest"]
    assert bar.is_good
    assert 0 < first < last < 100
    assert float(bar.wide.rstrip("%")) == pytest.approx(last - first, abs=0.02)
    low, high = shares["tightest"], shares["longest"]
    assert high
    assert (at["own"] - first) / (last - first) == pytest.approx((figures.ratio.used - low) / (high - low), abs=1e-3)
    assert ("advised" in at) == (ratio != "advised")
    assert next(tick.words for tick in bar.ticks if tick.kind == "own") == own
    assert bar.words.startswith("good from ")
    assert f"{own} " in bar.words


def test_where_there_is_no_good_length_the_bar_says_so(window: Window) -> None:
    tight = window.get("/strip", query_string={**CREW, "width": "2 in", "stretch": "10 %"}).text
    assert '<rect class="none"' in tight
    assert "Sewn length: no good length" in text_of(tight)
    assert '<rect class="good"' in window.get("/strip", query_string=CREW).text


def test_a_strip_that_need_not_lie_flat_is_compared_with_its_edge() -> None:
    job = job_of({"kind": "straight", "whole": "20 cm"}, ratio="90 %")
    bar = range_bar(figure_job(job)[0], "cm")
    assert next(tick for tick in bar.ticks if tick.kind == "longest")[1:3] == ("as long as the edge", "20.0 cm (7⅞ in)")


def test_the_picture_shows_the_pieces_alone_and_to_scale(window: Window) -> None:
    page = window.get("/strip/figures", query_string=CREW).text
    found = re.search('src="data:image/svg[+]xml;base64,([^"]+)"', page)
    assert found
    root = ET.fromstring(b64decode(found[1]))
    wide, high = (float(root.attrib[side].removesuffix("mm")) for side in ("width", "height"))
    assert list(map(float, root.attrib["viewBox"].split()))[2:] == [wide, high]
    # 9 1/2 in from the fold, 1 1/2 in wide, and little more
    assert 241.3 < wide < 260
    assert 38.1 < high < 60


def test_a_long_strip_lies_along_its_picture(window: Window) -> None:
    page = window.get(
        "/strip", query_string={"kind": "straight", "edge": "120 cm", "width": "2 cm", "cut": "full-loop"}
    )
    found = re.search('src="data:image/svg[+]xml;base64,([^"]+)"', page.text)
    assert found
    root = ET.fromstring(b64decode(found[1]))
    wide, high = (float(root.attrib[side].removesuffix("mm")) for side in ("width", "height"))
    assert wide > 5 * high


def test_the_drawings_of_where_to_measure_are_of_fields_and_have_no_colour_of_their_own(window: Window) -> None:
    names = {option.names[0].removeprefix("--") for option in ALL}
    page = window.get("/strip").text
    files = sorted(DRAWINGS.glob("*.svg"))
    assert files
    for file in files:
        assert file.stem in names
        text = file.read_text(encoding="utf-8")
        ET.fromstring(text)
        assert not re.search(r"#[0-9a-f]{3}|style|<script|href", text)
        assert text.strip().replace(' xmlns="http://www.w3.org/2000/svg"', "") in unescape(page)
    # a field that asks for a length along a line shows where
    assert {"front-half", "back-half", "front", "back", "edge", "neck-width", "width"} <= {file.stem for file in files}
    assert SAME.keys() <= names


def test_a_band_cut_to_the_shape_of_its_edge_has_no_range_of_lengths(window: Window) -> None:
    scoop = {"shape": "scoop", "neck-width": "20 cm", "front-depth": "12 cm", "back-depth": "6 cm"}
    answers = scoop | {"width": "1.5 cm", "stretch": "60 %"}
    straight = window.get("/strip", query_string=answers)
    shaped = window.get("/strip", query_string=answers | {"form": "contour"})
    assert 'class="range"' in straight.text
    assert 'class="range"' not in shaped.text
    assert "contour band, shaped like the edge" in text_of(shaped.text)
    assert "data:image/svg+xml" in shaped.text
