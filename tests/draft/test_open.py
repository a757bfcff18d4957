"""Strips that are no rings: their ends, their marks, the buttons along them, and what is refused."""

from __future__ import annotations

from math import radians
from typing import Any

import pytest

from tests.specs import Table, neckline, straight, table
from tiler.declaration import Tag
from tiler.draft.edition import Edition
from tiler.draft.label import label_of
from tiler.draft.outline import draw_piece
from tiler.errors import SpecError

IN = 25.4  # NIST SP 811, App. B
FRONTS = table(
    kind="curved",
    parts=[
        table(name="right front", length="56 cm", turning=0),
        table(name="back neck", length="18 cm", turning=90),
        table(name="left front", length="56 cm", turning=0),
    ],
)
BAND = {"finished_width": "2.5 cm", "seam_allowance": "1 cm", "fabric": "rib", "closed": False}


def buttons(count: int = 7, first: str = "2 cm", last: str = "1.5 cm", diameter: str = "15 mm", **keys: Any) -> Table:
    return table(count=count, first=first, last=last, diameter=diameter, **keys)


def test_the_sewn_length_lies_between_the_ends(figure):
    band = figure(**BAND, edge=straight("20 in"), end_allowance="3/8 in", ratio="100 %", cut="full-loop")
    assert (band.loop_mm / IN, band.cut_length_mm / IN) == (pytest.approx(20), pytest.approx(20.75))
    assert (band.join_place, band.is_open) == ("", True)
    assert band.to_json()["ends"] == {"finish": "turned", "allowance_mm": pytest.approx(0.375 * IN)}
    caught = figure(**BAND, edge=straight("20 in"), ends="caught", ratio="100 %", cut="full-loop")
    assert caught.cut_length_mm == pytest.approx(20 * IN + 2 * 10)
    raw = figure(**BAND, edge=straight("20 in"), ends="raw", ratio="100 %", cut="full-loop")
    assert raw.cut_length_mm == pytest.approx(20 * IN)
    assert not [part for part in draw_piece(raw, 1, Edition("Top", "in")).parts if part.tag == Tag.JOIN_LINE]


def test_a_straight_front_starts_one_to_one_and_the_neck_by_its_curve(figure):
    band = figure(**BAND, edge=FRONTS)
    front, neck, other = band.edge.parts
    assert front.strip_mm == other.strip_mm == pytest.approx(560)
    # C: by fabric (E - W / 2) / (1 + 0.25 x 0.6), here longer than flat (E - W) / 1.02, which is taken
    taken_up = 25 * radians(90)
    assert neck.strip_mm == pytest.approx(min((180 - taken_up / 2) / 1.15, (180 - taken_up) / 1.02))
    assert (band.cut.value, band.edge.ease) == ("on-fold", "by-curve")
    assert [(str(mark.name), mark.at_mm) for mark in band.notches] == [
        ("CB", 0),
        ("back neck / left front", pytest.approx(neck.strip_mm / 2)),
    ]
    assert band.cut_length_mm == pytest.approx(560 + neck.strip_mm / 2 + 10)


def test_a_neckline_with_an_opening_is_folded_at_cb(figure):
    band = figure(**BAND, edge=neckline("8 in", "4 in"), ratio="90 %")
    assert [(str(mark.name), mark.at_mm / IN) for mark in band.notches] == [("CB", 0), ("shoulder", pytest.approx(3.6))]
    full = figure(**BAND, edge=neckline("8 in", "4 in"), ratio="90 %", cut="full-loop")
    assert [str(mark.name) for mark in full.notches] == ["shoulder", "CB", "shoulder"]


def test_buttons_are_spaced_by_arithmetic(figure):
    # 7 centres from 2 cm to 56 - 1.5 cm: six spaces of 52.5 / 6; a hole is 1/8 in (3 mm) longer, common practice
    found = figure(**BAND, edge=FRONTS, buttons=buttons()).buttons
    assert found.apart_mm == pytest.approx(525 / 6)
    assert found.at_mm == pytest.approx([20 + 525 / 6 * number for number in range(7)])
    assert (found.hole_mm, found.y_mm, found.part) == (18, pytest.approx(10 + 12.5), "right front")
    # of the other front they are counted from its own end, which is the right one
    band = figure(**BAND, edge=FRONTS, buttons=buttons(on="left front"))
    assert band.buttons.at_mm == pytest.approx([band.loop_mm - at for at in reversed(found.at_mm)])
    one = figure(**BAND, edge=straight("10 cm"), buttons=buttons(1), units="cm").buttons
    assert (one.at_mm, one.apart_mm) == ((pytest.approx(20),), 0)


@pytest.mark.parametrize("direction", ["along", "across"])
@pytest.mark.parametrize("cut", ["on-fold", "full-loop"])
def test_a_buttonhole_is_drawn_where_its_figures_say(figure, direction, cut):
    band = figure(**BAND | {"finished_width": "3 cm"}, edge=FRONTS, cut=cut, buttons=buttons(direction=direction))
    marks = [part.subpaths for part in draw_piece(band, 1, Edition("Top", "in")).parts if part.tag == Tag.BUTTONHOLE]
    assert len(marks) == 7
    first = 20.0
    nearest = {"on-fold": band.loop_mm / 2 - first, "full-loop": first + 10}[cut]
    (hole, cross) = min(marks, key=lambda strokes: abs(strokes[0][0][0] - nearest))
    middle = tuple(sum(point[axis] for point in hole) / 2 for axis in (0, 1))
    assert middle == pytest.approx((nearest, 10 + 15))
    run = 0 if direction == "along" else 1
    assert hole[1][run] - hole[0][run] == pytest.approx(18)
    assert cross[1][1 - run] - cross[0][1 - run] == pytest.approx(4)


