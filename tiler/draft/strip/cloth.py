"""Strips on the cloth: how many lie across it, how much cloth to buy.

Millimetres.  A strip lies along the greatest stretch, which on most knits runs across
the cloth from selvage to selvage; its width runs along the cloth.  The longest come
first, each in the first row that has room for it.  Pieces that are cut to shape lie with
their grain along the cloth, each in the box around it, one on fold as it opens: the highest
come first, in rows as high as these, which is more than they take laid into each other.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from math import floor, fsum

from tiler.languages.words import Words
from tiler.lengths import both

NOISE = 1e-6


@dataclass(frozen=True)
class Cloth:
    """What all strips of a piece take, mm: strips or sections side by side, rows of them, and the length to buy.

    ``extra_seams`` is what each strip has more than its end seam, ``section_mm`` its longest section;
    ``abreast`` are the most that lie in a row.
    """

    fabric: str
    width_mm: float
    extra_seams: int
    section_mm: float
    abreast: int
    rows: int
    length_mm: float
    alike: bool = True
    """Whether all sections are as long as each other."""

    def to_json(self) -> dict[str, float]:
        """Return the entry of the figures, mm."""
        return {
            "strips_across": self.abreast,
            "extra_end_seams": self.extra_seams,
            "section_mm": self.section_mm,
            "length_mm": self.length_mm,
        }


def cloth_needed(fabric: str, width: float, lengths: Sequence[float], cut_width: float, quantity: int) -> Cloth:
    """Lay ``quantity`` strips on cloth of this width, each in sections of these lengths, none longer than that."""
    longest, shortest = max(lengths), min(lengths)
    left: list[float] = []
    filled: list[int] = []
    for length, count in sorted(Counter(lengths).items(), reverse=True):
        row = 0
        for _ in range(count * quantity):
            # what has no room for one has none for the next
            while row < len(left) and left[row] + NOISE < length:
                row += 1
            if row == len(left):
                left.append(width)
                filled.append(0)
            left[row] -= length
            filled[row] += 1
    alike = longest - shortest < NOISE
    abreast = floor(width / longest + NOISE) if alike else max(filled)
    return Cloth(fabric, width, len(lengths) - 1, longest, abreast, len(left), len(left) * cut_width, alike)


@dataclass(frozen=True)
class ShapedCloth:
    """What the shaped pieces of a band take at most, mm: how high each row of them is, along the cloth."""

    fabric: str
    width_mm: float
    rows_mm: tuple[float, ...]

    @property
    def length_mm(self) -> float:
        """The length to buy at most."""
        return fsum(self.rows_mm)

    def words(self, units: str) -> Words:
        """Say what cloth they take."""
        return Words(
            "Cloth: {fabric} {width} wide, at most {length} of its length.",
            fabric=self.fabric,
            width=both(self.width_mm, units),
            length=both(self.length_mm, units, up=True),
        )

    def to_json(self) -> dict[str, float]:
        """Return the entry of the figures, mm."""
        return {"rows": len(self.rows_mm), "length_at_most_mm": self.length_mm}


def shapes_on_cloth(fabric: str, width: float, boxes: Sequence[tuple[float, float]]) -> ShapedCloth:
    """Lay boxes, each so far across the cloth and along it, on cloth of this width, none wider than that."""
    left: list[float] = []
    rows: list[float] = []
    for across, along in sorted(boxes, key=lambda box: (-box[1], -box[0])):
        row = next((index for index, room in enumerate(left) if room + NOISE >= across), len(left))
        if row == len(left):
            left.append(width)
            rows.append(along)
        left[row] -= across
    return ShapedCloth(fabric, width, tuple(rows))
