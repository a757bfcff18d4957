"""This checks how the strip is shared out: evenly, or in the proportion of the finished edge."""

from math import pi, radians, tan

import pytest

from tests.specs import armhole, neckline, shaped
from tiler.errors import SpecError

IN = 25.4
CREW = neckline(8, 4)


def test_even_ease_gives_every_part_its_share_of_the_edge(figure):
    band = figure(edge=CREW, ratio=0.8)
    front, back = band.edge.parts
    assert (front.strip_mm / IN, back.strip_mm / IN) == pytest.approx((6.4, 3.2))
    assert front.strain == back.strain == pytest.approx(band.seam_strain)


def test_by_curve_gives_every_part_its_share_of_the_finished_edge(figure):
    # C: both halves turn by 70 degrees; their finished edges, w inside, are E_i - w x 70 degrees
    band = figure(edge=CREW, ratio=0.8, ease="by-curve")
    front, back = band.edge.parts
    lost = 0.5 * radians(70)
    share = (8 - lost) / (12 - 2 * lost)
    assert front.strip_mm / IN == pytest.approx(0.8 * 12 * share)
    assert back.strip_mm / IN == pytest.approx(0.8 * 12 * (1 - share))
    assert band.notches[1].name == "shoulder"
    assert band.notches[1].at_mm == front.strip_mm
    assert front.strain < band.seam_strain < back.strain
    # the whole strip is as long as before
    assert band.loop_mm == pytest.approx(figure(edge=CREW, ratio=0.8).loop_mm)


def test_by_curve_stretches_the_finished_edge_alike_everywhere(figure):
    band = figure(edge=CREW, ratio="flat", ease="by-curve")
    for part in band.edge.parts:
        assert part.flat_limit * part.edge_mm / part.strip_mm == pytest.approx(band.ratio.flat_limit / band.ratio.used)


def test_every_part_has_its_own_flat_limit(figure):
    front, back = figure(edge=CREW).edge.parts
    lost = 0.5 * radians(70)
    assert front.flat_limit == pytest.approx((8 - lost) / 8)
    assert back.flat_limit == pytest.approx((4 - lost) / 4)


def test_a_vee_is_eased_by_the_curve_unless_stated(figure):
    vee = neckline(9, 4, corners=[120])
    assert figure(edge=vee).edge.ease == "by-curve"
    assert figure(edge=vee, ease="even").edge.ease == "even"
    assert figure(edge=CREW).edge.ease == "even"


def test_the_parts_of_a_mitred_vee_share_what_is_left_of_the_finished_edge(figure):
    # C: (E_i - W_i) with W_i without the mitred corner; arms are straight, the back is a quarter of an ellipse
    edge = shaped("vee", 7, 8, 2)
    band = figure(edge=edge, corner="mitre", ratio=0.9)
    front, back = band.edge.parts
    beta = 23.62937773065682  # atan(3.5 / 8), degrees
    shoulder = 0.5 * tan(radians(beta - 40) / 2)
    own = [front.edge_mm / IN - shoulder, back.edge_mm / IN - 0.5 * pi / 2 - shoulder]
    assert front.strip_mm == pytest.approx(band.loop_mm / 2 * own[0] / sum(own))
    assert back.strip_mm == pytest.approx(band.loop_mm / 2 * own[1] / sum(own))


def test_an_armhole_is_eased_by_the_curve_too(figure):
    band = figure(edge=armhole(8, 10), ratio=0.8, ease="by-curve", cut="full-loop")
    lost = 0.5 * radians(110)
    assert band.edge.parts[0].strip_mm / IN == pytest.approx(0.8 * 18 * (8 - lost) / (18 - 2 * lost))
    assert band.notches[0].at_mm / IN == pytest.approx(0.25 + 0.8 * 18 * (8 - lost) / (18 - 2 * lost))


def test_a_part_that_must_stretch_more_than_the_fabric_does_is_named(figure):
    edge = neckline(9, 1.8)
    band = figure(edge=edge, ratio=0.85, ease="by-curve", fabric="jersey")
    assert any(text.startswith("Cannot be sewn flat along the back half") for text in band.warnings)
    even = figure(edge=edge, ratio=0.85, fabric="jersey")
    assert not any("along the" in text for text in even.warnings)


@pytest.mark.parametrize(
    ("keys", "expected"),
    [
        ({"ease": "by-curve"}, 'ease: "by-curve" shares the strip out between parts; measure the edge in parts'),
        ({"ease": "evenly", "edge": CREW}, 'ease: "evenly" is not known; did you mean even?'),
        ({"ease": True, "edge": CREW}, "ease: must be a text in quotes, not true or false"),
        (
            {
                "ease": "by-curve",
                "finished-width": "2 in",
                "edge": neckline(12, 2),
            },
            'ease: "by-curve" leaves no strip for the back half',
        ),
    ],
)
def test_ease_that_cannot_be_gets_one_sentence(figure, keys, expected):
    with pytest.raises(SpecError) as caught:
        figure(**keys)
    assert expected in str(caught.value)
