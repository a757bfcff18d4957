"""A sounding across a line against the sum written out."""

from __future__ import annotations

from random import Random

import pytest

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
@pytest.mark.parametrize("seed", range(10))
def test_a_sounding_is_the_sum_of_its_pixels(seed: int, upright: bool) -> None:
    chance = Random(seed)
    data = bytes(chance.randrange(256) for _ in range(WIDTH * HEIGHT))
    along, across = (WIDTH, 1) if upright else (1, WIDTH)
    row, count = chance.randint(5, 14), chance.randint(5, 18)
    run = Run(data, row * across + 2 * along, along, across, count, row, 19 - row)
    reach = chance.randint(2, 4)
    for start in range(count - SOUNDING + 1):
        assert run._across(start, reach) == written_out(run, start, reach)
