"""More edges against figures from outside: closed forms, a published size table, an extension guide.

S stands in the source that is named, C is computed from a closed form.
"""

from __future__ import annotations

import tomllib
from cmath import rect
from math import pi, radians
from typing import Any

import pytest

from tests.specs import neckline, piece, spec, straight, table
from tiler.curves import Bezier, Curve, EllipseArc
from tiler.draft.compute import figure_job
from tiler.draft.edge.from_drawing import Source
from tiler.draft.figures import Figures
from tiler.draft.sections.strips import strips_of
from tiler.draft.spec.read import read_tables

IN = 25.4  # NIST SP 811, App. B

LEVEL = rect(1.0, radians(48))
"""It lies on its side, and is turned so that the garment is above or below it."""

CUBIC = Curve.through([Bezier((0j, -80j * LEVEL, (60 - 100j) * LEVEL, (90 - 100j) * LEVEL))])
QUARTER = Curve.through([EllipseArc(0j, 90 + 0j, 70j, -pi / 2, pi / 2)])
CURVES = {"cubic": CUBIC, "quarter": QUARTER}


def contour(edge: dict[str, Any], width: str) -> Figures:
    def find(source: Source) -> Curve:
        return CURVES[source.ids[0]]

    text = spec(piece("Band", width, edge, seam_allowance="5 mm", form="contour"), units="cm")
    return figure_job(read_tables(tomllib.loads(text), "spec.toml", find))[0]


def drawing(name: str) -> dict[str, Any]:
    return table(svg="drawn.svg", id=name)


@pytest.mark.parametrize(("garment", "finished"), [("below", 135.01709138), ("above", 166.43301792)])
def test_a_contour_band_on_a_cubic_is_as_long_as_its_closed_form(garment: str, finished: float) -> None:
    # C: the arc length of the cubic, and 10 mm times its quarter turn more or less (Steiner)
    band = contour(table(kind="curved", whole=drawing("cubic"), garment=garment), "10 mm")
    assert band.edge.edge_mm == pytest.approx(150.72505465, abs=0.01)
    assert band.contour_mm == pytest.approx(finished, abs=0.01)


def test_a_contour_neckband_on_an_ellipse_has_its_perimeter() -> None:
    # C: 4 a E(e2) for the semi-axes 90 and 70 mm (scipy.special.ellipe); 2 pi d less at d inside it
    band = contour(neckline(drawing("quarter"), drawing("quarter")), "10 mm")
    assert band.edge.edge_mm == pytest.approx(504.620244995055, abs=0.01)
    assert band.contour_mm == pytest.approx(504.620244995055 - 20 * pi, abs=0.04)
    assert [one.section.sewn_mm for one in strips_of([band]) if one.section] == [
        pytest.approx(504.620244995055 / 2, abs=0.01)
    ] * 2


@pytest.mark.parametrize(("stretch", "passes"), [("98.2 %", False), ("98.3 %", True)])
def test_a_collar_of_three_quarters_of_the_neck_base_passes_a_head_at_98_percent(
    read: Any, stretch: str, passes: bool
) -> None:
    # S: ASTM D5585-11e1, Table 1, size 8: neck base 14 5/8 in, head 21 3/4 in; C: 21.75 / (0.75 x 14.625) - 1 = 98.3 %
    collar = piece("Collar", "2 in", table(kind="neckline", whole="14 5/8 in"), stands=True, turned_over=True, ratio="75 %",
                   fabric="rib", opening=table(must_pass="21 3/4 in"))  # fmt: skip
    (figures,) = figure_job(read(spec(collar, fabrics={"rib": stretch})))
    assert figures.opening.passes is passes


@pytest.mark.parametrize(
    "keys", [{}, {"stands": True}, {"closed": False}, {"elastic": table(width="1 cm", ratio="80 %")}]
)
def test_bands_are_sewn_at_an_allowance_that_knit_edges_are_trimmed_to(read: Any, keys: dict[str, Any]) -> None:
    # S: New Mexico State University Extension, Guide C-210: trim knit seams to 1/4 or 3/8 in at necklines
    (figures,) = figure_job(read(spec(piece("Band", "2 in", straight("20 in"), **keys))))
    assert figures.seam_allowance_mm / IN in (pytest.approx(1 / 4), pytest.approx(3 / 8))
