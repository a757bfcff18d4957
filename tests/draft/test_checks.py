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


def test_a_strip_stands_away_above_the_flat_limit(figure):
    limit = figure().ratio.flat_limit
    assert not warned(figure(ratio=limit - 1e-4), "Stands away")
    (text,) = warned(figure(ratio=limit + 1e-3), "Stands away")
    # 22 in - 1/2 in x 280 degrees = 19.5565 in, rounded down
    assert "lies flat up to 19½ in (49.6 cm)" in text


def test_following_the_advice_removes_the_warning(figure):
    strip = figure(ratio=0.95)
    assert warned(strip, "Stands away")
    assert not warned(figure(loop="19 1/2 in"), "Stands away")


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
