"""Edges in parts of their own names: turning, shares, marks, folds, sections, and what is refused."""

from __future__ import annotations

from math import radians
from typing import Any

import pytest

from tests.specs import Table, table
from tiler.draft.edge.listed import MOST_PARTS
from tiler.draft.edition import Edition
from tiler.draft.outline import draw_pieces
from tiler.errors import SpecError
from tiler.languages.words import speaking, told

IN = 25.4  # NIST SP 811, App. B


def parts(*entries: tuple[str, str] | Table, kind: str = "neckline", **keys: Any) -> Table:
    listed = [one if isinstance(one, dict) else table(name=one[0], length=one[1]) for one in entries]
    return table(kind=kind, parts=listed, **keys)


RAGLAN = (
    ("half back", "3 in"),
    ("sleeve", "2 1/2 in"),
    table(name="front", length="9 in", turning="140 deg"),
    ("sleeve", "2 1/2 in"),
    ("half back", "3 in"),
)


def marks(figures):
    return [(str(mark.name), mark.at_mm / IN, mark.double) for mark in figures.notches]


def test_a_raglan_neck_is_cut_on_the_fold(figure):
    band = figure(finished_width="1/2", edge=parts(*RAGLAN), fabric="rib", ratio="85 %")
    assert band.edge.edge_mm / IN == pytest.approx(20)
    assert band.edge.turning_deg == pytest.approx(280)  # Gauss-Bonnet: 360 - 4 x 20
    assert (band.cut.value, band.quantity, band.join_place) == ("on-fold", 1, "CB")
    # C: an even share of 85 %, half of it from the fold, plus the end seam of 1/4 in
    assert band.cut_length_mm / IN == pytest.approx(8.5 + 0.25)
    at = pytest.approx
    assert marks(band) == [
        ("CF", 0, False),
        ("front / sleeve", at(4.5 * 0.85), False),
        ("sleeve / half back", at(7 * 0.85), False),
        ("CB", at(8.5), True),
    ]
    # the parts that say nothing share what 280 degrees leave, by length
    fits = [part.flat_limit for part in band.edge.parts]
    assert fits[2] == pytest.approx(1 - 0.5 * radians(140) / 9)
    assert fits[0] == pytest.approx(1 - 0.5 * radians(140 * 3 / 11) / 3)


def test_in_full_length_every_part_has_its_notch_at_either_end(figure):
    band = figure(finished_width="1/2", edge=parts(*RAGLAN), cut="full-loop", ratio="85 %")
    names = [name for name, _, _ in marks(band)]
    assert names == ["CB", "half back / sleeve", "sleeve / front", "CF", "front / sleeve", "sleeve / half back", "CB"]
    assert marks(band)[1][1] == pytest.approx(3 * 0.85 + 0.25)


def test_a_part_keeps_its_own_ratio(figure):
    edge = parts(
        table(name="front", length="15 in", turning=0, ratio="100 %"), ("back", "7 in"), kind="curved", turning="110"
    )
    band = figure(finished_width="1/2", edge=edge, ratio="80 %")
    # C: 15 + 0.8 x 7
    assert band.loop_mm / IN == pytest.approx(20.6)
    assert [part.strip_mm / IN for part in band.edge.parts] == [pytest.approx(15), pytest.approx(5.6)]
    assert not band.edge.evenly
    # advised: the front as stated, the back (E - W / 2) / (1 + 0.25 x 0.6)
    back = (7 - 0.5 * radians(110) / 2) / 1.15
    assert figure(finished_width="1/2", edge=edge, fabric="rib").loop_mm / IN == pytest.approx(15 + back)
    # a sewn length is that of the whole, and a fitting changes the parts without a ratio
    fitted = figure(
        finished_width="1/2", edge=edge, ratio=None, loop="20 in", trials=[{"shorten": "1/2 in", "on": "loop"}]
    )
    assert [part.strip_mm / IN for part in fitted.edge.parts] == [pytest.approx(15), pytest.approx(4.5)]


def test_a_part_is_judged_by_itself_where_it_has_its_own_ratio(figure):
    edge = parts(table(name="front", length="15 in", ratio="60 %"), ("back", "30 in"), kind="straight")
    (warning, *_) = [text for text in figure(edge=edge, fabric="rib", ratio="90 %").warnings if "along" in text]
    assert warning.startswith("Cannot be sewn flat along the part “front”: the strip is stretched there by 66.7 %")
    assert "change its ratio" in warning


