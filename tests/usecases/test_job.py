"""Edges of a spec that come from drawings: the same figures as for the shape that was drawn.

The shapes have closed forms of their own (see ``tests/draft``); here a drawing of
a shape must give what the shape gives.
"""

from __future__ import annotations

import os
from math import acos, atan2, cos, degrees, radians, sin, tan
from pathlib import Path

import pytest

from tests.chosen import long
from tests.specs import Length, Table, neckline, piece, shaped, spec, straight, table, written
from tiler.commands import run
from tiler.draft.compute import figure_job
from tiler.draft.figures import Figures
from tiler.errors import NothingToMeasureError, SpecError, TilerError, UnreadableError
from tiler.usecases.job import read_job

pytestmark = pytest.mark.usefixtures("forked")

SLOPE = tan(radians(20))


def trued(depth: float, half: float = 85.0) -> tuple[float, float, float]:
    """Give the semi-axes of a trued scoop and the parameter at its neck point, by the formula of shapes."""
    end = acos(1 / (half / (depth * SLOPE) - 1))
    return half / sin(end), depth / (1 - cos(end)), end


(FRONT_A, FRONT_B, END), (BACK_A, BACK_B, _) = trued(108), trued(25)
JOINT = f"{FRONT_A * sin(END / 2):.9f} {108 - FRONT_B * (1 - cos(END / 2)):.9f}"

# trued scoops, 85 mm wide, 108 mm deep in front and 25 mm behind; a vee 85 wide, 200 deep; user unit 1 mm
DRAWING = f"""<svg xmlns="http://www.w3.org/2000/svg" width="300mm" height="300mm" viewBox="0 0 300 300">
<g transform="translate(20 30) rotate(17)">
<path id="front" d="M 0 108 A {FRONT_A:.9f} {FRONT_B:.9f} 0 0 0 85 0"/>
<path id="front-back-to-front" d="M 85 0 A {FRONT_A:.9f} {FRONT_B:.9f} 0 0 1 0 108"/>
<path id="back" d="M 0 25 A {BACK_A:.9f} {BACK_B:.9f} 0 0 0 85 0"/>
<path id="vee" d="M 0 200 L 85 0"/>
<path id="square-front" d="M 0 90 L 85 90 L 85 0"/>
<path id="ring" d="M 200 50 A 40 40 0 1 0 200 130 A 40 40 0 1 0 200 50 Z"/>
<path id="first-half" d="M 0 108 A {FRONT_A:.9f} {FRONT_B:.9f} 0 0 0 {JOINT}"/>
<path id="second-half" d="M {JOINT} A {FRONT_A:.9f} {FRONT_B:.9f} 0 0 0 85 0"/>
<path id="straight" d="M 0 250 L 210 250"/>
</g></svg>
"""


def figures(folder: Path, edge: Table, ratio: str | None = "flat", **keys: str) -> Figures:
    (folder / "front.svg").write_text(DRAWING)
    band = piece("Neckband", "1.5 cm", edge, fabric="rib", ratio=ratio, **keys)
    return figure_job(read_job(written(spec(band, units="cm", fabrics={"rib": "60 %"}), folder)))[0]


def drawn(id: str | list[str]) -> Table:
    return table(svg="front.svg", id=id)


def same(one: Figures, other: Figures) -> None:
    a, b = one.to_json(), other.to_json()
    for key in ("edge_mm", "turning_deg", "loop_mm", "cut_length_mm"):
        assert a[key] == pytest.approx(b[key], rel=1e-6), key
    for key in ("used", "flat", "flat_limit"):
        assert a["ratio"][key] == pytest.approx(b["ratio"][key], rel=1e-6), key
    for part, twin in zip(a["parts"], b["parts"], strict=True):
        assert part["edge_mm"] == pytest.approx(twin["edge_mm"], rel=1e-6)
        assert part["strip_mm"] == pytest.approx(twin["strip_mm"], rel=1e-6)


SCOOP = shaped("scoop", "17 cm", "10.8 cm", "2.5 cm")
HALVES = neckline(drawn("front"), drawn("back"))


@pytest.mark.parametrize("front", ["front", "front-back-to-front"])
@pytest.mark.parametrize("ease", ["even", "by-curve"])
def test_a_drawn_scoop_gives_the_figures_of_the_scoop(tmp_path: Path, front: str, ease: str) -> None:
    halves = neckline(drawn(front), drawn("back"))
    same(figures(tmp_path, halves, ease=ease), figures(tmp_path, SCOOP, ease=ease))


def test_on_the_cut_edge_the_corners_at_the_shoulder_count(tmp_path: Path) -> None:
    line = table(measured_on="cut-edge", garment_allowance="1 cm")
    same(figures(tmp_path, HALVES | line), figures(tmp_path, SCOOP | line))


def test_curves_are_chained_in_the_order_given(tmp_path: Path) -> None:
    # the joint lies on the ellipse to 1e-7 mm
    one = figures(tmp_path, neckline(drawn(["first-half", "second-half"]), drawn("back")))
    same(one, figures(tmp_path, SCOOP))


