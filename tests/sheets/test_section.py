"""The layers of every step, counted and measured in the very geometry that is drawn.

What they are checked against: the cut widths of the finishes (a double-fold
binding of four times the finished width and a french one of six times are
handbook rules, from memory; band and raw edge are geometry) and the length of
m layers that wrap by half a turn round n, longer by pi (n + m) t / 2 along
their middle (closed form).
"""

from __future__ import annotations

from itertools import pairwise
from math import hypot, pi

import pytest

from tiler.draft.strip.finish import Allowances, Finish, cut_width
from tiler.sheets.sewing.folds import sections
from tiler.sheets.sewing.section import PITCH, THICK, Cloth, Layer, Run, Section, hatching
from tiler.sheets.sewing.strip import COVER, TRIM, TRIMMED, WIDTH, strip_width
from tiler.sheets.sewing.words import FinishSteps, steps

SEWN_ON = [finish for finish in Finish if not finish.is_bought]
"""Elastic that is folded over the edge is sewn through all layers in one, as wide as it is bought."""

BINDINGS = [finish for finish in SEWN_ON if not finish.is_band]
NOTHING = Allowances()


def across(finish: Finish, in_ditch: bool = False) -> tuple[Section, ...]:
    """Give the steps that are cut across the strip: all but the end seam."""
    return sections(finish, in_ditch)[1:]


def pierced(section: Section) -> tuple[int, int]:
    """Give the layers under the needle: garment, strip."""
    assert section.needle is not None
    return section.count(section.needle, Cloth.GARMENT), section.count(section.needle, Cloth.STRIP)


def headings(section: Section, cloth: Cloth, x: float) -> list[tuple[float, bool]]:
    """Give the height of each layer of a cloth at ``x``, and whether its right side is up, from below."""
    found = []
    for layer in section.layers:
        if layer.cloth is cloth:
            for (x0, y0), (x1, _) in pairwise(layer.path):
                if (x0 <= x) != (x1 <= x):
                    found.append((y0, x1 > x0))
    return sorted(found)


@pytest.mark.parametrize("finish", Finish)
def test_the_finished_width_holds_as_many_layers_of_strip_as_the_cut_width_has_widths(finish: Finish) -> None:
    last = across(finish)[-1]
    widths = round(cut_width(finish, 1.0, NOTHING) - cut_width(finish, 0.0, NOTHING))
    middle = WIDTH[finish] / 2
    assert last.count(middle, Cloth.STRIP) == widths
    assert last.count(middle, Cloth.GARMENT) == (0 if finish.is_band else 1)


@pytest.mark.parametrize("finish", BINDINGS)
def test_what_wraps_and_what_is_wrapped_are_those_of_the_thickness_term(finish: Finish) -> None:
    # the drawn strip less its level runs is what its half turns take
    (strip,) = [layer for layer in across(finish)[-2].layers if layer.cloth is Cloth.STRIP]
    level = sum(abs(x1 - x0) for (x0, y0), (x1, y1) in pairwise(strip.path) if abs(y1 - y0) < 1e-9)
    thick = Allowances(thickness=PITCH, garment=PITCH)
    term = cut_width(finish, 1.0, thick) - cut_width(finish, 1.0, NOTHING)
    # half turns of twelve chords are shorter than the arc by 0.3 %
    assert strip.length - level == pytest.approx(term, rel=0.004)


@pytest.mark.parametrize(
    ("finish", "in_ditch", "layers"),
    [
        (Finish.FOLDED_BAND, False, [(1, 2), (2, 2)]),
        (Finish.DOUBLE_FOLD, False, [(1, 1), (1, 4)]),
        (Finish.DOUBLE_FOLD, True, [(1, 1), (1, 2)]),
        (Finish.FRENCH, False, [(1, 2), (1, 6)]),
        (Finish.FRENCH, True, [(1, 2), (1, 2)]),
        (Finish.RAW_EDGE, True, [(1, 1), (1, 1)]),
        (Finish.FOLD_OVER, False, [(1, 2)]),
    ],
)
def test_the_needle_goes_through_the_layers_of_the_finish(
    finish: Finish, in_ditch: bool, layers: list[tuple[int, int]]
) -> None:
    # the names of the finishes say it: turned under in 4 layers; doubled, both raw edges sewn at once; single
    sewn = [section for section in across(finish, in_ditch) if section.needle is not None]
    assert [pierced(section) for section in sewn] == layers


