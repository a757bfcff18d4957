"""This checks every warning on both sides of its threshold; a warning names what to change."""

import pytest

from tests.specs import curved, piece, spec, straight, table
from tiler.draft.compute import figure_job

IN = 25.4
STRAIGHT = straight(20)


def warned(figures, start):
    return [text for text in figures.warnings if text.startswith(start)]


@pytest.mark.parametrize(
    ("fabric", "ratio", "start"),
    [
        # rib stretches 60 %: strain 1 / ratio - 1; 36 % is 60 % of it, 60 % all of it
        ("rib", 1 / 1.359, None),
        ("rib", 1 / 1.361, "Sewing takes 60.2 %"),
        ("rib", 1 / 1.599, "Sewing takes"),
        ("rib", 1 / 1.601, "Cannot be sewn flat"),
        ("woven", 0.9, "Cannot be sewn flat"),
        ("woven", 1.0, None),
    ],
)
def test_share_of_the_stretch_that_sewing_takes(figure, fabric, ratio, start):
    strip = figure(fabric=fabric, ratio=ratio, edge=STRAIGHT)
    found = warned(strip, "Sewing takes") + warned(strip, "Cannot be sewn flat")
    assert len(found) == (0 if start is None else 1)
    if start:
        assert found[0].startswith(start)
        assert "take a fabric with at least" in found[0]


def test_stretch_used_is_strain_over_stretch(figure):
    strip = figure(fabric="rib", ratio=0.8, edge=STRAIGHT)
    assert strip.seam_strain == pytest.approx(0.25)
    assert strip.stretch_used == pytest.approx(0.25 / 0.6)
    assert figure(ratio=0.8).stretch_used is None
    assert figure(fabric="woven", ratio=0.8).stretch_used is None


def test_a_strip_may_stand_away_above_the_flat_bound_and_does_above_its_finished_edge(figure):
    ratio = figure().ratio
    assert not warned(figure(ratio=ratio.flat - 1e-4), "May stand away")
    (text,) = warned(figure(ratio=ratio.flat + 1e-3), "May stand away")
    # (22 in - 1/2 in x 280 degrees) / 1.02 = 19.173 in, rounded down
    assert "lies flat up to 19⅛ in (48.6 cm)" in text
    assert warned(figure(ratio=ratio.flat_limit - 1e-3), "May stand away")
    (text,) = warned(figure(ratio=ratio.flat_limit + 1e-3), "Stands away")
    assert "lies flat up to 19⅛ in (48.6 cm)" in text


def test_following_the_advice_removes_the_warning(figure):
    strip = figure(ratio=0.95)
    assert warned(strip, "Stands away")
    assert not warned(figure(loop="19 1/8 in"), "Stands away")
    assert not warned(figure(loop="19 1/8 in"), "May stand away")


def test_what_is_advised_is_not_warned_of(figure, read):
    # ours: advised is the start; a fabric of 200 % stretch is gathered by more than a quarter with it
    very = piece("Cuff", 5, STRAIGHT, fabric="very")
    (strip,) = figure_job(read(spec(very, fabrics={"very": "200 %"})))
    assert strip.seam_strain == pytest.approx(0.5)
    assert not strip.warnings
    (shorter,) = figure_job(read(spec({**very, "ratio": 0.6}, fabrics={"very": "200 %"})))
    assert warned(shorter, "May pucker")


def test_no_good_length_gets_one_sentence_with_both_ways_out(figure):
    # C: jersey of 30 %, 22 in, 1 in wide: tightest 22 / 1.18 = 18.644, flat (22 - 4.887) / 1.02 = 16.777 in
    strip = figure(fabric="jersey", finished_width="1 in")
    assert strip.loop_mm / IN == pytest.approx(16.7776, abs=5e-4)
    (text,) = warned(strip, "No good length")
    # 22 (1 - 1.02 / 1.18) / 4.8869 = 0.6104 in; (22 / 16.7776 - 1) / 0.6 = 51.9 %
    assert "at most 9/16 in (1.5 cm) finished" in text
    assert "at least 51.9 % stretch" in text
    assert strip.widest_mm / IN == pytest.approx(0.6104, abs=5e-5)
    assert not warned(strip, "Sewing takes")
    for mended in (figure(fabric="jersey", finished_width="9/16 in"), figure(fabric="half", finished_width="15/16 in")):
        assert not warned(mended, "No good length")
    assert not warned(figure(fabric="jersey", finished_width="9/16 in"), "Sewing takes")


