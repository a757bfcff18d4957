"""This checks cut widths against handbook rules and the geometry of folding.

M: the handbook rules are quoted from memory: double-fold tape is cut four times
its finished width (1/4 in -> 1 in), a french binding six times, a rib band
2 x finished + 1/2 in with two 1/4 in seams.
"""

from math import pi

import pytest

from tiler.draft.strip.finish import Allowances, Finish, cut_width, finished_width, press_lines, sewn_edges

IN = 25.4


@pytest.mark.parametrize("quarters", range(1, 9))
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
    ("finish", "layers", "around", "times"),
    [
        # C: m layers wrapped by half a turn round n are longer by pi (n + m) t / 2; the strip of a doubled
        # binding is cut for both its layers
        (Finish.DOUBLE_FOLD, 1, 3, 1),
        (Finish.FRENCH, 2, 3, 2),
        (Finish.RAW_EDGE, 1, 2, 1),
    ],
)
def test_thick_cloth_takes_up_width_where_it_wraps(finish, layers, around, times):
    t = 0.8
    extra = cut_width(finish, 10, Allowances(thickness=t)) - cut_width(finish, 10, Allowances())
    assert extra == pytest.approx(times * pi * (around + layers) * t / 2)


@pytest.mark.parametrize("finish", Finish)
def test_finished_width_undoes_cut_width(finish):
    for width in (3.0, 6.35, 12.7, 40.0):
        for extra in (Allowances(6, 9, 0, 0), Allowances(6.35, 9.525, 3.175, 0.7)):
            assert finished_width(finish, cut_width(finish, width, extra), extra) == pytest.approx(width)


def test_a_band_and_a_doubled_binding_are_pressed_in_half():
    for finish in (Finish.FOLDED_BAND, Finish.FRENCH):
        extra = Allowances(seam=6, cover=3, thickness=0.5)
        (line,) = press_lines(finish, 10, extra)
        assert line.y_mm == pytest.approx(cut_width(finish, 10, extra) / 2)
        assert sewn_edges(finish) == ("lower", "upper")


def test_a_double_fold_binding_shows_its_width_on_both_sides_of_the_fold():
    w, cover, t = 10.0, 3.0, 0.5
    extra = Allowances(cover=cover, thickness=t)
    seam, fold, under = (line.y_mm for line in press_lines(Finish.DOUBLE_FOLD, w, extra))
    turned = 2 * pi * t  # used up by the turn at the edge, half on either side
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
