"""The ink of printed words: every character must leave some, on paper that shows beside it.

A line of type along an axis is read once, row by row; the rows are laid over each
other, so that one look tells for every character whether its place holds both
dark and light pixels.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, floor

from tiler.box import Box
from tiler.proof.ink.faults import TEXT, InkFault, InkKind
from tiler.proof.ink.pixels import Pixels
from tiler.proof.ink.runs import LIGHT
from tiler.reading.pdf.text import Glyph, Text

DARK = 215
"""Pixels up to here count as ink: a full stop may lie across four pixels."""

_DARK = bytes(1 if value <= DARK else 0 for value in range(256))
_LIGHT = bytes(1 if value >= LIGHT else 0 for value in range(256))


def missing_words(ink: Pixels, text: Text, clip: Box) -> Iterator[InkFault]:
    """Yield a fault for the first character inside ``clip`` that cannot be read."""
    glyphs = [glyph for glyph in text.glyphs if _inside(glyph, clip)]
    if not glyphs:
        return
    sideways = round(text.turn / 90) % 2 == 1
    spans = [_pixels(ink, glyph) for glyph in glyphs]
    for span, glyph in zip(spans, glyphs, strict=True):
        if span[0] >= span[2] or span[1] >= span[3]:
            yield InkFault(TEXT, InkKind.HIDDEN, ((glyph[0], glyph[1]), (glyph[2], glyph[3])))
            return
    left, top = min(span[0] for span in spans), min(span[1] for span in spans)
    right, foot = max(span[2] for span in spans), max(span[3] for span in spans)
    lines = (
        (ink.data[top * ink.stride + x : foot * ink.stride + x : ink.stride] for x in range(left, right))
        if sideways
        else (ink.data[y * ink.stride + left : y * ink.stride + right] for y in range(top, foot))
    )
    length = foot - top if sideways else right - left
    dark, light = _laid_over(lines, length)
    for span, glyph in zip(spans, glyphs, strict=True):
        start, end = (span[1] - top, span[3] - top) if sideways else (span[0] - left, span[2] - left)
        if dark.find(1, start, end) < 0:
            yield InkFault(TEXT, InkKind.HIDDEN, ((glyph[0], glyph[1]), (glyph[2], glyph[3])))
            return
        if light.find(1, start, end) < 0:
            yield InkFault(TEXT, InkKind.HEMMED, ((glyph[0], glyph[1]), (glyph[2], glyph[3])))
            return


def _inside(glyph: Glyph, clip: Box) -> bool:
    return clip.x0 <= glyph[0] and clip.y0 <= glyph[1] and glyph[2] <= clip.x1 and glyph[3] <= clip.y1


def _pixels(ink: Pixels, glyph: Glyph) -> tuple[int, int, int, int]:
    xa, ya = ink.pixel((glyph[0], glyph[3]))
    xb, yb = ink.pixel((glyph[2], glyph[1]))
    return (
        max(0, floor(xa)),
        max(0, floor(ya)),
        min(ink.width, max(ceil(xb), floor(xa) + 1)),
        min(ink.height, max(ceil(yb), floor(ya) + 1)),
    )


def _laid_over(lines: Iterator[bytes], length: int) -> tuple[bytes, bytes]:
    dark = light = 0
    for line in lines:
        dark |= int.from_bytes(line.translate(_DARK))
        light |= int.from_bytes(line.translate(_LIGHT))
    return dark.to_bytes(length), light.to_bytes(length)
