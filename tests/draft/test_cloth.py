"""This checks strips on cloth: sections, extra end seams, rows, the length to buy.  C: counted by hand."""

import pytest

from tests.specs import piece, spec, straight, table
from tiler.draft.compute import figure_job
from tiler.draft.edition import Edition, Units
from tiler.draft.outline import draw_piece
from tiler.errors import SpecError

IN = 25.4


@pytest.fixture
def hem(read):
    def figure(width, loop=50, cut="full-loop", quantity=1):
        strip = piece("Hem", 1, straight(60), fabric="rib", loop=loop, cut=cut, quantity=quantity)
        return figure_job(read(spec(strip, fabrics={"rib": table(stretch="60 %", width=width)})))[0]

    return figure


def joins(figures):
    piece = draw_piece(figures, 1, Edition("Invented", Units.IN))
    return sorted(part.subpaths[0][0][0] / IN for part in piece.parts if part.tag == "JoinLine")


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
def test_a_strip_longer_than_the_cloth_gets_extra_end_seams(hem, width, seams, section):
    strip = hem(width)
    assert strip.cloth.extra_seams == seams
    assert strip.cloth.section_mm / IN == pytest.approx(section)
    # each is counted with two end allowances in the cut length, and drawn on both of its sides
    assert strip.cut_length_mm / IN == pytest.approx(50.5 + seams / 2)
    own = [0.25, 50.25 + seams / 2]
    extra = [x + side for x in (section * k for k in range(1, seams + 1)) for side in (-0.25, 0.25)]
    assert joins(strip) == pytest.approx(sorted(own + extra))
    assert strip.loop_mm / IN == pytest.approx(50)


def test_on_fold_extra_end_seams_come_in_pairs(hem):
    # two sections would do on 30 in, but one section has to lie on the fold: three of 50 / 3 + 1/2
    strip = hem(30, cut="on-fold")
    assert strip.cloth.extra_seams == 2
    assert strip.cut_length_mm / IN == pytest.approx((50 + 0.5 + 1) / 2)
    middle = (50 + 1.5) / 3 / 2
    assert joins(strip) == pytest.approx([middle - 0.25, middle + 0.25, 25.75 - 0.25])
    assert strip.extra_seams_mm == pytest.approx((middle * IN,))


def test_notches_keep_their_place_on_the_sewn_length(hem):
    # quarters of 50 in stand at 12.5, 25 and 37.5; each seam before them adds 1/2 in
    whole = hem("50 1/2")
    assert [notch.at_mm / IN for notch in whole.notches] == pytest.approx([12.75, 25.25, 37.75])
    pieced = hem(12)
    at = [notch.at_mm / IN for notch in pieced.notches]
    # five sections of 10 in sewn: one seam before 12.5, two before 25, three before 37.5
    assert at == pytest.approx([12.75 + 0.5, 25.25 + 1.0, 37.75 + 1.5])


def test_a_notch_on_an_extra_seam_stands_on_its_first_side(hem):
    strip = hem("25 1/2")
    assert strip.notches[1].name == "half"
    assert strip.notches[1].at_mm / IN == pytest.approx(25.25)


def test_sections_of_several_strips_share_rows(hem):
    cloth = hem(30, loop=50, quantity=3).cloth
    # six sections of 25 1/2 in, one across 30 in
    assert (cloth.abreast, cloth.rows) == (1, 6)
    assert cloth.length_mm / IN == pytest.approx(15)


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


@pytest.mark.parametrize("width", ["1/4", "1/2", "1", "1 1/2"])
def test_cloth_too_narrow_for_sections_is_refused(hem, width):
    with pytest.raises(SpecError, match=r"pieces\[0\].fabric: cloth of .* would need the strip in more than 40"):
        hem(width)


def test_sections_that_do_not_hold_a_slanted_end_are_refused(figure):
    edge = table(kind="neckline", whole=26, corners=[160])
    with pytest.raises(SpecError, match="corner: slanted ends do not fit on sections of"):
        figure(edge=edge, corner="mitre", fabric="tape")
