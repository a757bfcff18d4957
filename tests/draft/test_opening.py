"""This checks what goes over head and hand.

Worked from ASTM D5585-11e1, Table 1, size 8: neck base 14 5/8 in, head 21 3/4 in;
a strip of 0.75 of the neck base needs 98.3 % stretch.
"""

import pytest

from tests.specs import piece, spec, table
from tiler.draft.advice.opening import Ring
from tiler.draft.compute import figure_job
from tiler.errors import SpecError

IN = 25.4


def neckline(read, *, stretch, garment=None, ratio="0.75", neck="14 5/8", head="21 3/4"):
    band = piece(
        edge=table(kind="neckline", whole=neck), fabric="rib", ratio=ratio, opening=table(must_pass=head),
        garment_fabric=None if garment is None else "jersey",
    )  # fmt: skip
    return figure_job(read(spec(band, fabrics={"rib": f"{stretch} %", "jersey": f"{garment or 0} %"})))[0]


def test_the_standards_size_eight_needs_98_3_percent(read):
    assert Ring(0.75 * 14.625, 0).stretch_for(21.75) == pytest.approx(0.983, abs=5e-4)
    assert neckline(read, stretch="98.2").opening.passes is False
    assert neckline(read, stretch="98.3").opening.passes is True
    (text,) = [text for text in neckline(read, stretch="80").warnings if text.startswith("The strip opens to only")]
    assert "but must stretch over 21¾ in" in text
    assert "at least 98.3 % stretch" in text


def test_stretch_examples_of_the_trade(read):
    # P: 4 -> 5 in is 25 %, 4 -> 10 in is 150 %, 10 -> 14 cm is 40 %
    from tiler.draft.fabric import stretch_of

    assert [stretch_of(4, 5), stretch_of(4, 10), stretch_of(10, 14)] == pytest.approx([0.25, 1.5, 0.4])


def test_the_smaller_of_strip_and_garment_decides(read):
    strip = neckline(read, stretch=100, garment=60)
    # strip 0.75 x 14.625 x 2 = 21.9375, garment 14.625 x 1.6 = 23.4
    assert (strip.opening.opens_to_mm / IN, strip.opening.limited_by) == (pytest.approx(21.9375), "strip")
    garment = neckline(read, stretch=100, garment=40)
    assert (garment.opening.opens_to_mm / IN, garment.opening.limited_by) == (pytest.approx(20.475), "garment")
    assert (garment.opening.passes, strip.opening.passes) == (False, True)


def test_following_any_advice_lets_it_pass(read):
    (text,) = [text for text in neckline(read, stretch=80, neck="20", head="30").warnings if "opens to only" in text]
    # 20 x 0.75 = 15; 30 / 1.8 = 16.667: + 1.667; wider 20 x (16.667 / 15 - 1) = 2.222
    assert "lengthen the strip by 1 11/16 in" in text
    assert "widen the edge by 2¼ in" in text
    assert "at least 100 % stretch" in text
    assert neckline(read, stretch=100, neck="20", head="30").opening.passes
    assert neckline(read, stretch=80, neck="22 1/4", head="30").opening.passes
    assert neckline(read, stretch=80, neck="20", head="30", ratio=f"{(15 + 1.6875) / 20}").opening.passes


def test_lengthening_is_not_advised_where_the_strip_would_stand_away(read):
    (text,) = [text for text in neckline(read, stretch=40).warnings if text.startswith("The strip opens to only")]
    assert "lengthen" not in text
    assert "widen" in text


def test_a_tight_opening_is_named(read):
    # over 80 % of the strip's stretch is needed: 0.983 / 1.2 = 82 %, / 1.25 = 79 %
    assert any(text.startswith("Tight") and "strip" in text for text in neckline(read, stretch=120).warnings)
    assert not any(text.startswith("Tight") for text in neckline(read, stretch=125).warnings)
    # garment: 21.75 / 14.625 - 1 = 48.7 %, of 55 % = 88.6 %, of 62 % = 78.6 %
    assert any("garment fabric's" in text for text in neckline(read, stretch=150, garment=55).warnings)
    assert not any(text.startswith("Tight") for text in neckline(read, stretch=150, garment=62).warnings)


def test_a_seam_that_must_stretch_over_a_quarter_takes_no_plain_straight_stitch(read):
    assert any("straight stitch" in text for text in neckline(read, stretch=150, head="18.3").warnings)
    assert not any("straight stitch" in text for text in neckline(read, stretch=150, head="18.2").warnings)


def test_a_garment_without_a_fabric_is_not_checked_and_that_is_said(read):
    assert any("garment is not checked" in text for text in neckline(read, stretch=100).warnings)
    assert not any("not checked" in text for text in neckline(read, stretch=100, garment=60).warnings)


def test_an_opening_needs_the_strips_stretch(figure):
    with pytest.raises(SpecError, match="name its fabric"):
        figure(opening=table(must_pass="22 in"))


def test_without_an_opening_there_is_none(figure):
    assert figure().opening is None
    assert figure().to_json()["opening"] is None


@pytest.mark.parametrize(
    ("edge", "opens_to"),
    [
        # common practice: round a curve the cloth lies along both directions in turn
        (table(kind="neckline", whole="20 in"), 20 * 1.4),
        # a straight edge lies along the greatest stretch
        (table(kind="straight", whole="20 in"), 20 * 1.6),
    ],
)
def test_a_curved_edge_opens_with_the_mean_of_both_directions(read, edge, opens_to):
    band = piece(edge=edge, fabric="rib", garment_fabric="jersey", ratio=0.9, opening=table(must_pass="22 in"))
    fabrics = {"rib": "200 %", "jersey": table(stretch="60 %", lengthwise="20 %")}
    (found,) = figure_job(read(spec(band, fabrics=fabrics)))
    assert found.opening.opens_to_mm / IN == pytest.approx(opens_to)
    assert found.opening.limited_by == "garment"


@pytest.mark.parametrize(
    ("lengthwise", "expected"),
    [
        ("80 %", "fabrics.jersey.lengthwise: is more than stretch"),
        ("much", "fabrics.jersey.lengthwise: 'much' is not a percentage"),
        ("-5 %", "fabrics.jersey.lengthwise: "),
        (table(rest=4), "fabrics.jersey.lengthwise: "),
    ],
)
def test_a_wrong_stretch_along_the_cloth_gets_one_sentence(read, lengthwise, expected):
    with pytest.raises(SpecError) as caught:
        read(spec(piece(), fabrics={"jersey": table(stretch="60 %", lengthwise=lengthwise)}))
    assert expected in str(caught.value)
