"""The cells of the chart as CSV that only some strips have."""

from __future__ import annotations

from csv import DictReader
from io import StringIO
from typing import Any

from tests.specs import curved, piece, shaped, spec, table
from tiler.draft.chart_csv import chart_csv
from tiler.draft.compute import figure_job


def row(read: Any, **keys: Any) -> dict[str, str]:
    own = {"edge": shaped("scoop", "18 cm", "10 cm", "6 cm"), "width": "2 cm"} | keys
    (found,) = DictReader(StringIO(chart_csv(figure_job(read(spec(piece("Band", **own), units="cm"))))))
    return found


def test_a_band_cut_to_its_shape_has_one_length_and_two_edges(read: Any) -> None:
    cells = row(read, form="contour", edge=curved("40 cm", "50"))
    assert [cells[f"good {which} {unit}"] for which in ("from", "to") for unit in ("in", "cm")] == [""] * 4
    assert cells["share out"] == ""
    # C: Steiner, 40 cm less 2 cm times 50 degrees
    assert (cells["stretch to cm"], cells["finished edge cm"]) == ("40.0 cm", "38.3 cm")
    assert cells["finished edge in"] == "15 1/16 in"
    straight = row(read)
    assert all(straight[f"good {which} cm"] for which in ("from", "to"))
    assert (straight["finished edge cm"], straight["share out"], straight["marks cm"]) == ("", "evenly", "")


def test_what_has_no_piece_has_its_marks(read: Any) -> None:
    edge = table(kind="neckline", whole="50 cm")
    cells = row(read, finish="fold-over-elastic", width="1 cm", edge=edge, ratio="80 %", join_allowance="1 cm")
    assert cells["marks cm"] == "CB 1.0 cm; quarter 11.0 cm; CF 21.0 cm; quarter 31.0 cm; CB 41.0 cm"
    assert cells["marks in"].startswith("CB 3/8 in; quarter 4 5/16 in; ")
