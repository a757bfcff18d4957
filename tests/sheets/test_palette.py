"""The colours of sizes: dark enough on white, and told apart by whoever sees fewer colours, or none.

Seeing without one kind of cone is simulated by the matrices of Machado, Oliveira and
Fernandes, "A Physiologically-based Model for Simulation of Color Vision Deficiency"
(IEEE Transactions on Visualization and Computer Graphics 15(6), 2009; severity 1.0, linear
RGB). Distances are those of CIE 1976 L*a*b* (ISO/CIE 11664-4), from sRGB (IEC 61966-2-1).
What is asked for is ours: a just noticeable difference is about 2.3.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations
from math import cbrt, dist, lcm

import pytest

from tiler.printed import Colour
from tiler.proof.compare.itself import contrast
from tiler.proof.tolerances import LEAST_CONTRAST
from tiler.sheets.pieces.nest import PATTERNS
from tiler.sheets.pieces.palette import PALETTE

SEEN = {
    "with all three": [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]],
    "without red": [
        [0.152286, 1.052583, -0.204868],
        [0.114503, 0.786281, 0.099216],
        [-0.003882, -0.048116, 1.051998],
    ],
    "without green": [
        [0.367322, 0.860646, -0.227968],
        [0.280085, 0.672501, 0.047413],
        [-0.011820, 0.042940, 0.968881],
    ],
    "without blue": [
        [1.255528, -0.076749, -0.178779],
        [-0.078411, 0.930809, 0.147602],
        [0.004733, 0.691367, 0.303900],
    ],
}
TO_XYZ = [[0.4124564, 0.3575761, 0.1804375], [0.2126729, 0.7151522, 0.0721750], [0.0193339, 0.1191920, 0.9503041]]
NEIGHBOURS = list(zip(PALETTE, (*PALETTE[1:], PALETTE[0]), strict=True))


def linear(colour: Colour) -> list[float]:
    return [share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4 for share in colour]


def lab(colour: Colour, seen: str = "with all three") -> list[float]:
    light = linear(colour)
    rgb = [min(1.0, max(0.0, sumprod(row, light))) for row in SEEN[seen]]
    xyz = [sumprod(row, rgb) / sum(row) for row in TO_XYZ]
    x, y, z = (cbrt(one) if one > 216 / 24389 else (24389 / 27 * one + 16) / 116 for one in xyz)
    return [116 * y - 16, 500 * (x - y), 200 * (y - z)]


def sumprod(ones: Sequence[float], others: Sequence[float]) -> float:
    return sum(one * other for one, other in zip(ones, others, strict=True))


def in_grey(colour: Colour) -> float:
    """Give the lightness of a colour printed in grey, by the luma of ITU-R BT.601."""
    luma = 0.299 * colour[0] + 0.587 * colour[1] + 0.114 * colour[2]
    return lab((luma, luma, luma))[0]


def test_measures_are_those_of_the_sources() -> None:
    """This test ensures it by white, by black, and by red, whose values are published (CIE, sRGB; WCAG: 4.0 to 1)."""
    assert lab((1.0, 1.0, 1.0)) == pytest.approx([100, 0, 0], abs=0.01)
    assert lab((1.0, 0.0, 0.0)) == pytest.approx([53.24, 80.09, 67.20], abs=0.02)
    assert contrast((0.0, 0.0, 0.0)) == pytest.approx(21)
    assert contrast((1.0, 0.0, 0.0)) == pytest.approx(4.0, abs=0.01)
    assert contrast((-9.0, 1.0, 0.0)) == contrast((0.0, 1.0, 0.0))
    # who lacks the cone for red takes a dark red for an olive
    assert dist(lab((0.55, 0, 0), "without red"), lab((0.2, 0.17, 0), "without red")) < 15


def test_every_colour_is_as_dark_on_white_as_type() -> None:
    assert all(contrast(colour) >= LEAST_CONTRAST for colour in PALETTE)
    assert all(in_grey(colour) < 51 for colour in PALETTE)


@pytest.mark.parametrize("seen", SEEN)
def test_any_two_colours_are_told_apart(seen: str) -> None:
    assert min(dist(lab(one, seen), lab(other, seen)) for one, other in combinations(PALETTE, 2)) > 30
    assert min(dist(lab(one, seen), lab(other, seen)) for one, other in NEIGHBOURS) > 50


def test_neighbours_differ_in_grey() -> None:
    assert min(abs(in_grey(one) - in_grey(other)) for one, other in NEIGHBOURS) > 20


def test_colour_and_pattern_together_come_again_after_forty_sizes() -> None:
    assert lcm(len(PALETTE), len(PATTERNS)) == 40