@pytest.mark.parametrize("corner", ["none", "mitre"])
def test_a_drawn_vee_with_its_point_stated_gives_the_figures_of_the_vee(tmp_path: Path, corner: str) -> None:
    point = 180 - 2 * degrees(atan2(85, 200))
    halves = neckline(drawn("vee"), drawn("back"), corners=[point])
    vee = shaped("vee", "17 cm", "20 cm", "2.5 cm")
    same(figures(tmp_path, halves, corner=corner), figures(tmp_path, vee, corner=corner))


def test_corners_within_a_drawn_half_are_found(tmp_path: Path) -> None:
    halves = neckline(drawn("square-front"), drawn("back"))
    same(figures(tmp_path, halves), figures(tmp_path, shaped("square", "17 cm", "9 cm", "2.5 cm")))


def test_one_half_may_be_drawn_and_the_other_measured(tmp_path: Path) -> None:
    one = figures(tmp_path, neckline(drawn("front"), "9.5 cm", end_allowance="1 cm"))
    scoop = figures(tmp_path, SCOOP)
    lengths = [part.edge_mm for part in one.edge.parts]
    assert lengths == [pytest.approx(scoop.edge.parts[0].edge_mm - 10), pytest.approx(85)]
    assert one.edge.turning_deg == pytest.approx(280)


def test_a_closed_curve_is_a_whole_edge(tmp_path: Path) -> None:
    one = figures(tmp_path, table(kind="curved", whole=drawn("ring")))
    # two half circles of radius 40: 2 pi r, and 360 degrees
    assert one.edge.edge_mm == pytest.approx(251.327412, rel=1e-6)
    assert one.edge.turning_deg == pytest.approx(360)


def test_a_drawn_straight_edge_may_not_turn(tmp_path: Path) -> None:
    assert figures(tmp_path, straight(drawn("straight")), ratio=None).edge.edge_mm == pytest.approx(210)
    with pytest.raises(SpecError, match='write kind = "curved"'):
        figures(tmp_path, straight(drawn("front")))


def with_front(front: Length, **keys: str) -> Table:
    return neckline(front, "9 cm", **keys)


REFUSED = {
    "missing file": (with_front(table(svg="frnt.svg", id="front")), UnreadableError, "no such"),
    "missing id": (with_front(drawn("frnt")), SpecError, "front"),
    "closed half": (with_front(drawn("ring")), SpecError, "is closed"),
    "vee without its point": (
        neckline(drawn("vee"), drawn("back")),
        SpecError,
        "measure neck-width and front-depth, or",
    ),
    "turning besides": (with_front(drawn("front"), turning="280"), SpecError, "contradicts the drawing"),
    "no file": (with_front(table(id="front")), SpecError, "svg: is missing"),
    "two files": (with_front(table(svg="a.svg", pdf="b.pdf")), SpecError, "contradicts"),
    "page of an svg": (with_front(table(svg="front.svg", page=2)), SpecError, "is for a PDF"),
    "no such number": (with_front(table(svg="front.svg", curve=70)), SpecError, "70"),
    "number in quotes": (with_front(table(svg="front.svg", curve="7")), SpecError, "whole number"),
    "outside": (with_front(table(svg="../front.svg", id="front")), SpecError, "outside"),
    "gap in a chain": (with_front(drawn(["front", "straight"])), SpecError, "mm"),
}


@pytest.mark.parametrize(("edge", "kind", "words"), REFUSED.values(), ids=REFUSED.keys())
def test_a_drawing_that_cannot_be_used_is_refused(
    tmp_path: Path, edge: Table, kind: type[TilerError], words: str
) -> None:
    with pytest.raises(kind, match=words) as caught:
        figures(tmp_path, edge)
    assert "edge" in str(caught.value)
    assert "\n" not in str(caught.value)


def test_a_link_that_leads_outside_is_refused(tmp_path: Path) -> None:
    outside = tmp_path / "elsewhere.svg"
    outside.write_text(DRAWING)
    folder = tmp_path / "specs"
    folder.mkdir()
    os.symlink(outside, folder / "link.svg")
    with pytest.raises(SpecError, match="outside"):
        figures(folder, neckline(table(svg="link.svg", id="front"), "9 cm"))


def test_the_chart_names_the_drawings(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    figures(tmp_path, HALVES)
    assert run(["figures", str(tmp_path / "spec.toml")]) == 0
    told = capsys.readouterr().out
    assert "front half: front.svg, front\n" in told
    assert "back half: front.svg, back\n" in told


def test_an_empty_drawing_has_its_own_exit_code(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "empty.svg").write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm" viewBox="0 0 9 9"/>'
    )
    with pytest.raises(NothingToMeasureError):
        figures(tmp_path, neckline(table(svg="empty.svg"), "9 cm"))
    assert run(["figures", str(tmp_path / "spec.toml")]) == 4
    assert "front-half" in capsys.readouterr().err


@long
def test_a_drawn_neckband_is_drafted_and_proved(tmp_path: Path) -> None:
    figures(tmp_path, HALVES)
    assert run(["draft", str(tmp_path / "spec.toml"), "-o", str(tmp_path / "out.pdf")]) == 0
