"""This checks that a length per size is read at its size, and that a size which is missing or unknown is named."""

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.chosen import long
from tests.specs import piece, spec, straight, table, written
from tiler.draft.compute import figure_job
from tiler.draft.spec.read import Job
from tiler.draft.spec.sizes import picked
from tiler.errors import SpecError
from tiler.sentence import Place
from tiler.usecases.job import read_job

SPEC = """
title = "Invented top"
units = "in"
sizes = ["S", "M", "L"]
[fabrics]
rib = { stretch = "60 %" }
[[pieces]]
name = "Neckband"
finish = "folded-band"
finished-width = "1/2 in"
fabric = "rib"
edge = { kind = "neckline", front-half = { S = "7 in", M = "7 1/4 in", L = 7.5 }, back-half = "4 in" }
[[pieces]]
name = "Cuff"
finish = "folded-band"
finished-width = { S = "2 in", M = "2 in", L = "2 1/4 in" }
ratio = { loop = { S = "6 in", M = "7 in", L = "8 in" }, edge = "10 in" }
trials = [{ shorten = { S = "1/8 in", M = "1/4 in", L = "3/8 in" }, on = "loop" }]
notches = [{ name = "placket", at = { S = "1 in", M = "1 1/4 in", L = "1 1/2 in" } }]
opening = { must-pass = { S = "7 in", M = "8 in", L = "9 in" } }
edge = { kind = "straight", whole = "10 in" }
fabric = "rib"
"""

Read = Callable[[str], Job]


def test_every_piece_stands_there_once_for_each_size_in_the_order_of_the_spec(read: Read) -> None:
    figures = figure_job(read(SPEC))
    assert [(one.name, one.size) for one in figures] == [
        (name, size) for name in ("Neckband", "Cuff") for size in ("S", "M", "L")
    ]


def test_a_length_of_a_size_counts_wherever_it_stands(read: Read) -> None:
    neck, cuff = figure_job(read(SPEC))[:3], figure_job(read(SPEC))[3:]
    # 2 x (front half + back half), since a tape on the seam line measures it
    assert [one.edge.edge_mm for one in neck] == pytest.approx([2 * 11 * 25.4, 2 * 11.25 * 25.4, 2 * 11.5 * 25.4])
    assert [one.loop_mm / 25.4 for one in cuff] == pytest.approx([6 - 1 / 8, 7 - 1 / 4, 8 - 3 / 8])
    # a band is cut 2(w + s), s being 1/4 in
    assert [one.cut_width_mm / 25.4 for one in cuff] == pytest.approx([4.5, 4.5, 5])
    assert [one.opening and one.opening.must_pass_mm / 25.4 for one in cuff] == pytest.approx([7, 8, 9])
    assert [n.at_mm / 25.4 for one in cuff for n in one.notches if n.name == "placket"] == pytest.approx([1, 1.25, 1.5])


def test_only_the_picked_sizes_come_in_the_order_of_the_spec(read: Read) -> None:
    figures = figure_job(read(SPEC), "L, S")
    assert [one.size for one in figures] == ["S", "L", "S", "L"]
    whole = {(one.name, one.size): one for one in figure_job(read(SPEC))}
    assert all(whole[one.name, one.size] == one for one in figures)


