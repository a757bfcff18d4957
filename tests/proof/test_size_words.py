"""Lengths in labels: 1 in = 25.4 mm exactly (NIST SP 811, App. B)."""

from __future__ import annotations

import pytest

from tests.chosen import over
from tiler.proof.foreign.size_words import sizes_named


@over(
    ("text", "size"),
    [
        ("2 in", 50.8),
        ('1"', 25.4),
        ("2″ × 2″", 50.8),
        ("2′′", 50.8),
        ("2½ in", 63.5),
        ("1 1/2 inch", 38.1),
        ("1/2 in", 12.7),
        ("one inch square", 25.4),
        ("a TWO-INCH test square", 50.8),
        ("four by four inches", 101.6),
        ("10x10cm", 100.0),
        ("5 cm", 50.0),
        ("5,0 cm", 50.0),
        ("2.5 cm test square", 25.0),
        ("100 mm", 100.0),
        ("4 Zoll", 101.6),
        ("this square is 3 inches wide", 76.2),
    ],
)
def test_a_label_names_its_size(text: str, size: float) -> None:
    assert sizes_named(text)[0][0] == pytest.approx(size, abs=1e-9)


@over("text", ["test square", "page 2 in the booklet", "25 cm2", "3/0 in", "see 10", "0 cm", "someone inch", "A4"])
def test_other_words_name_none(text: str) -> None:
    assert sizes_named(text) == []
