"""This checks cut widths against handbook rules and the geometry of folding.

M: the handbook rules are quoted from memory: double-fold tape is cut four times
its finished width (1/4 in -> 1 in), a french binding six times, a rib band
2 x finished + 1/2 in with two 1/4 in seams.
"""

from math import pi

import pytest

from tests.chosen import over
from tests.specs import piece, spec, table
from tiler.draft.compute import figure_job
from tiler.draft.strip.finish import Allowances, Finish, cut_width, finished_width, press_lines, sewn_edges

IN = 25.4


@over("quarters", range(1, 9))
def test_handbook_widths(quarters):
    width = quarters * IN / 4
    assert cut_width(Finish.DOUBLE_FOLD, width, Allowances()) == pytest.approx(4 * width)
    assert cut_width(Finish.FRENCH, width, Allowances()) == pytest.approx(6 * width)
    assert cut_width(Finish.FOLDED_BAND, width, Allowances(seam=IN / 4)) == pytest.approx(2 * width + IN / 2)


def test_double_fold_tape_of_a_quarter_inch_is_cut_one_inch():
    assert cut_width(Finish.DOUBLE_FOLD, IN / 4, Allowances()) == pytest.approx(IN)


def test_common_cut_widths():
    # P: commonly cut 2 in double-fold at 1/2 in, 1 1/2 in doubled at 1/4 in; M: 1 1/2 in raw-edge at 3/8 in
    assert cut_width(Finish.DOUBLE_FOLD, IN / 2, Allowances()) == pytest.approx(2 * IN)
    assert cut_width(Finish.FRENCH, IN / 4, Allowances()) == pytest.approx(1.5 * IN)
    assert cut_width(Finish.RAW_EDGE, 3 / 8 * IN, Allowances(trim=3 / 8 * IN)) == pytest.approx(1.5 * IN)


@pytest.mark.parametrize(
    ("finish", "turns"),
    [
        # C: one layer wrapped by half a turn round n is longer by pi (n + 1) t / 2. The half turns of the section,
        # each as the layers of strip and of garment between its two legs: at the seam, at the edge, of the edge itself
        (Finish.DOUBLE_FOLD, [(0, 0), (2, 1), (0, 0)]),
        (Finish.FRENCH, [(2, 0), (0, 0), (4, 1), (2, 1), (0, 0)]),
        (Finish.RAW_EDGE, [(0, 0), (1, 1)]),
    ],
)
def test_thick_cloth_takes_up_width_in_every_half_turn(finish, turns):
    t, g = 0.8, 0.5
    extra = cut_width(finish, 10, Allowances(thickness=t, garment=g)) - cut_width(finish, 10, Allowances())
    assert extra == pytest.approx(sum(pi * ((strips + 1) * t + garments * g) / 2 for strips, garments in turns))


@pytest.mark.parametrize("finish", Finish)
def test_finished_width_undoes_cut_width(finish):
    for width in (3.0, 6.35, 12.7, 40.0):
        for extra in (Allowances(6, 9, 0, 0), Allowances(6.35, 9.525, 3.175, 0.7, 0.4)):
            assert finished_width(finish, cut_width(finish, width, extra), extra) == pytest.approx(width)


def test_a_band_and_a_doubled_binding_are_pressed_in_half():
    for finish in (Finish.FOLDED_BAND, Finish.FRENCH):
        extra = Allowances(seam=6, cover=3, thickness=0.5)
        (line,) = press_lines(finish, 10, extra)
        assert line.y_mm == pytest.approx(cut_width(finish, 10, extra) / 2)
        assert sewn_edges(finish) == ("lower", "upper")


def test_a_double_fold_binding_shows_its_width_on_both_sides_of_the_fold():
    w, cover, t, g = 10.0, 3.0, 0.5, 0.3
    extra = Allowances(cover=cover, thickness=t, garment=g)
    seam, fold, under = (line.y_mm for line in press_lines(Finish.DOUBLE_FOLD, w, extra))
    turned = pi * (2.5 * t + 0.5 * g)  # used up by the half turns, the middle of that at the edge in their middle
    assert seam == pytest.approx(w)
    assert fold - seam == pytest.approx(w + turned / 2)
    assert under - fold == pytest.approx(w + cover + turned / 2)
    assert cut_width(Finish.DOUBLE_FOLD, w, extra) - under == pytest.approx(w)
    assert sewn_edges(Finish.DOUBLE_FOLD) == ("lower",)


def test_a_raw_edge_binding_folds_in_the_middle_of_what_shows_and_keeps_its_trimming():
    w, trim = 10.0, 9.0
    seam, fold = (line.y_mm for line in press_lines(Finish.RAW_EDGE, w, Allowances(trim=trim)))
    assert (seam, fold) == pytest.approx((w, 2 * w))
    assert cut_width(Finish.RAW_EDGE, w, Allowances(trim=trim)) - fold == pytest.approx(w + trim)
    assert sewn_edges(Finish.RAW_EDGE) == ("lower",)


def test_the_fold_at_the_edge_lies_in_the_middle_of_its_half_turn():
    # C: half a turn at the seam (0.5 pi t), then half of that round allowance and garment (pi (t + 0.5 g) / 2)
    _, fold = (line.y_mm for line in press_lines(Finish.RAW_EDGE, 10.0, Allowances(thickness=0.6, garment=0.4)))
    assert fold == pytest.approx(20 + 0.5 * pi * 0.6 + pi * (0.6 + 0.2) / 2)


def test_the_garment_fabric_gives_its_own_thickness(read):
    def width(thickness):
        fabrics = {"rib": table(stretch="50 %", thickness="1 mm"), "jersey": table(stretch="50 %", thickness=thickness)}
        binding = piece(width="10 mm", finish="raw-edge-binding", fabric="rib", garment_fabric="jersey")
        return figure_job(read(spec(binding, fabrics=fabrics)))[0].cut_width_mm

    assert width("0.4 mm") == pytest.approx(30 + 3 / 8 * IN + pi * (1.5 + 0.2))
    # where it is not known it is taken for that of the strip
    assert width(None) == pytest.approx(30 + 3 / 8 * IN + pi * (1.5 + 0.5))


@pytest.mark.parametrize(("units", "cover"), [("in", IN / 8), ("cm", 3.0)])
@pytest.mark.parametrize("finish", [Finish.DOUBLE_FOLD, Finish.FRENCH])
def test_the_back_fold_of_a_binding_passes_the_stitching_unless_said_otherwise(figure, finish, units, cover):
    assert figure(units, finish=finish.value).cover_mm == pytest.approx(cover)
    assert figure(units, finish=finish.value, cover=0).cover_mm == 0
    assert figure(units, finish="raw-edge-binding").cover_mm == 0
