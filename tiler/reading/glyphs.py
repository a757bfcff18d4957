"""The glyphs of a TrueType font: which one stands for a character, and how wide each is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from fontTools.ttLib import TTFont


@dataclass(frozen=True)
class Glyphs:
    """Numbers of glyphs by character code, and widths by number, in thousandths of the type's size."""

    numbers: Mapping[int, int]
    widths: Mapping[int, float]


def glyphs_of(file: Path) -> Glyphs:
    """Read a font file."""
    with TTFont(file, lazy=True) as font:
        names = font.getBestCmap()
        number = font.getReverseGlyphMap()
        metrics = font["hmtx"].metrics
        em = font["head"].unitsPerEm
        numbers = {code: number[name] for code, name in names.items()}
        widths = {number[name]: 1000 * metrics[name][0] / em for name in set(names.values())}
    return Glyphs(numbers, widths)
