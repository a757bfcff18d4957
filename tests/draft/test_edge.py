"""This checks the seam line and the curve angle (Gauss-Bonnet; Steiner's parallel curves)."""

from math import radians

import pytest

from tests.specs import armhole, curved, neckline, table
from tiler.errors import SpecError

IN = 25.4


def test_a_neckline_has_two_of_each_half(figure):
    band = figure(edge=neckline(7, 4))
    assert band.edge.edge_mm == pytest.approx(22 * IN)
    assert band.edge.label == "neckline seam line"


def test_a_neckline_measured_whole_counts_once(figure):
    assert figure(edge=table(kind="neckline", whole=22)).edge.edge_mm == pytest.approx(22 * IN)


def test_an_armhole_has_one_of_each_part_and_two_allowances_on_each(figure):
    band = figure(edge=armhole(8, 9, end_allowance="1/2"))
    assert [part.edge_mm / IN for part in band.edge.parts] == pytest.approx([7, 8])
    assert band.edge.edge_mm == pytest.approx(15 * IN)


def test_a_neckline_half_loses_one_end_allowance(figure):
    band = figure(edge=neckline(7, 4, end_allowance="1/2"))
    assert [part.edge_mm / IN for part in band.edge.parts] == pytest.approx([6.5, 3.5])


@pytest.mark.parametrize(
    ("edge", "turning"),
    [
        # Gauss-Bonnet: each shoulder seam takes twice its slope out of a full circle ...
        (table(kind="neckline", whole=22), 360 - 4 * 20),
        (table(kind="neckline", whole=22, shoulder_slope=0), 360),
        (table(kind="neckline", whole=22, shoulder_slope="25°"), 260),
        # ... and adds it to an armhole's half circle
        (table(kind="armhole", whole=18), 180 + 2 * 20),
        (table(kind="armhole", whole=18, shoulder_slope=22), 224),
        (table(kind="straight", whole=18), 0),
        (table(kind="curved", whole=18, turning=150), 150),
        (table(kind="neckline", whole=22, turning=300), 300),
        (table(kind="neckline", whole=22, corners=[132.7]), 280),
    ],
)
def test_the_curve_angle_follows_from_the_shoulder_slope(figure, edge, turning):
    assert figure(edge=edge).edge.turning_deg == pytest.approx(turning)


def test_a_binding_is_sewn_one_finished_width_inside_the_cut_edge(figure):
    edge = curved(22, 280, measured_on="cut-edge")
    binding = figure(finish="double-fold-binding", edge=edge)
    assert binding.edge.edge_mm == pytest.approx(22 * IN + IN / 2 * radians(280))
    stated = edge | table(garment_allowance="1/2")
    assert figure(finish="double-fold-binding", edge=stated).edge == binding.edge


def test_another_garment_allowance_of_a_binding_is_refused_with_the_reason(figure):
    edge = curved(22, 280, measured_on="cut-edge", garment_allowance="1/4")
    with pytest.raises(SpecError, match="one finished width inside it, so this is ½ in"):
        figure(finish="double-fold-binding", edge=edge)


def test_an_edge_that_bulges_out_is_shorter_on_its_seam_line(figure):
    # a rounded hem: parallel circles inside it, 2 pi (r - d)
    edge = curved(40, -360, measured_on="cut-edge", garment_allowance="1/4")
    assert figure(edge=edge).edge.edge_mm == pytest.approx(40 * IN - IN / 4 * radians(360))


def test_the_parts_of_a_vee_turn_by_a_quarter_each(figure):
    # C: half a corner of 2 d tan(phi/2) and the rest of 70 degrees in front, 70 degrees behind
    edge = neckline(9, 4, measured_on="cut-edge", garment_allowance="1/4", corners=[132, -16, -16])
    band = figure(edge=edge)
    front, back = (part.edge_mm for part in band.edge.parts)
    d = IN / 4
    shoulders = 2 * d * 2 * -0.14054083470239145  # tan(-8 degrees), two corners
    point = 2 * d * 2.2460367739042164  # tan(66 degrees)
    assert front == pytest.approx(9 * IN + d * radians(70 - 66 + 8) + point / 2 + shoulders / 4)
    assert back == pytest.approx(4 * IN + d * radians(70 + 8) + shoulders / 4)
    whole = d * radians(280 - 132 + 32) + point + shoulders
    assert band.edge.edge_mm == pytest.approx(26 * IN + whole)
