"""Contour bands that are no rings: a shaped waistband with an opening, an open hem, a neckline open at CF."""

from __future__ import annotations

import re
import tomllib
from cmath import phase
from math import atan2, degrees, dist, pi, radians, sin
from typing import Any

import pytest
from shapely import LineString, Point, Polygon

from tests.draft.test_contour import CURVES, EXACT, NECK, WAIST, drawing, figure, find, refused, shapes
from tests.specs import curved, piece, shaped, spec, table
from tiler.curves import Bezier, Curve, EllipseArc, line
from tiler.declaration import Tag
from tiler.draft.compute import figure_job
from tiler.draft.edition import Edition
from tiler.draft.figures import Figures
from tiler.draft.label import label_of
from tiler.draft.outline import draw_pieces
from tiler.draft.sections.strips import strips_of
from tiler.draft.spec.read import read_tables

CURVES.update(WAIST)
# the edge of a front from the hem at (0, 0) up and round to the shoulder, and half a back neck from there to CB
CURVES["edge"] = Curve.through([line(0j, 300j), Bezier((300j, 400j, 20 + 450j, 60 + 500j))])
CURVES["neck"] = Curve.through([Bezier((60 + 500j, 80 + 490j, 100 + 488j, 130 + 488j))])


def opened(edge: dict[str, Any], width: str = "20 mm", **keys: Any) -> Figures:
    return figure(edge, width, closed=False, **keys)


def waist(*names: str, **keys: Any) -> dict[str, Any]:
    parts = [table(name={"b": "back", "f": "front"}[name[0]], length=drawing(name)) for name in names]
    return table(kind="curved", parts=parts, garment="below", **keys)


SKIRT = ("bw", "fw", "fw", "bw")


def test_a_waistband_is_open_where_its_edge_ends() -> None:
    band = opened(waist(*SKIRT), "40 mm", ends="caught", end_allowance="15 mm")
    front, back = strips_of([band])
    assert [(one.name, one.cut, one.quantity) for one in (front, back)] == [
        ("Band, front", "on-fold", 2),
        ("Band, back", "full-loop", 4),
    ]
    assert band.ends == "caught"
    assert band.edge.edge_mm == pytest.approx(2 * (WAIST["fw"].length + WAIST["bw"].length), abs=4 * EXACT)
    # CB is drawn at the left; the side is a join, which takes the seam allowance
    assert back.section.joins == ("end caught in a seam", "end seam (front / back)")
    assert (back.left_end.allowance_along, back.end.allowance_along) == (15.0, 6.0)
    shape = back.shape
    for index, (end, beyond) in enumerate(zip(shape.ends, (15.0, 6.0), strict=True)):
        # C: the cut end runs the allowance beyond the end seam, square to the edge
        cut = (shape.lower[-index], shape.upper[-index])
        seam = LineString(end)
        assert all(LineString([*cut]).distance(Point(at)) == pytest.approx(beyond, abs=EXACT) for at in end)
        assert seam.length == pytest.approx(40 + 2 * 6, abs=2 * EXACT)
        a, b = shape.sewn[-index], shape.sewn[-2 if index else 1]
        (xa, ya), (xb, yb) = end
        # the first chord turns by half its own bend
        assert (b[0] - a[0]) * (xb - xa) + (b[1] - a[1]) * (yb - ya) == pytest.approx(0, abs=0.02 * dist(a, b) * 52)
    assert "join-allowance" in refused(waist(*SKIRT), "40 mm", closed=False, join_allowance="1 cm")


