"""The cutting chart of contour bands on a terminal: their ends, how far they run on, how they are made, their cloth."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.specs import curved, piece, spec, straight, table, written
from tiler.commands import run

RIB = {"rib": table(stretch="60 %", width="60 cm")}
OPEN = piece("Band", "4 cm", curved("40 cm", "40", after="3 cm"), form="contour", closed=False, fabric="rib")


def said(text: str, folder: Path, capsys: pytest.CaptureFixture[str]) -> str:
    assert run(["figures", str(written(text, folder))]) == 0
    return " ".join(capsys.readouterr().out.split())


def test_an_open_band_tells_its_ends_and_its_cloth(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = said(spec(OPEN | table(end_allowance="1.5 cm"), units="cm", fabrics=RIB), tmp_path, capsys)
    assert "ends turned, 1.5 cm (9/16 in) at each, in the cut size" in text
    assert "beyond runs on by 3.0 cm (1 3/16 in) at one end, 1:1" in text
    # it is in one piece, and how it is made is said once
    assert "end seams" not in text
    assert text.count("sew them together along the finished edge. Cloth: rib 60.0 cm (23⅝ in) wide, at most") == 1
    assert "Cloth to buy rib allow" in text
    assert "Lay shaped pieces with their grain along the length of the cloth" in text
    assert "greatest stretch" not in text


@pytest.mark.parametrize(("garment", "begins", "leaves"), [("above", "right", 3.0), ("below", "left", 20.0)])
def test_an_open_band_tells_which_of_its_ends_begins_the_drawn_edge(
    garment: str, begins: str, leaves: float, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    # drawn to the right: what hangs below it is turned round, so that its seam line is drawn below it
    (tmp_path / "hem.svg").write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="300mm" height="100mm" viewBox="0 0 300 100">'
        '<path id="hem" fill="none" stroke="black" d="M 10 50 H 100 A 500 500 0 0 0 209 38"/></svg>'
    )
    edge = table(kind="curved", whole=table(svg="hem.svg", id="hem"), garment=garment, after="3 cm")
    text = said(spec(piece("Band", "2 cm", edge, form="contour", closed=False), units="cm"), tmp_path, capsys)
    assert f"runs on by 3.0 cm (1 3/16 in) at one end, 1:1; the edge begins, as drawn, at the {begins} end" in text
    assert f"leaves the edge {leaves} cm" in text
    assert "from the left end of the seam line" in text


def test_joins_of_an_open_band_have_the_seam_allowance(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    parts = [table(name=name, length="20 cm", turning="20") for name in ("front", "back")]
    band = piece("Band", "4 cm", table(kind="curved", parts=parts), form="contour", closed=False, seam_allowance="6 mm")
    text = said(spec(band | table(end_allowance="1.5 cm"), units="cm"), tmp_path, capsys)
    assert "end seams 0.6 cm (¼ in) ends turned, 1.5 cm" in text
    assert "Cloth to buy" not in text


def test_strips_and_shaped_pieces_of_one_cloth_are_summed_up(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    cuff = piece("Cuff", "2 cm", straight("20 cm"), seam_allowance="5 mm", quantity=2, fabric="rib")
    text = said(spec(OPEN, cuff, units="cm", fabrics=RIB), tmp_path, capsys)
    # two layers lie one above the other on 60 cm, each of 97 mm; two strips of 50 mm lie side by side
    assert "Cloth to buy rib allow 24.4 cm (9¾ in) of its length" in text
    assert "Lay the strips with their arrow along the greatest stretch" in text
    assert "Lay shaped pieces with their grain" in text


def test_every_size_tells_its_own_cloth(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    edge = curved({"S": "40 cm", "M": "42 cm"}, "40", after="3 cm")
    band = piece("Band", "4 cm", edge, form="contour", closed=False, fabric="rib")
    text = said(spec(band, units="cm", fabrics=RIB, sizes=["S", "M"]), tmp_path, capsys)
    assert "all sizes: runs on by 3.0 cm" in text
    assert " S: Cut to the shape of the edge, in two layers" in text
    assert " M: Cut to the shape of the edge, in two layers" in text
    assert "size S: rib, allow" in text
