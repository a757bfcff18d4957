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
        ratio="usual",
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
    assert band.cut_words == (
        "Trim ⅜ in (0.9 cm) off the garment's edge, all along: the seam then runs ¼ in (0.6 cm) from that edge, "
        "3/16 in (0.5 cm) further into the garment than the pattern's seam."
    )


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
    assert binding.cut_words.startswith("Add ⅜ in (0.9 cm) to the garment's edge before cutting, all along: ")
    assert (
        "5/16 in (0.8 cm) from that edge, ¼ in (0.7 cm) nearer to the edge than the pattern's seam" in binding.cut_words
    )
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
        assert binding.cut_words.startswith(
            "Cut the garment 9/16 in (1.5 cm) outside the pattern's seam line (more cloth stays on): the seam"
        )


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
    assert same.cut_words == "Cut the garment as it is: the seam then runs ¼ in (0.6 cm) from that edge."
    assert plain.cut_words == same.cut_words


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
        ({"replaces": table(finish=["hem"])}, "replaces.finish: must be a text in quotes, not a list"),
        (
            {"replaces": table(finish="hem", finished_width="1 in")},
            "replaces.finished-width: has no meaning for a hem, which is finished at its fold line; leave it out",
        ),
        (
            {"replaces": table(finish="facing", finished_width="1 in")},
            "replaces.finished-width: has no meaning for a facing, which is finished at its seam line; leave it out",
        ),
        (
            {"edge": table(kind="neckline", whole=22, measured_on="cut-edge"), "replaces": table(finish="facing")},
            "edge.garment-allowance: is missing",
        ),
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


def test_a_hem_ends_at_its_fold_line(figure):
    # the hem is folded on r = 100, 25 mm inside its cut edge; a band of 30 stands in to r = 100 and is sewn on r = 130
    band = figure(
        finished_width="30 mm",
        seam_allowance="6 mm",
        edge=circle(75, measured_on="cut-edge", garment_allowance="25 mm"),
        replaces=table(finish="hem"),
    )
    assert band.new_cut_edge is not None
    assert band.new_cut_edge.finished_edge_mm == pytest.approx(2 * pi * 100)
    assert band.edge.edge_mm == pytest.approx(2 * pi * 130)
    # cut at r = 124
    assert band.new_cut_edge.trim_mm == pytest.approx(49)
    # the hem's depth is no seam allowance: that stays 1/4 in where none is stated
    unsaid = figure(edge=circle(75, measured_on="cut-edge", garment_allowance="25 mm"), replaces=table(finish="hem"))
    assert unsaid.seam_allowance_mm == pytest.approx(IN / 4)


@pytest.mark.parametrize("measured_on", ["seam-line", "cut-edge"])
def test_a_binding_in_place_of_a_facing_ends_at_its_seam_line(figure, measured_on):
    # the facing is sewn on r = 100, 10 mm inside the cut edge; a binding of 8 ends there and is sewn on r = 108
    binding = figure(
        finish="french-binding",
        finished_width="8 mm",
        edge=circle(100 if measured_on == "seam-line" else 90, measured_on=measured_on, garment_allowance="10 mm"),
        replaces=table(finish="facing"),
    )
    assert binding.new_cut_edge is not None
    assert binding.new_cut_edge.trim_mm == pytest.approx(10)
    assert binding.edge.edge_mm == pytest.approx(2 * pi * 108)
    assert binding.cut_words == (
        "Trim ⅜ in (1.0 cm) off the garment's edge, all along: the seam then runs 5/16 in (0.8 cm) from that edge, "
        "5/16 in (0.8 cm) further into the garment than the pattern's seam."
    )


def test_a_binding_on_a_seam_line_trims_the_garments_allowance_off(figure):
    keys = {"finish": "raw-edge-binding", "finished_width": "8 mm", "edge": circle(100, garment_allowance="10 mm")}
    binding = figure(**keys)
    stated = figure(**keys, replaces=table(finish="facing"))
    # the same garment said in two ways
    assert (binding.cut_words, binding.edge.edge_mm) == (stated.cut_words, stated.edge.edge_mm)
    assert not any("seam allowance is" in text for text in binding.warnings)


def test_a_facing_with_no_allowance_is_cut_along_its_seam_line(figure):
    binding = figure(finish="french-binding", finished_width="8 mm", edge=circle(100), replaces=table(finish="facing"))
    assert binding.cut_words.startswith("Cut the garment along the pattern's seam line: the seam then runs 5/16 in")


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        ({"edge": circle(100, garment_allowance="6 mm")}, "Cut the garment as it is: the seam then runs ¼ in"),
        (
            {"edge": circle(100, garment_allowance="10 mm"), "seam_allowance": "6 mm"},
            "Trim 3/16 in (0.4 cm) off the garment's edge, all along: the seam then runs ¼ in (0.6 cm) from that edge.",
        ),
        (
            {"edge": circle(100, garment_allowance="6 mm"), "seam_allowance": "10 mm"},
            "Add 3/16 in (0.4 cm) to the garment's edge before cutting, all along: the seam then runs ⅜ in",
        ),
        ({"edge": circle(100)}, ""),
        (
            {"edge": circle(100, measured_on="cut-edge", garment_allowance="10 mm"), "finished_width": "10 mm",
             "finish": "raw-edge-binding"},
            "Cut the garment as it is: the seam then runs ⅜ in (1.0 cm) from that edge.",
        ),
        ({"edge": circle(100), "finish": "raw-edge-binding"}, "A binding takes no seam allowance: "),
        ({"edge": circle(100, measured_on="cut-edge"), "finish": "raw-edge-binding"}, "A binding takes no seam allow"),
    ],
)  # fmt: skip
def test_how_the_garment_is_cut_is_said_as_far_as_it_is_known(figure, keys, words):
    strip = figure(**keys)
    assert strip.cut_words.startswith(words)
    assert bool(strip.cut_words) == bool(words)
    assert strip.instructions[:1] == ((strip.cut_words,) if words else ())
