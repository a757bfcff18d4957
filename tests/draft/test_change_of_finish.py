"""This checks where the cut edge runs when a band replaces a binding or the other way round.

A neckline of four quarter circles with level shoulders is a circle, so every line beside
another is a circle about the same centre: lengths are 2 pi r.
"""

from math import pi, radians

import pytest

from tests.specs import Table, neckline, straight, table
from tiler.errors import SpecError

IN = 25.4


def circle(radius: float, **keys: str | None) -> Table:
    half = f"{radius * pi / 2:.9f} mm"
    return neckline(half, half, shoulder_slope=0, **keys)


def replaced(finish: str, width: float) -> Table:
    return table(finish=finish, finished_width=f"{width} mm")


def test_a_band_in_place_of_a_binding_needs_a_wider_hole(figure):
    # the pattern's binding ends at its cut edge, r = 90; a band of 15 mm stands in it from r = 105, cut at 105 - 6
    band = figure(
        finished_width="15 mm",
        seam_allowance="6 mm",
        edge=circle(90, measured_on="cut-edge"),
        replaces=replaced("double-fold-binding", 10),
    )
    new = band.new_cut_edge
    assert new is not None
    assert new.trim_mm == pytest.approx(9)
    assert new.length_mm == pytest.approx(2 * pi * 99)
    assert new.finished_edge_mm == pytest.approx(2 * pi * 90)
    assert band.edge.edge_mm == pytest.approx(2 * pi * 105)
    # the strip is that of any edge of this length
    assert band.loop_mm == pytest.approx(0.85 * 2 * pi * 105)
    assert band.ratio.flat_limit == pytest.approx(90 / 105)
    assert band.instructions[0].startswith("Trim ⅜ in (0.9 cm) off the garment's cut edge")


def test_a_binding_in_place_of_a_band_needs_a_smaller_hole(figure):
    # the pattern's band is sewn at r = 100 and stands in to r = 85; its cut edge is r = 94.  The binding ends at 85.
    binding = figure(
        finish="double-fold-binding",
        finished_width="8 mm",
        edge=circle(94, measured_on="cut-edge", garment_allowance="6 mm"),
        replaces=replaced("folded-band", 15),
    )
    new = binding.new_cut_edge
    assert new is not None
    assert new.trim_mm == pytest.approx(-9)
    assert new.length_mm == new.finished_edge_mm == pytest.approx(2 * pi * 85)
    assert binding.edge.edge_mm == pytest.approx(2 * pi * 93)
    assert binding.instructions[0].startswith("Add ⅜ in (0.9 cm) to the garment's cut edge")
    # nothing is said of the allowance of the band that is gone
    assert not any("seam allowance is" in text for text in binding.warnings)


@pytest.mark.parametrize(("allowance", "trim"), [(None, None), ("6 mm", -9)])
def test_a_seam_line_with_no_allowance_does_not_say_where_its_cut_edge_runs(figure, allowance, trim):
    binding = figure(
        finish="french-binding",
        finished_width="8 mm",
        edge=circle(100, garment_allowance=allowance),
        replaces=replaced("folded-band", 15),
    )
    new = binding.new_cut_edge
    assert new is not None
    assert new.trim_mm == (trim if trim is None else pytest.approx(trim))
    assert new.inside_old_seam_mm == pytest.approx(15)
    assert new.length_mm == pytest.approx(2 * pi * 85)
    if trim is None:
        assert binding.instructions[0] == "Cut the garment 9/16 in (1.5 cm) inside the pattern's seam line."


def test_there_and_back_again_is_where_it_was(figure):
    # a binding of 10 on r = 90 gives way to a band of 15, and that band to the binding
    there = figure(
        finished_width="15 mm",
        seam_allowance="6 mm",
        edge=circle(90, measured_on="cut-edge"),
        replaces=replaced("french-binding", 10),
    )
    back = figure(
        finish="french-binding",
        finished_width="10 mm",
        edge=circle(there.edge.edge_mm / (2 * pi), garment_allowance="6 mm"),
        replaces=replaced("folded-band", 15),
    )
    assert there.new_cut_edge is not None
    assert back.new_cut_edge is not None
    assert back.new_cut_edge.length_mm == pytest.approx(2 * pi * 90)
    assert back.new_cut_edge.trim_mm == pytest.approx(-there.new_cut_edge.trim_mm)


