"""Contour bands: pieces that follow the edge, as long as it on their seam line and shaped by its parallels."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable
from itertools import pairwise
from math import cos, dist, pi, radians, sin, tan
from typing import Any

import pytest
from shapely import LineString, Point, Polygon

from tests.specs import armhole, curved, neckline, piece, shaped, spec, straight, table
from tiler.curves import Bezier, Curve, EllipseArc, line
from tiler.declaration import Tag
from tiler.draft.compute import figure_job
from tiler.draft.contour.shape import Shape
from tiler.draft.edge.from_drawing import Source
from tiler.draft.edition import Edition
from tiler.draft.figures import Figures
from tiler.draft.label import label_of
from tiler.draft.outline import draw_pieces
from tiler.draft.sections.strips import strips_of
from tiler.draft.spec.read import read_tables
from tiler.errors import SpecError

EXACT = 0.01
"""How exact a line is, mm."""

FABRICS = {"rib": "60 %", "jersey": "30 %"}
QUARTER = EllipseArc(0j, 90 + 0j, 90j, -pi / 2, pi / 2)
CURVES = {
    # a quarter of a circle from CF at (0, -90) to the shoulder at (90, 0)
    "front": Curve.through([QUARTER]),
    "back": Curve.through([EllipseArc(0j, 90 + 0j, 60j, -pi / 2, pi / 2)]),
    "mirrored": Curve.through([EllipseArc(0j, -90 + 0j, 90j, -pi / 2, pi / 2)]),
    "askew": Curve.through([EllipseArc(0j, 90 + 0j, 90j, -pi / 3, pi / 2)]),
    "tail": Curve.through(
        [Bezier((0j, 40 + 0j, 50 - 60j, 110 - 60j)), Bezier((110 - 60j, 170 - 60j, 180 + 0j, 220 + 0j))]
    ),
    "uneven": Curve.through([Bezier((0j, 40 + 0j, 50 - 60j, 150 - 60j))]),
    "ring": Curve.through([EllipseArc(0j, 90 + 0j, 90j, 0.0, 2 * pi)]),
    "arms": Curve.through([line(0j, 100 - 20j), line(100 - 20j, 200 + 0j)]),
    "upright": Curve.through([Bezier((0j, 10 + 40j, 10 + 80j, 120j))]),
    "straight": Curve.through([line(0j, 200 + 0j)]),
    "sharp": Curve.through([line(0j, 100 + 0j), EllipseArc(100 + 10j, 10 + 0j, 10j, -pi / 2, pi / 2)]),
    # underarm at (60, 0), shoulder at (0, 150)
    "hole": Curve.through([Bezier((60 + 0j, -20 + 30j, -20 + 90j, 150j))]),
}


def drawing(name: str) -> dict[str, Any]:
    return table(svg="drawn.svg", id=name)


def find(source: Source) -> Curve:
    return CURVES[source.ids[0]]


def figure(edge: dict[str, Any], width: str = "20 mm", **keys: Any) -> Figures:
    band = piece("Band", width, edge, seam_allowance="6 mm", form="contour", **keys)
    return figure_job(read_tables(tomllib.loads(spec(band, units="cm", fabrics=FABRICS)), "spec.toml", find))[0]


def refused(edge: dict[str, Any], width: str = "20 mm", **keys: Any) -> str:
    with pytest.raises(SpecError) as fault:
        figure(edge, width, **keys)
    return str(fault.value)


def shapes(figures: Figures) -> list[Shape]:
    return [one.shape for one in strips_of([figures]) if one.shape]


NECK = neckline(drawing("front"), drawing("back"))


def test_the_pieces_of_a_neckline_are_its_halves_on_fold():
    band = figure(NECK, fabric="rib")
    assert [(one.name, one.cut, one.quantity) for one in strips_of([band])] == [
        ("Band, front", "on-fold", 2),
        ("Band, back", "on-fold", 2),
    ]
    front, back = shapes(band)
    # a quarter of a circle of 90 mm: seam line, finished edge 20 mm inside (C: r theta)
    assert front.sewn_mm == pytest.approx(90 * pi / 2, abs=EXACT)
    assert front.finished_mm == pytest.approx(70 * pi / 2, abs=EXACT)
    # Steiner: a quarter turn takes pi / 2 off for each mm, whatever the curve
    assert back.sewn_mm - back.finished_mm == pytest.approx(20 * pi / 2, abs=EXACT)
    assert band.edge.edge_mm == pytest.approx(2 * (front.sewn_mm + back.sewn_mm))
    assert band.contour_mm == pytest.approx(band.edge.edge_mm - 20 * 2 * pi, abs=4 * EXACT)
    assert (band.loop_mm, band.ratio.used, band.seam_strain) == (band.edge.edge_mm, 1.0, 0.0)
    assert [(mark.name, mark.double) for mark in band.sections[0].notches] == [("CF", False), ("shoulder", False)]
    assert [mark.name for mark in band.sections[1].notches] == ["CB", "shoulder"]


@pytest.mark.parametrize("name", ["front", "mirrored"])
def test_a_half_lies_with_its_fold_at_the_left_however_it_is_drawn(name):
    curve = CURVES[name]
    for run in (curve, curve.reversed()):
        CURVES["run"] = run
        shape = shapes(figure(neckline(drawing("run"), drawing("back"))))[0]
        assert shape.sewn[0] == pytest.approx((0.0, 6.0), abs=EXACT)
        assert shape.sewn[-1] == pytest.approx((90.0, 96.0), abs=EXACT)
        assert shape.finished[-1] == pytest.approx((70.0, 96.0), abs=EXACT)
        # the end seam is square to the edge, and the cloth reaches the allowance beyond it
        (end,) = shape.ends
        assert [y for _, y in end] == pytest.approx([96.0, 96.0], abs=EXACT)
        assert shape.width == pytest.approx(102.0, abs=EXACT)
        assert (shape.on_fold, shape.grain) == (True, (0.0, 1.0))


def test_every_line_of_a_piece_runs_at_its_distance_from_the_seam_line():
    for edge in (NECK, table(kind="curved", whole=drawing("tail"), garment="above")):
        for shape in shapes(figure(edge, "12 mm")):
            seam, finished = LineString(shape.sewn), LineString(shape.finished)
            assert all(abs(seam.distance(Point(at)) - 12) < EXACT for at in shape.finished)
            for at in shape.outline:
                # the corners of the ends lie on the straight way on
                near = min(seam.distance(Point(at)), finished.distance(Point(at)))
                assert abs(near - 6) < EXACT or any(LineString(end).distance(Point(at)) > 5.9 for end in shape.ends)
            around = Polygon([*shape.outline, shape.outline[0]])
            assert around.is_valid
            assert around.buffer(EXACT).contains(LineString(shape.sewn))
            # what the outside of the bends gains by an allowance (s theta per half), their inside loses
            sewn = Polygon([*shape.sewn, *reversed(shape.finished)])
            gained = 6 * (shape.sewn_mm + shape.finished_mm) + 6 * (12 + 2 * 6) * len(shape.ends)
            assert around.area == pytest.approx(sewn.area + gained, rel=0.0001)


def test_a_measured_arc_has_the_lengths_of_its_circle():
    # C: a skirt's waist of 40 cm that turns by 50 degrees lies on a circle of L / theta
    band = figure(curved("40 cm", "50"), "50 mm", fabric="rib")
    (shape,) = shapes(band)
    radius = 400 / radians(50)
    assert 2 * shape.finished_mm == pytest.approx((radius - 50) * radians(50), abs=EXACT)
    # its widest place is the corner of the cut edge: on the circle 6 mm outside, and 6 mm along the tangent from there
    assert shape.length == pytest.approx((radius + 6) * sin(radians(25)) + 6 * cos(radians(25)), abs=EXACT)
    assert [warning for warning in band.warnings if warning.startswith("Of the edge nothing but length and turning")]
    # one that turns the other way has the band outside its bend, as at a hem
    (hem,) = shapes(figure(curved("40 cm", "-50"), "50 mm"))
    assert 2 * hem.finished_mm == pytest.approx((radius + 50) * radians(50), abs=EXACT)


def test_parts_that_turn_are_pieces_that_are_joined_where_the_parts_meet():
    parts = [table(name="front", length="38 cm", turning="20"), table(name="back", length="40 cm", turning="30")]
    band = figure(table(kind="curved", parts=parts), "40 mm", cut="full-loop")
    front, back = strips_of([band])
    assert [one.name for one in (front, back)] == ["Band, front", "Band, back"]
    assert [word for one in (front, back) for word in one.section.joins] == [
        "end seam",
        "end seam (front / back)",
        "end seam (front / back)",
        "end seam",
    ]
    assert front.loop_mm == pytest.approx(380, abs=EXACT)
    assert shapes(band)[1].finished_mm == pytest.approx(400 - 40 * radians(30), abs=EXACT)


def test_a_band_follows_a_hem_that_turns_both_ways():
    # the garment lies above the hem of a shirt: the band hangs below it
    (below,) = shapes(figure(table(kind="curved", whole=drawing("tail"), garment="above"), "12 mm"))
    (inside,) = shapes(figure(table(kind="curved", whole=drawing("tail"), garment="below"), "12 mm"))
    # it bends to both sides alike, so both finished edges are as long as the seam line (Steiner, net turn 0)
    assert below.finished_mm == pytest.approx(below.sewn_mm, abs=EXACT)
    assert inside.finished_mm == pytest.approx(inside.sewn_mm, abs=EXACT)
    # folded in its middle, the lowest point of the hem, which the other way up is the highest
    assert below.sewn[0][1] > below.sewn[-1][1]
    assert inside.sewn[0][1] < inside.sewn[-1][1]


def test_an_edge_measured_on_its_cut_edge_is_cut_at_its_seam_line():
    # the seam line runs the allowance outside a quarter circle of 90 mm
    edge = NECK | {"measured-on": "cut-edge", "garment-allowance": "6 mm"}
    front, _ = shapes(figure(edge))
    assert front.sewn_mm == pytest.approx(96 * pi / 2, abs=EXACT)
    assert front.finished_mm == pytest.approx(76 * pi / 2, abs=EXACT)


def test_halves_that_are_not_alike_are_cut_as_pairs():
    band = figure(armhole(drawing("hole"), drawing("hole")), "15 mm", fabric="rib")
    front, back = strips_of([band])
    assert (front.cut, front.quantity) == ("full-loop", 4)
    assert "Cut 4 in pairs: half of them are mirror images of the others." in front.cut_words
    assert front.section.joins == ("end seam (shoulder)", "end seam (underarm)")
    # CF is upright in the drawing: the grain is turned as the piece is
    x, y = front.shape.grain
    assert x**2 + y**2 == pytest.approx(1)
    assert abs(x) > 0.9
    assert [mark.name for mark in back.notches] == ["shoulder", "half", "underarm"]


def test_a_half_in_full_is_mirrored_about_its_centre():
    front, _ = strips_of([figure(NECK, cut="full-loop")])
    shape = front.shape
    assert shape.sewn_mm == pytest.approx(90 * pi, abs=EXACT)
    assert shape.length == pytest.approx(2 * 96, abs=EXACT)
    assert len(shape.ends) == 2
    assert [(mark.name, mark.at_mm) for mark in front.notches] == [
        ("shoulder", 0.0),
        ("CF", pytest.approx(45 * pi, abs=EXACT)),
        ("shoulder", pytest.approx(90 * pi, abs=EXACT)),
    ]
    assert "mirror" not in front.cut_words


def test_a_vee_is_mitred_at_its_fold():
    band = figure(shaped("vee", "18 cm", "15 cm", "6 cm"))
    front, _ = shapes(band)
    # C: on the upright fold the finished edge lies w / cos beta above the point, beta the lean of the arm
    assert front.finished[0][1] - front.sewn[0][1] == pytest.approx(20 * dist((0, 0), (90, 150)) / 90, abs=EXACT)
    assert front.finished[0][0] == front.sewn[0][0] == 0.0


def test_a_corner_at_the_shoulder_is_shared_where_its_slope_is_known():
    # quarter ellipses of a deep scoop end upright at a shoulder of 20 degrees: a corner of -40 degrees there
    told = shapes(figure(NECK | {"shoulder-slope": "20"}))[0]
    # each end leans outwards by half of that corner
    (end,) = told.ends
    (xa, ya), (xb, yb) = end
    assert (yb - ya) / (xb - xa) == pytest.approx(-tan(radians(20)), abs=1e-5)
    # without it the slope is an assumption, and the end is square to the edge
    (square,) = shapes(figure(NECK))[0].ends
    assert square[0][1] == pytest.approx(square[1][1], abs=EXACT)


def test_a_straight_part_is_folded_along_its_finished_edge():
    parts = [table(name="front", length="30 cm", turning="0"), table(name="back", length="40 cm", turning="30")]
    band = figure(table(kind="curved", parts=parts), "40 mm")
    front, back = strips_of([band])
    assert (front.shape.doubled, front.quantity, back.shape.doubled, back.quantity) == (True, 1, False, 2)
    assert front.shape.width == pytest.approx(2 * (40 + 6))
    drawn = draw_pieces([band], Edition("Top", "cm"))[0]
    tags = [part.tag for part in drawn.parts]
    assert (tags.count(Tag.PRESS_LINE), tags.count(Tag.SEAM_LINE)) == (1, 2)


def test_what_must_pass_is_held_against_the_finished_edge():
    band = figure(NECK, fabric="rib", garment_fabric="jersey", opening=table(must_pass="56 cm"))
    assert band.opening
    assert band.opening.opens_to_mm == pytest.approx(min(1.6 * band.contour_mm, 1.3 * band.edge.edge_mm))
    tight = figure(NECK, fabric="rib", garment_fabric="rib", opening=table(must_pass="75 cm"))
    assert [one.check for one in tight.failed] == ["opening"]


def test_the_label_says_its_extents_and_no_bounds_of_a_length():
    front = strips_of([figure(NECK, fabric="rib")])[0]
    lines = [one.text.replace("\u00a0", " ") for one in label_of(front, Edition("Top", "cm")).lines()]
    assert "CUT 2 ON FOLD" in lines
    assert "cut 9.6 cm (3¾ in) from the fold × 10.2 cm (4 in)" in lines
    assert "contour band, shaped like the edge · rib, 60 % stretch" in lines
    assert not [one for one in lines if "good" in one]


def test_figures_in_json_tell_both_edges():
    found = figure(NECK, fabric="rib").to_json()
    assert found["contour"]["finished_edge_mm"] == pytest.approx(found["edge_mm"] - 40 * pi, abs=0.05)
    assert [one["quantity"] for one in found["sections"]] == [2, 2]
    front = found["sections"][0]
    assert (front["cut_length_mm"], front["cut_width_mm"]) == pytest.approx((96, 102), abs=EXACT)
    assert front["finished_edge_mm"] == pytest.approx(70 * pi, abs=0.02)


def test_the_chords_of_a_line_stray_less_than_a_hundredth_of_a_millimetre():
    # C: the sagitta of a chord c on a circle r is r - sqrt(r^2 - c^2 / 4)
    shape = shapes(figure(NECK))[0]
    for at, radius in ((shape.sewn, 90), (shape.finished, 70)):
        longest = max(dist(a, b) for a, b in pairwise(at))
        assert radius - (radius**2 - longest**2 / 4) ** 0.5 < EXACT


# What it cannot be


@pytest.mark.parametrize(
    ("keys", "where"),
    [
        ({"stands": True}, "stands"),
        ({"stands": True, "turned_over": True}, "stands"),
        ({"elastic": table(width="1 cm", ratio="85 %")}, "elastic"),
        ({"buttons": table(count=2, first="1 cm", last="1 cm", diameter="1 cm")}, "buttons"),
        ({"cut_on": "bias"}, "cut-on"),
        ({"ratio": "85 %"}, "ratio"),
        ({"loop": "40 cm"}, "loop"),
        ({"fits": table(body="40 cm")}, "fits"),
        ({"ease": "even"}, "ease"),
        ({"trials": [table(date="2026-01-02", change="-5 mm")]}, "trials"),
        ({"corner": "mitre"}, "corner"),
        ({"join_at": "CB"}, "join-at"),
        ({"section": "even"}, "section"),
        ({"replaces": table(finish="facing")}, "replaces"),
        ({"notches": [table(name="pocket", at="2 cm")]}, "notches"),
    ],
)
def test_keys_of_a_straight_strip_are_refused_with_the_way_out(keys, where):
    said = refused(NECK, fabric="rib", **keys)
    assert said.startswith(f"spec.toml: pieces[0].{where}: ")
    assert 'leave out form = "contour"' in said
    assert "\n" not in said


def test_a_cut_width_is_none_of_a_shape():
    with pytest.raises(SpecError, match=r'cut-width: .* write finished-width, .* or leave out form = "contour"'):
        figure(NECK, None, cut_width="5 cm")  # type: ignore[arg-type]


def test_a_binding_is_refused():
    assert 'form: "contour" is for a folded-band, and a raw-edge-binding wraps the edge' in refused(
        NECK, finish="raw-edge-binding"
    )


@pytest.mark.parametrize(
    ("edge", "why"),
    [
        (neckline("18 cm", "11 cm"), "needs the shape of the edge, and lengths tell none: in a spec, name the drawings of front-half"),
        (neckline(drawing("front"), "11 cm"), "needs the shape of the edge"),
        (table(kind="neckline", whole="56 cm"), "needs the shape of the edge"),
        (armhole("18 cm", "19 cm"), "name the drawings of front and back"),
        (straight("40 cm"), "is for an edge that bends"),
        (table(kind="leg", whole="40 cm", turning="0"), "is for an edge that bends"),
        (table(kind="curved", whole=drawing("ring")), "the curve is closed; name open curves"),
        (curved("40 cm", "90", corners=[40]), "needs to know where the corners of the edge lie; name its drawing"),
        (NECK | {"end-allowance": "5 mm"}, "leaves open which end of the drawing it belongs to"),
        (table(kind="curved", whole=drawing("tail"), before="5 cm"), "is for a strip with two ends; write closed = false"),
        (neckline(drawing("askew"), drawing("back")), "leaves the centre 30° off the square; draw it upright"),
    ],
)  # fmt: skip
def test_an_edge_without_a_shape_is_refused(edge, why):
    assert why in refused(edge)


def test_a_fold_wants_halves_alike():
    edge = table(kind="curved", whole=drawing("uneven"))
    assert 'cut: "on-fold" wants two halves alike' in refused(edge, cut="on-fold")
    assert strips_of([figure(edge)])[0].cut == "full-loop"


@pytest.mark.parametrize(
    ("name", "width", "says"),
    [
        # a bend of 10 mm between 100 mm that are straight and its end
        ("sharp", "12 mm", "the finished edge of the band would cross itself 10.0 cm (3 15/16 in) from its left end along"),
        ("sharp", "9 mm", "the cut edge along the finished edge of the band would cross itself"),
        ("tail", "90 mm", "the finished edge of the band would cross itself"),
    ],
)  # fmt: skip
def test_lines_that_cross_themselves_are_refused_with_the_place(name, width, says):
    said = refused(table(kind="curved", whole=drawing(name)), width)
    assert says in said
    assert "rounder there" in said


def test_the_widest_band_that_is_offered_is_taken():
    # C: a bend of 10 mm has no parallel 10 mm inside, and the seam allowance takes 6 mm of them
    edge = table(kind="curved", whole=drawing("sharp"))
    for width in ("12 mm", "9 mm", "4 mm"):
        assert "take a band of at most 0.3 cm (1/16 in)" in refused(edge, width)
    assert figure(edge, "3 mm").finished_width_mm == 3


def test_the_width_that_is_named_goes_in_every_size():
    # the larger size is the wider ring with the tighter bend at its back
    depth = table(S="100 mm", L="106 mm")
    edge = shaped("scoop", table(S="240 mm", L="260 mm"), depth, "70 mm")

    def drawn(width: str) -> tuple[Figures, ...]:
        band = piece("Facing", width, edge, form="contour", seam_allowance="6 mm")
        return figure_job(read_tables(tomllib.loads(spec(band, units="cm", sizes=["S", "L"])), "spec.toml"))

    for width in ("12 cm", "7.4 cm", "6.5 cm"):
        with pytest.raises(SpecError, match=r"take a band of at most 6\.4 cm"):
            drawn(width)
    assert [one.size for one in drawn("6.4 cm")] == ["S", "L"]


@pytest.mark.parametrize("width", ["5 in", "3 13/16 in", "3 1/2 in", "3 3/16 in"])
def test_the_width_that_is_named_goes_and_a_step_more_does_not(width):
    # its finished edge, its cut edge and its centre refuse it at a width of their own
    named = "take a band of at most 3⅛ in (7.9 cm), "
    edge, keys = curved("20 in", "300"), {"form": "contour", "seam_allowance": "1/4 in"}

    def drawn(width: str) -> Figures:
        return figure_job(
            read_tables(tomllib.loads(spec(piece("Band", width, edge, **keys), units="in")), "spec.toml")
        )[0]

    with pytest.raises(SpecError, match=re.escape(named)):
        drawn(width)
    assert drawn("3 1/8 in").finished_width_mm == pytest.approx(3.125 * 25.4)


def test_no_width_is_named_where_the_narrowest_does_not_go():
    # what the allowance along the seam crosses, no narrower band mends: a hem that bends by 5 mm the other way
    CURVES["tight"] = Curve.through([line(0j, 100 + 0j), EllipseArc(100 - 5j, 5 + 0j, 5j, pi / 2, -pi / 2)])
    said = refused(table(kind="curved", whole=drawing("tight"), garment="below"), "20 mm")
    assert "the cut edge along the seam of the band would cross itself" in said
    assert said.endswith("; take a smaller seam-allowance, or draw the edge rounder there")
    # nearly a whole circle, of which a band of 1 mm would go: 0 in by the tape
    assert figure(curved("24.6 cm", "340"), "1 mm").finished_width_mm == 1
    assert refused(curved("24.6 cm", "340"), "5 mm").endswith(" along the edge; give the edge in more parts")


def test_a_band_that_reaches_over_the_centre_is_refused():
    # a neckline of 9 cm on each side has room for no band of 10
    assert "finished-width" in refused(NECK, "10 cm")


def test_garment_tells_the_side_of_a_drawn_edge_alone():
    assert "garment: is for an edge of kind" in refused(curved("40 cm", "50", garment="below"))
    assert "garment" in refused(table(kind="curved", whole=drawing("upright"), garment="below"))
    assert "garment: is for an edge of kind" in refused(NECK | {"garment": "below"})


def test_no_good_length_names_the_way_out():
    strip = piece("Band", "4 in", curved("22 in", "280 deg"), fabric="jersey")
    found = figure_job(read_tables(tomllib.loads(spec(strip, fabrics=FABRICS)), "spec.toml"))[0]
    (text,) = [one for one in found.warnings if one.startswith("No good length")]
    assert text.endswith('or cut it to the shape of the edge with form = "contour".')
    # who has only the paper is told without the key
    assert found.failed[0].on_paper.endswith("or cut a contour band, shaped like the edge.")


def test_the_curve_of_an_edge_is_not_lost_where_a_strip_is_cut_straight():
    plain: Callable[..., Any] = piece
    strip = plain("Band", "2 cm", NECK, fabric="rib")
    found = figure_job(read_tables(tomllib.loads(spec(strip, units="cm", fabrics=FABRICS)), "spec.toml", find))[0]
    assert found.contour_mm is None
    assert not found.sections


# Parts that are drawn

WAIST = {
    # from CF or CB to the side, where they rise
    "fw": Curve.through([Bezier((0j, 70 + 0j, 140 + 10j, 185 + 22j))]),
    "bw": Curve.through([Bezier((0j, 70 + 0j, 140 + 8j, 190 + 20j))]),
}


def waist(*names: str, **keys: Any) -> dict[str, Any]:
    CURVES.update(WAIST)
    parts = [table(name=f"part {number}", length=drawing(name)) for number, name in enumerate(names, 1)]
    return table(kind="curved", parts=parts, garment="below", **keys)


def test_drawn_halves_that_meet_in_the_middle_are_one_piece_on_fold():
    band = figure(waist("bw", "fw", "fw", "bw"), "40 mm")
    front, back = strips_of([band])
    assert [(one.name, one.cut, one.quantity) for one in (front, back)] == [
        ("Band, part 3", "on-fold", 2),
        ("Band, part 4", "full-loop", 4),
    ]
    assert band.edge.edge_mm == pytest.approx(2 * (WAIST["fw"].length + WAIST["bw"].length), abs=4 * EXACT)
    assert front.loop_mm == pytest.approx(2 * WAIST["fw"].length, abs=2 * EXACT)
    assert front.section.ends == ("end seam (part 3 / part 4)",)
    # drawn from CB, whose end is level, to the side: the end of the edge is its left one
    assert back.section.joins == ("end seam", "end seam (part 3 / part 4)")
    assert "mirror images" in back.cut_words


def test_the_ends_of_a_drawn_part_are_told_however_it_is_run():
    for reverse in (False, True):
        curves = {name: one.reversed() if reverse else one for name, one in WAIST.items()}
        CURVES.update(curves)
        parts = [table(name=name, length=drawing(name)) for name in ("bw", "fw", "fw", "bw")]
        back = strips_of([figure(table(kind="curved", parts=parts, garment="below"), "40 mm")])[1]
        assert back.section.joins == ("end seam", "end seam (fw / bw)")
        assert back.shape.ends[0][0][0] < back.shape.ends[1][0][0]
    CURVES.update(WAIST)


def test_drawn_parts_that_are_not_mirrored_do_not_tell_their_ends():
    band = figure(waist("bw", "fw", "fw"), "40 mm")
    assert [one.quantity for one in strips_of([band])] == [2, 2, 2]
    assert {one.section.joins for one in strips_of([band])} == {("end seam", "end seam")}


@pytest.mark.parametrize(
    ("edge", "why"),
    [
        (table(kind="neckline", parts=[table(name="a", length=drawing("fw")), table(name="b", length="9 cm")]), "may be a drawing on an edge of kind"),
        (table(kind="curved", parts=[table(name="a", length=drawing("fw"), turning="9"), table(name="b", length="9 cm", turning="9")]), "parts[0].turning: follows from the drawing"),
        (table(kind="neckline", parts=[table(name="a", length="30 cm"), table(name="b", length="20 cm")]), "needs the shape of the edge"),
    ],
)  # fmt: skip
def test_parts_that_tell_no_shape_are_refused(edge, why):
    CURVES.update(WAIST)
    assert why in refused(edge)


def test_a_front_and_a_back_that_are_alike_are_no_halves():
    parts = [table(name=name, length=drawing("tail")) for name in ("front", "back")]
    band = figure(table(kind="curved", parts=parts, garment="above"), "12 mm")
    assert [(one.name, one.cut, one.quantity) for one in strips_of([band])] == [
        ("Band, front", "on-fold", 2),
        ("Band, back", "on-fold", 2),
    ]
    assert band.edge.edge_mm == pytest.approx(2 * CURVES["tail"].length, abs=4 * EXACT)


def test_a_round_may_turn_by_more_than_half_a_circle_but_not_over_its_own_ends():
    # its middle lies beyond the lines of its end seams, and not on them
    wide = figure(curved("140 cm", "230"), "50 mm", cut="full-loop")
    assert strips_of([wide])[0].shape.sewn_mm == pytest.approx(1400, abs=EXACT)
    folded = figure(curved("140 cm", "200"), "50 mm")
    assert folded.sections[0].cut == "on-fold"
    # a whole circle closes over its own fold
    assert "would cross the centre along the edge; give the edge in more parts" in refused(
        curved("140 cm", "360"), "50 mm"
    )


def test_a_piece_wider_than_its_cloth_is_refused():
    narrow = {"rib": table(stretch="60 %", width="30 cm")}
    band = piece("Band", "4 cm", curved("40 cm", "30"), form="contour", fabric="rib")
    with pytest.raises(SpecError, match=r"fabric: a piece of .* across its grain is wider than the cloth, 30\.0 cm"):
        figure_job(read_tables(tomllib.loads(spec(band, units="cm", fabrics=narrow)), "spec.toml"))
