"""This checks how typed answers are put into the grammar of a spec."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.chosen import over, tries
from tiler.draft.spec.typed import (
    is_length,
    typed_angle,
    typed_length,
    typed_measure,
    typed_share,
    typed_share_or_length,
    typed_thickness,
)
from tiler.lengths import parse_length
from tiler.sentence import Place


@over(
    ("text", "read"),
    [
        ("23,5", "23.5 cm"), ("23,5 cm", "23.5 cm"), ("7,25 in", "7.25 in"), ("0,125 m", "0.125 m"), ("24", "24 cm"),
        ("7 1/4", "7 1/4 cm"), ("1/4", "1/4 cm"), ("-1,5", "-1.5 cm"), ("0", "0"), ("0,0", "0.0"), ("18 in", "18 in"),
        # a comma that may part thousands, several commas, and what is no number stay for the reader of the spec
        ("1,250 mm", "1,250 mm"), ("1,2,3", "1,2,3"), ("1.234,5", "1.234,5"), ("wide", "wide"), ("73/8", "73/8 cm"),
    ],
)  # fmt: skip
def test_a_length(text: str, read: str) -> None:
    assert typed_length(text, "cm") == read


@over(
    ("text", "read"),
    [("80", "80 %"), ("80 %", "80 %"), ("12,5", "12.5 %"), ("0,85", "85 %"), ("1", "100 %"), ("1.2", "120 %"), ("5", "5 %"), ("x", "x")],
)  # fmt: skip
def test_a_share(text: str, read: str) -> None:
    assert typed_share(text) == read


@pytest.mark.parametrize(
    ("text", "read"), [("88", "88 %"), ("47 cm", "47 cm"), ("18 1/2 in", "18 1/2 in"), ("47,5 cm", "47.5 cm"), ('18"', '18"')]
)  # fmt: skip
def test_a_share_or_a_length(text: str, read: str) -> None:
    assert typed_share_or_length(text, "cm") == read
    assert is_length(read) == ("%" not in read)


def test_other_answers() -> None:
    assert typed_angle("22,5 deg") == "22.5 deg"
    assert typed_measure("head, 24 months", "in") == "head, 24 months"
    assert typed_measure("57,5", "cm") == "57.5 cm"
    assert [typed_thickness("0,8", "cm"), typed_thickness("1/32", "in"), typed_thickness("1 cm", "cm")] == [
        "0.8 mm", "1/32 in", "1 cm",
    ]  # fmt: skip


@settings(max_examples=tries(40), deadline=None)
@given(st.integers(0, 99), st.text("0123456789", min_size=1, max_size=6), st.sampled_from(["", " cm", " in", "mm"]))
def test_a_decimal_comma_is_a_point_or_is_refused(whole: int, decimals: str, unit: str) -> None:
    read = typed_length(f"{whole},{decimals}{unit}", "cm")
    if "," in read:
        assert len(decimals) == 3
        assert whole
    else:
        place = Place("")
        point = parse_length(f"{whole}.{decimals}{unit}", "cm", place, zero_ok=True)
        assert parse_length(read, "cm", place, zero_ok=True) == point


@settings(max_examples=tries(60), deadline=None)
@given(st.text(max_size=20), st.sampled_from(["in", "cm"]))
def test_nothing_typed_breaks_the_reading(text: str, units: str) -> None:
    for read in (typed_length, typed_share, typed_angle, typed_share_or_length, typed_measure, typed_thickness):
        once = read(text, units)
        assert read(once, units) == once
