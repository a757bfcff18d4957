"""This checks the doubts about numbers on both sides of their limits, all of them ours: nobody is refused."""

from __future__ import annotations

import pytest

from tests.specs import armhole, neckline, piece, shaped, spec, straight, table
from tiler.draft.compute import figure_job


@pytest.fixture
def doubt(figure):
    def texts(start, **keys):
        return [text for text in figure(**keys).warnings if text.startswith(start)]

    return texts


@pytest.mark.parametrize(
    ("edge", "start", "ask"),
    [
        (neckline(11, 5.1), "The neckline is 32 3/16 in", "wholes were not given as halves"),
        (neckline(11, 4.9), None, ""),
        (neckline(4, 1.9), "The neckline is 11 13/16 in", "halves were not given as wholes"),
        (neckline(4, 2.1), None, ""),
        (table(kind="neckline", whole=33), "The neckline is 33 in", "check the measures."),
        (neckline(16, 16), "The neckline is 64 in", "more than 32 in"),
        (straight(40), None, ""),
    ],
)
def test_a_neckline_that_nobody_has(doubt, edge, start, ask):
    found = doubt("The neckline is", edge=edge)
    assert len(found) == (start is not None)
    if start:
        assert found[0].replace("³⁄₁₆", " 3/16").startswith(start)
        assert ask in found[0]


def test_a_front_that_is_shorter_than_the_back(doubt):
    (text,) = doubt("The front half of 4 in", edge=neckline(4, 6))
    assert "is shorter than the back half of 6 in" in text
    assert "exchanged" in text
    assert not doubt("The front half", edge=neckline(6, 6))
    # the back of an armhole is often the longer part: common practice
    assert not doubt("The front", edge=armhole(8, 9))


def test_a_part_of_over_three_times_the_other(doubt):
    assert doubt("The front half of 9", edge=neckline(9, 2.9))
    assert not doubt("The front half", edge=neckline(9, 3.1))
    assert doubt("The back of 9", edge=armhole(2.9, 9))


@pytest.mark.parametrize(
    ("kind", "turns", "doubted"),
    # C: Gauss-Bonnet, 360 less 4 times a slope of 5 to 40 degrees; 180 and twice that
    [
        ("neckline", (100, 99), True),
        ("neckline", (100, 100), False),
        ("neckline", (170, 170), False),
        ("neckline", (200, 400), True),
        ("armhole", (130, 130), False),
        ("armhole", (130, 135), True),
        ("curved", (200, 400), False),
    ],
)
def test_parts_that_do_not_sum_up_to_the_turn_of_a_ring(doubt, kind, turns, doubted):
    parts = [table(name=name, length="10 in", turning=turn) for name, turn in zip("ab", turns, strict=True)]
    edge = table(kind=kind, parts=parts)
    assert bool(doubt(f"The parts turn by {sum(turns)}° in all, and such an edge by", edge=edge)) is doubted
    if kind == "neckline":
        # what is open may turn as it likes
        assert not doubt("The parts turn", edge=edge, closed=False)


@pytest.mark.parametrize(
    ("elastic", "said"),
    [
        ({"ratio": "59 %"}, "has 59 % of the edge, less than 60 %"),
        ({"ratio": "60 %"}, ""),
        ({"length": "19 in"}, ""),
        ({"length": "20 in"}, "has 100 % of the edge and does not draw it in"),
        ({"length": "50 in"}, "has 250 % of the edge and does not draw it in"),
    ],
)
def test_elastic_that_does_not_draw_its_edge_in(doubt, elastic, said):
    found = doubt("The elastic", edge=straight(20), elastic={"width": "1/4 in"} | elastic)
    assert len(found) == bool(said)
    assert not said or said in found[0]


@pytest.mark.parametrize(("slope", "doubted"), [(4.9, True), (5, False), (40, False), (41, True), (None, False)])
def test_a_shoulder_that_is_flat_or_steep(doubt, slope, doubted):
    edge = table(kind="neckline", whole=22, shoulder_slope=slope)
    assert bool(doubt("The shoulder-slope", edge=edge)) is doubted


@pytest.mark.parametrize(("stretch", "doubted"), [("4 %", True), ("5 %", False), ("200 %", False), ("201 %", True)])
def test_a_stretch_that_fabrics_hardly_have(read, stretch, doubted):
    band = piece("Cuff", "2 in", straight(9), fabric="rib", garment_fabric="rib")
    found = figure_job(read(spec(band, fabrics={"rib": stretch})))[0].warnings
    assert sum(text.startswith("rib stretches by") for text in found) == doubted


def test_a_width_of_over_a_quarter_of_the_half_neckline(doubt):
    assert doubt("The finished width of 3", edge=neckline(7, 4), finished_width="3 in")
    assert not doubt("The finished width", edge=neckline(7, 4), finished_width="2 3/4 in")


@pytest.mark.parametrize(("ratio", "doubted"), [(0.59, True), (0.6, False), (1.1, False), (1.12, True)])
def test_a_ratio_that_looks_like_half_of_something(doubt, ratio, doubted):
    assert bool(doubt("The strip has", edge=straight(20), ratio=ratio)) is doubted


def test_an_edge_that_is_taken_for_the_seam_line(doubt):
    known = {"garment_allowance": "1/4 in"}
    (text,) = doubt("The edge is taken for the seam line", edge=neckline(7, 4, **known))
    assert 'measured-on = "cut-edge"' in text
    assert not doubt("The edge is taken", edge=neckline(7, 4, measured_on="seam-line", **known))
    assert not doubt("The edge is taken", edge=neckline(7, 4, measured_on="cut-edge", **known))
    # a binding trims that allowance off and says so
    bound = {"finish": "double-fold-binding", "finished_width": "1/4 in"}
    assert not doubt("The edge is taken", edge=neckline(7, 4, **known), **bound)


def test_an_ordinary_neckline_raises_no_doubt(figure):
    # neck 18 cm, front 8, back 2: an ordinary scoop (common practice)
    strip = figure(edge=shaped("scoop", "18 cm", "8 cm", "2 cm"), finished_width="1.5 cm", fabric="rib")
    assert strip.warnings == ()