@pytest.mark.parametrize("run", [1, -1])
def test_an_underlap_runs_straight_on_at_one_end(run: int) -> None:
    for name, curve in WAIST.items():
        CURVES[name] = curve if run > 0 else curve.reversed()
    band = opened(waist(*SKIRT, after="32 mm"), "40 mm")
    CURVES.update(WAIST)
    front, plain, under = strips_of([band])
    assert [(one.name, one.cut, one.quantity) for one in (front, plain, under)] == [
        ("Band, front", "on-fold", 2),
        ("Band, back", "full-loop", 2),
        ("Band, back, 3.2 cm (1¼ in) beyond the edge", "full-loop", 2),
    ]
    # the one is the mirror image of the other: whichever end laps, two layers have it
    assert all("one is the mirror image" in one.cut_words for one in (plain, under))
    assert plain.section.joins == under.section.joins == ("turned end", "end seam (front / back)")
    assert under.shape.sewn_mm == pytest.approx(plain.shape.sewn_mm + 32, abs=EXACT)
    assert under.shape.finished_mm == pytest.approx(plain.shape.finished_mm + 32, abs=EXACT)
    # what is sewn to the edge is as long as that, and a notch tells where it leaves
    assert under.loop_mm == pytest.approx(WAIST["bw"].length, abs=EXACT)
    assert band.edge.edge_mm == pytest.approx(2 * (WAIST["fw"].length + WAIST["bw"].length), abs=4 * EXACT)
    assert [(mark.name, round(mark.at_mm, 1)) for mark in under.notches][:1] == [("leaves the edge", 32.0)]
    # 1:1 along the tangent: one chord, in line with the next one but for half the bend of that
    a, b, c = under.shape.sewn[:3]
    assert dist(a, b) == pytest.approx(32, abs=EXACT)
    off = abs((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])) / dist(a, b)
    assert off < EXACT
    lines = [one.text.replace("\u00a0", " ") for one in label_of(under, Edition("Top", "cm")).lines()]
    assert "runs on by 3.2 cm (1¼ in) at one end, 1:1" in lines


def test_ends_that_run_on_alike_are_cut_as_a_pair() -> None:
    band = opened(waist(*SKIRT, before="5 cm", after="5 cm"), "40 mm")
    assert [(one.name, one.quantity) for one in strips_of([band])] == [("Band, front", 2), ("Band, back", 4)]
    whole = opened(curved("40 cm", "50", before="5 cm", after="5 cm"), "40 mm")
    (half,) = strips_of([whole])
    assert (half.cut, half.loop_mm) == ("on-fold", pytest.approx(400, abs=EXACT))
    assert half.shape.sewn_mm == pytest.approx(250, abs=EXACT)
    assert [(mark.name, round(mark.at_mm, 1)) for mark in half.notches] == [("half", 0.0), ("leaves the edge", 200.0)]
    (full,) = strips_of([opened(curved("40 cm", "50", before="5 cm", after="5 cm"), "40 mm", cut="full-loop")])
    assert [(mark.name, round(mark.at_mm, 1)) for mark in full.notches] == [
        ("leaves the edge", 50.0),
        ("half", 250.0),
        ("leaves the edge", 450.0),
    ]


def test_an_edge_in_one_that_runs_on_at_one_end_is_cut_in_full() -> None:
    edge = curved("40 cm", "50", after="4 cm")
    (one,) = strips_of([opened(edge, "40 mm")])
    assert (one.cut, len(one.shape.ends)) == ("full-loop", 2)
    assert one.shape.sewn_mm == pytest.approx(440, abs=EXACT)
    assert 'cut: "on-fold" wants two halves alike' in refused(edge, "40 mm", closed=False, cut="on-fold")


@pytest.mark.parametrize("garment", ["above", "below"])
@pytest.mark.parametrize("run", [1, -1])
def test_before_lies_where_the_drawing_begins_whatever_side_the_garment_is_on(garment: str, run: int) -> None:
    # level for 100 mm at its left end, then up: what leaves the edge at one end goes straight on from there
    hem = Curve.through([line(0j, 100 + 0j), EllipseArc(100 + 80j, 80 + 0j, 80j, -pi / 2, pi / 5)])
    CURVES["hem"] = hem if run > 0 else hem.reversed()
    band = opened(table(kind="curved", whole=drawing("hem"), garment=garment, before="40 mm", after="15 mm"), "15 mm")
    (one,) = strips_of([band])
    sewn = one.shape.sewn
    # the end of the longer straight line is the level one of the drawing, with what lies beyond it
    ends = dist(sewn[0], sewn[2]), dist(sewn[-3], sewn[-1])
    level_first = ends[0] > ends[1]
    free = 40 if run > 0 else 15
    assert max(ends) == pytest.approx(100 + free, abs=EXACT)
    leaves = [mark.at_mm for mark in one.notches if mark.name == "leaves the edge"]
    assert leaves[0] == pytest.approx(free if level_first else 55 - free, abs=EXACT)
    # in the words the lengths are those of the ends of the piece, in JSON those of the edge
    left, right = (4.0, 1.5) if round(leaves[0]) == 40 else (1.5, 4.0)
    assert re.match(rf"runs on by {left} cm .* at the left end and {right} cm ", band.runs_on.words("cm"))
    assert (band.to_json()["ends"]["before_mm"], band.to_json()["ends"]["after_mm"]) == (40, 15)


