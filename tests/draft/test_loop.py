"""This checks the ways to the sewn length: P, common practice, and what the bounds of the edge advise."""

import pytest

from tests.specs import curved, straight, table
from tiler.errors import SpecError

IN = 25.4


@pytest.mark.parametrize(
    ("finish", "ratio"),
    [
        # P: start at 0.85 of the edge for a band and 0.90 for a binding
        ("folded-band", 0.85),
        ("double-fold-binding", 0.90),
        ("french-binding", 0.90),
        ("raw-edge-binding", 0.90),
    ],
)
def test_the_usual_ratios(figure, finish, ratio):
    strip = figure(finish=finish, ratio="usual")
    assert strip.ratio.used == strip.ratio.usual == pytest.approx(ratio)
    assert strip.loop_mm == pytest.approx(ratio * 22 * IN)
    assert strip.ratio.source.startswith("usual")


def test_the_advised_length_is_taken_where_none_is_stated(figure):
    plain, stated = figure(fabric="rib"), figure(fabric="rib", ratio="advised")
    assert plain.loop_mm == stated.loop_mm
    assert plain.ratio.used == plain.ratio.advised
    assert plain.ratio.source == "advised: where to start with this stretch; our model, so make a trial"


def test_the_flat_length_lies_flat_under_two_percent_of_tension(figure):
    # C: finished edge (E - W) / loop = 1.02, whatever the fabric
    for fabric in ("rib", "jersey", None):
        strip = figure(fabric=fabric, ratio="flat")
        assert strip.ratio.flat_limit / strip.ratio.used == pytest.approx(1.02)
        assert strip.ratio.used == strip.ratio.flat
        assert not any("assumed" in text for text in strip.warnings)


def test_without_a_fabric_half_of_stretch_is_assumed_and_said(figure):
    plain = figure()
    assert plain.ratio == figure(fabric="half").ratio
    (said,) = [text for text in plain.warnings if "assumed" in text]
    assert said.startswith("No fabric is named, so 50 % stretch is assumed for the advised length")
    assert not any("assumed" in text for text in figure(ratio=0.85).warnings)


@pytest.mark.parametrize(
    ("keys", "loop"),
    [
        ({"ratio": 0.8}, 17.6),
        ({"ratio": "80 %"}, 17.6),
        ({"ratio": table(loop="19 in", edge="23 in")}, 22 * 19 / 23),
        ({"ratio": table(loop="50 cm", edge="25 in")}, 22 * (50 / 2.54) / 25),
        ({"loop": "19 in"}, 19),
        ({"fits": table(body="20 in", ease="-5 %")}, 19),
        ({"fits": table(body="20 in")}, 20),
    ],
)
def test_other_ways_to_the_sewn_length(figure, keys, loop):
    strip = figure(**keys)
    assert strip.loop_mm == pytest.approx(loop * IN)
    assert strip.ratio.used == pytest.approx(loop / 22)
    assert strip.seam_strain == pytest.approx(22 / loop - 1)


def test_two_ways_at_once_contradict_each_other(figure):
    with pytest.raises(SpecError, match=r"pieces\[0\].loop: contradicts ratio"):
        figure(ratio=0.8, loop="19 in")


def test_flat_means_nothing_on_a_straight_edge(figure):
    with pytest.raises(SpecError, match=r"pieces\[0\].ratio: .*straight"):
        figure(ratio="flat", edge=straight(9))
    assert figure(edge=straight(9)).ratio.flat is None


@pytest.mark.parametrize("ratio", [85, "85", 0, "0 %", -1, True, [], "flatt", "19 in", "", {}])
def test_what_is_no_ratio_is_refused(figure, ratio):
    with pytest.raises(SpecError, match=r"pieces\[0\].ratio"):
        figure(ratio=ratio)


def test_a_finished_width_that_leaves_no_finished_edge_is_refused(figure):
    # C: 22 in / 280 degrees in radians = 4.502 in is the widest
    assert figure(finished_width="4.50 in").ratio.flat_limit > 0
    with pytest.raises(SpecError, match=r"finished-width: .*does not fit inside"):
        figure(finished_width="4.51 in")


def test_drawn_lengths(figure):
    fold = figure(join_allowance="3/8", ratio=0.8)
    full = figure(join_allowance="3/8", ratio=0.8, cut="full-loop")
    assert fold.cut_length_mm == pytest.approx((17.6 / 2 + 0.375) * IN)
    assert full.cut_length_mm == pytest.approx((17.6 + 0.75) * IN)
    assert fold.half_length_mm == full.half_length_mm == fold.cut_length_mm


def test_allowances_that_are_not_given(figure):
    # ours: garment allowance, else 1/4 in; the end seam like the seam, a binding's 1/4 in
    edge = curved(22, 280, garment_allowance="3/8")
    assert figure().seam_allowance_mm == figure().join_allowance_mm == pytest.approx(IN / 4)
    assert figure(edge=edge).seam_allowance_mm == figure(edge=edge).join_allowance_mm == pytest.approx(IN * 3 / 8)
    binding = figure(finish="french-binding")
    assert (binding.seam_allowance_mm, binding.join_allowance_mm) == pytest.approx((IN / 2, IN / 4))
    raw = figure(finish="raw-edge-binding")
    assert raw.cut_width_mm == pytest.approx((1.5 + 0.375) * IN)


def test_a_cut_width_gives_the_finished_width(figure):
    strip = figure(finished_width=None, cut_width="2 in", seam_allowance="3/8")
    assert strip.finished_width_mm == pytest.approx(5 / 8 * IN)
    assert strip.cut_width_mm == pytest.approx(2 * IN)
    with pytest.raises(SpecError, match="leaves no finished width"):
        figure(finished_width=None, cut_width="3/4 in", seam_allowance="3/8")
