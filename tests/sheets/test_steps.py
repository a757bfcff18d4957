"""The instruction pages as printed: size, fonts, words that neither meet nor leave the page, and what they say."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from io import BytesIO
from pathlib import Path

import pikepdf
import pymupdf
import pytest

from tests.chosen import long, some
from tests.look.faults import page_faults, style_faults
from tests.look.printed import printed
from tiler.draft.compute import figure_job
from tiler.draft.strip.corner import Corner
from tiler.draft.strip.finish import Allowances, Finish, press_lines
from tiler.errors import SpecError
from tiler.sheets.sewing.finishes import FinishSteps, finishes_of
from tiler.sheets.sewing.folds import sections
from tiler.sheets.sewing.pages import WORDS_AT, instruction_pdf
from tiler.sheets.sewing.section import Cloth
from tiler.sheets.sewing.section_drawing import bounds
from tiler.sheets.sewing.words import steps
from tiler.usecases.job import read_job

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))

ISO_4915 = {"301", "304", "401", "504", "514", "406"}
"""Stitch types as the standard numbers them; 406 from memory."""


def neutral(units: str = "in") -> list[FinishSteps]:
    return [FinishSteps(finish, units=units) for finish in Finish]


@cache
def of_spec(path: Path) -> tuple[FinishSteps, ...]:
    job = read_job(path)
    return finishes_of(figure_job(job), job.edition)


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
    *(pytest.param(of_spec(path), id=path.stem) for path in some(EXAMPLES, 2)),
    pytest.param(many(1), id="one strip with a corner"),
    pytest.param(many(2), id="two strips"),
    # the list of strips is the same for all four
    pytest.param(some(many(25), 3), id="more strips than a page holds"),
    pytest.param(some(many(3, "A name that goes on and on and nearly never ends " * 3), 2), id="long names"),
    pytest.param(in_ditch(), id="in the ditch"),
]


def pages(finishes: Sequence[FinishSteps], paper: str = "letter-a4") -> list[str]:
    """Give the words of each finish, each number and unit a blank apart."""
    return _pages(tuple(finishes), paper)


@cache
def drawn(finishes: tuple[FinishSteps, ...], paper: str) -> bytes:
    """Draw the pages once for all tests that only look at them."""
    return instruction_pdf(finishes, paper).data


@cache
def _pages(finishes: tuple[FinishSteps, ...], paper: str) -> list[str]:
    with pymupdf.open(stream=drawn(finishes, paper), filetype="pdf") as pdf:
        starts = [number - 1 for _, _, number in pdf.get_toc()]
        words = [" ".join(page.get_text().split()) for page in pdf]
    return [" ".join(words[start:end]) for start, end in zip(starts, [*starts[1:], len(words)], strict=True)]


@long
@pytest.mark.parametrize("finishes", JOBS)
def test_words_meet_neither_each_other_nor_a_line_nor_the_margin(finishes: Sequence[FinishSteps]) -> None:
    for page in printed(drawn(tuple(finishes), "letter-a4")):
        assert len(page.words) > 5
        assert page_faults(page) == []
        assert list(style_faults(page)) == []
        inside = page.size.grown(-10)
        for words in page.words:
            # the boxes of the type reach a little above and below its ink
            assert inside.holds(words.place, 0.4), words.text
        for stroke in page.strokes:
            for x0, _, x1, _ in stroke.pieces:
                assert inside.x0 <= min(x0, x1)
                assert max(x0, x1) <= inside.x1


@pytest.mark.parametrize(
    ("paper", "width", "height"),
    [("letter", 215.9, 279.4), ("a4", 210.0, 297.0), ("letter-a4", 210.0, 279.4), ("a3", 297.0, 420.0)],
)
def test_the_pages_have_the_size_of_the_paper(paper: str, width: float, height: float) -> None:
    # ISO 216:2007; letter 8.5 x 11 in
    finishes = some(neutral(), 3)
    found = list(printed(drawn(tuple(finishes), paper)))
    # what is made ready, and the work
    assert len(found) == 2 * len(finishes)
    for page in found:
        assert (page.size.x1, page.size.y1) == pytest.approx((width, height), abs=0.01)


def test_every_font_is_embedded() -> None:
    data = drawn(tuple(neutral()), "letter")
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
            "Fold-over elastic",
        ]


def test_pages_are_black_and_white() -> None:
    for page in printed(drawn(tuple(neutral()), "letter")):
        assert {words.grey for words in page.words} == {0.0}
        assert {stroke.grey for stroke in page.strokes} <= {0.0, 1.0}
        assert {grey for grey, _ in page.fills} <= {0.0, 1.0}


@long
@pytest.mark.parametrize("finishes", JOBS)
def test_every_stitch_number_is_one_of_the_standard(finishes: Sequence[FinishSteps]) -> None:
    for page in pages(finishes):
        said = page.partition("Step by step")[2].partition("Cautions")[0]
        numbers = set(re.findall(r"(?<![\d.])[3-6]\d\d(?![\d.])", said))
        assert numbers
        assert numbers <= ISO_4915
        assert "ISO 4915" in said


@pytest.mark.parametrize("finishes", JOBS)
def test_every_page_says_what_to_stretch_and_what_to_try_first(finishes: Sequence[FinishSteps]) -> None:
    for finish, said in zip(finishes, pages(finishes), strict=True):
        rule = "Stretch the strip to the edge. Never stretch the garment's edge"
        even = "The strip is as long as the edge: stretch neither."
        for words in (
            "The band is as long as the edge: stretch neither." if finish.shaped else even if finish.even else rule,
            "Wash and dry both fabrics",
            "Sew a scrap",
            "more stitches to the",
            "close the guard",
        ):
            assert words in said


def test_the_steps_use_the_figures_of_the_strip() -> None:
    page = next(page for page in of_spec(EXAMPLES[0]) if page.finish is Finish.FRENCH)
    said = pages([page])[0]
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
        assert not re.search(r"\d (in|cm)\b", page)


def test_strips_that_differ_share_no_figure() -> None:
    (page, *_) = many(2)
    one, two = page.strips
    unlike = FinishSteps(page.finish, "Two", "in", (one, replace(two, loop_mm=500.0, seam_allowance_mm=9.525)))
    said = pages([unlike])[0]
    work = said.partition("Step by step")[2]
    assert "one seam allowance" in work
    assert "until it is as long as the edge" in work
    assert re.search(r"\b50\.0\b", said)


def test_every_strip_is_named_however_many_there_are() -> None:
    for said in pages(some(many(25), 3)):
        assert [int(found) for found in re.findall(r"Neckband of the crew top (\d+) cut", said)] == list(range(25))


@long
def test_all_sizes_stand_in_a_table_with_their_lengths_in_both_units() -> None:
    (band, said), *_ = of_example("saltmarsh-sizes.toml")
    rows = re.findall(r"(?:XXS|XS|S|M|L|XL|2XL|3XL) \S+ [0-9.]+ \S+ [0-9.]+ (\S+ [0-9.]+) (\S+ [0-9.]+)", said)
    assert len(rows) == len(band.strips)
    for (_, edge), strip in zip(rows, band.strips, strict=True):
        assert float(edge.split()[1]) == pytest.approx(strip.edge.edge_mm / 10, abs=0.051)


def test_the_ditch_is_taken_only_where_the_back_passes_the_seam() -> None:
    assert [page.in_ditch for page in neutral()] == [False, False, False, True, False]
    for page, said in zip(in_ditch(), pages(in_ditch()), strict=True):
        assert ("in the ditch" in said) == (not (page.finish.is_band or page.finish.is_bought)), page.finish


def test_a_finish_that_no_piece_uses_gets_no_page() -> None:
    found = of_spec(EXAMPLES[0])
    assert [page.finish for page in found] == [Finish.DOUBLE_FOLD, Finish.FRENCH, Finish.RAW_EDGE]


def test_the_same_strips_give_the_same_bytes() -> None:
    (page, *_) = many(3)
    assert instruction_pdf([page], "a4") == instruction_pdf([page], "a4")


def test_a_name_that_the_font_cannot_print_is_refused() -> None:
    with pytest.raises(SpecError, match="U\\+1F9F5"):
        instruction_pdf(many(1, "Band \U0001f9f5"), "letter")


def of_example(name: str) -> list[tuple[FinishSteps, str]]:
    """Give each page of an example with its words."""
    found = of_spec(Path(__file__).parents[2] / "examples" / name)
    return list(zip(found, pages(found), strict=True))


def test_lapped_ends_have_steps_of_their_own() -> None:
    (mitred, said_mitred), (lapped, said_lapped) = of_example("saltmarsh-vee.toml")
    assert (mitred.corner, lapped.corner) == (Corner.MITRE, Corner.LAPPED)
    names = [step.name for step in steps(lapped)]
    assert "Lap the ends (CF)" in names
    assert not any("Close the strip" in name for name in names)
    assert len(names) == len(sections(lapped.finish, lapped.in_ditch, lapped.corner))
    # common practice: women's clothes close right over left
    assert "the wearer's right over the left, or as the pattern says" in said_lapped
    assert "Close the strip (CF)" in said_mitred
    assert "Stop and pivot at the fold, and clip there." in said_mitred
    for said in (said_mitred, said_lapped):
        assert "see the cutting chart" not in said.casefold()
        assert "Stay-stitch the garment's corner" in said


def test_a_lapped_end_is_sewn_through_the_garment_and_four_layers_of_strip() -> None:
    (lap,) = [one for one in sections(Finish.FOLDED_BAND, False, Corner.LAPPED) if one.count(0.0) == 5]
    assert (lap.count(0.0, Cloth.GARMENT), lap.count(0.0, Cloth.STRIP)) == (1, 4)
    assert "1 garment + 4 strip" in [label.text for label in lap.labels]


@pytest.mark.parametrize(
    ("name", "told"),
    [("saltmarsh-bindings.toml", False), ("saltmarsh-child.toml", True), ("saltmarsh-vee.toml", False)],
)
def test_cautions_for_children_stand_where_a_child_wears_it(name: str, told: bool) -> None:
    for _, said in of_example(name):
        assert ("16 CFR 1120" in said) is told
        assert ("The rules of the place where the garment is sold or worn decide" in said) is told
        assert "Rotary cutter" in said


def test_only_what_must_pass_is_pulled_over_a_head() -> None:
    said = {page.finish: words for page, words in of_example("saltmarsh-bindings.toml")}
    assert "pull it over the head. It must go over" in said[Finish.DOUBLE_FOLD]
    for finish in (Finish.FRENCH, Finish.RAW_EDGE):
        # a hem and an armhole
        assert "pull it out to the length of the edge" in said[finish]
        assert "over the head" not in said[finish].partition("Cautions")[0]
    # what must pass is said where the spec says it
    ((_, crew),) = of_example("saltmarsh-crew.toml")
    assert "pull it over the head, hand or heel that must pass (22½ in (57.2 cm))" in crew


def test_a_thread_that_breaks_wants_more_stitches() -> None:
    # common practice: the shorter the stitch, the more thread there is to give
    for page in pages(neutral()):
        assert "If a thread breaks: more stitches to the inch, stretch thread or a stretchier stitch" in page
        assert "long stitch" not in page
    assert all("more stitches to the cm," in page for page in pages(neutral("cm")))


@pytest.mark.parametrize("page", neutral()[:-1], ids=lambda page: page.finish)
def test_a_ring_is_quartered_in_plan_or_sewn_on_flat(page: FinishSteps) -> None:
    (said,) = pages([page])
    assert "Quarter the loop from its end seam" in said
    # the marks of the plan
    assert all(re.search(rf"\b{mark}\b", said) for mark in ("end seam", "quarter", "half", "edge"))
    assert "Or sew it flat: leave one seam of the garment open" in said
    assert "Mark rib that runs with chalk or pins" in said
    assert "Stabilise the shoulder seams with tape before the strip is sewn on." in said
    assert ("twin needle" in said) == (page.finish is not Finish.RAW_EDGE)


def test_elastic_is_measured_on_the_body_before_it_is_cut() -> None:
    (said,) = pages(neutral()[-1:])
    assert "Before you cut the elastic, pin it to a ring of its sewn length, and pull it over" in said
    assert "Quarter the loop from its end seam, and the garment's edge likewise; pin mark to mark. " in said
    assert "scrap of the same fabric" not in said
    assert "Lay the garment's raw edge into the fold of the elastic" in said


def test_a_hem_has_no_shoulders() -> None:
    said = {page.finish: words for page, words in of_example("saltmarsh-bindings.toml")}
    assert "shoulder" not in said[Finish.FRENCH]
    assert "Stabilise the shoulder seams with tape" in said[Finish.RAW_EDGE]


@long
def test_a_name_of_any_length_stands_there_whole() -> None:
    name = "A name that goes on and on and nearly never ends " * 40
    assert all(name.strip() in said for said in pages(some(many(1, name), 3)))


def test_the_garment_comes_first() -> None:
    """This test ensures that cutting and preparing the garment stand before the strips, and all that before the work."""
    for name in ("saltmarsh-crew.toml", "saltmarsh-bindings.toml", "saltmarsh-vee.toml"):
        for _, said in of_example(name):
            order = [said.index(part) for part in ("The garment first", "The strips", "good cloth", "Step by step")]
            assert order == sorted(order)


def test_strips_for_which_the_garment_is_cut_in_different_ways_are_named() -> None:
    (page, *_) = many(2)
    one, two = page.strips
    unlike = (replace(one, cut_words="Cut it."), replace(two, cut_words="Trim it."))
    (said,) = pages([FinishSteps(page.finish, "Two", "in", unlike)])
    assert f"{one.name}: Cut it." in said
    assert f"{two.name}: Trim it." in said


@pytest.mark.parametrize("finish", Finish)
def test_sections_are_drawn_half_as_large_again(finish: Finish) -> None:
    """This test ensures that a finished width and what else a section holds is one and a half times its model."""
    for section in sections(finish, False):
        stack, place = section.stack, bounds(section)
        assert place.x0 <= 1.5 * stack.x0
        assert place.x1 >= 1.5 * stack.x1
        assert place.height >= 1.5 * (stack.y1 - stack.y0)
        assert place.x1 - min(place.x0, -45.0) < WORDS_AT


def test_a_corner_has_its_steps_drawn() -> None:
    (_, mitred), (_, lapped) = of_example("saltmarsh-vee.toml")
    for said in (mitred, lapped):
        assert "Stay-stitch, then clip" in said
        assert "Spread it straight" in said
    assert "pivot at the fold" in mitred
    # common practice: women's clothes close right over left
    assert "right, on top" in lapped
    assert "left, below" in lapped
    ((_, crew),) = of_example("saltmarsh-crew.toml")
    assert "then clip" not in crew


def test_the_page_says_how_the_garment_is_cut() -> None:
    ((_, crew),) = of_example("saltmarsh-crew.toml")
    assert "Cut the garment as it is: the seam then runs ¼ in (0.6 cm) from that edge." in crew


def test_what_is_not_passed_stands_below_the_strips() -> None:
    ((_, child),) = of_example("saltmarsh-child.toml")
    said = child.partition("The strips")[2].partition("Before you cut")[0]
    assert "! Check not passed" in said
    assert "Neckband: " in said.partition("Check not passed")[2]
    ((_, mended),) = of_example("saltmarsh-child-mended.toml")
    assert "not passed" not in mended
