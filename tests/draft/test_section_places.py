"""Where sections are joined if the spec says so: at these seams and no others, or at equal distances.  C: by hand."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import pytest

from tests.specs import armhole, curved, neckline, piece, shaped, spec, straight, table
from tiler.draft.compute import figure_job
from tiler.draft.figures import Figures
from tiler.errors import SpecError

IN = 25.4
NECK = neckline(10, 5)
"""At a sewn length of 24 in its front takes 16 in of the strip and its back 8 in; end allowances of 1/4 in."""

Cutting = Callable[..., Figures]


@pytest.fixture
def cut(read: Callable[[str], Any]) -> Cutting:
    """Give the figures of a strip on cloth so wide, in; keyword arguments are keys of the piece."""

    def figure(width: float | None, edge: dict[str, Any], loop: float | None = None, **keys: Any) -> Figures:
        strip = piece("Band", **{"width": 1, "fabric": "rib", **keys}, edge=edge, loop=loop)
        rib = table(stretch="60 %") | ({} if width is None else {"width": f"{width} in"})
        return figure_job(read(spec(strip, fabrics={"rib": rib})))[0]

    return figure


def told(strip: Figures) -> dict[str, tuple[str, int, float]]:
    """Give how each section is cut, how often, and how long as drawn, in."""
    return {one.name: (one.cut.value, one.count, round(one.cut_length_mm / IN, 4)) for one in strip.sections}


@pytest.mark.parametrize(
    ("width", "edge", "loop", "keys", "sections", "places"),
    [
        (
            24.25,
            NECK,
            24,
            {"section": "shoulders"},
            {"front section": ("on-fold", 1, 8.25), "back section": ("on-fold", 1, 4.25)},
            "shoulders",
        ),
        # halves would be joined at CF: thirds of 24 in + 1/2
        (
            24.25,
            NECK,
            24,
            {"section": "even"},
            {"sections 1 and 3 of 3": ("full-loop", 2, 8.5), "section 2 of 3": ("on-fold", 1, 4.25)},
            "the end seam (CB) and 2 more, at equal distances",
        ),
        # the end seam that is asked for stays: the back is cut in two
        (
            17,
            NECK,
            24,
            {"section": "shoulders", "join_at": "CB"},
            {"front section": ("on-fold", 1, 8.25), "back section": ("full-loop", 2, 4.5)},
            "shoulders, CB",
        ),
        # from the right shoulder over the front to CB: 16 + 4 + 1/2 in
        (
            21,
            NECK,
            24,
            {"section": "CB", "join_at": "shoulder"},
            {"front and left back section": ("full-loop", 1, 20.5), "right back section": ("full-loop", 1, 4.5)},
            "right shoulder, CB",
        ),
        (
            14,
            armhole(9, 11),
            18,
            {"section": "shoulders"},
            {"front section": ("full-loop", 1, 8.6), "back section": ("full-loop", 1, 10.4)},
            "underarm, shoulder",
        ),
        (
            14,
            armhole(9, 11),
            18,
            {"section": "even"},
            {"section 1 of 2": ("full-loop", 1, 9.5), "section 2 of 2": ("full-loop", 1, 9.5)},
            "the end seam (underarm) and 1 more, at equal distances",
        ),
        (50, straight(60), 50, {"section": "sides"}, {"sections 1 and 2": ("on-fold", 2, 12.75)}, "sides"),
        (13, straight(60), 50, {"section": "even"}, {"sections 1 to 4": ("on-fold", 4, 6.5)}, "let none of them lie at CF"),
    ],
)  # fmt: skip
def test_the_joins_lie_where_the_spec_says(
    cut: Cutting,
    width: float,
    edge: dict[str, Any],
    loop: float,
    keys: dict[str, str],
    sections: dict[str, tuple[str, int, float]],
    places: str,
) -> None:
    strip = cut(width, edge, loop, **keys)
    assert told(strip) == sections
    assert f"{places}." in strip.piecing
    assert sum(one.count * one.sewn_mm for one in strip.sections) == pytest.approx(loop * IN)
    assert sum(one.count * one.edge_mm for one in strip.sections) == pytest.approx(strip.edge.edge_mm)


def test_a_leg_opening_is_joined_at_side_and_inseam(cut: Cutting) -> None:
    strip = cut(14, table(kind="leg", front="10 in", back="12 in", turning="100 deg"), 18, section="sides")
    assert [(one.name, one.seams) for one in strip.sections] == [
        ("front section", ("inseam", "side")),
        ("back section", ("side", "inseam")),
    ]


def test_a_mitred_vee_is_joined_at_its_point_and_at_cb(cut: Cutting) -> None:
    vee = shaped("vee", 7, 8, 1)
    (half,) = cut(18, vee, corner="mitre", section="cb").sections
    assert (half.name, half.count, half.joins) == ("half section", 2, ("end seam (CF)", "join (CB)"))
    shoulders = cut(18, vee, corner="mitre", section="shoulders")
    assert [(one.name, one.count) for one in shoulders.sections] == [("front section", 2), ("back section", 1)]


def test_a_shoulder_keeps_its_mark_inside_of_an_even_section(cut: Cutting) -> None:
    strip = cut(20, NECK, 24, section="even")
    assert [[(one.name, round(one.at_mm / IN, 4), one.double) for one in part.notches] for part in strip.sections] == [
        [("CB", 0.25, True), ("shoulder", 4.25, False), ("join", 8.25, False)],
        [("CF", 0.0, False), ("join", 4.0, False)],
    ]


def test_a_strip_that_its_cloth_is_wide_enough_for_is_cut_in_one(cut: Cutting) -> None:
    for section in ("shoulders", "cb", "even"):
        assert not cut(24.5, NECK, 24, section=section).sections


LISTED = table(kind="neckline", parts=[table(name="front", length="12 in"), table(name="back", length="8 in")])


@pytest.mark.parametrize(
    ("keys", "message"),
    [
        ({"section": "front"}, 'section: "front" is not known; known are shoulders, sides, cb, even'),
        ({"section": "sides"}, '"sides" is no seam of an edge of kind "neckline"; write "shoulders" or "cb" or "even"'),
        ({"section": "cb", "edge": armhole(9, 11)}, 'edge of kind "armhole"; write "shoulders" or "even"'),
        ({"section": "shoulders", "edge": straight(60)}, 'edge of kind "straight"; write "sides" or "even"'),
        ({"section": "sides", "edge": curved(26, 160, corners=[160]), "corner": "mitre"}, 'kind "curved"; write "even"'),
        (
            {"section": "shoulders", "edge": table(kind="neckline", whole="30 in")},
            '"shoulders" needs the lengths of front and back; measure the neckline in them, or write "even"',
        ),
        (
            {"section": "shoulders", "edge": LISTED},
            'not known of an edge in parts; write "even", or leave it out, and the strip is joined between them',
        ),
        # CB alone leaves it in one: 24 + 1/2 in
        (
            {"section": "cb"},
            '"cb" leaves a section of 24½ in (62.2 cm), longer than the cloth, which is 20 in (50.8 cm) wide; write '
            '"shoulders" or "even", or leave section out',
        ),
        # the front: 16 + 1/2 in
        ({"section": "shoulders", "cloth": 16}, 'leaves a section of 16½ in .* wide; write "even", or leave section out'),
        # half of it: 25 + 1/2 in
        ({"section": "sides", "edge": straight(60), "loop": 50}, "leaves a section of 25½ in"),
        ({"section": "sides", "edge": straight(60), "join_at": "CB"}, '"CB" contradicts section = "sides"; write "side"'),
        ({"section": "even", "cloth": None}, "section: .* that width is not known; name its fabric and state its width"),
        ({"section": "even", "fabric": None}, "section: .* that width is not known; name its fabric and state its width"),
        (
            {"section": "even", "edge": straight(60), "cut_on": "bias", "finish": "raw-edge-binding"},
            "section: says where a strip is joined square, and a bias strip is joined as it comes off the cloth",
        ),
    ],
)  # fmt: skip
def test_what_cannot_be_names_what_can(cut: Cutting, keys: dict[str, Any], message: str) -> None:
    given = {"cloth": 20, "edge": NECK, "loop": 24} | keys
    with pytest.raises(SpecError, match=message if ".*" in message else re.escape(message)):
        cut(given.pop("cloth"), given.pop("edge"), given.pop("loop"), **given)


def test_a_refusal_names_the_size(read: Callable[[str], Any]) -> None:
    edge = neckline({"S": 8, "M": 12}, 5)
    strip = piece("Band", 1, edge, fabric="rib", ratio="80 %", section="shoulders")
    text = spec(strip, sizes=["S", "M"], fabrics={"rib": table(stretch="60 %", width=14)})
    # fronts of 12.8 + 1/2 and 19.2 + 1/2 in
    with pytest.raises(SpecError, match=r"leaves a section of 19 11/16 in .*\(size M\)"):
        figure_job(read(text))
