"""Bindings cut on the bias of woven cloth: slanted ends, cloth, and what is refused."""

from __future__ import annotations

from math import dist, sqrt
from typing import Any

import pytest

from tests.specs import armhole, piece, spec, straight, table
from tiler.declaration import Tag
from tiler.draft.compute import figure_job
from tiler.draft.edition import Edition
from tiler.draft.outline import draw_piece
from tiler.draft.sections.strips import strips_of
from tiler.draft.strip.bias import bias_cloth
from tiler.errors import SpecError

IN = 25.4  # NIST SP 811, App. B
FABRICS = {"lawn": "12 %", "wide": table(stretch="12 %", width="45 in"), "knit": "60 %"}


@pytest.fixture
def bound(read: Any) -> Any:
    def figure(fabric: str | None = "lawn", finish: str = "double-fold-binding", **keys: Any) -> Any:
        own = {"width": "1/2 in", "edge": straight("40 in"), "cut_on": "bias", "ratio": "100 %", "cover": 0} | keys
        return figure_job(read(spec(piece("Binding", finish=finish, fabric=fabric, **own), fabrics=FABRICS)))[0]

    return figure


@pytest.mark.parametrize(
    ("cut", "length", "side"),
    # common practice: a 20 in square gives 200 in of 2 in strip; 250 in of it want 22.36 in, cut 23 in
    [(2, 200, 20), (2, 250, 22.36)],
)
def test_a_continuous_strip_comes_from_a_square(cut: float, length: float, side: float) -> None:
    found = bias_cloth(cut * IN, length * IN, 0.0, 1, None)
    assert found.square_mm / IN == pytest.approx(side, abs=5e-3)
    assert f"a square of {'20' if side == 20 else '23'} in" in found.words("in")


def test_the_square_is_that_of_all_strips(bound: Any) -> None:
    # C: side = sqrt(length x width); 4 x 1/2 in wide, 40 in and two seams of 1/4 in at 45 degrees, twice
    binding = bound(quantity=2)
    assert binding.cut_width_mm / IN == pytest.approx(2)
    assert binding.bias.square_mm / IN == pytest.approx(sqrt(2 * (40 + 0.5 * sqrt(2)) * 2))
    assert (binding.bias.width_mm, binding.cloth, binding.sections) == (None, None, ())
    assert binding.to_json()["bias"]["strips_across"] is None


def test_strips_across_cloth_of_a_known_width(bound: Any) -> None:
    # C: one strip of the bias of 45 in is 45 sqrt(2) = 63.64 in long, less a seam at either end
    assert bound("wide").bias.strips == 1
    long = bound("wide", edge=straight("130 in")).bias
    assert long.strips == 3
    assert long.cloth_mm / IN == pytest.approx(45 + 3 * 2 * sqrt(2))
    assert "3 × across cloth 45 in (114.3 cm) wide, joined diagonally, 53½ in (135.9 cm) of it" in long.words("in")


def test_its_ends_are_parallel_at_45_degrees(bound: Any) -> None:
    binding = bound()
    (cut,) = [
        part.subpaths[0] for part in draw_piece(binding, 1, Edition("Top", "in")).parts if part.tag == Tag.CUT_LINE
    ]
    left, right, far, near, _ = cut
    assert (left[1], right[1]) == (0, 0)
    width = binding.cut_width_mm
    assert (near[0] - left[0], far[0] - right[0]) == (pytest.approx(width), pytest.approx(width))
    # between the end seams, each 1/4 in from its end at right angles, lies the sewn length, at every height
    assert right[0] - left[0] == pytest.approx(binding.loop_mm + 2 * 0.25 * IN * sqrt(2))
    seams = [
        part.subpaths[0] for part in draw_piece(binding, 1, Edition("Top", "in")).parts if part.tag == Tag.JOIN_LINE
    ]
    assert [seam[1][0] - seam[0][0] for seam in seams] == [pytest.approx(width)] * 2
    assert seams[1][0][0] - seams[0][0][0] == pytest.approx(binding.loop_mm)


def test_marks_of_both_raw_edges_lie_inside(bound: Any) -> None:
    # a doubled strip is marked at its upper edge too, where its left end lies further in
    binding = bound(finish="french-binding", width="1 in", edge=armhole("1 in", "9 in"))
    (mark,) = binding.notches
    points = [part.subpaths[0] for part in draw_piece(binding, 1, Edition("Top", "in")).parts if part.tag == Tag.NOTCH]
    (lower, upper) = (line[0][0] for line in points)
    assert lower == pytest.approx(mark.at_mm)
    assert upper == pytest.approx(mark.at_mm + binding.loop_mm)


def cuts(binding: Any, tag: Tag) -> list[Any]:
    return [part.subpaths for part in draw_piece(binding, 1, Edition("Top", "in")).parts if part.tag == tag]


