"""This checks that a size which is out of line is found, and that no regular grade is taken for a slip.

The lengths are invented; rule and limits are ours.
"""

from pathlib import Path

import pytest

from tiler.draft.advice.grade import slips
from tiler.draft.compute import figure_job
from tiler.usecases.job import read_job

EXAMPLE = Path(__file__).parents[2] / "examples" / "saltmarsh-sizes.toml"


def found(*inches: float) -> list[int]:
    return [slip.index for slip in slips([25.4 * length for length in inches])]


@pytest.mark.parametrize(
    ("inches", "places"),
    [
        pytest.param((7, 7.25, 7.75, 7.75), [2], id="7 3/4 typed for 7 1/2"),
        pytest.param((7, 7.25, 7.75, 7.75, 8, 8.25), [2], id="the same in more sizes"),
        pytest.param((7, 7.25, 7.25, 7.75, 8), [2], id="7 1/4 typed for 7 1/2"),
        pytest.param((8.5, 8.25, 7.75, 7.75, 7.5), [2], id="a falling grade"),
        pytest.param((7, 7, 7.25, 7, 7), [2], id="no grade at all"),
        pytest.param((7, 7.25, 7.5, 7.75, 8.125, 8.375, 8.875, 9.25), [5], id="after a change of step"),
        pytest.param((6, 7.25, 7.5, 7.75), [0], id="the first by an inch"),
        pytest.param((7, 7.25, 7.5, 8.75), [3], id="the last by an inch"),
        pytest.param((7, 7.25, 8.25, 8.5), [2], id="one jump"),
        pytest.param((7, 7.25, 7.5, 7.25), [3], id="the last turns back"),
        pytest.param((7, 7.25, 7.5, 7.75, 8.375), [4], id="the last by 3/8"),
        pytest.param((6.625, 7.25, 7.5, 7.75, 8), [0], id="the first by 3/8"),
        pytest.param((9, 8.75, 8.5, 7.875), [3], id="the last of a falling grade"),
        pytest.param((7, 8.75, 7.5), [1], id="the one between of three"),
        pytest.param((7.5, 6.75, 7), [1], id="the one between of three is too small"),
    ],
)
def test_a_slip_is_found(inches: tuple[float, ...], places: list[int]) -> None:
    assert found(*inches) == places


@pytest.mark.parametrize(
    "inches",
    [
        pytest.param((7, 7.25, 7.5, 7.875, 8.25, 8.625), id="1/4 then 3/8"),
        pytest.param((7, 7.25, 7.5, 7.875), id="the last step 3/8"),
        pytest.param((7, 7.25, 7.625, 8, 8.375), id="the first step 1/4"),
        pytest.param((7, 7.25, 7.5, 8, 8.5), id="1/4 then twice as much"),
        pytest.param((7, 7.25, 7.5, 7.875, 8.25, 8.75, 9.25), id="a step that grows twice"),
        pytest.param((7, 7, 7.25, 7.25, 7.5, 7.5), id="every second size"),
        pytest.param((7, 7.25, 7.625, 7.875, 8.25, 8.5, 8.875), id="5/16 rounded to eighths"),
        pytest.param((0.625, 0.625, 0.625, 0.75, 0.75), id="a width that is wider from one size on"),
        pytest.param((7, 7.25, 7.5625, 7.75), id="within the reading of a tape"),
        pytest.param((8, 7.75, 7.5), id="a falling grade"),
        pytest.param((7, 9), id="two sizes"),
        pytest.param((7, 7.25, 7.5, 7.75, 8.25), id="the last step twice as much"),
        pytest.param((7, 7.25, 7.75, 8.5), id="a step that grows each time"),
    ],
)
def test_a_regular_grade_is_none(inches: tuple[float, ...]) -> None:
    assert found(*inches) == []


@pytest.mark.parametrize("at", range(1, 7))
@pytest.mark.parametrize("by", [-0.25, 0.25])
def test_a_step_too_many_or_too_few_is_found_in_every_inner_size(at: int, by: float) -> None:
    lengths = [7 + 0.25 * index for index in range(8)]
    lengths[at] += by
    assert found(*lengths) == [at]


def test_the_example_is_in_line_and_a_slip_in_it_is_told_with_its_numbers(tmp_path: Path) -> None:
    assert [one.warnings for one in figure_job(read_job(EXAMPLE))] == [()] * 24
    spec = tmp_path / "spec.toml"
    text = EXAMPLE.read_text(encoding="utf-8")
    spec.write_text(
        text.replace(
            'front = { XXS = "8 1/4 in", XS = "8 1/2 in", S = "8 3/4',
            'front = { XXS = "8 1/4 in", XS = "8 1/2 in", S = "9',
        )
    )
    flagged = {(one.name, one.size): one.warnings for one in figure_job(read_job(spec)) if one.warnings}
    assert list(flagged) == [("Armhole binding", "S")]
    (warning,) = flagged["Armhole binding", "S"]
    assert warning.startswith(
        "Out of line with the sizes beside it: the front in the spec is XS 8½ in (21.6 cm), S 9 in (22.9 cm), M 9 in (22.9 cm). "
    )
    assert "Its steps are ½ in and 0 in, and the sizes around it have ¼ in." in warning


def test_a_slip_is_told_even_where_its_neighbours_are_not_picked(tmp_path: Path) -> None:
    spec = tmp_path / "spec.toml"
    spec.write_text(EXAMPLE.read_text(encoding="utf-8").replace('M = "9 in", L = "9 1/4', 'M = "9 1/4 in", L = "9 1/4'))
    (cuff,) = [one for one in figure_job(read_job(spec), "M") if one.name == "Cuff"]
    assert any("Out of line" in warning for warning in cuff.warnings)


@pytest.mark.parametrize(
    ("old", "new", "size", "told"),
    [
        ('XXS = "8 1/4 in"', 'XXS = "7 1/4 in"', "XXS", "XXS 7¼ in (18.4 cm), XS 8½ in (21.6 cm), S 8¾ in (22.2 cm)"),
        ('3XL = "10 1/2 in"', '3XL = "11 in"', "3XL", "XL 9¾ in (24.8 cm), 2XL 10⅛ in (25.7 cm), 3XL 11 in (27.9 cm)"),
    ],
)
def test_a_slip_at_either_end_is_told_as_it_is_typed_with_two_neighbours(
    tmp_path: Path, old: str, new: str, size: str, told: str
) -> None:
    spec = tmp_path / "spec.toml"
    text = EXAMPLE.read_text(encoding="utf-8")
    assert old in text
    spec.write_text(text.replace(f"front = {{ {old}", f"front = {{ {new}").replace(f", {old} }}", f", {new} }}", 1))
    (one,) = [one for one in figure_job(read_job(spec)) if one.slips]
    assert one.size == size
    assert told in one.slips[0]
