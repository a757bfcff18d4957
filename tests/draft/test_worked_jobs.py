"""This checks whole jobs against figures that were worked by hand from the published formulas.

Each number was computed apart from this program, from the closed forms named
beside it (parallel curves by Steiner, the flat model, the cut widths), and is
given to as many digits as were written down.
"""

from math import acos, cos, degrees, hypot, radians, sin, tan

import pytest

from tests.specs import armhole, neckline, piece, spec, straight, table
from tiler.draft.compute import figure_job
from tiler.draft.strip.bounds import bounds
from tiler.turn import Turn, corner_change

IN = 25.4  # NIST SP 811, App. B


def marks(figures):
    return [(notch.name, notch.at_mm, notch.double) for notch in figures.notches]


def test_a_crew_neckband_on_fold_in_inches(read):
    (crew,) = figure_job(
        read(
            spec(
                piece(
                    "Neckband",
                    "5/8",
                    neckline(7, "4 1/4", measured_on="cut-edge", garment_allowance="3/8", end_allowance="3/8"),
                    seam_allowance="3/8",
                    join_allowance="3/8",
                    cut="on-fold",
                    fabric="rib",
                    ratio="flat",
                ),
                fabrics={"rib": "80 %"},
            )
        )
    )
    front, back = crew.edge.parts
    # 6 5/8 and 3 7/8 in, each longer by 3/8 in x 70 degrees in radians
    assert front.edge_mm / IN == pytest.approx(7.0831, abs=5e-5)
    assert back.edge_mm / IN == pytest.approx(4.3331, abs=5e-5)
    assert crew.edge.edge_mm / IN == pytest.approx(22.8326, abs=1e-4)
    assert crew.edge.turning_deg == pytest.approx(280)
    # (E - 5/8 x 280 degrees) / E, and the same / 1.02
    assert crew.ratio.flat_limit == pytest.approx(0.86623, abs=5e-6)
    assert crew.ratio.used == crew.ratio.flat == pytest.approx(0.84924, abs=5e-6)
    assert crew.loop_mm / IN == pytest.approx(19.3905, abs=5e-5)
    assert crew.cut_length_mm / IN == pytest.approx(10.0702, abs=5e-5)
    assert crew.cut_width_mm / IN == pytest.approx(2)
    assert crew.seam_strain == pytest.approx(0.1775, abs=5e-5)
    assert front.strip_mm / IN == pytest.approx(6.0153, abs=5e-5)
    assert marks(crew) == [
        ("CF", 0, False),
        ("shoulder", pytest.approx(6.0153 * IN, abs=0.002), False),
        ("CB", pytest.approx((10.0702 - 0.375) * IN, abs=0.002), True),
    ]
    # advised instead: (E - 5/16 x 280 degrees) / 1.2
    assert crew.ratio.advised == pytest.approx(0.77760, abs=5e-6)
    assert crew.ratio.advised * crew.edge.edge_mm / IN == pytest.approx(17.7545, abs=5e-5)
    assert crew.join_place == "CB"


def test_a_childs_neckband_whose_garment_does_not_open_far_enough(read):
    (band,) = figure_job(
        read(
            spec(
                piece(
                    "Neckband",
                    1.5,
                    neckline(10.5, 6.5),
                    seam_allowance=0.7,
                    join_allowance=0.7,
                    cut="on-fold",
                    fabric="rib",
                    garment_fabric="jersey",
                    ratio="usual",
                    opening=table(must_pass="51 cm"),
                ),
                units="cm",
                fabrics={"rib": "100 %", "jersey": "30 %"},
            )
        )
    )
    assert band.edge.edge_mm == pytest.approx(340)
    assert band.loop_mm == pytest.approx(289)  # 0.85 of it, common practice
    assert band.cut_length_mm == pytest.approx(151.5)
    assert band.cut_width_mm == pytest.approx(44)
    assert band.notches[1].at_mm == pytest.approx(89.25)
    assert band.ratio.flat_limit == pytest.approx(0.7844, abs=5e-5)
    assert any(text.startswith("Stands away") and "26.1 cm" in text for text in band.warnings)
    assert band.opening is not None
    # 28.9 x 2 = 57.8 for the strip, 34 x 1.3 = 44.2 for the garment
    assert band.opening.opens_to_mm == pytest.approx(442)
    assert (band.opening.passes, band.opening.limited_by) == (False, "garment")
    assert any("44.2 cm" in text and "50 % stretch" in text for text in band.warnings)


def test_a_raw_edge_armhole_binding_in_full_length(read):
    (binding,) = figure_job(
        read(
            spec(
                piece(
                    "Armhole binding",
                    1,
                    armhole(21, 22.5, measured_on="cut-edge", shoulder_slope="22 deg"),
                    finish="raw-edge-binding",
                    trim_allowance="3/8 in",
                    join_allowance=0.7,
                    cut="full-loop",
                    fabric="jersey",
                ),
                units="cm",
                fabrics={"jersey": "35 %"},
            )
        )
    )
    front, back = binding.edge.parts
    assert binding.edge.turning_deg == pytest.approx(224)
    assert front.edge_mm == pytest.approx(229.55, abs=0.005)
    assert back.edge_mm == pytest.approx(244.55, abs=0.005)
    assert binding.edge.edge_mm == pytest.approx(474.095, abs=5e-4)
    # by fabric (E - W / 2) / 1.035 would be 43.918 cm, more than flat (E - W) / 1.02, so flat is taken
    assert binding.loop_mm == pytest.approx(426.47, abs=0.005)
    assert binding.ratio.used == binding.ratio.flat == pytest.approx(0.89955, abs=5e-6)
    assert binding.ratio.flat_limit == pytest.approx(0.91754, abs=5e-6)
    assert "the longest that lies flat" in binding.ratio.source
    assert binding.cut_length_mm == pytest.approx(440.47, abs=0.005)
    assert binding.cut_width_mm == pytest.approx(39.525)
    assert binding.quantity == 2
    assert binding.join_place == "underarm"
    share = front.edge_mm / binding.edge.edge_mm
    assert marks(binding) == [("shoulder", pytest.approx(7 + binding.loop_mm * share), False)]


