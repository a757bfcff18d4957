"""This checks what ``tiler figures`` tells of the edge: its change, corners, ease, fittings, finish and cloth."""

from pathlib import Path

import pytest

from tests.specs import piece, shaped, spec, table, written
from tiler.commands import run

SCOOP = spec(
    piece(
        "Neckband",
        "1/2",
        shaped("scoop", 7, 4, 1, lower_front=1, widen="1/2"),
        fabric="rib",
        ease="by-curve",
        trials=[table(shorten="3/16 in", on="fold", note="gapes at CF"), table(lengthen="1/8", on="loop")],
    ),
    title="Sample scoop",
    fabrics={"rib": table(stretch="60 %", width="12 in")},
)

BINDING = table(finish="double-fold-binding", finished_width=1)
SQUARE = spec(piece("Neckband", 2, shaped("square", 20, 14, 6), replaces=BINDING), units="cm")


@pytest.fixture
def told(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    """Give the chart of a spec as one line of words."""

    def chart(text: str) -> str:
        assert run(["figures", str(written(text, tmp_path))]) == 0
        out = capsys.readouterr().out
        assert all(len(line) <= 80 for line in out.splitlines())
        return " ".join(out.split())

    return chart


def test_a_change_is_shown_before_and_after(told):
    text = told(SCOOP)
    assert "scoop as it was 7 in (17.8 cm) wide, 4 in (10.2 cm) deep in front, 1 in (2.5 cm) behind" in text
    assert "as changed 8 in (20.3 cm) wide, 5 in (12.7 cm) deep in front" in text
    # the trued arcs of 3.5, 4 and 3.5, 1; then of 4, 5 and 4, 1: 18.7626 and 21.9631 in
    assert "edge 18¾ in (47.7 cm)" in text
    assert "edge neckline seam line 21 15/16 in (55.8 cm)" in text
    assert "the change edge 3 3/16 in (8.1 cm) longer" in text
    # 1/2 in x tan 20 degrees
    assert "neck points 3/16 in (0.5 cm) down the slope of the shoulder" in text


def test_the_table_has_edge_strip_strain_and_flat_limit_of_each_part(told):
    text = told(SCOOP)
    assert "eased by the curve" in text
    for part in ("front half", "back half"):
        row = text[text.index(part) :]
        assert "of edge" in row[:120]
        assert "stretched by" in row[:120]
        assert "lies flat" in row[:140]
    assert "sharpest bend over 3⅛ in (8.0 cm) " in text
    row = text[text.index("sharpest bend") :]
    assert "lies flat up to" in row[:160]
    assert "and the strip has" in row[:160]


def test_what_to_cut_leads_then_the_range_then_doubts(told):
    text = told(spec(piece("Neckband", "1 1/2", shaped("square", 8, 5, 1), fabric="rib"), fabrics={"rib": "100 %"}))
    places = [text.index(word) for word in ("long from the fold", "sewn length", "! Bends too much", "finished width")]
    assert places == sorted(places)
    assert "of the stretch, to" in text[places[1] : places[2]]


def test_the_fittings_are_told_in_order(told):
    text = told(SCOOP)
    start = text.index("started at")
    first = text.index("fitting 1 3/16 in (0.5 cm) shorter on the fold, which counts twice (gapes at CF)")
    second = text.index("fitting 2 ⅛ in (0.3 cm) longer on the loop")
    assert start < first < second
    assert "our model; then" not in text
    assert "our model, so make a trial; then 2 fittings)" in text


def test_the_cloth_is_told_with_its_direction(told):
    text = told(SCOOP)
    assert (
        "in sections Cut in 2 sections, since rib is 12 in (30.5 cm) wide: front section, back section. Joins: " in text
    )
    assert "sections on cloth 1 to a row on rib 12 in (30.5 cm) wide, 2 rows: 3 in (7.8 cm) of its length" in text
    assert "Cloth to buy rib at least 3 in (7.8 cm) of its length" in text
    assert "along the greatest stretch of the cloth, which on most knits is from selvage to selvage" in text


def test_a_change_of_finish_and_the_corners_are_told(told):
    text = told(SQUARE)
    assert "instead of double-fold binding (turned under, 4 layers), 1.0 cm (⅜ in) finished" in text
    # the band stands 2 cm in to the binding's cut edge, less its seam allowance of 1/4 in: 13.65 mm
    assert "new cut edge 1.4 cm (9/16 in) trimmed off the pattern's cut edge, all along" in text
    assert "finished edge stays where the pattern has it" in text
    assert "> Trim 1.4 cm (9/16 in) off the garment's edge, all along: the seam then runs 0.6 cm (¼ in)" in text
    assert "> Stay-stitch every corner of the garment on the seam line, 2.5 cm (1 in) to each side" in text
    assert "corner" in text[text.index("notches") :]


def test_a_slanted_end_has_its_allowance_along_the_strip(told):

    def vee(corner: str) -> str:
        return spec(piece("Neckband", 2, shaped("vee", 20, 14, 6), replaces=BINDING, corner=corner), units="cm")

    # beta = atan(10 / 14): 1/4 in / sin beta = 0.43 in
    assert "end seam (CF) 0.6 cm (¼ in), slanted: 1.1 cm (7/16 in) along the strip" in told(vee("mitre"))
    assert "lapped end (CF)" in told(vee("lapped"))
