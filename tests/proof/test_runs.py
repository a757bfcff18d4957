"""A sounding across a line against the sum written out."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tiler.proof.ink.runs import SOUNDING, Run

WIDTH, HEIGHT = 50, 20


def written_out(run: Run, start: int, reach: int) -> tuple[float, float]:
    """Sum darkness over a sounding pixel by pixel: amount and moment about the row."""
    dark = [
        (off, 255 - run.data[run.first + (start + step) * run.along + off * run.across])
        for off in range(-reach, reach + 1)
        for step in range(SOUNDING)
    ]
    full = 255 * SOUNDING
    return sum(value for _, value in dark) / full, sum(off * value for off, value in dark) / full


@pytest.mark.parametrize("upright", [False, True])
@settings(max_examples=20)
@given(
    data=st.binary(min_size=WIDTH * HEIGHT, max_size=WIDTH * HEIGHT),
    row=st.integers(5, 14),
    count=st.integers(5, 18),
    reach=st.integers(2, 4),
)
def test_a_sounding_is_the_sum_of_its_pixels(upright: bool, data: bytes, row: int, count: int, reach: int) -> None:
    along, across = (WIDTH, 1) if upright else (1, WIDTH)
    run = Run(data, row * across + 2 * along, along, across, count, row, 19 - row)
    for start in range(count - SOUNDING + 1):
        assert run._across(start, reach) == written_out(run, start, reach)
