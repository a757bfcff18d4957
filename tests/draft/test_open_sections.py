"""Open strips that are longer than their cloth is wide: where they are joined, what lies on each section.  C: by hand."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from tests.specs import curved, neckline, piece, spec, straight, table
from tiler.declaration import Tag
from tiler.draft.chart import chart_rows
from tiler.draft.compute import figure_job
from tiler.draft.edition import Edition
from tiler.draft.figures import Figures
from tiler.draft.label import label_of
from tiler.draft.outline import draw_piece
from tiler.draft.sections.strips import strips_of
from tiler.errors import SpecError

IN = 25.4  # NIST SP 811, App. B
FRONTS = table(
    kind="curved",
    parts=[
        table(name="right front", length=22, turning=0),
        table(name="back neck", length=8, turning=90, ratio="100 %"),
        table(name="left front", length=22, turning=0),
    ],
)
"""As long as its strip, 52 in."""

Cutting = Callable[..., Figures]


@pytest.fixture
def cut(read: Callable[[str], Any]) -> Cutting:
    """Give the figures of an open band, sewn at 1/4 in, on cloth so wide, in."""

    def figure(width: float, edge: dict[str, Any], **keys: Any) -> Figures:
        own = {"width": 1, "closed": False, "fabric": "rib", "ratio": None if "parts" in edge else "100 %"} | keys
        strip = piece("Band", **own, edge=edge)
        return figure_job(read(spec(strip, fabrics={"rib": table(stretch="60 %", width=width)})))[0]

    return figure


def told(strip: Figures) -> dict[str, tuple[str, int, float, tuple[str, str]]]:
    """Give how each section is cut, how often, how long as drawn, in, and what its ends are."""
    return {
        str(one.name): (one.cut.value, one.count, round(one.cut_length_mm / IN, 4), tuple(map(str, one.joins)))
        for one in strip.sections
    }  # type: ignore[misc]


def marks(figures: Figures) -> list[tuple[str, float, bool]]:
    return [(str(mark.name), round(mark.at_mm / IN, 4), mark.double) for mark in figures.notches]


def test_a_cardigan_is_joined_at_cb_before_its_shoulders(cut: Cutting) -> None:
    # half of 52 in, an end turned in and a join of 1/4 in
    assert cut(52.5, FRONTS).sections == ()
    band = cut(40, FRONTS)
    assert told(band) == {
        "right front and half of back neck section": ("full-loop", 1, 26.5, ("turned end", "join (CB)")),
        "left front and half of back neck section": ("full-loop", 1, 26.5, ("join (CB)", "turned end")),
    }
    right, left = strips_of([band])
    assert marks(right) == [("right front / back neck", 22.25, False), ("CB", 26.25, True)]
    assert marks(left) == [("CB", 0.25, True), ("back neck / left front", 4.25, False)]
    assert (right.edge.edge_mm / IN, right.edge.label) == (
        pytest.approx(26),
        "right front and half of back neck of the curved seam line",
    )
    assert "Joins: CB. Sew the joins first, mark to mark, ¼ in (0.6 cm) from the ends" in band.piecing
    # too narrow for half of it: at the shoulders, and 22 1/2 in of front fit
    assert [(one.joins, one.full_length_mm / IN) for one in cut(22.5, FRONTS).sections] == [
        (("turned end", "join (right front / back neck)"), pytest.approx(22.5)),
        (("join (right front / back neck)", "join (back neck / left front)"), pytest.approx(8.5)),
        (("join (back neck / left front)", "turned end"), pytest.approx(22.5)),
    ]


def test_buttons_lie_on_their_section_and_off_the_joins(cut: Cutting) -> None:
    buttons = table(count=5, first=1, last=1, diameter="1/2 in", on="left front")
    band = cut(40, FRONTS, buttons=buttons)
    right, left = strips_of([band])
    assert right.buttons is None
    assert left.buttons is not None
    # from its join at CB: 4 in of back neck, then 1 in from the shoulder to the last, and 5 in apart
    assert [at / IN for at in left.buttons.at_mm] == pytest.approx([5, 10, 15, 20, 25])
    holes = [part for part in draw_piece(left, 1, Edition("Top", "in")).parts if part.tag == Tag.BUTTONHOLE]
    assert [hole.subpaths[1][0][0] / IN for hole in holes] == pytest.approx([5.25, 10.25, 15.25, 20.25, 25.25])
    assert band.to_json()["sections"][1]["buttons"]["count"] == 5
    # a hole over the middle: one join would lie in it, so there are two
    middle = cut(40, straight(52), buttons=table(count=3, first=2, last=2, diameter="1/2 in"))
    assert [round(one.sewn_mm / IN, 2) for one in middle.sections] == [17.33, 17.33]
    assert sum(one.count for one in middle.sections) == 3


def test_a_neck_with_an_opening_has_two_halves_alike(cut: Cutting) -> None:
    neck = cut(24, neckline(12, 8), ends="raw")
    assert told(neck) == {"half section": ("full-loop", 2, 20.25, ("raw end", "join (CB)"))}
    (half,) = strips_of([neck])
    assert marks(half) == [("shoulder", 12, False), ("CB", 20, True)]
    # the cut line is the end of a raw one, and a double notch has two cuts
    parts = draw_piece(half, 1, Edition("Top", "in")).parts
    assert len([part for part in parts if part.tag == Tag.JOIN_LINE]) == 1
    cb = next(part for part in parts if part.tag == Tag.NOTCH and len(part.subpaths) == 2)
    assert abs(cb.subpaths[0][0][0] - cb.subpaths[1][0][0]) == pytest.approx(3)
    assert [row.quantity for row in chart_rows([neck])[0].sections.rows] == [2]  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("asked", "names"),
    [
        ("shoulders", ["front section", "back section"]),
        ("cb", ["half section"]),
        ("even", ["sections 1 and 2"]),
    ],
)
def test_a_neck_with_an_opening_is_joined_where_the_spec_says(cut: Cutting, asked: str, names: list[str]) -> None:
    neck = cut(24, neckline(12, 8), section=asked)
    assert [str(one.name) for one in neck.sections] == names
    assert sum(one.count * one.sewn_mm for one in neck.sections) == pytest.approx(40 * IN)


def test_cb_is_a_place_for_a_join_and_cf_is_at_the_ends(cut: Cutting) -> None:
    whole = cut(24, table(kind="neckline", whole=40))
    assert [(str(one.name), one.count, round(one.sewn_mm / IN, 3)) for one in whole.sections] == [
        ("sections 1 and 2", 2, 20)
    ]
    parts = [table(name="front", length=9), table(name="back", length=12, ratio="100 %"), table(name="front", length=9)]
    raglan = cut(20, table(kind="neckline", parts=parts))
    assert [one.seams for one in raglan.sections] == [("", "CB"), ("CB", "")]
    # a button near the very end takes no place from the strip's own end
    band = cut(30, straight(52), buttons=table(count=4, first=0.5, last=1, diameter="1/2 in"))
    assert [one.buttons and [round(at / IN, 3) for at in one.buttons.at_mm] for one in band.sections] == [
        [0.5, 17.333],
        [8.167, 25],
    ]


def test_an_apron_is_cut_in_equal_parts_with_its_quarters(cut: Cutting) -> None:
    apron = cut(30, straight(72), ends="caught", end_allowance="1/2 in")
    # thirds of 24 in, a join at 1/4 in and an end caught at 1/2 in
    assert told(apron) == {
        "sections 1 and 3 of 3": ("full-loop", 2, 24.75, ("end caught in a seam", "join")),
        "section 2 of 3": ("on-fold", 1, 12.25, ("join", "join")),
    }
    ends, middle = strips_of([apron])
    assert marks(ends) == [("quarter", 18.5, False), ("join", 24.5, False)]
    assert marks(middle) == [("half", 0, False), ("join", 12, False)]
    assert "Joins: 2, at equal distances." in apron.piecing
    assert "Joins: one in its middle." in cut(40, straight(72)).piecing
    label = label_of(ends, Edition("Top", "in"))
    said = "on the left the seam that catches it runs ½ in (1.3 cm) from the cut end, on the right stitch ¼ in (0.6 cm)"
    assert label.end_allowance.replace("\u00a0", " ").startswith(said)


def test_free_lengths_are_joined_where_they_leave_the_edge(cut: Cutting) -> None:
    ties = {"before": 26, "after": 26}
    halter = cut(30, curved(15, 70, **ties))
    assert told(halter) == {
        "free length section": ("full-loop", 2, 26.5, ("turned end", "join (leaves the edge)")),
        "edge section": ("on-fold", 1, 7.75, ("join (leaves the edge)", "join (leaves the edge)")),
    }
    assert "Joins: where it leaves the edge." in halter.piecing
    tie, edge = strips_of([halter])
    assert (tie.edge.label, tie.edge.edge_mm / IN) == ("free length", pytest.approx(26))
    assert (edge.edge.label, edge.edge.edge_mm / IN) == ("curved seam line", pytest.approx(15))
    assert label_of(tie, Edition("Top", "in")).good == ""
    assert label_of(edge, Edition("Top", "in")).good
    # all of it is there: 15 and twice 26 in
    assert sum(one.count * one.sewn_mm for one in halter.sections) / IN == pytest.approx(67)
    one_sided = cut(30, straight(20, after=24))
    assert [(str(one.name), round(one.sewn_mm / IN, 3)) for one in one_sided.sections] == [
        ("edge section", 20),
        ("free length section", 24),
    ]
    # a tie that is longer than the cloth itself is cut in parts
    assert len(cut(20, straight(10, before=30)).sections) == 3


def test_a_neck_with_ties_keeps_its_marks(cut: Cutting) -> None:
    neck = cut(34, neckline(12, 8, before=10, after=10))
    assert [(str(one.name), one.count) for one in neck.sections] == [("free length and half section", 2)]
    (half,) = strips_of([neck])
    assert marks(half) == [("leaves the edge", 10.25, False), ("shoulder", 22.25, False), ("CB", 30.25, True)]


@pytest.mark.parametrize(
    ("width", "edge", "keys", "said"),
    [
        (30, straight(40), {"section": "sides"}, '"sides" is no seam of an open strip on such an edge; write "even"'),
        (12, neckline(12, 8), {"section": "cb"}, 'section: "cb" leaves a section of 20½ in (52.1 cm), longer than'),
        (2, straight(40), {}, "cloth of 2 in (5.1 cm) width is narrower than the strip"),
        (3, straight("300 in"), {}, "would need the strip in more than 40 sections"),
        (30, FRONTS, {"section": "shoulders"}, '"shoulders" is not known of an edge in parts'),
    ],
)
def test_what_cannot_be_names_what_can(
    cut: Cutting, width: float, edge: dict[str, Any], keys: dict[str, Any], said: str
) -> None:
    with pytest.raises(SpecError) as fault:
        cut(width, edge, **keys)
    assert said in str(fault.value)
    assert fault.value.code == 2
