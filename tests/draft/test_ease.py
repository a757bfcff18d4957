"""This checks how the strip is shared out: evenly, or to each part its own advised or flat length."""

from math import hypot, radians, tan

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


def advised(edge, taken_up, share, stretch=0.5):
    """Give the advised length by the published formulas: by fabric, between tightest and flat."""
    tightest, flat = edge / (1 + 0.6 * stretch), (edge - taken_up) / 1.02
    return min(max((edge - taken_up / 2) / (1 + share * stretch), tightest), flat)


def test_by_curve_gives_every_part_its_share_of_the_advised_lengths(figure):
    # both halves turn by 70 degrees, W is w x 70 degrees; what they are advised is scaled to the sewn length
    band = figure(edge=CREW, ratio=0.8, ease="by-curve")
    front, back = band.edge.parts
    own = [advised(edge, 0.5 * radians(70), 0.25) for edge in (8, 4)]
    assert front.strip_mm / IN == pytest.approx(0.8 * 12 * own[0] / sum(own))
    assert back.strip_mm / IN == pytest.approx(0.8 * 12 * own[1] / sum(own))
    assert band.notches[1].name == "shoulder"
    assert band.notches[1].at_mm == front.strip_mm
    assert front.strain < band.seam_strain < back.strain
    # the whole strip is as long as before
    assert band.loop_mm == pytest.approx(figure(edge=CREW, ratio=0.8).loop_mm)


def test_an_advised_strip_gives_every_part_what_it_is_advised(figure):
    band = figure(edge=CREW, ease="by-curve", fabric="half")
    for part, edge in zip(band.edge.parts, (8, 4), strict=True):
        assert part.strip_mm / IN == pytest.approx(advised(edge, 0.5 * radians(70), 0.25))


def test_a_flat_strip_is_flat_on_every_part(figure):
    band = figure(edge=CREW, ratio="flat", ease="by-curve")
    for part in band.edge.parts:
        assert part.strip_mm == pytest.approx(part.flat_mm)
        assert part.flat_limit * part.edge_mm / part.strip_mm == pytest.approx(1.02)


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


def test_sharp_corners_away_from_the_shoulders_are_eased_by_the_curve(figure):
    assert figure(edge=shaped("square", 8, 5, 1)).edge.ease == "by-curve"
    # a deep scoop is not trued: 20 degrees at each shoulder, which does not count
    assert figure(edge=shaped("scoop", 6, 9, 1, shoulder_slope=25)).edge.ease == "even"
    assert figure(edge=neckline(9, 4, corners=[19])).edge.ease == "even"
    assert figure(edge=neckline(9, 4, corners=[21])).edge.ease == "by-curve"
    assert figure(edge=neckline(9, 4, turning=230, corners=[-25, -25])).edge.ease == "even"


def test_the_parts_of_a_mitred_vee_get_their_own_advised_lengths(figure):
    # C: the arms turn by nothing and start with 0.05 of the stretch; half of C = 2 w tan(phi / 2) stands on each
    edge = shaped("vee", 7, 8, 1)
    band = figure(edge=edge, corner="mitre", fabric="half")
    front, back = band.edge.parts
    beta = 23.62937773065682  # atan(3.5 / 8), degrees
    shoulder = 2 * 0.5 * tan(radians(beta - 20) / 2) / 2 * 2
    mitre = 0.5 * tan(radians(90 - beta))
    arm = hypot(3.5, 8)
    assert front.strip_mm / IN == pytest.approx((arm - shoulder / 2 / 2 - mitre) / 1.025 + mitre, abs=2e-3)
    taken_up = 0.5 * radians(70) + shoulder / 2
    assert back.strip_mm / IN == pytest.approx(advised(back.edge_mm / IN, taken_up, 0.25), abs=2e-3)
    assert band.loop_mm == pytest.approx(2 * (front.strip_mm + back.strip_mm))


def test_an_armhole_is_eased_by_the_curve_too(figure):
    band = figure(edge=armhole(8, 10), ratio=0.8, ease="by-curve", cut="full-loop")
    own = [advised(edge, 0.5 * radians(110), 0.25) for edge in (8, 10)]
    assert band.edge.parts[0].strip_mm / IN == pytest.approx(0.8 * 18 * own[0] / sum(own))
    assert band.notches[0].at_mm / IN == pytest.approx(0.25 + 0.8 * 18 * own[0] / sum(own))


def along(figures, part):
    return [text for text in figures.warnings if f"along the {part}" in text]


def test_a_part_is_judged_by_itself(figure):
    edge = neckline(9, 1.8)
    band = figure(edge=edge, ratio=0.85, ease="by-curve", fabric="jersey")
    (text,) = along(band, "back half")
    # nothing suits a back of 1.8 in that turns by 70 degrees: (1.8 - 0.61) / 1.02 is under 1.8 / 1.18
    assert text.startswith("Cannot be sewn flat along the back half")
    assert 'make the strip narrower, take a stretchier fabric, or write ease = "even"' in text
    assert not along(figure(edge=edge, ratio=0.85, fabric="jersey"), "back half")


def test_a_part_is_judged_against_60_percent_and_against_its_own_flat_length(figure):
    # rib of 60 %: up to 1.36 times; a back that gets less than 1 / 1.36 of itself is named
    short = figure(edge=CREW, ratio=0.745, ease="by-curve", fabric="rib")
    (text,) = along(short, "back half")
    assert text.startswith("Sewing takes")
    assert "lengthen the strip" in text
    long = figure(edge=CREW, ratio=0.87, ease="by-curve", fabric="rib")
    assert not [one for one in long.warnings if one.startswith(("Stands", "May stand away: "))]
    (text,) = along(long, "back half")
    assert text.startswith("May stand away along the back half")
    assert "Shorten the strip" in text
    assert not along(figure(edge=CREW, ratio=0.87, ease="even", fabric="rib"), "back half")


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