def test_names_are_printed_as_they_are(figure):
    band = figure(edge=parts(("a {b} c", "11 in"), ("CF", "11 in")), fabric="rib")
    with speaking("de"):
        (drawn,) = draw_pieces([band], Edition("Top", "in"))
        assert [told(word.text) for word in drawn.notch_words][:2] == ["a {b} c / CF", "HM"]


def test_a_strip_in_sections_is_joined_at_its_parts(figure, read):
    tape = figure(edge=parts(("{x}", "3 in"), ("front", "9 in"), ("left front", "8 in")), fabric="tape", ratio="90 %",
                  finished_width="1/2")  # fmt: skip
    assert tape.sections
    assert {str(seam) for section in tape.sections for seam in section.seams} >= {
        "CB",
        "{x} / front",
        "front / left front",
    }
    assert "sections" in tape.piecing


@pytest.mark.parametrize(
    ("edge", "keys", "said"),
    [
        (table(kind="neckline", parts=[]), {}, "edge.parts: has 0 parts; give 2 to 24, or whole"),
        (parts(("a", "3 in")), {}, "edge.parts: has 1 part; give 2 to 24, or whole"),
        (parts(*[("a", "1 in")] * (MOST_PARTS + 1)), {}, "has 25 parts"),
        (parts(*RAGLAN, front_half="7 in"), {}, "edge.front-half: contradicts parts; give the whole edge in only one of these ways"),
        (parts(*RAGLAN, whole="20 in"), {}, "edge.whole: contradicts parts"),
        (parts(*RAGLAN, shape="scoop"), {}, "edge.parts: contradicts shape"),
        (parts(*RAGLAN, end_allowance="1/4 in"), {}, "end-allowance: is for halves; measure every part between its seams"),
        (parts(*RAGLAN, corners=[90]), {}, "edge.corners: belongs to a part: in a spec, write corners = [90] beside its"),
        (parts(*RAGLAN, front_ratio="90 %"), {}, 'edge.front-ratio: belongs to a part: in a spec, write ratio = "95 %"'),
        (parts(table(name="a", length="9 in", turning=300), ("b", "9 in")), {}, "turn by 300° where the whole edge"),
        (parts(table(name="a", length="9 in", turning=90), table(name="b", length="9 in", turning=90), turning=280),
         {}, "edge.turning: is 280°, and its parts sum up to 180°; check them, or leave it out"),
        (parts(table(name="a", length="9 in", turning=90), ("b", "9 in"), kind="curved"), {},
         "edge.parts[1].turning: is missing; give it to every part, or one for the whole edge"),
        (parts(table(name="a", length="9 in", turning=9), ("b", "9 in"), kind="straight"), {}, "no meaning on a straight"),
        (parts(("a", "9 in"), ("b", "8 in")), {"cut": "on-fold"},
         "wants parts that are mirrored about the fold, and “a” has 9 in (22.9 cm) where “b” has 8 in (20.3 cm)"),
        (parts(*RAGLAN), {"corner": "mitre"}, 'corner: "mitre" is for a vee in halves, not for an edge in parts'),
        (parts(table(name="a", length="9 in", ratio=1), table(name="b", length="9 in", ratio=1)), {"ratio": "90 %"},
         "ratio: contradicts the ratios of all parts of the edge; leave it out"),
        (parts(table(name="a", length="9 in", ratio=1), ("b", "9 in")), {"loop": "8 in"}, "is left for the other parts"),
        (parts(table(name="a", length="9 in", ratio="300 %"), ("b", "9 in")), {}, "ratio: '300 %' is out of range"),
        (parts(("x" * 41, "9 in"), ("b", "9 in")), {}, "name: has 41 characters; at most 40 fit beside a notch"),
        (parts(table(name="a", length="9 in", wide=3), ("b", "9 in")), {}, "wide: is not a known key"),
    ],
)  # fmt: skip
def test_what_does_not_go_together_is_refused(figure, edge: Table, keys: dict[str, Any], said: str) -> None:
    with pytest.raises(SpecError) as fault:
        figure(finished_width="1/2", edge=edge, **keys)
    assert said in str(fault.value)
    assert fault.value.code == 2
