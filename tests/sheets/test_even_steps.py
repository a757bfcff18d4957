"""What is sewn on 1:1 is nowhere said to be stretched, unequal shares are told part by part, and pairs as pairs."""

from __future__ import annotations

import tomllib
from dataclasses import replace

import pytest

from tests.sheets.test_more_steps import BY_NAME
from tests.sheets.test_steps import of_spec, pages
from tests.specs import piece, spec, table
from tests.usecases.every_edge import figures_of, job_of
from tiler.draft.chart import chart_rows
from tiler.draft.compute import figure_job
from tiler.draft.spec.read import read_tables
from tiler.draft.strip.finish import Finish
from tiler.languages.words import told
from tiler.sheets.section_rows import section_rows, sewn_to
from tiler.sheets.sewing.finishes import FinishSteps, finishes_of
from tiler.sheets.sewing.folds import sections
from tiler.sheets.sewing.ready import before_cutting, before_sewing, garment_first
from tiler.sheets.sewing.words import rule, steps

RIB = "Mark rib that runs with chalk or pins; snip nothing there."


def page_of(kind: str) -> FinishSteps:
    (page,) = finishes_of((figures_of(kind),), job_of(kind).edition)
    return page


def work(page: FinishSteps) -> str:
    return " ".join(f"{step.name}. {step.text}" for step in steps(page))


def test_a_casing_is_sewn_on_even_and_never_stretched() -> None:
    page = page_of("casing")
    (said,) = pages([page])
    # common practice: a casing is as long as its edge, and the elastic draws both in
    assert "The strip is as long as the edge: stretch neither. The elastic draws both in." in said
    assert "Sewn length Edge" in said
    assert "strip and edge even" in said
    assert "the strip is as long as its seam line" in said
    assert "Sew it on Strip uppermost" in said
    for words in (
        "Stretch this",
        "to this edge",
        "stretch the strip",
        "stretching",
        "is stretched",
        "never the garment",
    ):
        assert words not in said


@pytest.mark.parametrize("finish", Finish)
def test_a_strip_of_any_finish_at_1_to_1_is_stretched_in_no_picture(finish: Finish) -> None:
    labels = [
        told(label.text) for even in (False, True) for one in sections(finish, False, even=even) for label in one.labels
    ]
    stretched = [label for label in labels if "stretch the" in label or label == "never the garment"]
    # those of the strip that is shorter
    assert len(stretched) == 2
    assert labels.count("strip and edge even") == 1


def test_a_binding_at_1_to_1_is_kept_even() -> None:
    page = page_of("bias")
    assert page.even
    assert "keep strip and edge even from notch to notch." in work(page)
    assert "never the garment" not in work(page)
    assert rule(page) == "The strip is as long as the edge: stretch neither."


def test_an_open_strip_at_1_to_1_leaves_no_garment_slack() -> None:
    even = page_of("open")
    assert even.even
    assert "strip and edge are alike in length" in work(even)
    assert "lies slack" not in work(even)
    assert "lies slack" in work(of_spec(BY_NAME["cardigan"])[0])


def test_a_strip_as_long_as_its_edge_is_stretched_where_its_parts_are() -> None:
    """This test ensures that a sum of 1:1 hides no part that is longer and no part that is shorter."""
    one = figures_of("leg")
    parts = one.edge.parts
    both = tuple(
        replace(part, strip_mm=part.edge_mm + change) for part, change in zip(parts, (10.0, -10.0), strict=True)
    )
    level = replace(one, ratio=replace(one.ratio, used=1.0), edge=replace(one.edge, parts=both))
    assert not level.even
    assert not any(row.even for row in chart_rows([level]))
    (said, *_) = [text for text in before_sewing(FinishSteps(one.finish, strips=(level,))) if "mark to mark:" in text]
    # 10 cm of edge have 11 cm of strip, 12 cm have 11 cm: 100 / 110 and 120 / 110
    assert said == "Strip, from mark to mark: front eased in by 9 %; back stretched by 9 %."