@pytest.mark.parametrize("cut", ["on-fold", "full-loop"])
def test_a_raw_end_is_cut_where_it_is_sewn(cut: str) -> None:
    band = opened(table(kind="curved", whole=drawing("tail"), garment="above"), "12 mm", ends="raw", cut=cut)
    (one,) = strips_of([band])
    shape = one.shape
    assert shape.ends == ()
    assert one.end.allowance_along == 0.0
    # C: its cut end passes the ends of both seam lines
    end = LineString([shape.lower[-1], shape.upper[-1]])
    assert end.distance(Point(shape.sewn[-1])) < EXACT
    assert end.distance(Point(shape.finished[-1])) < EXACT
    assert end.length == pytest.approx(12 + 2 * 6, abs=EXACT)
    (drawn,) = draw_pieces([band], Edition("Top", "cm"))
    assert Tag.JOIN_LINE not in [part.tag for part in drawn.parts]
    longer = opened(
        table(kind="curved", whole=drawing("tail"), garment="above"), "12 mm", ends="raw", end_allowance="8 mm"
    )
    assert len(shapes(longer)[0].ends) == 1


def test_a_neckline_is_open_at_cf_and_its_front_is_cut_in_pairs() -> None:
    band = opened(NECK, fabric="rib")
    front, back = strips_of([band])
    assert [(one.cut, one.quantity) for one in (front, back)] == [("full-loop", 4), ("on-fold", 2)]
    assert front.section.joins == ("turned end", "end seam (shoulder)")
    assert band.edge.edge_mm == pytest.approx(2 * (CURVES["front"].length + CURVES["back"].length), abs=4 * EXACT)
    assert front.shape.sewn_mm == pytest.approx(90 * pi / 2, abs=EXACT)
    assert [(part.name, round(part.edge_mm, 1)) for part in band.edge.parts] == [
        ("front-half", round(90 * pi / 2, 1)),
        ("back-half", round(CURVES["back"].length, 1)),
    ]
    # both fronts run on alike, or neither does
    tied = opened(NECK | {"before": "20 cm", "after": "20 cm"})
    assert shapes(tied)[0].sewn_mm == pytest.approx(200 + 90 * pi / 2, abs=EXACT)
    said = refused(NECK | {"after": "3 cm"}, closed=False)
    assert said.startswith("spec.toml: pieces[0].edge.after: a neckline that is open at CF")
    assert 'give the edge as kind = "curved" in drawn parts' in said


def test_a_vee_that_is_open_ends_along_cf() -> None:
    front = shapes(opened(shaped("vee", "18 cm", "15 cm", "6 cm")))[0]
    (foot, top), _ = front.ends
    # C: the arm leans by atan(90 / 150) from CF; in the piece its ends are as drawn, CF upright
    assert foot[0] == pytest.approx(top[0], abs=EXACT)
    assert front.finished[0][1] - front.sewn[0][1] == pytest.approx(20 * dist((0, 0), (90, 150)) / 90, abs=EXACT)


def test_a_front_band_ends_at_the_hem_whichever_way_it_is_drawn() -> None:
    for reverse in (False, True):
        edge = CURVES["edge"]
        CURVES["run"] = edge.reversed() if reverse else edge
        parts = [
            table(name="right front", length=drawing("run")),
            table(name="back neck", length="18 cm", turning="60"),
            table(name="left front", length=drawing("run")),
        ]
        band = opened(table(kind="curved", parts=parts), "30 mm", end_allowance="2 cm")
        neck, front = strips_of([band])
        assert (neck.cut, front.quantity) == ("on-fold", 4)
        ends = dict(zip(front.section.joins, (front.left_end, front.end), strict=True))
        assert ends["turned end"].allowance_along == 20.0
        assert ends["end seam (back neck / left front)"].allowance_along == 6.0
        # the end at the hem is that of the straight stretch of 300 mm
        index = front.section.joins.index("turned end")
        sewn = front.shape.sewn[::-1] if index else front.shape.sewn
        assert dist(sewn[0], sewn[1]) == pytest.approx(300, abs=EXACT)


