"""Leg openings with ratios of their own, and casings for elastic."""

from __future__ import annotations

from csv import DictReader
from io import StringIO
from math import radians
from typing import Any

import pytest

from tests.specs import Table, straight, table
from tiler.draft.chart_csv import chart_csv
from tiler.draft.edition import Edition
from tiler.draft.label import label_of
from tiler.errors import SpecError

IN = 25.4  # NIST SP 811, App. B


def leg(front: str = "10 in", back: str = "12 in", turning: float = 100, **keys: Any) -> Table:
    return table(kind="leg", front=front, back=back, turning=turning, **keys)


BINDING = {"finish": "raw-edge-binding", "finished_width": "3/8"}


def test_each_part_has_its_own_ratio(figure):
    # common practice: the front of briefs all but one to one, the back tighter
    one = figure(**BINDING, edge=leg(front_ratio="95 %", back_ratio="86 %"), fabric="half")
    assert [part.strip_mm / IN for part in one.edge.parts] == [pytest.approx(9.5), pytest.approx(12 * 0.86)]
    assert one.loop_mm / IN == pytest.approx(9.5 + 10.32)
    assert (one.quantity, one.cut.value, one.join_place) == (2, "full-loop", "inseam")
    assert [(mark.name, mark.at_mm / IN) for mark in one.notches] == [("side", pytest.approx(0.25 + 9.5))]
    assert "each part of the edge: stated in the spec" in one.ratio.source
    half = figure(**BINDING, edge=leg(front_ratio="95 %"), fabric="half", ratio="90 %", join_at="side")
    assert half.loop_mm / IN == pytest.approx(9.5 + 10.8)
    assert (half.join_place, half.notches[0].name) == ("side", "inseam")


def test_a_leg_opening_bends_as_it_is_said_to(figure):
    # measured on the cut edge, each part is longer by its half of the turning (Steiner)
    one = figure(**BINDING, edge=leg(measured_on="cut-edge"), fabric="half")
    assert one.edge.edge_mm / IN == pytest.approx(22 + 0.375 * radians(100))
    # C: by fabric (E - W / 2) / 1.05
    by_fabric = (22 + 0.375 * radians(100) / 2) / 1.05
    assert one.loop_mm / IN == pytest.approx(min(by_fabric, 22 / 1.02))
    straight_leg = figure(**BINDING, edge=leg(turning=0), fabric="half")
    assert straight_leg.ratio.flat is None
    with pytest.raises(SpecError, match="means nothing on a straight edge"):
        figure(**BINDING, edge=leg(turning=0), fabric="half", ratio="flat")


def test_a_casing_is_as_wide_as_its_elastic_needs_it(figure):
    # textbook rule, from memory: a casing is twice the elastic's width and ease, and two seams; 2 (10 + 2 + 6.35) mm
    band = figure(finished_width=None, elastic=table(width="1 cm", ratio="85 %"), edge=straight("30 in"), fabric="rib")
    assert band.cut_width_mm == pytest.approx(2 * (10 + 2 + 6.35))
    assert band.loop_mm / IN == pytest.approx(30)
    # C: 85 % of 30 in, and 3/4 in to lap
    assert band.elastic.cut_mm / IN == pytest.approx(25.5 + 0.75)
    assert band.to_json()["elastic"] == {
        "width_mm": 10,
        "cut_mm": band.elastic.cut_mm,
        "overlap_mm": pytest.approx(19.05),
    }
    wider = figure(finished_width="1 in", elastic=table(width="1 cm", length="24 in", overlap=0), ratio="90 %")
    assert (wider.finished_width_mm / IN, wider.elastic.cut_mm / IN) == (pytest.approx(1), pytest.approx(24))
    assert wider.ratio.used == pytest.approx(0.9)


def test_elastic_stands_on_label_and_chart(figure):
    band = figure(finished_width=None, elastic=table(width="1 cm", ratio="80 %"), edge=straight("30 in"), fabric="rib")
    lines = [line.text.replace("\u00a0", " ") for line in label_of(band, Edition("Top", "in")).lines()]
    assert "elastic ⅜ in (1.0 cm) wide: cut 24¾ in (62.9 cm), lap its ends by ¾ in (1.9 cm)" in lines
    (row,) = DictReader(StringIO(chart_csv([band])))
    assert (row["elastic in"], row["elastic cm"]) == ("24 3/4 in of 3/8 in", "62.9 cm of 1.0 cm")


def test_nobody_asks_a_casing_to_lie_flat(figure):
    flat = figure(ratio="100 %", fabric="rib")
    assert any("Stands away" in text for text in flat.warnings)
    assert not figure(ratio="100 %", fabric="rib", elastic=table(width="1 cm", ratio="80 %")).warnings


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ({"edge": table(kind="leg", front="9 in", back="9 in")}, "edge.turning: is missing; write turning"),
        ({"edge": leg(whole="20 in")}, "does not belong to a leg edge"),
        (
            {"edge": table(kind="armhole", front="9 in", back="9 in", front_ratio="90 %")},
            "is for a leg opening measured",
        ),
        ({"edge": table(kind="leg", whole="20 in", turning=0, back_ratio="90 %")}, "back-ratio: is for a leg opening"),
        ({"edge": leg(front_ratio="90 %", back_ratio="90 %"), "ratio": "90 %"}, "ratio: contradicts the ratios of all"),
        ({"edge": leg(shoulder_slope=20)}, "shoulder-slope: has no meaning for a leg edge"),
        ({"edge": leg(), "join_at": "underarm"}, 'is no place on an edge of kind "leg"; write "inseam" or "side"'),
        ({"elastic": {}}, "elastic.width: is missing"),
        ({"elastic": table(width="1 cm")}, 'elastic.ratio: is missing; write ratio = "85 %" of the edge, or length'),
        ({"elastic": table(width="1 cm", ratio="85 %", length="20 in")}, "contradicts ratio"),
        ({"elastic": table(width="1 cm", ratio="20 %")}, "is out of range"),
        (
            {"elastic": table(width="1/2 in", ratio="85 %")},
            "finished-width: leaves no room for elastic of ½ in (1.3 cm); write ⅝ in",
        ),
        (
            {"elastic": table(width="1 cm", ratio="85 %"), "stands": True, "turned_over": True},
            "leave it out, or turned-ov",
        ),
        (
            {"elastic": table(width="1 cm", ratio="85 %"), "ease": "by-curve"},
            'ease: "by-curve" shares out a band that lies',
        ),
        (
            {"elastic": table(width="1 cm", ratio="85 %"), "ease": "evenly"},
            'ease: "evenly" is not known; did you mean even?',
        ),
        ({"elastic": table(width="1 cm", ratio="85 %"), "finish": "french-binding"}, "has no room for it, so take the"),
        ({"elastic": table(width="1 cm", ratio="85 %"), "ratio": "flat"}, '"flat" means nothing for a casing'),
        ({"elastic": table(width="1 cm", ratio="85 %"), "corner": "mitre"}, "a casing with elastic runs round"),
        (
            {"elastic": table(width="1 cm", ratio="85 %"), "finished_width": None, "cut_width": "1 in"},
            "cut-width: leaves",
        ),
    ],
)
def test_what_does_not_go_together_is_refused(figure, keys: dict[str, Any], said: str) -> None:
    with pytest.raises(SpecError) as fault:
        figure(**keys)
    assert said in str(fault.value)
    assert fault.value.code == 2
