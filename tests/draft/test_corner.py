"""This checks mitred and lapped strips: the worked vee, and where slanted ends lie by plane geometry."""

from math import atan2, cos, degrees, hypot, radians, sin, tan

import pytest

from tests.specs import curved, neckline, piece, shaped, spec, table
from tiler.draft.compute import figure_job
from tiler.draft.edition import Edition, Units
from tiler.draft.outline import draw_piece
from tiler.errors import SpecError

IN = 25.4


def vee_spec(front: float = 8, corner: str = "mitre", cut: str = "on-fold") -> str:
    band = piece(edge=shaped("vee", 7, front, 1), fabric="rib", ratio="flat", corner=corner, cut=cut)
    return spec(band, fabrics={"rib": "50 %"})


VEE = vee_spec()


def lines(figures, tag):
    """Give the subpaths of all parts of a kind, inches."""
    piece = draw_piece(figures, 1, Edition("Invented", Units.IN))
    return [
        [(x / IN, y / IN) for x, y in subpath] for part in piece.parts if part.tag == tag for subpath in part.subpaths
    ]


def test_a_mitred_vee_on_fold_in_inches(read):
    # the worked job of the published formulas: beta = 23.629, phi = 132.741 degrees
    (vee,) = figure_job(read(VEE))
    front, back = vee.edge.parts
    assert front.edge_mm / IN == pytest.approx(8.7321, abs=5e-5)
    assert back.edge_mm / IN == pytest.approx(3.7677, abs=5e-5)
    assert vee.edge.edge_mm / IN == pytest.approx(24.9997, abs=5e-5)
    assert vee.loop_mm / IN == pytest.approx(23.2944, abs=5e-5)
    assert vee.ratio.flat_limit == pytest.approx(0.9486, abs=5e-5)
    assert vee.ratio.used == vee.ratio.flat
    assert vee.join_place == "CF"
    # the fold line of the closed strip is shorter by C = 2.2857 in
    fold = min(reach for _, reach in vee.end.seam)
    assert (vee.loop_mm + 2 * fold) / IN == pytest.approx(21.0087, abs=5e-5)
    # from the fold: 11.1281 in at the fold line, 12.8424 in at both raw edges
    assert vee.cut_length_mm / IN == pytest.approx(12.8424, abs=5e-5)
    (cut,) = lines(vee, "CutLine")
    approx = pytest.approx
    assert cut == [
        (0, 0),
        (approx(12.8424, abs=5e-5), 0),
        (approx(11.1281, abs=5e-5), approx(0.75)),
        (approx(12.8424, abs=5e-5), approx(1.5)),
        (0, approx(1.5)),
    ]


def test_the_end_seam_of_a_mitre_lies_its_allowance_inside_the_cut_end(read):
    (vee,) = figure_job(read(VEE))
    (cut,), (seam,) = lines(vee, "CutLine"), lines(vee, "JoinLine")
    (x0, y0), (x1, y1) = cut[1:3]
    for x, y in seam[:2]:
        # distance of a point from the line through two others
        distance = abs((x1 - x0) * (y0 - y) - (x0 - x) * (y1 - y0)) / hypot(x1 - x0, y1 - y0)
        assert distance == pytest.approx(0.25)


def test_the_press_line_ends_at_the_slanted_cut_edge(read):
    (vee,) = figure_job(read(VEE))
    assert lines(vee, "PressLine") == [
        [(0, pytest.approx(0.75)), (pytest.approx(11.1281, abs=5e-5), pytest.approx(0.75))]
    ]


def meeting(point, direction, other, way):
    """Give how far along ``direction`` from ``point`` two lines meet."""
    (x, y), (u, v), (p, q), (r, s) = point, direction, other, way
    return ((p - x) * s - (q - y) * r) / (u * s - v * r)


