"""This checks that all findings of a piece make one diagnosis: what to mend first, and nothing that asks for opposites."""

from __future__ import annotations

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from tests.chosen import long
from tests.specs import armhole, curved, neckline, piece, shaped, spec, straight, table
from tiler.draft.advice.finding import Check, Finding, diagnosed
from tiler.draft.compute import figure_job
from tiler.draft.judged import not_passed, refuse_failed
from tiler.draft.spec.read import read_tables
from tiler.errors import SpecError

MEND_FIRST = "Mend this first, then compute again."
OPPOSITES = (
    (("lengthen the strip",), ("horten the strip", "cut the strip shorter")),
    (("narrower",), ("or more is easier",)),
    (("widen the edge",), ("make the edge smaller",)),
)


def test_what_does_not_pass_is_mended_first_and_alone_says_what_to_do(figure):
    strip = figure(
        edge=curved(24, 280), finished_width="1 in", fabric="jersey", garment_fabric="jersey",
        opening=table(must_pass="33 in"),
    )  # fmt: skip
    assert [one.check for one in strip.failed] == ["opening", "opening", "no-good-length"]
    first, garment, length = (one.text for one in strip.failed)
    assert first.startswith("The strip opens to only")
    assert first.endswith(MEND_FIRST)
    assert "widen the edge by" in first
    assert "widen the edge by" in garment
    assert "narrower" not in length
    assert [one.text for one in strip.failed] == list(strip.warnings[:3])


def test_of_strip_and_garment_the_one_that_opens_less_is_mended_first(figure):
    keys = {"edge": curved(20, 280), "fabric": "rib", "opening": table(must_pass="33 in")}
    assert figure(garment_fabric="woven", **keys).failed[0].short.startswith("the garment's edge does not go over")
    assert figure(garment_fabric="rib", **keys).failed[0].short.startswith("the strip does not go over")


def test_one_failed_check_says_all_that_can_be_done(figure):
    strip = figure(edge=curved(22, 280), finished_width="1 in", fabric="jersey")
    (failed,) = strip.failed
    assert failed.check == "no-good-length"
    assert MEND_FIRST not in failed.text
    assert "make the strip narrower" in failed.text


def test_no_good_length_comes_before_a_bend(figure):
    edge = shaped("square", "7 in", "5 in", "1 in")
    strip = figure(edge=edge, finished_width="1 in", fabric="jersey", ratio="usual")
    assert [one.check for one in strip.failed] == ["no-good-length", "bend"]
    assert strip.failed[0].text.endswith(MEND_FIRST)
    assert "contour" not in strip.failed[1].text


def test_a_strip_that_passes_everything_has_failed_nothing(figure):
    strip = figure(edge=curved(22, 280), fabric="rib")
    assert strip.failed == ()
    assert "failed" not in strip.to_json()
    refuse_failed([strip])


def test_strict_refuses_the_first_failed_check_by_the_name_of_its_piece(figure):
    strip = figure(fabric="jersey", finished_width="1 in")
    with pytest.raises(SpecError, match=r"^Strip: not drawn, since a check is not passed\. No good length"):
        refuse_failed([figure(fabric="rib"), strip])


def test_a_check_of_several_pieces_is_told_once(figure):
    strip = figure(fabric="jersey", finished_width="1 in")
    assert [len(pieces) for pieces in not_passed([strip, strip]).values()] == [2]


def test_numbers_and_remarks_come_behind_what_fails():
    found = [Finding(Check.REMARK, "c"), Finding(Check.NUMBER, "b"), Finding(Check.LENGTH, "a", "do", short="it is")]
    texts, failed = diagnosed(found)
    assert texts == ("a. do.", "b.", "c.")
    assert [(one.check, one.short, one.text) for one in failed] == [("length", "it is", "a. do.")]


LENGTH = st.integers(3, 40).map(lambda half: f"{half / 2} cm")
EDGES = st.one_of(
    st.builds(neckline, LENGTH, LENGTH),
    st.builds(armhole, LENGTH, LENGTH),
    st.builds(straight, LENGTH),
    st.builds(shaped, st.sampled_from(["scoop", "vee", "square"]), LENGTH, LENGTH, LENGTH),
)


@long
@settings(max_examples=150, deadline=None, derandomize=True)
@given(
    edge=EDGES,
    finish=st.sampled_from(["folded-band", "double-fold-binding", "raw-edge-binding"]),
    width=st.sampled_from(["3 mm", "6 mm", "1 cm", "2 cm", "4 cm"]),
    stretch=st.sampled_from(["4 %", "20 %", "50 %", "120 %", "250 %"]),
    ratio=st.sampled_from(["advised", "usual", 0.5, 0.7, 0.95, 1.15]),
    ease=st.sampled_from([None, "even", "by-curve"]),
    head=st.sampled_from([None, "30 cm", "56 cm", "90 cm"]),
)
@example(
    edge=shaped("vee", "4.5 cm", "6.5 cm", "20 cm"), finish="folded-band", width="2 cm", stretch="50 %", ratio=0.5,
    ease=None, head="56 cm",
)  # fmt: skip
def test_no_two_sentences_of_a_piece_ask_for_opposite_things(edge, finish, width, stretch, ratio, ease, head):
    strip = piece(
        "Strip", width, edge, finish, fabric="rib", garment_fabric="rib", ratio=ratio, ease=ease,
        opening=head and table(must_pass=head),
    )  # fmt: skip
    fabrics = {"rib": {"stretch": stretch, "recovery": "80 %"}}
    tables = {"title": "T", "units": "cm", "fabrics": fabrics, "pieces": [strip]}
    try:
        (found,) = figure_job(read_tables(tables, "spec"))
    except SpecError:
        return
    asked = " ".join(found.warnings)
    for one, other in OPPOSITES:
        assert not (any(word in asked for word in one) and any(word in asked for word in other)), asked
    assert sum(MEND_FIRST in text for text in found.warnings) == (len({one.check for one in found.failed}) > 1)
    assert all(text == one.text for text, one in zip(found.warnings, found.failed, strict=False))


def test_a_slip_of_the_grade_comes_behind_what_fails(read):
    sizes = table(XS="18 in", S="19 in", M="30 in", L="21 in", XL="22 in")
    band = piece("Band", "1 in", table(kind="neckline", whole=sizes), fabric="rib")
    found = figure_job(read(spec(band, fabrics={"rib": "30 %"}, sizes=list(sizes))))[2]
    assert found.warnings[0].startswith("No good length")
    assert found.warnings[1].startswith("Out of line")