def test_label_says_ends_and_buttons(figure):
    band = figure(**BAND, edge=FRONTS, buttons=buttons())
    lines = [line.text.replace("\u00a0", " ") for line in label_of(band, Edition("Top", "cm")).lines()]
    assert "7 buttonholes, 1.8 cm (11/16 in) long, 8.8 cm (3 7/16 in) apart, on the part “right front”" in lines


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ({"ends": "raw"}, "ends: is for a strip that is open; write closed = false as well"),
        ({"end_allowance": "1 cm"}, "end-allowance: is for a strip that is open"),
        ({"closed": "no"}, "closed: must be true or false"),
        ({"closed": False, "ends": "closed"}, '"closed" is not known; write "turned", "raw" or "caught"'),
        ({"closed": False, "ends": "hemmed"}, '"hemmed" is not known; write "turned", "raw" or "caught"'),
        ({"closed": False, "join_at": "CB"}, "join-at: says where a ring is joined, and an open strip has two ends"),
        ({"closed": False, "join_allowance": "1 cm"}, "join-allowance: is that of a ring's end seam"),
        ({"closed": False, "corner": "mitre"}, "corner: is where the ends of a ring meet; leave it out, or closed"),
        ({"closed": False, "elastic": table(width="1 cm", ratio="80 %")}, "elastic: draws a ring in"),
        ({"closed": False, "opening": table(must_pass="20 in")}, "opening: is what a ring must go over"),
        ({"closed": False, "edge": table(kind="armhole", whole="20 in")}, 'an edge of kind "armhole" is a ring'),
        ({"buttons": buttons()}, "buttons: close a strip that is open; write closed = false as well"),
        ({"closed": False, "buttons": table(count=3)}, "buttons.first: is missing"),
        ({"closed": False, "buttons": buttons(), "stands": True, "turned_over": True}, "buttons: lie in the middle of the b"),
        ({"closed": False, "buttons": buttons(), "cut": "on-fold"}, 'cut: "on-fold" has them on both halves'),
        ({"closed": False, "finish": "raw-edge-binding", "buttons": buttons()}, "want a folded-band; on a raw-edge-bind"),
        ({"closed": False, "buttons": buttons(on="hem")}, "names a part, and the edge is not given in parts"),
        ({"closed": False, "edge": FRONTS, "buttons": buttons(on="hem")}, '"hem" is none of the parts: right front, back'),
        ({"closed": False, "edge": FRONTS, "cut": "on-fold", "buttons": buttons(3, on="back neck")}, "on: is on both sides"),
        ({"closed": False, "edge": straight("20 in"), "buttons": buttons(first="60 cm")}, "first: of 23⅝ in (60.0 cm) and last of 9/16 in (1.5 cm) leave nothing of the strip, which has only 20 in"),
        ({"closed": False, "edge": straight("20 in"), "buttons": buttons(30)}, "30 of 9/16 in (1.5 cm) lie ⅝ in"),
        ({"closed": False, "buttons": buttons(direction="across")}, "does not fit across a band of ½ in (1.3 cm)"),
        ({"closed": False, "buttons": buttons(0)}, "count: must be a whole number from 1 to 60"),
        ({"closed": False, "finished_width": "5 mm", "buttons": buttons()}, "is too narrow for buttonholes; they want one of ¼ in"),
    ],
)  # fmt: skip
def test_what_does_not_go_together_is_refused(figure, keys: dict[str, Any], said: str) -> None:
    with pytest.raises(SpecError) as fault:
        figure(**keys)
    assert said in str(fault.value)
    assert fault.value.code == 2


def test_unequal_halves_are_not_cut_on_the_fold(figure):
    unlike = FRONTS | {"parts": [*FRONTS["parts"][:2], table(name="left front", length="54 cm", turning=0)]}
    with pytest.raises(
        SpecError, match="wants parts that are mirrored about the fold, and “right front” has 22 1/16 in"
    ):
        figure(**BAND, edge=unlike, cut="on-fold")
    assert figure(**BAND, edge=unlike).cut.value == "full-loop"


@pytest.mark.parametrize(
    ("own", "words"),
    [
        ({"first": "3 mm"}, r"first: of .* leaves no cloth .*; write at least 1\.2 cm"),
        ({"first": "0 cm", "direction": "across"}, r"first: of .* leaves no cloth .*; write at least 0\.3 cm"),
        ({"on": "left front", "first": "1 cm"}, r"first: of .* leaves no cloth .*; write at least 1\.2 cm"),
    ],
)
def test_no_buttonhole_reaches_over_the_end_of_the_band(figure, own, words):
    """This test ensures it for a hole of 18 mm, half of which and 3 mm of cloth lie between its centre and the end."""
    with pytest.raises(SpecError, match=words):
        figure(**BAND, edge=FRONTS, buttons=buttons(**own), units="cm")
    least = "3 mm" if "direction" in own else "12 mm"
    assert figure(**BAND, edge=FRONTS, buttons=buttons(**own | {"first": least}), units="cm").buttons
    # on the other side the next part goes on
    assert figure(**BAND, edge=FRONTS, buttons=buttons(**{**own, "first": "2 cm", "last": "1 mm"})).buttons
    with pytest.raises(SpecError, match=r"last: of .* leaves no cloth"):
        figure(**BAND, edge=straight("30 cm"), buttons=buttons(last="1 mm"))
