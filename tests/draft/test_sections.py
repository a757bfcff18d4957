"""Sections of a strip that is longer than its cloth: where they are joined, how long, with what marks.  C: by hand."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import combinations, pairwise
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tests.chosen import long, tries
from tests.specs import armhole, curved, neckline, piece, shaped, spec, straight, table
from tiler.draft.chart import chart_rows
from tiler.draft.compute import figure_job
from tiler.draft.edge.numbers import Part
from tiler.draft.edge.seam_line import Kind
from tiler.draft.figures import Figures
from tiler.draft.sections.plan import Ends, Span, planned
from tiler.draft.sections.ring import Ring, ring_of
from tiler.draft.sections.strips import strips_of
from tiler.draft.spec.read import read_tables
from tiler.draft.strip.corner import straight_end
from tiler.draft.strip.notches import JoinAt
from tiler.errors import SpecError
from tiler.sentence import Place

IN = 25.4
JOIN = 0.25
"""The end allowance of most strips here, in."""

Cutting = Callable[..., Figures]


@pytest.fixture
def cut(read: Callable[[str], Any]) -> Cutting:
    """Give the figures of a strip on cloth so wide, in; keyword arguments are keys of the piece."""

    def figure(width: float, edge: dict[str, Any], loop: float | None = None, **keys: Any) -> Figures:
        strip = piece("Band", **{"width": 1, **keys}, edge=edge, fabric="rib", loop=loop)
        return figure_job(read(spec(strip, fabrics={"rib": table(stretch="60 %", width=width)})))[0]

    return figure


def told(strip: Figures) -> dict[str, tuple[str, int, float]]:
    """Give how each section is cut, how often, and how long as drawn, in."""
    return {one.name: (one.cut.value, one.count, round(one.cut_length_mm / IN, 4)) for one in strip.sections}


def marks(strip: Figures, name: str) -> list[tuple[str, float, bool]]:
    """Give the notches of a section, in."""
    (section,) = [one for one in strip.sections if one.name == name]
    return [(notch.name, round(notch.at_mm / IN, 4), notch.double) for notch in section.notches]


NECK = neckline(10, 5)
"""At a sewn length of 24 in its front takes 16 in of the strip and its back 8 in."""


@pytest.mark.parametrize(
    ("width", "sections"),
    [
        # 24 + 1/2 in
        (24.5, {}),
        # both shoulders: 16 + 1/2 and 8 + 1/2, halves of them drawn
        (24.25, {"front section": ("on-fold", 1, 8.25), "back section": ("on-fold", 1, 4.25)}),
        (16.5, {"front section": ("on-fold", 1, 8.25), "back section": ("on-fold", 1, 4.25)}),
        # the front in halves would be joined at CF: thirds of 16 / 3 + 1/2
        (
            16.25,
            {
                "front sections 1 and 3 of 3": ("full-loop", 2, 5.8333),
                "front section 2 of 3": ("on-fold", 1, 2.9167),
                "back section": ("on-fold", 1, 4.25),
            },
        ),
        # the back is joined at CB before it is cut in parts
        (
            8.25,
            {
                "front sections 1 and 3 of 3": ("full-loop", 2, 5.8333),
                "front section 2 of 3": ("on-fold", 1, 2.9167),
                "back section": ("full-loop", 2, 4.5),
            },
        ),
    ],
)
def test_a_neckband_on_fold_is_joined_at_its_shoulders_then_at_cb(
    cut: Cutting, width: float, sections: dict[str, tuple[str, int, float]]
) -> None:
    assert told(cut(width, NECK, 24)) == sections


def test_many_parts_of_a_front_are_drawn_once_for_all_that_are_alike(cut: Cutting) -> None:
    # sevenths of 16 in: at CF lies the middle of the fourth
    strip = cut(3, NECK, 24, cut="full-loop")
    assert {one.name: (one.count, one.pair) for one in strip.sections if one.part == "front"} == {
        "front sections 1 and 7 of 7": (2, True),
        "front sections 2, 3, 5 and 6 of 7": (4, True),
        "front section 4 of 7": (1, False),
    }
    assert {name for name, _, _ in marks(strip, "front section 4 of 7")} == {"front join", "CF"}


def test_front_and_back_have_marks_that_meet(cut: Cutting) -> None:
    folded = cut(20, NECK, 24)
    assert marks(folded, "front section") == [("CF", 0.0, False), ("shoulder", 8.0, False)]
    assert marks(folded, "back section") == [("CB", 0.0, False), ("shoulder", 4.0, False)]
    whole = cut(20, NECK, 24, cut="full-loop")
    # single at one shoulder and double at the other
    assert marks(whole, "front section") == [
        ("right shoulder", JOIN, False),
        ("CF", 8.25, False),
        ("left shoulder", 16.25, True),
    ]
    assert marks(whole, "back section") == [
        ("left shoulder", JOIN, True),
        ("CB", 4.25, True),
        ("right shoulder", 8.25, False),
    ]


def test_each_section_covers_its_part_of_the_edge_at_its_own_ratio(cut: Cutting) -> None:
    strip = cut(20, NECK, 24)
    front, back = strips_of([strip])
    assert (front.edge.edge_mm / IN, back.edge.edge_mm / IN) == pytest.approx((20, 10))
    assert front.edge.label == "front of the neckline seam line"
    # by the curve the front takes less than its share, and its bounds are its own
    vee = cut(18, shaped("vee", 7, 8, 1), ratio="advised")
    front, back = strips_of([vee])
    parts = vee.edge.parts
    assert front.loop_mm == pytest.approx(2 * parts[0].strip_mm)
    assert front.ratio.used == pytest.approx(parts[0].strip_mm / parts[0].edge_mm)
    assert front.ratio.used != pytest.approx(vee.ratio.used, abs=0.01)
    assert front.ratio.tightest * front.edge.edge_mm == pytest.approx(2 * parts[0].tightest_mm)


def test_a_join_that_is_asked_for_stays(cut: Cutting) -> None:
    at_cb = cut(20.5, NECK, 24, join_at="CB")
    # from CB over one shoulder and the front to the other: 4 + 16 + 1/2 in
    assert told(at_cb) == {
        "front and left back section": ("full-loop", 1, 20.5),
        "right back section": ("full-loop", 1, 4.5),
    }
    narrower = cut(20.25, NECK, 24, join_at="CB")
    assert told(narrower) == {"front section": ("on-fold", 1, 8.25), "back section": ("full-loop", 2, 4.5)}
    assert cut(20, NECK, 24, join_at="shoulder", cut="full-loop").join_place == "shoulders"


def test_the_mitre_of_a_vee_is_the_only_join_at_cf(cut: Cutting) -> None:
    vee = cut(24, shaped("vee", 7, 8, 1), corner="mitre")
    # the strip in one would be folded at CB; so it is joined there
    assert {one.name: (one.count, one.pair) for one in vee.sections} == {"half section": (2, True)}
    (half,) = vee.sections
    assert half.joins == ("end seam (CF)", "join (CB)")
    assert [notch.name for notch in half.notches] == ["point", "shoulder", "CB"]
    narrow = cut(12, shaped("vee", 7, 8, 1), corner="mitre")
    assert [(one.name, one.count, one.cut.value) for one in narrow.sections] == [
        ("front section", 2, "full-loop"),
        ("back section", 1, "on-fold"),
    ]
    assert narrow.join_place == "CF"
    assert "Joins: shoulders." in narrow.piecing


def test_the_front_of_a_square_is_not_joined_at_its_corners(cut: Cutting) -> None:
    # arms of 6 in and 12 in across: a third of the front would end at the corner, so it is cut in more
    strip = cut(6, shaped("square", 12, 12, 1), 36, ease="even")
    corners = [notch.at_mm for notch in strip.notches if notch.name == "corner"]
    front = strip.edge.parts[0].strip_mm
    joins = [
        2 * front * index / one.shares
        for one in strip.sections
        if one.part == "front"
        for index in range(1, one.shares)
    ]
    middle = [abs(join - front) for join in joins]
    assert joins
    assert all(abs(one - corner) > JOIN * IN for one in middle for corner in corners)
    assert all(one > JOIN * IN for one in middle)


def test_an_armhole_is_joined_at_underarm_and_shoulder(cut: Cutting) -> None:
    strip = cut(14, armhole(9, 11), 18)
    assert told(strip) == {"front section": ("full-loop", 1, 8.6), "back section": ("full-loop", 1, 10.4)}
    assert marks(strip, "front section") == [("underarm", JOIN, True), ("shoulder", 8.35, False)]
    assert marks(strip, "back section") == [("shoulder", JOIN, False), ("underarm", 10.15, True)]
    assert strip.join_place == "underarm and shoulder"
    # an armhole's strips are cut twice
    assert [one.quantity for one in strips_of([strip])] == [2, 2]
    # front and back alike stay front and back
    assert [*told(cut(14, armhole(10, 10), 18))] == ["front section", "back section"]


@pytest.mark.parametrize(
    ("width", "keys", "sections"),
    [
        (26, {"cut": "full-loop"}, {"sections 1 and 2": ("full-loop", 2, 25.5)}),
        (26, {"cut": "on-fold"}, {"sections 1 and 2": ("on-fold", 2, 12.75)}),
        # with the end seam at CB halves would be joined at CF, with it at a side quarters would
        (26, {"join_at": "CB"}, {"sections 1 to 3": ("on-fold", 3, 8.5833)}),
        (26, {"join_at": "side"}, {"sections 1 and 2": ("on-fold", 2, 12.75)}),
        (13, {"join_at": "side"}, {"sections 1 to 5": ("on-fold", 5, 5.25)}),
        (13, {}, {"sections 1 to 4": ("on-fold", 4, 6.5)}),
    ],
)
def test_an_edge_without_known_seams_is_cut_in_equal_parts_from_the_end_seam(
    cut: Cutting, width: float, keys: dict[str, str], sections: dict[str, tuple[str, int, float]]
) -> None:
    strip = cut(width, straight(60), 50, **keys)
    assert told(strip) == sections
    # all alike: it does not matter which comes where
    (name,) = sections
    assert {mark for mark, _, _ in marks(strip, name)} == {"join", "middle"}


def test_a_neckline_by_one_number_keeps_its_marks_and_cf_free(cut: Cutting) -> None:
    strip = cut(20, table(kind="neckline", whole=30), 24, cut="full-loop")
    assert told(strip) == {"sections 1 and 3 of 3": ("full-loop", 2, 8.5), "section 2 of 3": ("full-loop", 1, 8.5)}
    assert marks(strip, "sections 1 and 3 of 3") == [
        ("CB", JOIN, True),
        ("quarter", 6.25, False),
        ("join", 8.25, False),
    ]
    assert marks(strip, "section 2 of 3") == [("join", JOIN, False), ("CF", 4.25, False), ("join", 8.25, False)]


def test_a_notch_of_the_spec_tells_sections_apart(cut: Cutting) -> None:
    pocket = [table(name="pocket", at="20 1/4 in")]
    strip = cut(20, straight(60), 48, cut="full-loop", notches=pocket)
    # 20 in along the sewn length, in the second of three sections of 16 in
    assert [*told(strip)] == ["section 1 of 3", "section 2 of 3", "section 3 of 3"]
    assert marks(strip, "section 1 of 3") == [
        ("end seam", JOIN, False),
        ("middle", 8.25, False),
        ("join 1", 16.25, False),
    ]
    assert marks(strip, "section 2 of 3") == [
        ("join 1", JOIN, False),
        ("pocket", 4.25, False),
        ("middle", 8.25, False),
        ("join 2", 16.25, True),
    ]


def test_a_notch_on_folded_cloth_is_on_both_sides_of_cf(cut: Cutting) -> None:
    strip = cut(20, NECK, 24, notches=[table(name="trim", at="3 in"), table(name="tag", at="11 in")])
    assert ("trim", 3.0, False) in marks(strip, "front section")
    # 11 in from CF is 1 in from CB
    assert ("tag", 1.0, False) in marks(strip, "back section")


def test_slanted_ends_of_a_section_reach_as_far_as_those_of_the_strip(cut: Cutting) -> None:
    whole = cut(60, shaped("vee", 7, 8, 1), corner="mitre")
    pieced = cut(12, shaped("vee", 7, 8, 1), corner="mitre")
    # all sections together are longer than the strip in one by two allowances for each of both joins
    cut_of_them = sum(one.count * one.full_length_mm for one in pieced.sections)
    assert cut_of_them == pytest.approx(2 * whole.half_length_mm + 4 * JOIN * IN)


def test_what_is_said_of_a_strip_in_sections(cut: Cutting) -> None:
    assert cut(20, NECK, 24).piecing == (
        "Cut in 2 sections, since rib is 20 in (50.8 cm) wide: front section, back section. Joins: shoulders. Sew the "
        "joins first, mark to mark, ¼ in (0.6 cm) from the ends, and press them open."
    )
    assert "front section 2 of 3, back section × 2. Joins: shoulders, CB, 2 within the front, which is longer" in (
        cut(8.25, NECK, 24).piecing
    )
    assert "Joins: the end seam and 1 more, at equal distances; let none of them lie at CF." in (
        cut(26, straight(60), 50).piecing
    )
    assert "Joins: the end seam (side) and 1 more, at equal distances." in (
        cut(26, straight(60), 50, join_at="side").piecing
    )


def test_json_and_chart_list_the_sections(cut: Cutting) -> None:
    strip = cut(20, NECK, 24, quantity=2)
    front, _ = strip.to_json()["sections"]
    assert front == {
        "name": "Band, front section",
        "cut": "on-fold",
        "quantity": 2,
        "mirrored_pair": False,
        "cut_length_mm": pytest.approx(8.25 * IN),
        "cut_width_mm": strip.cut_width_mm,
        "sewn_mm": pytest.approx(16 * IN),
        "edge_mm": pytest.approx(20 * IN),
        "joins": ["join (shoulder)", "join (shoulder)"],
        "notches": [{"name": "CF", "at_mm": 0.0}, {"name": "shoulder", "at_mm": pytest.approx(8 * IN)}],
    }
    assert "sections" not in cut(60, NECK, 24).to_json()
    (row,) = chart_rows([strip])
    assert row.sections is not None
    assert [(one.piece, one.length.inches, one.quantity) for one in row.sections.rows] == [
        ("Band, front section", "8¼ in", 2),
        ("Band, back section", "4¼ in", 2),
    ]


def test_every_size_has_the_plan_of_its_own_length(read: Callable[[str], Any]) -> None:
    edge = neckline({"S": 8, "M": 10, "L": 12}, 5)
    strip = piece("Band", 1, edge, fabric="rib", ratio="80 %")
    text = spec(strip, sizes=["S", "M", "L"], fabrics={"rib": table(stretch="60 %", width=21.5)})
    # 20.8 + 1/2, 24 + 1/2, 27.2 + 1/2 in
    assert [[section.name for section in one.sections] for one in figure_job(read(text))] == [
        [],
        ["front section", "back section"],
        ["front section", "back section"],
    ]


def test_slanted_ends_that_no_section_holds_are_refused(cut: Cutting) -> None:
    edge = curved(26, 160, corners=[160])
    with pytest.raises(SpecError, match="corner: slanted ends do not fit on sections of 4 in"):
        cut(4, edge, corner="mitre")


def plain(name: str, strip: float) -> Part:
    return Part(name, strip / 0.8, strip, 1.0, strip * 0.8, None, (strip,))


def ring(kind: Kind, strips: Sequence[float], pointed: bool = False, join_at: JoinAt | None = None) -> Ring:
    """Return the ring of strips for the parts of an edge."""
    names = {Kind.NECKLINE: ("front-half", "back-half"), Kind.ARMHOLE: ("front", "back")}.get(kind, ("whole",))
    parts = [plain(name, strip) for name, strip in zip(names, strips, strict=True)]
    edges = [[part.edge_mm] for part in parts]
    return ring_of(kind, parts, edges, [(1.0, None)] * len(parts), pointed, join_at)


def plan(one: Ring, cloth: float, join: float) -> tuple[Span, ...]:
    """Return the plan for straight ends on a strip of 10 mm."""
    return planned(one, Ends(straight_end(10.0, join), straight_end(10.0, join)), cloth, 10.0, Place("here"), "cm")


LENGTHS = st.floats(60.0, 400.0)
NECKS = st.builds(
    lambda front, back, join_at: ring(Kind.NECKLINE, (front, back), join_at=join_at),
    LENGTHS,
    LENGTHS,
    st.sampled_from([None, JoinAt.CB, JoinAt.SHOULDER]),
)
MITRED = st.builds(lambda front, back: ring(Kind.NECKLINE, (front, back), pointed=True), LENGTHS, LENGTHS)
ARMHOLES = st.builds(lambda front, back: ring(Kind.ARMHOLE, (front, back)), LENGTHS, LENGTHS)
HEMS = st.builds(
    lambda whole, place: ring(Kind.STRAIGHT, (whole,), join_at=place),
    st.floats(200.0, 1500.0),
    st.sampled_from([None, JoinAt.CB, JoinAt.SIDE]),
)
RINGS = st.one_of(NECKS, MITRED, ARMHOLES, HEMS)


def fewest(one: Ring, cloth: float, join: float) -> int:
    """Count the joins of the best choice of seams by trying all, each stretch in 1 to 40 parts."""
    return min(_counts(one, cloth, join), default=0)


def _counts(one: Ring, cloth: float, join: float) -> Iterator[int]:
    places = [seam.at for seam in one.seams]
    for size in range(1, len(places) + 1):
        for chosen in combinations(places, size):
            if one.stays and places[0] not in chosen:
                continue
            total = 0
            for start, end in pairwise((*chosen, chosen[0] + one.loop)):
                left = [at for place in places for at in (place, place + one.loop) if start < at < end]
                for parts in range(1, 41):
                    step = (end - start) / parts
                    joins = [start + step * index for index in range(1, parts)]
                    clear = all(
                        abs((join_at - at + one.loop / 2) % one.loop - one.loop / 2) >= join
                        for join_at in joins
                        for at in one.kept_clear
                    )
                    if step + 2 * join <= cloth + 1e-6 and clear and (parts == 1 or not left):
                        total += parts
                        break
                else:
                    total += 1000
            if total < 1000:
                yield total


@long
@settings(deadline=None, max_examples=tries(80))
@given(RINGS, st.floats(50.0, 900.0), st.floats(3.0, 9.0))
def test_a_plan_is_whole_fits_and_has_the_fewest_joins(one: Ring, cloth: float, join: float) -> None:
    assume(one.loop / (cloth - 2 * join) < 20)
    found = plan(one, cloth, join)
    if not found:
        assert one.loop + 2 * join <= cloth + 1e-6
        return
    # each begins where the last one ends, once round
    assert all(left.end == pytest.approx(right.start) for left, right in pairwise(found))
    assert sum(span.sewn for span in found) == pytest.approx(one.loop)
    assert all(span.sewn + 2 * join <= cloth + 1e-6 for span in found)
    assert len(found) == fewest(one, cloth, join)
    # CF of a neckline is never joined but at the point of a mitre, nor where it may be on a hem
    for span in found:
        for at in one.kept_clear:
            assert min((span.start - at) % one.loop, (at - span.start) % one.loop) >= join - 1e-6


@long
@settings(deadline=None, max_examples=tries(60))
@given(st.floats(5.0, 14.0), st.floats(3.0, 9.0), st.floats(6.0, 30.0), st.sampled_from(["on-fold", "full-loop"]))
def test_the_sewn_lengths_of_all_sections_make_up_that_of_the_strip(
    front: float, back: float, width: float, way: str
) -> None:

    strip = piece("Band", 1, neckline(front, back), fabric="rib", cut=way)
    keys = {"title": "t", "units": "in", "fabrics": {"rib": table(stretch="60 %", width=width)}, "pieces": [strip]}
    (figures,) = figure_job(read_tables(keys, "spec.toml:"))
    assume(figures.sections)
    assert sum(one.count * one.sewn_mm for one in figures.sections) == pytest.approx(figures.loop_mm, abs=1e-6)
    assert sum(one.count * one.edge_mm for one in figures.sections) == pytest.approx(figures.edge.edge_mm, abs=1e-6)
    assert all(one.full_length_mm <= width * IN + 1e-6 for one in figures.sections)
    for one in figures.sections:
        # straight ends: an allowance at each join
        assert one.full_length_mm == pytest.approx(one.sewn_mm + 2 * figures.join_allowance_mm)
        assert all(0 <= notch.at_mm <= one.cut_length_mm for notch in one.notches)
