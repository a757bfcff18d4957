"""This checks strips on cloth: how many sections, rows, the length to buy.  C: counted by hand."""

import pytest

from tests.specs import neckline, piece, spec, straight, table
from tiler.draft.compute import figure_job
from tiler.errors import SpecError

IN = 25.4


@pytest.fixture
def hem(read):
    def figure(width, loop=50, cut="full-loop", quantity=1):
        strip = piece("Hem", 1, straight(60), fabric="rib", loop=loop, cut=cut, quantity=quantity)
        return figure_job(read(spec(strip, fabrics={"rib": table(stretch="60 %", width=width)})))[0]

    return figure


@pytest.mark.parametrize(
    ("width", "loop", "quantity", "across", "rows"),
    [
        # a strip of 20 1/2 in: two side by side on 60 in, three on 62, one on 40
        (60, 20, 2, 2, 1),
        (62, 20, 3, 3, 1),
        (62, 20, 4, 3, 2),
        (40, 20, 3, 1, 3),
        # exactly as wide as the cloth
        ("20 1/2", 20, 1, 1, 1),
    ],
)
def test_strips_lie_across_the_cloth_in_rows(hem, width, loop, quantity, across, rows):
    cloth = hem(width, loop, quantity=quantity).cloth
    assert (cloth.abreast, cloth.rows, cloth.extra_seams) == (across, rows, 0)
    assert cloth.length_mm / IN == pytest.approx(rows * 2.5)


@pytest.mark.parametrize(
    ("width", "seams", "section"),
    [
        # 50 + 1/2 fits; else n sections of (50 + n / 2) / n must fit
        ("50 1/2", 0, 50.5),
        ("50 3/8", 1, 25.5),
        ("25 1/2", 1, 25.5),
        ("25 7/16", 2, 50 / 3 + 0.5),
        (12, 4, 10.5),
    ],
)
@pytest.mark.parametrize("cut", ["full-loop", "on-fold"])
def test_a_strip_longer_than_the_cloth_is_cut_in_as_few_sections_as_fit(hem, width, seams, section, cut):
    strip = hem(width, cut=cut)
    assert strip.cloth.extra_seams == seams
    assert strip.cloth.section_mm / IN == pytest.approx(section)
    # the strip in one stays as it would be
    assert strip.cut_length_mm / IN == pytest.approx(50.5 / (2 if cut == "on-fold" else 1))


def test_sections_of_several_strips_share_rows(hem):
    cloth = hem(30, loop=50, quantity=3).cloth
    # six sections of 25 1/2 in, one across 30 in
    assert (cloth.abreast, cloth.rows) == (1, 6)
    assert cloth.length_mm / IN == pytest.approx(15)


def test_sections_of_unlike_length_lie_side_by_side_where_they_fit(read):
    edge = neckline(10, 5)
    strip = piece("Neckband", 1, edge, fabric="rib", loop=24, quantity=2)
    cloth = figure_job(read(spec(strip, fabrics={"rib": table(stretch="60 %", width=18)})))[0].cloth
    # 16 1/2 in and 8 1/2 in of each strip: a row each for the longer ones, one for both shorter ones
    assert (cloth.rows, cloth.abreast, cloth.alike) == (3, 2, False)


def test_a_thousand_strips_in_sections_are_laid_at_once(hem):
    assert hem(12, quantity=999).cloth.rows == 5 * 999


def test_without_a_width_nothing_is_said_of_cloth(figure):
    strip = figure(fabric="rib")
    assert strip.cloth is None
    assert "cloth" not in strip.to_json()


def test_json_has_the_cloth(hem):
    assert hem(30).to_json()["cloth"] == {
        "strips_across": 1,
        "extra_end_seams": 1,
        "section_mm": pytest.approx(25.5 * IN),
        "length_mm": pytest.approx(5 * IN),
    }


@pytest.mark.parametrize("width", ["1/4", "1/2", "2 7/16"])
def test_cloth_narrower_than_the_strip_is_wide_is_refused(hem, width):
    says = (
        r"pieces\[0\].fabric: cloth of .* width is narrower than the strip, which is cut 2½ in .* wide; check the width"
    )
    with pytest.raises(SpecError, match=says):
        hem(width)


def test_cloth_too_narrow_for_sections_is_refused(hem):
    with pytest.raises(SpecError, match=r"pieces\[0\].fabric: cloth of .* would need the strip in more than 40"):
        hem(3, loop=119)


def test_sections_that_do_not_hold_a_slanted_end_are_refused(figure):
    edge = table(kind="neckline", whole=26, corners=[160])
    with pytest.raises(SpecError, match="corner: slanted ends do not fit on sections of"):
        figure(edge=edge, corner="mitre", fabric="tape")
