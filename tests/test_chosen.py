"""Tables of cases: of what is tried every value occurs, all are tried where that is asked for, and what fails is named."""

from __future__ import annotations

import pytest

from tests.chosen import WHOLE, each, over, some, tries

LETTERS, NUMBERS = "abcde", (1, 2, 3)


@pytest.fixture(autouse=True)
def usual(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(WHOLE, raising=False)


def test_every_value_of_every_table_occurs_and_no_case_twice() -> None:
    cases = each(LETTERS, NUMBERS)
    assert [{*column} for column in zip(*cases, strict=True)] == [{*LETTERS}, {*NUMBERS}]
    assert len(cases) == len({*cases}) == len(LETTERS)


def test_all_are_tried_where_they_are_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    assert (some(LETTERS, 2), tries(40)) == (["a", "c", "e"], 16)
    monkeypatch.setenv(WHOLE, "1")
    assert (some(LETTERS, 2), tries(40)) == ([*LETTERS], 40)
    assert {*each(LETTERS, NUMBERS)} == {(letter, number) for letter in LETTERS for number in NUMBERS}


def test_each_case_that_fails_is_named_and_none_hides_another() -> None:
    @over(("number", "double"), [(1, 2), (2, 5), (3, 6), ("four", 8)])
    def doubles(number: int, double: int) -> None:
        assert 2 * number == double

    with pytest.raises(AssertionError) as fault:
        doubles()
    first, second, *_ = str(fault.value).splitlines()
    assert first.startswith("2 of the cases fail")
    assert second.startswith("2, 5: AssertionError")
    assert "'four', 8: AssertionError" in str(fault.value)

    @over("number", NUMBERS)
    def refused(number: int) -> None:
        with pytest.raises(ValueError, match="2"):
            raise ValueError(number)

    with pytest.raises(AssertionError, match="2 of the cases fail"):
        refused()