@pytest.mark.parametrize(
    ("before", "after", "message"),
    [
        pytest.param(
            'M = "7 1/4 in", ',
            "",
            "spec.toml: pieces[0].edge.front-half.M: is missing; give a value for each of S, M, L",
            id="missing",
        ),
        pytest.param(
            'S = "7 in", M',
            'XS = "6 in", S = "7 in", M',
            "front-half.XS: is not one of the sizes; did you mean S",
            id="unknown",
        ),
        pytest.param(
            'L = "2 1/4 in"', 'L = "2 1/4 kg"', "pieces[1].finished-width.L: '2 1/4 kg' has the unit", id="unit"
        ),
        pytest.param('L = "3/8 in" }', "L = {} }", "pieces[1].trials[0].shorten.L: a table is not", id="nested"),
        pytest.param('at = { S = "1 in", ', "at = { ", "pieces[1].notches[0].at.S: is missing", id="in a notch"),
        pytest.param('M = "7 in", L = "8', 'L = "8', "pieces[1].ratio.loop.M: is missing", id="in a pattern's pair"),
        pytest.param('M = "8 in", L', "L", "pieces[1].opening.must-pass.M: is missing", id="in an opening"),
        pytest.param(
            'sizes = ["S", "M", "L"]', "", "pieces[0].edge.front-half: is a table, and one value", id="no sizes"
        ),
        pytest.param('stretch = "60 %"', 'stretch = { S = "60 %" }', "fabrics.rib.stretch: is a table", id="fabric"),
        pytest.param('"S", "M", "L"]', '"S", "M", "S"]', 'sizes[2]: "S" is also sizes[0]', id="twice"),
        pytest.param('["S", "M", "L"]', "[]", "sizes: is empty", id="none"),
        pytest.param('["S", "M", "L"]', '"S"', "sizes: must be a list of texts, not a text", id="no list"),
        pytest.param('"M", "L"]', '"M,L"]', "has a comma", id="comma"),
        pytest.param('"M", "L"]', "1.5]", "sizes[1]: must be a text in quotes, not a number", id="no text"),
    ],
)
def test_what_is_wrong_with_a_size_is_said_with_its_key_path(read: Read, before: str, after: str, message: str) -> None:
    assert before in SPEC
    with pytest.raises(SpecError) as fault:
        read(SPEC.replace(before, after, 1))
    assert message in str(fault.value)


def test_numbers_may_name_sizes(read: Read) -> None:
    text = SPEC.replace('["S", "M", "L"]', "[8, 10, 12]").replace("S =", "8 =").replace("M =", "10 =")
    assert [one.size for one in figure_job(read(text.replace("L =", "12 =")))][:3] == ["8", "10", "12"]


def test_a_strip_that_cannot_be_in_one_size_names_that_size(read: Read) -> None:
    with pytest.raises(SpecError, match=r"pieces\[1\].trials: nothing is left .* \(size L\)"):
        figure_job(read(SPEC.replace('L = "3/8 in"', 'L = "9 in"')))


LAPPED = """
title = "Vee"
units = "in"
sizes = ["S", "{size}"]
[[pieces]]
name = "Neckband"
finish = "folded-band"
finished-width = "1/2 in"
corner = "lapped"
edge = {{ kind = "curved", whole = "20 in", turning = "180", corners = {{ S = [90], {size} = [45.2] }} }}
"""
"""A corner that is too flat to lap in the second size."""


@pytest.mark.parametrize("size", ["2", "corner"])
def test_a_size_is_named_even_where_its_name_stands_elsewhere_in_the_sentence(read: Read, size: str) -> None:
    # the angle, 45.2, holds ".2", and the place, pieces[0].corner, holds ".corner"
    with pytest.raises(SpecError) as fault:
        read(LAPPED.format(size=size))
    assert str(fault.value) == (
        f"spec.toml: pieces[0].corner: a corner of 45.2 degrees is too flat to lap (under 60); mitre it (size {size})"
    )
    assert fault.value.place == Place("spec.toml", ("pieces", 0, "corner"), size)


@long
def test_each_size_may_be_drawn(tmp_path: Path) -> None:
    line = '<path id="{}" d="M0 0 H{}" fill="none"/>'
    svg = '<svg xmlns="http://www.w3.org/2000/svg" width="300mm" height="9mm" viewBox="0 0 300 9">'
    (tmp_path / "hem.svg").write_text(svg + line.format("s", 200) + line.format("m", 220) + "</svg>")

    def job_of(medium: str) -> Job:
        whole = table(S=table(svg="hem.svg", id="s"), M=table(svg="hem.svg", id=medium), L="24 cm")
        hem = spec(piece("Hem", "2 cm", straight(whole)), units="cm", sizes=["S", "M", "L"])
        return read_job(written(hem, tmp_path))

    assert [one.edge.edge_mm for one in figure_job(job_of("m"))] == pytest.approx([200, 220, 240])
    with pytest.raises(SpecError, match=r"pieces\[0\].edge.whole.M: "):
        job_of("n")


@pytest.mark.parametrize(
    ("wish", "message"),
    [("XL", '"XL" is not a size of the spec; did you mean L'), (" , ", "names no size; known are S, L")],
)
def test_a_wish_for_no_size_is_refused(wish: str, message: str) -> None:
    with pytest.raises(SpecError, match=message):
        picked(wish, ("S", "L"))


def test_a_spec_without_sizes_has_none_to_pick(read: Read) -> None:
    assert picked(None, ()) == ()
    with pytest.raises(SpecError, match="the spec has no sizes"):
        picked("S", ())
