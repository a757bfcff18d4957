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
    # halves and quarters of the whole are common practice where no seam tells the place
    assert marks(strip) == [("CF", 0, False), ("quarter", 4, False), ("CB", 8, True)]


def test_an_armhole_measured_whole_has_its_quarters(figure):
    strip = figure(edge=table(kind="armhole", whole=8), ratio=0.75)
    assert marks(strip) == [("quarter", 1.75, False), ("half", 3.25, False), ("quarter", 4.75, False)]


def test_an_armhole_in_full_length_has_the_front_on_the_left(figure):
    strip = figure(edge=armhole(8, 12), ratio=0.8)
    assert strip.cut == "full-loop"
    assert marks(strip) == [("shoulder", 0.25 + 6.4, False)]
    assert strip.front_first


def test_an_armhole_joined_at_the_shoulder_has_its_notch_at_the_underarm(figure):
    strip = figure(edge=armhole(8, 12), ratio=0.8, join_at="shoulder")
    assert marks(strip) == [("underarm", 0.25 + 6.4, False)]
    assert strip.join_place == "shoulder"
    folded = figure(edge=armhole(8, 12), ratio=0.8, join_at="shoulder", cut="on-fold")
    assert any("the underarm notch belongs on one layer only" in text for text in folded.warnings)


def test_a_neckline_joined_at_a_shoulder_lies_the_front_first(figure):
    # from the left end, a quarter inch of end seam before it: front 2 x 7, back 2 x 3, at 80 %
    strip = figure(edge=NECKLINE, ratio=0.8, join_at="shoulder")
    assert strip.cut == "full-loop"
    assert strip.front_first
    assert marks(strip) == [
        ("CF", 0.25 + 5.6, False),
        ("shoulder", 0.25 + 11.2, False),
        ("CB", 0.25 + 13.6, True),
    ]


def test_corners_on_the_way_keep_their_notches_from_the_shoulder(figure):
    edge = table(kind="neckline", shape="square", neck_width=8, front_depth=6, back_depth=2)
    at_back = figure(edge=edge, ratio=0.8, cut="full-loop")
    at_shoulder = figure(edge=edge, ratio=0.8, join_at="shoulder")
    names = [name for name, *_ in marks(at_shoulder)]
    assert names == ["corner", "CF", "corner", "shoulder", "CB"]
    # the way from CF to each corner is the same wherever the strip is joined
    way = {name: at for name, at, _ in marks(at_back)[2:]}
    _, front, corner, *_ = marks(at_shoulder)
    assert corner[1] - front[1] == pytest.approx(way["corner"] - way["CF"])


@pytest.mark.parametrize(
    ("edge", "place"),
    [(straight(20), "side"), (straight(20), "CB"), (straight(20), "underarm"), (curved(20, 90), "shoulder")],
)
def test_the_place_of_an_end_seam_is_named_where_it_is_free(figure, edge, place):
    assert figure(edge=edge).join_place == ""
    assert figure(edge=edge, join_at=place).join_place == place


@pytest.mark.parametrize(
    ("keys", "expected"),
    [
        ({"join_at": 3}, "join-at: must be a text in quotes, not a number"),
        ({"join_at": "CF"}, 'join-at: "CF" is not known; known are CB, shoulder, side, underarm'),
        (
            {"edge": NECKLINE, "join_at": "side"},
            'join-at: "side" is no place on an edge of kind "neckline"; write "CB" or "shoulder"',
        ),
        (
            {"edge": armhole(8, 9), "join_at": "CB"},
            'join-at: "CB" is no place on an edge of kind "armhole"; write "underarm" or "shoulder"',
        ),
        (
            {"edge": table(kind="neckline", whole=20), "join_at": "shoulder"},
            'join-at: "shoulder" needs the lengths of front and back; measure the neckline in halves, or write "CB"',
        ),
        ({"edge": NECKLINE, "join_at": "shoulder", "cut": "on-fold"}, 'cut: "on-fold" wants two halves alike'),
        (
            {"edge": neckline(9, 4, corners=[100]), "join_at": "CB", "corner": "mitre"},
            "join-at: contradicts corner, where the ends meet",
        ),
    ],
)
def test_an_end_seam_that_cannot_lie_there_is_refused(figure, keys, expected):
    with pytest.raises(SpecError) as caught:
        figure(**keys)
    assert expected in str(caught.value)


@pytest.mark.parametrize(("front", "back", "layer"), [(8, 12, "back"), (12, 8, "front")])
def test_an_armhole_on_fold_has_its_shoulder_on_the_longer_layer(figure, front, back, layer):
    # half the loop is 8 in, the shoulder 6.4 in from one end: 1.6 in from the fold
    strip = figure(edge=armhole(front, back), ratio=0.8, cut="on-fold")
    assert marks(strip) == [("shoulder", 1.6, False)]
    assert any(f"which is the {layer}" in text for text in strip.warnings)


def test_an_even_armhole_on_fold_has_its_shoulder_on_the_fold(figure):
    strip = figure(edge=armhole(10, 10), ratio=0.8, cut="on-fold")
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