def test_parts_that_touch_in_one_drawing_tell_where_they_are_joined() -> None:
    # a hem of two parts that runs up to the right: neither end is level, and the lower one is where both meet
    CURVES["low"] = Curve.through([Bezier((100 - 40j, 140 - 35j, 180 - 20j, 220 + 0j))])
    CURVES["high"] = Curve.through([Bezier((100 - 40j, 60 - 44j, 30 - 44j, 0 - 40j))])
    parts = [table(name="left", length=drawing("high")), table(name="right", length=drawing("low"))]
    band = opened(table(kind="curved", parts=parts, garment="above"), "12 mm", end_allowance="2 cm")
    left, right = strips_of([band])
    assert {one.section.joins for one in (left, right)} <= {
        ("turned end", "end seam (left / right)"),
        ("end seam (left / right)", "turned end"),
    }
    # the one lies above its hem, so that the band runs from the right to the left of the drawing
    rises = {one.name: one for one in (left, right)}["Band, right"]
    index = rises.section.joins.index("turned end")
    tip = rises.shape.sewn[-index]
    chord = dist(rises.shape.sewn[0], rises.shape.sewn[-1])
    assert chord == pytest.approx(abs(120 + 40j), abs=EXACT)
    # the band hangs below the hem, so that it lies the other way up, and the end of the edge is at its left
    assert index == 0
    assert tip == rises.shape.sewn[0]


def test_a_part_with_one_open_end_is_not_folded() -> None:
    parts = [table(name=name, length=drawing("tail")) for name in ("front", "back")]
    band = opened(table(kind="curved", parts=parts, garment="above"), "12 mm")
    assert [(one.name, one.cut, one.section.joins) for one in strips_of([band])] == [
        ("Band, front", "full-loop", ("turned end", "end seam (front / back)")),
        ("Band, back", "full-loop", ("end seam (front / back)", "turned end")),
    ]
    edge = table(kind="curved", parts=parts, garment="above")
    assert 'cut: "on-fold" wants two halves alike' in refused(edge, "12 mm", closed=False, cut="on-fold")


def test_measured_parts_end_where_they_are_named() -> None:
    parts = [table(name="front", length="38 cm", turning="20"), table(name="back", length="40 cm", turning="30")]
    front, back = strips_of([opened(table(kind="curved", parts=parts, before="3 cm"), "40 mm", cut="full-loop")])
    assert front.section.joins == ("turned end", "end seam (front / back)")
    assert back.section.joins == ("end seam (front / back)", "turned end")
    assert [mark.name for mark in front.notches] == ["leaves the edge", "half", "front / back"]
    assert front.shape.sewn_mm == pytest.approx(410, abs=EXACT)


def test_free_ends_of_a_child_are_told() -> None:
    tied = opened(NECK | {"before": "20 cm", "after": "20 cm"}, child=True)
    assert tied.free_ends.startswith("Free ends at head or neck of a child's garment")
    assert not opened(NECK, child=True).free_ends


def test_figures_in_json_tell_the_ends() -> None:
    found = opened(waist(*SKIRT, after="32 mm"), "40 mm", end_allowance="15 mm").to_json()
    assert found["ends"] == {"finish": "turned", "allowance_mm": 15.0, "before_mm": 0.0, "after_mm": 32.0}
    assert [one["quantity"] for one in found["sections"]] == [2, 2, 2]


@pytest.mark.parametrize(
    ("keys", "why"),
    [
        ({"opening": table(must_pass="56 cm")}, "is what a ring must go over"),
        ({"join_allowance": "1 cm"}, "is that of a ring's end seam"),
        ({"buttons": table(count=1, first="1 cm", last="1 cm", diameter="1 cm")}, "mark them by hand, half a finished width"),
        ({"ends": "closed"}, '"closed" is not known'),
    ],
)  # fmt: skip
def test_what_an_open_band_has_not_is_refused(keys: dict[str, Any], why: str) -> None:
    assert why in refused(NECK, fabric="rib", closed=False, **keys)


def test_an_armhole_is_a_ring() -> None:
    assert 'an edge of kind "armhole" is a ring' in refused(
        table(kind="armhole", front=drawing("hole"), back=drawing("hole")), closed=False
    )


