"""How a piece is cut, as it may be written in the language of the file: how often, how long, how wide; mm."""

from __future__ import annotations

from collections.abc import Collection
from itertools import product

from tiler.drawn import Bought, Piece
from tiler.languages.proved import CUT, FROM_FOLD, SPAN
from tiler.languages.words import say, told
from tiler.lengths import both

HALF_A_STEP = 0.002
"""A declared length may have lost so much to rounding, mm; it decides which way the tape rounds."""


def how_cut(piece: Piece | Bought) -> str:
    """Return how often a piece is cut, and whether on fold."""
    return say(CUT["on-fold" if piece.cut == "on-fold" else "full-loop"], count=piece.quantity)


def drawn_lengths(piece: Piece | Bought, units: str) -> set[str]:
    """Return how the drawn length may be written: that of a half, or twice a half that is rounded."""
    if piece.cut == "on-fold":
        return written(piece.cut_length_mm, units)
    return written(piece.cut_length_mm / 2, units, times=2)


def cut_lengths(piece: Piece | Bought, units: str) -> set[str]:
    """Return the same with the words that a half is told by."""
    found = drawn_lengths(piece, units)
    return {say(FROM_FOLD, length=length) for length in found} if piece.cut == "on-fold" else found


def cut_widths(piece: Piece | Bought, units: str) -> set[str]:
    """Return how the width may be written: bindings are rounded up, bands to the nearest."""
    return written(piece.cut_width_mm, units) | written(piece.cut_width_mm, units, up=True)


def spans(first: Collection[str], last: Collection[str]) -> set[str]:
    """Return how it may be written from where to where a length runs over the sizes of a piece."""
    return {say(SPAN, first=one, last=other) for one, other in product(first, last)}


def written(mm: float, units: str, times: int = 1, up: bool = False) -> set[str]:
    """Return how a length may be written."""
    return {told(both(mm + off, units, times=times, up=up)) for off in (-HALF_A_STEP, 0.0, HALF_A_STEP)}