@pytest.mark.parametrize("finish", Finish)
@pytest.mark.parametrize("in_ditch", [False, True])
def test_the_words_count_the_layers_under_the_needle(finish: Finish, in_ditch: bool) -> None:
    for section in across(finish, in_ditch):
        if section.needle is not None:
            garment, strip = pierced(section)
            assert f"{garment} garment + {strip} strip" in [label.text for label in section.labels]


@pytest.mark.parametrize("finish", Finish)
@pytest.mark.parametrize("in_ditch", [False, True])
def test_a_strip_keeps_its_width_from_step_to_step(finish: Finish, in_ditch: bool) -> None:
    cover = COVER if in_ditch and finish in (Finish.DOUBLE_FOLD, Finish.FRENCH) else 0.0
    for number, section in enumerate(across(finish, in_ditch), 2):
        (strip,) = [layer for layer in section.layers if layer.cloth is Cloth.STRIP]
        trimmed = TRIM - TRIMMED if finish is Finish.RAW_EDGE and number == 7 else 0.0
        # half turns of twelve chords are shorter than the arc by 0.3 %
        assert strip.length == pytest.approx(strip_width(finish, cover) - trimmed, rel=0.003), number


@pytest.mark.parametrize("finish", SEWN_ON)
def test_right_sides_meet_in_the_first_seam_and_show_at_the_end(finish: Finish) -> None:
    first, *_, last = [section for section in across(finish) if section.needle is not None]
    ((_, garment_up),) = headings(first, Cloth.GARMENT, -0.5)
    assert garment_up
    assert not headings(first, Cloth.STRIP, -0.5)[0][1]
    shown = headings(last, Cloth.STRIP, WIDTH[finish] / 2)
    assert shown[-1][1]
    assert not shown[0][1]


@pytest.mark.parametrize("finish", Finish)
@pytest.mark.parametrize("in_ditch", [False, True])
def test_a_thread_stays_in_the_layers_that_it_was_sewn_through(finish: Finish, in_ditch: bool) -> None:
    sewn = next(section for section in across(finish, in_ditch) if section.needle is not None)
    for section in across(finish, in_ditch):
        for seam in section.seams[:1]:
            assert len(seam) == sum(pierced(sewn))
            for point in seam:
                assert min(distance(point, layer) for layer in section.layers) < 0.02


def distance(point: tuple[float, float], layer: Layer) -> float:
    """Return how far a point is from the middle of a layer."""
    return min(from_line(point, start, end) for start, end in pairwise(layer.path))


def from_line(point: tuple[float, float], start: tuple[float, float], end: tuple[float, float]) -> float:
    along = end[0] - start[0], end[1] - start[1]
    square = along[0] ** 2 + along[1] ** 2
    share = ((point[0] - start[0]) * along[0] + (point[1] - start[1]) * along[1]) / square if square else 0.0
    share = min(max(share, 0.0), 1.0)
    return hypot(point[0] - start[0] - share * along[0], point[1] - start[1] - share * along[1])


@pytest.mark.parametrize("finish", Finish)
@pytest.mark.parametrize("in_ditch", [False, True])
def test_no_two_layers_lie_in_one_place(finish: Finish, in_ditch: bool) -> None:
    for section in sections(finish, in_ditch):
        # under the needle layers are level, a pitch apart
        if section.needle is not None:
            levels = sorted(section.levels(section.needle))
            assert len(levels) > 1
            assert all(b - a == pytest.approx(PITCH, abs=0.2) for a, b in pairwise(levels))


@pytest.mark.parametrize("finish", Finish)
@pytest.mark.parametrize("in_ditch", [False, True])
def test_every_step_has_its_section(finish: Finish, in_ditch: bool) -> None:
    assert len(steps(FinishSteps(finish))) == len(sections(finish, in_ditch))


def test_half_a_turn_round_n_layers_is_as_long_as_the_closed_form() -> None:
    # pi (n + m) t / 2 with one layer round three
    turn = Layer(Cloth.STRIP, Run(0.0, 0.0).to(10.0).fold(-4 * PITCH).to(0.0).path())
    assert turn.length - 20.0 == pytest.approx(pi * (3 + 1) * PITCH / 2, rel=0.003)


def test_hatching_stays_within_the_layer() -> None:
    layer = Layer(Cloth.STRIP, Run(0.0, 0.0).to(20.0).path())
    strokes = hatching(layer)
    assert len(strokes) == 20
    assert {round(abs(y), 6) for stroke in strokes for _, y in stroke} == {THICK / 2}
