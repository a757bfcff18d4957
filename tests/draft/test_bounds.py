"""This checks the bounds of a length and the advice between them against worked values and rules of thumb."""

from math import radians, tan

import pytest

from tests.specs import armhole, curved, neckline, piece, spec, straight, table
from tiler.draft.compute import figure_job
from tiler.draft.strip.bounds import bounds
from tiler.errors import SpecError

IN = 25.4


@pytest.fixture
def ratio(read):
    """Give the ratios of one band on a neckline of 22 in that turns by 280 degrees, or on another edge."""

    def ratio_of(stretch, width="1/2 in", finish="folded-band", edge=None, units="in", **keys):
        strip = piece("Strip", width, edge or curved("22 in", 280), finish, fabric="knit", **keys)
        return figure_job(read(spec(strip, units=units, fabrics={"knit": stretch})))[0]

    return ratio_of


@pytest.mark.parametrize(
    ("stretch", "width", "finish", "worked"),
    [
        # closed form (22 - w 280 degrees / 2) / (1 + a s): the model was set so that these come out
        ("50 %", "1/2 in", "folded-band", 0.83953),
        ("100 %", "1/2 in", "folded-band", 0.75557),
        ("50 %", "1/4 in", "french-binding", 0.92594),
    ],
)
def test_the_worked_values_of_a_neckline(ratio, stretch, width, finish, worked):
    strip = ratio(stretch, width, finish)
    assert strip.ratio.used == strip.ratio.advised == pytest.approx(worked, abs=5e-6)


def test_a_jersey_that_has_no_good_length(ratio):
    # closed forms 1 / 1.12, (57 - 1.5 x 280 degrees) / 1.02 / 57, and 57 (1 - 1.02 / 1.12) / 4.8869
    strip = ratio("20 %", 1.5, edge=curved(57, 280), units="cm")
    assert strip.ratio.tightest == pytest.approx(0.8929, abs=5e-5)
    assert strip.ratio.flat == strip.ratio.used == pytest.approx(0.8543, abs=5e-5)
    assert strip.widest_mm / 10 == pytest.approx(1.041, abs=5e-4)
    (text,) = [one for one in strip.warnings if one.startswith("No good length")]
    assert "at most 1.0 cm" in text


def test_a_strip_of_the_widest_width_and_one_of_the_least_stretch_have_just_one_length(ratio):
    strip = ratio("20 %", 1.5, edge=curved(57, 280), units="cm")
    narrow = ratio("20 %", f"{strip.widest_mm:.6f} mm", edge=curved(57, 280), units="cm")
    assert narrow.ratio.flat == pytest.approx(narrow.ratio.tightest, rel=1e-6)
    # (E / flat - 1) / 0.6
    least = (1 / strip.ratio.flat - 1) / 0.6
    stretchy = ratio(f"{100 * least:.6f} %", 1.5, edge=curved(57, 280), units="cm")
    assert stretchy.ratio.flat == pytest.approx(stretchy.ratio.tightest, rel=1e-6)
    assert any(f"at least {100 * least:.1f}" in one or "at least 28.5 %" in one for one in strip.warnings)


def test_the_widest_width_counts_that_a_binding_moves_its_seam_line(ratio):
    # a binding measured on its cut edge is sewn one finished width inside, so E grows by w 220 degrees
    edge = armhole(21, 22, measured_on="cut-edge")
    wide = ratio("10 %", 2, "raw-edge-binding", edge, "cm")
    widest = ratio("10 %", f"{wide.widest_mm:.6f} mm", "raw-edge-binding", edge, "cm")
    assert widest.ratio.flat == pytest.approx(widest.ratio.tightest, rel=1e-6)
    # closed form: the finished edge stays 43 cm, (43 + w 220 degrees) / 1.06 = 43 / 1.02
    assert wide.widest_mm / 10 == pytest.approx((43 * 1.06 / 1.02 - 43) / radians(220))