@pytest.mark.parametrize("corner", ["mitre", "lapped"])
@pytest.mark.parametrize("front", [8, 5, 3.2])
def test_slanted_ends_lie_where_the_arms_meet_in_the_plane(read, corner, front):
    # C: the vee drawn in the plane, its point at the origin; the right arm goes up at beta from the middle line.
    # Its inner parallel at w, and its outer one at s, are cut by the middle line (mitre) or by the left arm (lapped).
    (vee,) = figure_job(read(vee_spec(front, corner)))
    beta = atan2(3.5, front)
    arm, left = (sin(beta), cos(beta)), (-sin(beta), cos(beta))
    inwards = (-cos(beta), sin(beta))
    stop = (0.0, 1.0) if corner == "mitre" else left
    for y, inside in ((0.0, -0.25), (0.75, 0.5), (1.5, -0.25)):
        start = (inwards[0] * inside, inwards[1] * inside)
        lost = meeting(start, arm, (0.0, 0.0), stop)
        reach = next(reach for at, reach in vee.end.seam if at / IN == pytest.approx(y, abs=1e-9))
        assert reach / IN == pytest.approx(-lost, abs=1e-9)
    alpha = beta if corner == "mitre" else 2 * beta
    assert vee.end.allowance_along / IN == pytest.approx(0.25 / sin(alpha))


def test_a_mitred_vee_in_full_length_has_both_ends_slanted(read):
    (fold,) = figure_job(read(VEE))
    (vee,) = figure_job(read(vee_spec(cut="full-loop")))
    assert vee.cut_length_mm == pytest.approx(2 * fold.cut_length_mm)
    (cut,) = lines(vee, "CutLine")
    assert cut[0] == cut[-1]
    assert len(cut) == 7
    length = vee.cut_length_mm / IN
    for (x, y), (u, v) in zip(cut[:3], ((0, 0), (length, 0), (length - 12.8424 + 11.1281, 0.75)), strict=True):
        assert (x, y) == (pytest.approx(u, abs=1e-4), pytest.approx(v))
    assert cut[5] == (pytest.approx(12.8424 - 11.1281, abs=1e-4), pytest.approx(0.75))
    names = [notch.name for notch in vee.notches]
    assert names == ["point", "shoulder", "CB", "shoulder", "point"]
    middle = vee.cut_length_mm / 2
    assert [round(notch.at_mm - middle, 6) for notch in vee.notches] == [
        -round(notch.at_mm - middle, 6) for notch in reversed(vee.notches)
    ]
    assert vee.notches[2].double
    assert vee.notches[0].at_mm == pytest.approx(middle - vee.loop_mm / 2)


def test_the_notches_of_a_mitred_vee_count_from_cb(read):
    (vee,) = figure_job(read(VEE))
    assert [(notch.name, pytest.approx(notch.at_mm)) for notch in vee.notches] == [
        ("CB", 0),
        ("shoulder", vee.edge.parts[1].strip_mm),
        ("point", vee.loop_mm / 2),
    ]


def test_a_measured_vee_is_mitred_like_a_described_one(figure):
    phi = 132.7
    keys = {"corner": "mitre", "ratio": 0.9}
    band = figure(edge=neckline(9, 4, corners=[phi]), **keys)
    assert band.cut_length_mm / IN == pytest.approx(
        0.9 * 13 + 0.25 * tan(radians(phi / 2)) + 0.25 / cos(radians(phi / 2))
    )
    # C: the mitre is not in W, so the flat limit is that of the rest
    w, rest = 0.5, radians(280 - phi)
    assert band.ratio.flat_limit == pytest.approx(1 - w * rest / 26)
    round_it = figure(edge=neckline(9, 4, corners=[phi]), ratio=0.9)
    assert round_it.ratio.flat_limit == pytest.approx(1 - (w * rest + 2 * w * tan(radians(phi / 2))) / 26)


def test_both_spellings_of_mitre_are_taken(figure):
    edge = table(kind="neckline", whole=26, corners=[120])
    assert figure(edge=edge, corner="miter").end == figure(edge=edge, corner="mitre").end


def test_a_curved_edge_with_one_corner_is_seamed_there(figure):
    strip = figure(edge=curved(24, 300, corners=[80]), corner="mitre", cut="full-loop")
    assert strip.join_place == "corner"
    assert [notch.name for notch in strip.notches] == ["point", "quarter", "half", "quarter", "point"]


