"""This checks openings by reference against WHO and ANSUR II.

WHO Child Growth Standards, head circumference for age (by-day table, S): the medians,
and the 97th percentile M (1 + 1.88079 S) of both sexes (C), cm.  ANSUR II, Natick
TR-15/007, computed from the public data (S): 95th percentiles, mm.
"""

import json
import re
from itertools import pairwise
from pathlib import Path

import pytest

from tests.specs import piece, spec, table, written
from tiler.commands import run
from tiler.draft.advice.body import body_measure
from tiler.errors import SpecError
from tiler.sentence import Place

WHO_97_CM = {6: (45.64, 44.66), 12: (48.48, 47.45), 24: (50.81, 49.81), 36: (52.13, 51.17), 60: (53.55, 52.60)}
"""Boys and girls by month."""

ANSUR_95_MM = {
    "head, man": 601,
    "head, woman": 597,
    "hand, man": 230,
    "hand, woman": 202,
    "heel, man": 372,
    "heel, woman": 337,
}


def band(passing: str) -> str:
    edge = table(kind="neckline", whole="34 cm")
    neckband = piece("Neckband", "1.5 cm", edge, fabric="rib", garment_fabric="rib", opening=table(must_pass=passing))
    return spec(neckband, units="cm", fabrics={"rib": "100 %"})


@pytest.mark.parametrize("months", WHO_97_CM)
def test_a_childs_head_is_the_larger_sexes_97th_percentile(months: int) -> None:
    found = body_measure(f"head, {months} months", Place("must-pass"))
    assert found.around_mm == pytest.approx(10 * max(WHO_97_CM[months]), abs=0.05)
    assert found.source == f"head, {months} months: 97th percentile of boys, WHO Child Growth Standards"


def test_a_head_grows_from_month_to_month_and_ever_more_slowly() -> None:
    # a wrong digit in one month of a table that is this smooth would show in its second differences
    heads = [body_measure(f"head, {month} months", Place("")).around_mm for month in range(61)]
    growth = [after - before for before, after in pairwise(heads)]
    assert all(step > 0 for step in growth)
    bends = [after - before for before, after in pairwise(growth)]
    assert max(bends) < 0.1


@pytest.mark.parametrize(("text", "around"), ANSUR_95_MM.items())
def test_adults_are_the_95th_percentile_of_their_sex(text: str, around: int) -> None:
    found = body_measure(text, Place("must-pass"))
    assert found.around_mm == around
    assert found.source.startswith(f"{text}: 95th percentile of ")
    assert found.source.endswith("men, ANSUR II")
    assert ("women" in found.source) == ("woman" in text)


@pytest.mark.parametrize("text", ["Head,24 Months", "  head , 24  months ", "head, 2 years", "head 24 months"])
def test_small_liberties_in_writing_are_taken(text: str) -> None:
    assert body_measure(text, Place("")).around_mm == body_measure("head, 24 months", Place("")).around_mm


@pytest.mark.parametrize(
    "text", ["head", "foot, woman", "hand, 24 months", "head, 2.5 months", "head, -1 months", "nan"]
)
def test_an_unknown_one_names_the_known_ones(text: str) -> None:
    with pytest.raises(SpecError) as fault:
        body_measure(text, Place("opening.must-pass"))
    message = str(fault.value)
    assert message.startswith(f'opening.must-pass: "{text}" is not known; ')
    assert all(f'"{known}"' in message for known in (*ANSUR_95_MM, "head, 0 months", "head, 60 months"))


def test_a_slip_of_the_pen_is_guessed() -> None:
    with pytest.raises(SpecError, match=re.escape('did you mean "heel, woman"?')):
        body_measure("heal, woman", Place("must-pass"))


def test_an_age_beyond_the_table_is_refused() -> None:
    with pytest.raises(SpecError, match="ends at 60 months; measure the head"):
        body_measure("head, 6 years", Place("must-pass"))


def chart_and_json(passing: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> tuple[str, dict[str, object]]:
    path = str(written(band(passing), tmp_path))
    assert run(["figures", path]) == 0
    chart = re.sub(r"\s+", " ", capsys.readouterr().out)
    assert run(["figures", path, "--json"]) == 0
    return chart, json.loads(capsys.readouterr().out)["pieces"][0]["opening"]


def test_the_figures_name_the_source_and_the_json_stays(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    chart, opening = chart_and_json("head, 24 months", tmp_path, capsys)
    # 50.81 cm up to the millimetre
    assert "must go over 50.9 cm" in chart
    assert "(head, 24 months: 97th percentile of boys, WHO Child Growth Standards)" in chart
    assert list(opening) == ["opens_to_mm", "must_pass_mm", "passes", "limited_by"]
    assert opening["must_pass_mm"] == pytest.approx(508.1, abs=0.05)
    plain, measured = chart_and_json("50.81 cm", tmp_path, capsys)
    assert "WHO" not in plain
    assert measured["limited_by"] == opening["limited_by"]


def test_an_unknown_one_names_file_and_key(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["figures", str(written(band("elbow"), tmp_path, "band.toml"))]) == 2
    assert capsys.readouterr().err.startswith('tiler: band.toml: pieces[0].opening.must-pass: "elbow" is not known; ')
