"""This checks where match marks stand: shares of the seam line, from the fold or the left cut end."""

import pytest

from tests.specs import armhole, curved, neckline, straight, table
from tiler.errors import SpecError

IN = 25.4
NECKLINE = neckline(7, 3)


def marks(figures):
    return [(notch.name, round(notch.at_mm / IN, 6), notch.double) for notch in figures.notches]


def test_a_neckline_on_fold(figure):
    strip = figure(edge=NECKLINE, ratio=0.8, join_allowance="1/2")
    assert marks(strip) == [("CF", 0, False), ("shoulder", 5.6, False), ("CB", 8, True)]


def test_a_neckline_in_full_length_has_both_shoulders_and_both_ends(figure):
    strip = figure(edge=NECKLINE, ratio=0.8, join_allowance="1/2", cut="full-loop")
    assert marks(strip) == [
        ("CB", 0.5, True),
        ("shoulder", 2.9, False),
        ("CF", 8.5, False),
        ("shoulder", 14.1, False),
        ("CB", 16.5, True),
    ]


def test_a_neckline_measured_whole_has_no_shoulder(figure):
    strip = figure(edge=table(kind="neckline", whole=20), ratio=0.8)
    assert [name for name, *_ in marks(strip)] == ["CF", "CB"]


def test_an_armhole_in_full_length_has_the_front_on_the_left(figure):
    strip = figure(edge=armhole(8, 12), ratio=0.8, cut="full-loop")
    assert marks(strip) == [("shoulder", 0.25 + 6.4, False)]


@pytest.mark.parametrize(("front", "back", "layer"), [(8, 12, "back"), (12, 8, "front")])
def test_an_armhole_on_fold_has_its_shoulder_on_the_longer_layer(figure, front, back, layer):
    # half the loop is 8 in, the shoulder 6.4 in from one end: 1.6 in from the fold
    strip = figure(edge=armhole(front, back), ratio=0.8)
    assert marks(strip) == [("shoulder", 1.6, False)]
    assert any(f"which is the {layer}" in text for text in strip.warnings)


def test_an_even_armhole_on_fold_has_its_shoulder_on_the_fold(figure):
    strip = figure(edge=armhole(10, 10), ratio=0.8)
    assert marks(strip) == [("shoulder", 0, False)]
    assert not any("layer" in text for text in strip.warnings)


@pytest.mark.parametrize(
    ("edge", "cut", "expected"),
    [
        (straight(9.99), "on-fold", [("half", 0.0)]),
        (straight(10), "on-fold", [("half", 0.0), ("quarter", 2.0)]),
        (straight(9.99), "full-loop", [("half", 0.25 + 3.996)]),
        (straight(10), "full-loop", [("quarter", 2.25), ("half", 4.25), ("quarter", 6.25)]),
        (curved(20, 90), "full-loop", [("quarter", 4.25), ("half", 8.25), ("quarter", 12.25)]),
    ],
)
def test_other_edges_have_their_half_and_from_ten_inches_on_their_quarters(figure, edge, cut, expected):
    strip = figure(edge=edge, ratio=0.8, cut=cut)
    assert marks(strip) == [(name, pytest.approx(at), False) for name, at in expected]


def test_named_notches_are_added(figure):
    strip = figure(edge=NECKLINE, ratio=0.8, notches=[table(name="placket", at="3 in")])
    assert marks(strip)[-1] == ("placket", 3, False)


def test_a_named_notch_outside_the_strip_is_refused(figure):
    # drawn on fold: 0.8 x 20 / 2 + 1/4 = 8 1/4 in
    figure(edge=NECKLINE, ratio=0.8, notches=[table(name="end", at="8 1/4 in")])
    with pytest.raises(SpecError, match=r"pieces\[0\].notches\[1\].at: .*outside the strip"):
        figure(edge=NECKLINE, ratio=0.8, notches=[table(name="a", at=0), table(name="b", at="8 3/8 in")])


def test_far_more_notches_than_a_strip_needs_are_refused(figure):
    entries = [table(name=f"mark {number}", at=f"{number / 10 + 1} in") for number in range(61)]
    strip = figure(edge=straight("20 in"), cut="full-loop", notches=entries[:60])
    assert sum(name.startswith("mark") for name, *_ in marks(strip)) == 60
    with pytest.raises(SpecError, match=r"notches: has 61 notches; at most 60 are taken on one piece"):
        figure(edge=straight("20 in"), cut="full-loop", notches=entries)