# Cloth to buy


def test_cloth_for_shaped_pieces_is_counted_by_the_boxes_around_them() -> None:
    rib = {"rib": table(stretch="60 %", width="30 cm")}
    band = piece("Band", "2 cm", NECK, seam_allowance="6 mm", form="contour", fabric="rib")
    (found,) = figure_job(read_tables(tomllib.loads(spec(band, units="cm", fabrics=rib)), "spec.toml", find))
    cloth = found.cloth
    front, back = shapes(found)
    # each twice as wide as it is drawn, on fold: one of them has room beside no other on 30 cm
    assert front.extents == (pytest.approx(96, abs=EXACT), pytest.approx(102, abs=EXACT))
    assert cloth.rows_mm == pytest.approx((front.width, front.width, back.width, back.width))
    assert found.to_json()["cloth"] == {"rows": 4, "length_at_most_mm": pytest.approx(2 * (front.width + back.width))}
    assert "Cloth: rib 30.0 cm (11 13/16 in) wide, at most" in found.piecing
    wide = {"rib": table(stretch="60 %", width="150 cm")}
    (found,) = figure_job(read_tables(tomllib.loads(spec(band, units="cm", fabrics=wide)), "spec.toml", find))
    # C: four pieces of 192 mm abreast, as high as the highest
    assert found.cloth.rows_mm == pytest.approx((front.width,))
    assert figure(NECK, fabric="rib").cloth is None


def test_extents_follow_the_grain() -> None:
    band = figure(table(kind="armhole", front=drawing("hole"), back=drawing("hole")), "15 mm", fabric="rib")
    shape = shapes(band)[0]
    x, y = shape.grain
    turned = Polygon([(u * y - v * x, u * x + v * y) for u, v in shape.outline])
    x0, y0, x1, y1 = turned.bounds
    assert shape.extents == pytest.approx((x1 - x0, y1 - y0), abs=1e-9)
    # the armhole is drawn 150 mm high, and CF is upright
    assert shape.extents[1] > 150


# How the edge turns along a piece


@pytest.mark.parametrize("name", ["front", "mirrored"])
def test_both_halves_of_a_quarter_of_a_circle_turn_alike(name: str) -> None:
    for run in (CURVES[name], CURVES[name].reversed()):
        CURVES["run"] = run
        band = figure(NECK | {"front-half": drawing("run"), "measured-on": "cut-edge", "garment-allowance": "6 mm"})
        assert shapes(band)[0].turns == pytest.approx((45, 45), abs=0.01)
    (arc,) = shapes(figure(curved("40 cm", "-50"), "50 mm"))
    assert arc.turns == pytest.approx((-12.5, -12.5), abs=0.5)
    (full,) = shapes(figure(curved("40 cm", "50"), "50 mm", cut="full-loop"))
    assert full.turns == pytest.approx((25, 25), abs=0.01)


def test_a_piece_in_full_has_the_point_at_its_middle() -> None:
    whole = shapes(figure(shaped("vee", "18 cm", "15 cm", "6 cm"), cut="full-loop"))[0]
    # C: the arms lean by atan(90 / 150) from CF, so the point turns by twice the rest of a right angle
    assert sum(whole.turns) == pytest.approx(180 - 2 * degrees(atan2(90, 150)), abs=0.01)
    assert shapes(figure(shaped("vee", "18 cm", "15 cm", "6 cm")))[0].turns == pytest.approx((0, 0), abs=0.01)


@pytest.mark.parametrize("reverse", [False, True])
@pytest.mark.parametrize("side", [1.0, -1.0], ids=["to the right", "to the left"])
@pytest.mark.parametrize(("garment", "sign"), [("above", -1), ("below", 1)])
def test_a_half_turns_from_its_centre_on(garment: str, sign: int, side: float, reverse: bool) -> None:
    # level for a while, then up by an arc of 30 degrees
    bend = EllipseArc(complex(100 * side, 80), 80 + 0j, 80j, -pi / 2, side * pi / 6)
    curve = Curve.through([line(0j, complex(100 * side, 0)), bend])
    CURVES["half"] = curve.reversed() if reverse else curve
    parts = [table(name=name, length=drawing("half")) for name in ("right", "left")]
    (shape,) = shapes(figure(table(kind="curved", parts=parts, garment=garment), "15 mm"))
    assert shape.on_fold
    assert shape.turns == pytest.approx((0, sign * 30), abs=0.1)