@pytest.mark.parametrize("finish", ["double-fold-binding", "french-binding", "raw-edge-binding"])
def test_a_mitred_binding_keeps_its_length_at_every_pass_of_the_seam_line(figure, finish):
    # C: the wrapped strip lies at the seam line where it is sewn and w inside it at the garment's edge
    w, phi = 0.5, 100
    cover = None if finish == "raw-edge-binding" else 0
    strip = figure(finish=finish, cover=cover, edge=table(kind="neckline", whole=26, corners=[phi]), corner="mitre")
    at = {round(y / IN, 6): reach / IN for y, reach in strip.end.seam}
    slant = w * tan(radians(phi / 2))
    assert (at[0], at[w], at[2 * w]) == (0, pytest.approx(0), pytest.approx(-slant))
    if finish == "double-fold-binding":
        assert (at[3 * w], at[4 * w]) == (pytest.approx(0), pytest.approx(-slant))
    if finish == "french-binding":
        assert (at[3 * w], at[4 * w], at[5 * w]) == (pytest.approx(0), pytest.approx(-slant), pytest.approx(0))
    if finish == "raw-edge-binding":
        # what is trimmed off lies its own width outside the seam line
        assert at[3 * w + 0.375] == pytest.approx(0.375 * tan(radians(phi / 2)))
    # the end seam stops at the seam line, since the allowance lies on the garment's
    (seam,) = lines(strip, "JoinLine")
    assert seam[0] == (pytest.approx(strip.loop_mm / 2 / IN), pytest.approx(w))


def test_a_vee_without_a_mitre_runs_round_and_is_clipped(figure):
    strip = figure(edge=neckline(9, 4, corners=[120]))
    assert strip.join_place == "CB"
    assert [notch.name for notch in strip.notches] == ["CF", "shoulder", "CB"]
    assert "clip the allowance to that stitching" in strip.instructions[0]
    assert not figure(edge=neckline(9, 4)).instructions


@pytest.mark.parametrize(
    ("keys", "expected"),
    [
        ({"corner": "mitre"}, 'corner: "mitre" is for one sharp corner, as at CF of a vee'),
        (
            {"corner": "mitre", "edge": table(kind="neckline", whole=26, corners=[90, 90])},
            'corner: "mitre" is for one sharp corner',
        ),
        (
            {"corner": "mitre", "edge": table(kind="armhole", whole=20, corners=[60])},
            'corner: "mitre" is for one sharp corner',
        ),
        (
            {
                "corner": "mitre",
                "edge": shaped("square", 8, 5, 2),
            },
            'corner: "mitre" is for one sharp corner',
        ),
        (
            {"corner": "lapped", "edge": table(kind="neckline", whole=26, corners=[40])},
            "corner: a corner of 40 degrees is too flat to lap (under 60); mitre it",
        ),
        (
            {
                "corner": "lapped",
                "finish": "french-binding",
                "edge": table(kind="neckline", whole=26, corners=[100]),
            },
            'corner: "lapped" is for a folded-band',
        ),
        (
            {
                "corner": "mitre",
                "loop": "3 in",
                "edge": table(kind="neckline", whole=26, corners=[150]),
            },
            "corner: the slanted ends take up the whole strip of 3 in (7.6 cm)",
        ),
        ({"corner": "mitred"}, 'corner: "mitred" is not known; did you mean mitre?'),
        ({"corner": 45}, "corner: must be a text in quotes, not a number"),
    ],
)
def test_a_corner_that_cannot_be_gets_one_sentence(figure, keys, expected):
    with pytest.raises(SpecError) as caught:
        figure(**keys)
    assert expected in str(caught.value)


def test_the_shoulders_of_a_vee_are_no_corners_to_clip(read):
    # the arms lean by 23.6 degrees and the shoulders slope by 20: 3.6 degrees there, at which a seam ends
    (vee,) = figure_job(read(VEE))
    assert vee.edge.turning_deg == pytest.approx(280)
    assert any("Stay-stitch the garment's corner" in step for step in vee.corner_steps)
    (square,) = figure_job(read(spec(piece("Band", 1, shaped("square", 8, 5, 1)))))
    assert any("Stay-stitch every corner" in step for step in square.corner_steps)


def test_the_strip_of_a_lapped_vee_is_that_of_a_mitred_one_but_for_its_ends(read):
    (mitred,) = figure_job(read(VEE))
    (lapped,) = figure_job(read(vee_spec(corner="lapped")))
    assert lapped.loop_mm == mitred.loop_mm
    assert lapped.ratio == mitred.ratio
    beta = degrees(atan2(3.5, 8))
    assert lapped.cut_length_mm / IN == pytest.approx(
        lapped.loop_mm / 2 / IN + 0.25 / tan(radians(2 * beta)) + 0.25 / sin(radians(2 * beta))
    )
    assert "sew each slanted end into the seam of the other arm" in lapped.instructions[1]
