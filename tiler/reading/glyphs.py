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
        # numbers will do; to read the names of all glyphs takes longer than all else here
        font.setGlyphOrder([str(number) for number in range(font["maxp"].numGlyphs)])
        numbers = {code: int(name) for code, name in font.getBestCmap().items()}
        metrics, em = font["hmtx"].metrics, font["head"].unitsPerEm
        widths = {number: 1000 * metrics[str(number)][0] / em for number in set(numbers.values())}
    return Glyphs(numbers, widths)