# A hem that bends both ways

S_HEM = Curve.through(
    [
        Bezier((0j, 60 + 0j, 90 - 70j, 180 - 70j)),
        Bezier((180 - 70j, 260 - 70j, 270 + 20j, 340 + 30j)),
        Bezier((340 + 30j, 380 + 36j, 400 + 30j, 430 + 20j)),
    ]
)


@pytest.mark.parametrize("garment", ["above", "below"])
@pytest.mark.parametrize("ends", ["turned", "raw"])
def test_a_hem_band_follows_a_hem_of_both_signs(garment: str, ends: str) -> None:
    CURVES["s"] = S_HEM
    (shape,) = shapes(opened(table(kind="curved", whole=drawing("s"), garment=garment), "25 mm", ends=ends))
    # Shapely: the line at the distance of the finished width on one side, made by another rule
    seam = LineString(shape.sewn)
    beside = seam.offset_curve(25, quad_segs=256)
    # its ends are square to the first chord, and not to the curve
    assert all(beside.distance(Point(at)) < 2 * EXACT for at in shape.finished[2:-2])
    finished = LineString(shape.finished)
    assert all(finished.distance(Point(at)) < 2 * EXACT for at in beside.coords[2:-2])
    for at in shape.finished:
        assert seam.distance(Point(at)) == pytest.approx(25, abs=EXACT)
    # Steiner: the finished edge differs by the width times the net turn, however often it bends to and fro
    net = radians(S_HEM.turning_deg) * (1 if garment == "below" else -1)
    assert shape.finished_mm == pytest.approx(shape.sewn_mm - 25 * net, abs=0.02)
    assert Polygon(shape.outline).is_valid


@pytest.mark.parametrize("reverse", [False, True])
@pytest.mark.parametrize("side", [1.0, -1.0], ids=["to the right", "to the left"])
@pytest.mark.parametrize(("garment", "longer"), [("above", 1), ("below", -1)])
def test_a_half_on_fold_lies_on_its_side_of_the_edge(garment: str, longer: int, side: float, reverse: bool) -> None:
    # from CF, where it is level, up to the side by 20 degrees
    half = Bezier((0j, 70 * side + 0j, complex(130 * side, 130 * sin(radians(3))), complex(200 * side, 32.3)))
    rise = degrees(atan2(32.3 - 130 * sin(radians(3)), 70))
    curve = Curve.through([half])
    CURVES["half"] = curve.reversed() if reverse else curve
    parts = [table(name=name, length=drawing("half")) for name in ("right", "left")]
    (shape,) = shapes(figure(table(kind="curved", parts=parts, garment=garment), "25 mm"))
    assert shape.on_fold
    # Steiner: below its hem a band lies outside of the bend and is longer, at a waist inside of it and shorter
    assert shape.finished_mm - shape.sewn_mm == pytest.approx(longer * 25 * radians(rise), abs=EXACT)


@pytest.mark.parametrize("garment", ["above", "below"])
def test_a_band_that_is_too_wide_for_a_bend_is_refused_by_its_place(garment: str) -> None:
    CURVES["s"] = S_HEM
    said = refused(table(kind="curved", whole=drawing("s"), garment=garment), "120 mm", closed=False)
    found = re.search(r"the finished edge of the band would cross itself (\S+) cm .* at most (\S+) cm", said)
    assert found
    # C: a parallel at the distance w runs backwards where the curvature is over 1 / w; one at 1 / the most does not,
    # which is the cut edge, 6 mm beyond the finished one
    run = S_HEM if garment == "below" else S_HEM.reversed()
    along, bends = 0.0, []
    for one in run.segments:
        for k in range(2000):
            a, b, c = (one.at((k + step) / 2000) for step in (0.0, 0.5, 1.0))
            bends.append((along, phase((c - b) / (b - a)) / abs(c - a) * 2))
            along += abs(c - a)
    first = next(at for at, bend in bends if bend > 1 / 120)
    assert float(found[1]) * 10 == pytest.approx(first, abs=2.0)
    assert float(found[2]) * 10 == pytest.approx(1 / max(bend for _, bend in bends) - 6, abs=1.0)