def test_a_mitred_vee_by_the_formulas_of_edge_and_loop():
    # measured along the drawn vee: straight arms, a trued scoop behind (its arc by Simpson's rule); all angles by the rules of a closed curve
    width, front, back, w, slope = 7.0, 8.0, 1.0, 0.5, 20.0
    half = width / 2
    arm = hypot(half, front)
    drop = back * tan(radians(slope))
    k = acos(1 / (half / drop - 1))
    across, down = half / sin(k), back / (1 - cos(k))
    assert (degrees(k), across, down) == pytest.approx((83.335, 3.52381, 1.13130), abs=5e-4)
    steps = 2000
    speeds = [hypot(across * cos(k * i / steps), down * sin(k * i / steps)) for i in range(steps + 1)]
    quarter = k / steps / 3 * (speeds[0] + speeds[-1] + 4 * sum(speeds[1:-1:2]) + 2 * sum(speeds[2:-1:2]))
    beta = 23.629
    assert tan(radians(beta)) == pytest.approx(half / front, abs=5e-5)
    edge = 2 * (arm + quarter)
    assert (arm, quarter, edge) == pytest.approx((8.7321, 3.7677, 24.9997), abs=1e-4)
    point, shoulder = 180 - 2 * beta, beta - slope
    assert (point, shoulder) == pytest.approx((132.741, 3.629), abs=2e-3)
    around = Turn(180 - 2 * slope, (shoulder, shoulder))
    assert around.total_deg + point == pytest.approx(360 - 4 * slope)
    taken_up, in_corner = around.change(w), corner_change([point], w)
    assert in_corner == pytest.approx(2.2857, abs=1e-4)
    loop = bounds(edge, taken_up, in_corner, 0.25, 0.5, bends=True).flat_mm
    assert loop == pytest.approx(23.2944, abs=1e-4)
    assert loop - in_corner == pytest.approx(21.0087, abs=1e-4)
    assert (edge - taken_up) / edge == pytest.approx(0.9486, abs=5e-5)


def test_a_cuff_that_goes_over_the_hand(read):
    text = spec(
        piece(
            "Cuff",
            6,
            straight(24),
            seam_allowance=0.7,
            join_allowance=0.7,
            cut="on-fold",
            fabric="rib",
            ratio=0.72,
            opening=table(must_pass="23 cm"),
        ),
        units="cm",
        fabrics={"rib": "90 %"},
    )
    (cuff,) = figure_job(read(text))
    assert cuff.loop_mm == pytest.approx(172.8)
    assert cuff.cut_length_mm == pytest.approx(93.4)
    assert cuff.cut_width_mm == pytest.approx(134)
    assert cuff.seam_strain == pytest.approx(0.389, abs=5e-4)
    assert cuff.opening is not None
    assert cuff.opening.opens_to_mm == pytest.approx(328.32)  # 17.28 x 1.9
    assert (cuff.opening.passes, cuff.opening.limited_by) == (True, "strip")
    assert any("garment is not checked" in text for text in cuff.warnings)
    assert cuff.ratio.flat is None
    assert cuff.ratio.flat_limit == 1


def test_the_parts_of_a_crew_by_turning_hold_for_two_concentric_quarter_circles(read):
    # a neckline of four equal quarters with no shoulder slope is a circle: radius grows by the allowance
    radius, allowance = 80.0, 10.0
    half = f"{radius * radians(90):.6f} mm"
    (band,) = figure_job(
        read(
            spec(
                piece(
                    "Band", 2, neckline(half, half, measured_on="cut-edge", garment_allowance="10 mm", shoulder_slope=0)
                ),
                units="cm",
            )
        )
    )
    assert band.edge.edge_mm == pytest.approx(radians(360) * (radius + allowance), abs=1e-4)
    # the finished edge is the circle that lies 2 cm inside the seam line
    assert band.ratio.flat_limit == pytest.approx((radius + allowance - 20) / (radius + allowance), abs=1e-6)


def test_a_square_neckline_keeps_its_corners(read):
    # right angles on both front halves: the parallel line of a straight-sided corner grows by 2 d tan(45 degrees)
    (band,) = figure_job(
        read(
            spec(
                piece(
                    "Band",
                    1,
                    neckline(20, 15, measured_on="cut-edge", garment_allowance="1 cm", turning=360, corners=[90, 90]),
                ),
                units="cm",
            )
        )
    )
    front, back = (part.edge_mm for part in band.edge.parts)
    assert front == pytest.approx(200 + 2 * 10 * sin(radians(45)) / cos(radians(45)))
    assert back == pytest.approx(150 + 10 * radians(90))
    assert band.edge.turning_deg == pytest.approx(360)
    assert band.ratio.flat_limit == pytest.approx(1 - (10 * radians(180) + 40) / band.edge.edge_mm)
