"""Bindings cut on the bias of woven cloth: their slanted ends, and the cloth that they take.

Millimetres.  A bias strip lies at 45 degrees to the straight grain, and so do its ends, which are cut along
the grain and joined diagonally: an end seam with the allowance j takes j sqrt(2) along the strip.  In one
continuous strip all of it comes out of a square of the side sqrt(length x width) (common practice).  Cut
across cloth of the width W, one strip is W sqrt(2) long, takes c sqrt(2) of the selvage for its cut width c,
and the first of them needs W of it as well (geometry).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from math import ceil, sqrt
from typing import Any

from tiler.draft.fabric import Fabric
from tiler.draft.spec.table import Table
from tiler.draft.strip.corner import Corner, StripEnd
from tiler.draft.strip.finish import Finish
from tiler.languages.words import Words
from tiler.lengths import both, percent
from tiler.paper import IN
from tiler.sentence import Key, Phrase

MOST_STRETCH = 0.25
"""Woven cloth stretches by 10 to 15 % on its bias; what stretches further than this is a knit."""

STEP = {"in": float(IN), "cm": 10.0}
"""The side of a square is rounded up to whole inches, or centimetres."""

NOISE = 1e-6


class CutOn(StrEnum):
    """Which way of the cloth a strip lies."""

    STRETCH = "stretch"
    BIAS = "bias"


@dataclass(frozen=True)
class Bias:
    """The cloth that all strips of a piece take, mm: the square, and strips across cloth whose width is known.

    ``strips`` are joined diagonally for each strip of the piece, ``cloth_mm`` is the length for all of them.
    """

    length_mm: float
    square_mm: float
    width_mm: float | None
    strips: int
    cloth_mm: float

    def in_strips(self, count: int) -> Bias:
        """Return the same where so many strips are joined for each strip of the piece."""
        each = (self.cloth_mm - (self.width_mm or 0.0)) / self.strips
        return replace(self, strips=count, cloth_mm=(self.width_mm or 0.0) + count * each)

    def words(self, units: str) -> Words:
        """Say what cloth it takes."""
        side = ceil(self.square_mm / STEP[units] - NOISE) * STEP[units]
        square = both(side, units, up=True)
        if self.width_mm is None:
            return Words("On the bias: in one continuous strip from a square of {square}.", square=square)
        return Words(
            "On the bias: in one continuous strip from a square of {square}, or {strips} × across cloth {width} wide, "
            "joined diagonally, {length} of it.",
            square=square,
            strips=self.strips,
            width=both(self.width_mm, units),
            length=both(self.cloth_mm, units, up=True),
        )

    def to_json(self) -> dict[str, Any]:
        """Return the entry of the figures, mm."""
        return {"square_mm": self.square_mm, "strips_across": self.strips or None, "cloth_mm": self.cloth_mm or None}


def read_cut_on(table: Table, finish: Finish) -> CutOn:
    """Read ``cut-on``; raises :class:`SpecError` beside what the bias of woven cloth is not for."""
    cut_on = table.word("cut-on", CutOn, CutOn.STRETCH)
    if cut_on is CutOn.STRETCH:
        return cut_on
    if finish.is_band:
        table.refuse("cut-on", f'"{cut_on}" is for bindings of woven cloth; a band of it would not fold back')
    for key, why in (
        ("corner", "has slanted ends of its own, and those of a bias strip are slanted already"),
        ("closed", "is for strips of knits here; a bias strip is joined diagonally into a ring"),
        ("section", "says where a strip is joined square, and a bias strip is joined as it comes off the cloth"),
    ):
        if table.has(key):
            table.refuse(key, f"{why}; leave it out, or ", Key("cut-on"))
    if table.has("cut") and table.raw("cut", "") == "on-fold":
        table.refuse("cut", '"on-fold" is not for a bias strip, whose slanted ends are parallel; write "full-loop"')
    if not table.has("fabric"):
        table.refuse(
            "cut-on", f'"{cut_on}" is for woven cloth, which stretches by 10 to 15 % on its bias; ', Phrase.NAME_FABRIC
        )
    return cut_on


def check_woven(table: Table, fabric: Fabric | None) -> None:
    """Raise :class:`SpecError` for a fabric that stretches as only knits do."""
    if fabric and fabric.stretch > MOST_STRETCH:
        table.refuse(
            "cut-on",
            f'"{CutOn.BIAS}" is for woven cloth, which gives 10 to 15 % on its bias, and {fabric.name} stretches by '
            f"{percent(fabric.stretch)}, as only knits do; check that, or leave it out",
        )


def bias_ends(cut: float, sewn_at: float, join: float) -> tuple[StripEnd, StripEnd]:
    """Return the left and the right end: parallel, at 45 degrees, right on the line at ``sewn_at`` mm."""
    left = StripEnd(Corner.NONE, ((0.0, sewn_at), (cut, sewn_at - cut)), join * sqrt(2))
    right = StripEnd(Corner.NONE, ((0.0, -sewn_at), (cut, cut - sewn_at)), join * sqrt(2))
    return left, right


def bias_length(width: float, cut: float) -> float:
    """Return how long a strip of the bias of such cloth is as drawn, both of its slanted ends included, mm."""
    return width * sqrt(2) + cut


def bias_shift(cut: float, sewn_at: float, doubled: bool) -> tuple[float, float]:
    """Return how far before its sewn length the lower edge of a strip lies, and behind it what else is sewn, mm."""
    return sewn_at, cut - sewn_at if doubled else -sewn_at


def bias_cloth(cut: float, loop: float, join: float, quantity: int, width: float | None) -> Bias:
    """Return the cloth for so many strips of the sewn length ``loop`` that are cut ``cut`` mm wide."""
    seam = 2 * join * sqrt(2)
    length = quantity * (loop + seam)
    square = sqrt(length * cut)
    if width is None:
        return Bias(length, square, None, 0, 0.0)
    most = width * sqrt(2) - seam
    if most <= 0:
        return Bias(length, square, None, 0, 0.0)
    strips = ceil(loop / most - NOISE)
    return Bias(length, square, width, strips, width + quantity * strips * cut * sqrt(2))
