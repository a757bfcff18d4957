"""Bands that stand up, and such that are turned over: nothing is taken up, and the height is what shows."""

from __future__ import annotations

from typing import Any

import pytest

from tests.draft.conftest import FABRICS
from tests.specs import curved, neckline, piece, spec
from tiler.draft.compute import figure_job
from tiler.draft.edition import Edition
from tiler.draft.label import label_of
from tiler.errors import SpecError

IN = 25.4  # NIST SP 811, App. B
NECK = neckline("6 7/8", "3 1/2")


def test_a_band_that_stands_up_takes_nothing_up_in_its_length(figure):
    collar = figure(finished_width="1 3/4", stands=True, edge=NECK, fabric="rib")
    edge = 2 * (6.875 + 3.5)
    # C: E / (1 + 0.15 s), and the tightest E / (1 + 0.6 s), for 60 % stretch
    assert collar.edge.edge_mm / IN == pytest.approx(edge)
    assert collar.loop_mm / IN == pytest.approx(edge / 1.09)
    assert collar.ratio.tightest == pytest.approx(1 / 1.36)
    assert (collar.ratio.flat, collar.ratio.flat_limit) == (None, 1)
    assert {part.flat_mm for part in collar.edge.parts} == {None}
    assert not collar.warnings
    # the marks are those of the same edge without it
    flat = figure(finished_width="1/2", edge=NECK, fabric="rib")
    assert [mark.name for mark in collar.notches] == [mark.name for mark in flat.notches] == ["CF", "shoulder", "CB"]


@pytest.mark.parametrize(("over", "cut", "fold"), [(False, 4.0, 2.0), (True, 7.5, 3.75)])
def test_a_height_is_cut_twice_and_turned_over_four_times(figure, over, cut, fold):
    # textbook rule, from memory: rib is cut twice the finished height and two seam allowances of 1/4 in, for a
    # turtleneck twice that height
    collar = figure(finished_width="1 3/4", stands=True, turned_over=over, edge=NECK)
    assert collar.cut_width_mm / IN == pytest.approx(cut)
    assert collar.finished_width_mm / IN == pytest.approx(1.75)
    assert [line.y_mm / IN for line in collar.press_lines] == [pytest.approx(fold)]
    again = figure(finished_width=None, cut_width=f"{cut} in", stands=True, turned_over=over, edge=NECK)
    assert again.finished_width_mm == pytest.approx(collar.finished_width_mm)
    assert collar.to_json()["standing"] == ("turned-over" if over else "stands")


def test_any_height_goes(figure):
    # a flat band of that width fits no such neckline; its sentence names the way out
    with pytest.raises(SpecError, match=r"does not fit inside an edge .*, or write stands = true for a band that stan"):
        figure(finished_width="5 in", edge=NECK)
    collar = figure(finished_width="5 in", stands=True, edge=NECK, fabric="rib", ratio="95 %")
    assert not collar.warnings
    assert figure(finished_width="5 in", stands=True, edge=curved("10 in", "300"), fabric="rib").edge.bend is None


def test_the_label_says_its_height(figure):
    collar = figure(finished_width="2 1/2", stands=True, turned_over=True, edge=NECK, fabric="rib")
    lines = [line.text.replace("\u00a0", " ") for line in label_of(collar, Edition("Top", "in")).lines()]
    assert "height 2½ in (6.4 cm)" in lines
    assert "folded band, turned over · rib, 60 % stretch" in lines
    assert not any("lies flat" in line or "finished width" in line for line in lines)


def test_it_is_proved_by_what_must_pass_as_any_ring(figure):
    # C: the strip of E / 1.09 opens by its 60 %
    collar = figure(
        finished_width="1",
        stands=True,
        edge=NECK,
        fabric="rib",
        garment_fabric="rib",
        opening={"must-pass": "23 1/2 in"},
    )
    assert collar.opening.opens_to_mm / IN == pytest.approx(20.75 / 1.09 * 1.6)
    assert collar.opening.passes


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ({"turned_over": True}, "turned-over: is for a band that stands up; write stands = true as well"),
        ({"stands": "yes"}, "stands: must be true or false, not a text"),
        ({"stands": True, "finish": "raw-edge-binding"}, "stands: is for a folded-band, and a raw-edge-binding wraps"),
        ({"stands": True, "ratio": "flat"}, '"flat" means nothing for a band that stands up; write "advised"'),
        (
            {"stands": True, "corner": "mitre"},
            "corner: is where a flat band meets a point, and one that stands up runs",
        ),
        ({"stands": True, "ease": "by-curve"}, 'ease: "by-curve" shares out a band that lies flat in its bends'),
        ({"stands": True, "replaces": {"finish": "hem"}}, "replaces: says where the finished edge stays"),
    ],
)
def test_what_it_cannot_be_is_refused_with_the_way_out(read: Any, keys: dict[str, Any], said: str) -> None:
    with pytest.raises(SpecError) as fault:
        figure_job(read(spec(piece("Collar", edge=NECK, **({"finish": "folded-band"} | keys)), fabrics=FABRICS)))
    assert said in str(fault.value)
    assert fault.value.code == 2