def test_a_strip_longer_than_the_bias_of_its_cloth_is_drawn_in_sections(bound: Any) -> None:
    # C: 130 in in three; each is cut 130 / 3 in and two seams of 1/4 in at 45 degrees, and slants by its 2 in
    binding = bound("wide", edge=straight("130 in"))
    (one,) = binding.sections
    assert (str(one.name), one.count, one.pair, one.cut.value) == ("sections 1 to 3", 3, False, "full-loop")
    assert one.cut_length_mm / IN == pytest.approx(130 / 3 + 0.5 * sqrt(2) + 2)
    # none is longer than the bias of the cloth, 45 sqrt(2), along either edge
    assert one.cut_length_mm / IN - 2 <= 45 * sqrt(2)
    assert binding.bias.strips == 3
    assert "on the bias: sections 1 to 3. Diagonal joins: the end seam and 2 more" in binding.piecing
    assert "two ends right sides together at a right angle, mark to mark, ¼ in (0.6 cm) from their edges" in (
        binding.piecing
    )
    (section,) = strips_of([binding])
    assert section.cut_words == binding.cut_words  # of no mirror images
    assert [(str(mark.name), mark.on_end) for mark in section.notches] == [("join", -1), ("middle", 0), ("join", 1)]


def test_marks_of_two_ends_meet_when_they_are_joined(bound: Any) -> None:
    (section,) = strips_of([bound("wide", edge=straight("130 in"))])
    seams, ends = [lines[0] for lines in cuts(section, Tag.JOIN_LINE)], cuts(section, Tag.NOTCH)
    left, right = min(ends), max(ends)
    for (outer, inner), seam, way in ((left[0], seams[0], -1), (right[0], seams[1], 1)):
        # from the cut edge, 1/4 in off the seam line, square to that and half of it deep: 1/8 in is over 3 mm
        middle = tuple((a + b) / 2 for a, b in zip(*seam, strict=True))
        assert outer == pytest.approx(
            (middle[0] + way * 0.25 * IN / sqrt(2), middle[1] - way * 0.25 * IN / sqrt(2)), abs=1e-6
        )
        assert dist(outer, inner) == pytest.approx(3)
        assert dist(inner, middle) == pytest.approx(0.25 * IN - 3)
    # the declared places are those of the cuts
    assert [round(mark.at_mm, 6) for mark in section.notches if mark.on_end] == [
        round((line[0][0][0] + line[0][1][0]) / 2, 6) for line in (left, right)
    ]


def test_marks_of_the_garment_lie_on_the_section_that_has_their_edge(bound: Any) -> None:
    # C: 126 in in three of 42; the quarters of a neckline measured whole lie at 31.5, 63 and 94.5 in
    binding = bound("wide", finish="french-binding", width="1/4 in", edge=table(kind="neckline", whole="126 in"))
    found = strips_of([binding])
    own = [[str(mark.name) for mark in one.notches if not mark.on_end] for one in found]
    assert own == [["quarter"], ["CF"], ["quarter"]]
    for one in found:
        (mark,) = [mark for mark in one.notches if not mark.on_end]
        # a doubled strip is marked at both raw edges
        points = [lines[0][0] for lines in cuts(one, Tag.NOTCH) if lines[0][0][0] == pytest.approx(mark.at_mm)]
        assert sorted(y for _, y in points) == [0, pytest.approx(binding.cut_width_mm)]


def test_a_mark_near_a_join_lies_where_its_long_edge_goes_on(bound: Any) -> None:
    # the lower edge of a section begins and ends its 1/2 in before the sewn length: a mark 1/4 in before
    # the first join stands on the second section
    left_end = bound("wide", edge=straight("130 in")).left_end.longest / IN
    near = {"notches": [table(name="tag", at=left_end + 130 / 3 - 0.25)]}
    others, second = strips_of([bound("wide", edge=straight("130 in"), **near)])
    assert [str(one.section.name) for one in (others, second)] == ["sections 1 and 3 of 3", "section 2 of 3"]
    assert "tag" not in [mark.name for mark in others.notches]
    (tag,) = [mark for mark in second.notches if mark.name == "tag"]
    assert tag.at_mm / IN == pytest.approx(left_end - 0.25)
    low = min(x for line in cuts(second, Tag.CUT_LINE) for x, y in line[0] if y == 0)
    assert tag.at_mm > low


def test_joins_of_a_neck_keep_off_cf(bound: Any) -> None:
    # C: in two equal parts a join would lie at CF, so there are three
    neck = bound("wide", edge=table(kind="neckline", front_half="24 in", back_half="11 in"))
    assert [str(one.name) for one in neck.sections] == [f"section {number} of 3" for number in (1, 2, 3)]
    assert neck.bias.strips == 3
    assert neck.bias.cloth_mm / IN == pytest.approx(45 + 3 * 2 * sqrt(2))
    assert [tuple(map(str, one.joins)) for one in neck.sections] == [
        ("join (CB)", "join 1"),
        ("join 1", "join 2"),
        ("join 2", "join (CB)"),
    ]


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ({"finish": "folded-band", "cover": None}, 'cut-on: "bias" is for bindings of woven cloth; a band of it'),
        ({"cut_on": "grain"}, 'cut-on: "grain" is not known'),
        ({"fabric": "knit"}, "which gives 10 to 15 % on its bias, and knit stretches by 60 %, as only knits do"),
        (
            {"fabric": None},
            'cut-on: "bias" is for woven cloth, which stretches by 10 to 15 % on its bias; name its fabric',
        ),
        ({"cut": "on-fold"}, 'cut: "on-fold" is not for a bias strip, whose slanted ends are parallel'),
        ({"corner": "mitre"}, "corner: has slanted ends of its own"),
        ({"closed": False}, "closed: is for strips of knits here"),
    ],
)
def test_what_does_not_go_together_is_refused(bound: Any, keys: dict[str, Any], said: str) -> None:
    with pytest.raises(SpecError) as fault:
        bound(**keys)
    assert said in str(fault.value)
    assert fault.value.code == 2