def test_no_width_suits_a_fabric_that_hardly_stretches(figure):
    # C: under 0.02 / 0.6 = 3.3 % of stretch even a narrow strip cannot be stretched by 2 %
    strip = figure(fabric="woven")
    assert strip.widest_mm == 0
    (text,) = warned(strip, "No good length")
    assert "narrower" not in text
    assert "take a fabric with at least" in text


def test_a_stretch_that_no_knit_has_is_no_way_out(figure):
    # C: 22 in, 4 in wide: flat (22 - 19.548) / 1.02 = 2.4 in; (22 / 2.4 - 1) / 0.6 is over 1300 %
    (text,) = warned(figure(fabric="jersey", finished_width="4 in"), "No good length")
    assert "at most 9/16 in (1.5 cm) finished, or cut it to the shape of the edge" in text
    assert "take a fabric" not in text


@pytest.mark.parametrize("ratio", ["usual", 0.55, 0.7, 1.05])
def test_no_good_length_leaves_nothing_to_lengthen_or_shorten(figure, ratio):
    strip = figure(fabric="jersey", finished_width="1 in", ratio=ratio)
    assert warned(strip, "No good length")
    assert not [text for text in strip.warnings if "horten the strip" in text or "engthen the strip" in text]
    assert not warned(strip, "Sewing takes") + warned(strip, "Cannot be sewn flat")


def test_a_finished_edge_stretched_over_a_quarter_may_pucker(figure):
    assert not warned(figure(ratio=0.801, edge=STRAIGHT), "May pucker")
    (text,) = warned(figure(ratio=0.799, edge=STRAIGHT), "May pucker")
    assert "at least 16 in" in text  # 20 in / 1.25


def test_a_strip_longer_than_its_edge_is_held_in(figure):
    bulging = curved(40, -360)
    assert warned(figure(ratio=1.05, edge=bulging), "The strip is longer")
    assert not warned(figure(ratio=0.95, edge=bulging), "The strip is longer")


def test_a_narrow_finished_width_is_named(figure):
    assert not warned(figure(finished_width="3/16 in"), "The finished width")
    assert warned(figure(finished_width="1/8 in"), "The finished width of ⅛ in")


def test_a_band_sewn_at_another_allowance_than_the_garments_is_named(figure):
    edge = curved(22, 280, garment_allowance="3/8")
    assert not warned(figure(edge=edge), "The strip is sewn")
    assert not warned(figure(edge=edge, seam_allowance="9.525 mm"), "The strip is sewn")
    (text,) = warned(figure(edge=edge, seam_allowance="1/4"), "The strip is sewn at ¼ in")
    assert "⅜ in" in text


def test_a_seam_allowance_that_a_binding_does_not_use_is_named(figure):
    assert not warned(figure(finish="french-binding", seam_allowance="1/2"), "The seam-allowance")
    assert warned(figure(finish="french-binding", seam_allowance="1/4"), "The seam-allowance of ¼ in")


@pytest.mark.parametrize("finish", ["double-fold-binding", "french-binding"])
def test_a_fold_that_just_meets_the_stitching_is_named(figure, finish):
    (text,) = warned(figure(finish=finish, cover=0), "The back fold just meets the stitching")
    assert "⅛ in" in text
    assert not warned(figure(finish=finish, cover="1/8"), "The back fold")


def test_poor_recovery_is_named(figure, read):
    cuff = piece("Cuff", 5, straight(20), fabric="rib")
    good, poor = (
        figure_job(read(spec(cuff, units="cm", fabrics={"rib": table(stretch="60 %", recovery=recovery)})))[0]
        for recovery in ("90 %", "89 %")
    )
    assert not warned(good, "rib recovers")
    assert warned(poor, "rib recovers only 89 %")


def test_a_plain_job_has_no_warnings(figure):
    assert figure(fabric="rib", ratio="flat").warnings == ()


def test_the_cover_is_advised_in_the_unit_of_the_spec(figure):
    (text,) = warned(figure("cm", finish="french-binding", cover=0), "The back fold just meets the stitching")
    assert text.endswith('write cover = "3 mm".')