def test_a_mitred_corner_is_the_same_in_all_lengths():
    # closed form: C stands before and behind the bar, so it is left alone by tension and stretch
    plain, mitred = (bounds(500.0 + c, 20.0, c, 0.25, 0.5, bends=True) for c in (0.0, 30.0))
    assert mitred.flat_mm - plain.flat_mm == pytest.approx(30)
    assert mitred.by_fabric_mm - plain.by_fabric_mm == pytest.approx(30)


def test_an_arm_is_sewn_nearly_one_to_one(ratio):
    # neckline halves of 70 degrees less half of the point: 19 and 21 degrees smooth
    for smooth, share in ((19.0, 0.05), (21.0, 0.25)):
        edge = neckline(9, 4, corners=[2 * (70 - smooth)])
        front = ratio("60 %", "1/8 in", edge=edge, corner="mitre").edge.parts[0]
        corner = 0.125 * 2 * (1 / 2) * tan(radians(70 - smooth))
        own = (9 - 0.125 * radians(smooth) / 2 - corner) / (1 + share * 0.6) + corner
        assert front.strip_mm / IN == pytest.approx(own, rel=1e-9)


def test_a_straight_edge_has_no_flat_length(ratio):
    # closed form: 24 / (1 + 0.25 x 0.9), and nothing that lies flat
    strip = ratio("90 %", 6, edge=straight(24), units="cm")
    assert strip.loop_mm / 10 == pytest.approx(24 / 1.225)
    assert (strip.ratio.flat, strip.widest_mm) == (None, None)
    with pytest.raises(SpecError, match=r'pieces\[0\].ratio: "flat" means nothing on a straight edge; write "advised"'):
        ratio("90 %", 6, edge=straight(24), units="cm", ratio="flat")


@pytest.mark.parametrize(
    ("rule", "taught", "stretch", "width", "finish", "edge", "off"),
    [
        # common practice, none of them used to set the model; ``off`` is how far the advice lies from it
        ("rib strips of 2/3 of the edge", 2 / 3, "150 %", "3/4 in", "folded-band", None, 0.0),
        ("the same, of rib that stretches less", 2 / 3, "100 %", "1/2 in", "folded-band", None, 0.0889),
        ("rib strips of 3/4 of the edge", 3 / 4, "100 %", "1/2 in", "folded-band", None, 0.006),
        (
            "a rib strip of 12 in for an edge of 16 in",
            12 / 16,
            "100 %",
            "1/2 in",
            "folded-band",
            ("16 in", 280),
            -0.0111,
        ),
        ("start with 0.85 for a band, moderate rib", 0.85, "50 %", "3/8 in", "folded-band", None, 0.002),
        ("start with 0.90 for a binding, jersey", 0.90, "50 %", "3/8 in", "french-binding", None, -0.0013),
        ("cuffs of 4/5 of the wrist edge in rib", 0.80, "100 %", "2 in", "folded-band", "straight", 0.0),
    ],
)
def test_rules_that_are_commonly_taught(ratio, rule, taught, stretch, width, finish, edge, off):
    """Common practice; the 16 in of the third rule is from a guideline leaflet, quoted from memory."""
    if edge == "straight":
        edge = straight("8 in")
    elif edge:
        edge = curved(*edge)
    advised = ratio(stretch, width, finish, edge).ratio.advised
    assert advised - taught == pytest.approx(off, abs=6e-4), f"{rule}: {advised:.4f}"


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        ("advise", 'ratio: "advise" is not known; write "advised", "flat", "usual" or a percentage'),
        (table(advised=1), "ratio.advised: is not a known key"),
        (["advised"], "ratio: "),
    ],
)
def test_a_ratio_that_cannot_be_gets_one_sentence(ratio, value, expected):
    with pytest.raises(SpecError) as caught:
        ratio("50 %", ratio=value)
    assert expected in str(caught.value)