def test_unequal_parts_are_matched_by_their_marks_and_told() -> None:
    (said,) = pages([page_of("leg")])
    assert "Pin the loop to the garment's edge mark to mark, its end seam first." in said
    # 95 % and 85 % of their edges: 1 / 0.95 and 1 / 0.85
    assert "Strip, from mark to mark: front stretched by 5 %; back stretched by 18 %." in said
    for words in ("Quarter", "half", "of strip to"):
        assert words not in said
    assert "Quarter the loop" in pages([page_of("stand-up")])[0]


def test_what_of_an_open_strip_is_sewn_1_to_1_is_told() -> None:
    said = before_sewing(of_spec(BY_NAME["cardigan"])[0])
    shares = "right front 1:1; back neck stretched by 32 %; left front 1:1."
    assert f"Front band, from mark to mark: {shares}" in said


def test_what_is_bought_says_which_part_lies_at_its_left_end() -> None:
    (text,) = [text for text in before_sewing(page_of("fold-over elastic")) if "Marks" in text]
    assert text.startswith("Strip: Marks, from the left cut end (front first): shoulder")


def test_mirror_images_are_told_as_pairs() -> None:
    closed, opened = of_spec(BY_NAME["skirt"])
    alike, mirrored = "they are two bands alike", "one band is the mirror image of the other"
    assert (alike in work(closed), mirrored in work(closed)) == (True, False)
    assert (alike in work(opened), mirrored in work(opened)) == (False, True)
    counted = {page: pages([page])[0].count(", as a pair") for page in (closed, opened)}
    assert counted[closed] == 0
    assert counted[opened] == sum(one.pair for strip in opened.strips for one in strip.sections)


def test_a_fold_at_the_finished_edge_is_told_only_of_what_has_one() -> None:
    fold = "A piece that is folded there has no such seam: press it in half."
    parts = [table(name="front", length="35 cm", turning="0"), table(name="back", length="33 cm", turning="30 deg")]
    band = piece("Band", form="contour", edge=table(kind="curved", garment="below", parts=parts), fabric="rib")
    job = read_tables(tomllib.loads(spec(band, fabrics={"rib": "60 %"})), "spec:")
    (page,) = finishes_of(figure_job(job), job.edition)
    assert fold in work(page)
    assert fold not in work(page_of("contour"))


def test_woven_cloth_is_no_knit() -> None:
    page = page_of("bias")
    assert RIB not in before_sewing(page)
    assert "cloth shrinks, not all alike" in before_cutting(page)[0]
    assert RIB in before_sewing(page_of("stand-up"))
    assert "knits shrink, not all alike" in before_cutting(page_of("stand-up"))[0]


def test_an_even_strip_is_tried_on_its_edge_where_nothing_must_pass() -> None:
    assert "pin it along its edge" in before_cutting(page_of("casing"))[-1]
    assert "pin it to a ring" in before_cutting(page_of("leg"))[-1]
    assert "the strip is as long as its seam line" in garment_first(page_of("casing"))[0]


def test_sections_of_an_even_strip_are_not_stretched() -> None:
    rows = chart_rows([figures_of("sections"), figures_of("casing")])
    assert [told(title) for title, _, _ in sewn_to(rows[:1])] == ["Stretch this", "to this edge"]
    assert [told(title) for title, _, _ in sewn_to(rows[1:])] == ["Sewn length", "Edge"]
    assert list(section_rows(rows[1:], 100.0, "cm")) == []


def test_the_parts_of_a_vee_that_are_stretched_unequally_are_told() -> None:
    for page in of_spec(BY_NAME["vee"]):
        assert page.unequal
        said = [text for text in before_sewing(page) if "from mark to mark: front half stretched by" in text]
        assert len(said) == len(page.strips)
        assert "until it is as long as the edge" in work(page)