def test_a_wider_band_of_the_same_kind_moves_the_seam_line_alone_into_the_garment(figure):
    band = figure(
        finished_width="20 mm",
        edge=circle(100, garment_allowance="6 mm"),
        replaces=replaced("folded-band", 15),
    )
    assert band.new_cut_edge is not None
    assert band.new_cut_edge.trim_mm == pytest.approx(5)
    assert band.seam_allowance_mm == pytest.approx(6)
    assert band.edge.edge_mm == pytest.approx(2 * pi * 105)


def test_the_same_finish_changes_nothing(figure):
    edge = circle(100, garment_allowance="6 mm")
    same = figure(finished_width="15 mm", edge=edge, replaces=replaced("folded-band", 15))
    plain = figure(finished_width="15 mm", edge=edge)
    assert same.loop_mm == plain.loop_mm
    assert same.cut_length_mm == plain.cut_length_mm
    assert same.instructions == ("Leave the garment's cut edge where the pattern has it.",)


def test_a_straight_edge_keeps_its_length(figure):
    hem = figure(
        finished_width="30 mm",
        edge=straight("800 mm", measured_on="cut-edge"),
        replaces=replaced("raw-edge-binding", 10),
        ratio=0.9,
    )
    assert hem.edge.edge_mm == pytest.approx(800)
    assert hem.new_cut_edge is not None
    assert hem.new_cut_edge.trim_mm == pytest.approx(30 - IN / 4)


def test_the_json_says_where_the_cut_edge_runs(figure):
    band = figure(edge=circle(90, measured_on="cut-edge"), replaces=replaced("french-binding", 10))
    assert set(band.to_json()["new_cut_edge"]) == {"trim_mm", "inside_old_seam_mm", "length_mm", "finished_edge_mm"}
    assert "new_cut_edge" not in figure().to_json()


@pytest.mark.parametrize(
    ("keys", "expected"),
    [
        ({"replaces": "french-binding"}, "replaces: must be a table, not a text"),
        ({"replaces": table(finish="french-binding")}, "replaces.finished-width: is missing"),
        ({"replaces": table(finished_width="1/4")}, "replaces.finish: is missing"),
        ({"replaces": table(finish="binding", finished_width=1)}, 'replaces.finish: "binding" is not known'),
        ({"replaces": table(finish="french-binding", width=1)}, "replaces.width: is not a known key"),
        (
            {
                "edge": table(kind="neckline", whole=22, measured_on="cut-edge"),
                "replaces": table(finish="folded-band", finished_width="1/2"),
            },
            "edge.garment-allowance: is missing",
        ),
        (
            {
                "edge": table(kind="neckline", whole=22),
                "replaces": table(finish="folded-band", finished_width=6),
            },
            "replaces: a finished edge 6 in (15.2 cm) inside the seam line would have no length left",
        ),
    ],
)
def test_a_change_that_cannot_be_gets_one_sentence(figure, keys, expected):
    with pytest.raises(SpecError) as caught:
        figure(**keys)
    assert expected in str(caught.value)


def test_lengths_follow_the_turn_of_a_sloping_shoulder(figure):
    # Steiner with the neckline's 280 degrees: 9 mm further out is 9 x 280 degrees longer
    band = figure(
        finished_width="15 mm",
        seam_allowance="6 mm",
        edge=table(kind="neckline", whole="550 mm", measured_on="cut-edge"),
        replaces=replaced("french-binding", 10),
    )
    assert band.new_cut_edge is not None
    assert band.new_cut_edge.length_mm == pytest.approx(550 + 9 * radians(280))
