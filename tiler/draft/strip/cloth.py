"""Strips on the cloth: how many lie across it, where a long one is pieced, how much cloth to buy.

Millimetres.  A strip lies along the greatest stretch, which on most knits runs across
the cloth from selvage to selvage; its width runs along the cloth.  A strip that is
longer than the cloth is wide is cut in sections of equal length, and every extra end
seam takes two end allowances.  A strip cut on fold keeps a section on the fold, so its
extra end seams come in pairs.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor

from tiler.errors import SpecError
from tiler.lengths import both
from tiler.sentence import Place

MOST_EXTRA_SEAMS = 40
"""A strip in more sections is taken for a mistake."""

NOISE = 1e-6


@dataclass(frozen=True)
class Cloth:
    """What all strips of a piece take, mm: sections side by side, rows of them, and the length to buy.

    ``extra_seams`` is what each strip has more than its end seam.
    """

    fabric: str
    width_mm: float
    extra_seams: int
    section_mm: float
    abreast: int
    rows: int
    length_mm: float


def extra_seams(length: float, join: float, width: float, on_fold: bool, where: Place, units: str) -> int:
    """Return how many end seams must be added to a strip that is ``length`` mm long in full.

    Raises :class:`SpecError` for cloth that is too narrow for sensible sections.
    """
    if length <= width + NOISE:
        return 0
    gained = width - 2 * join
    count = ceil((length - width) / gained - NOISE) if gained > 0 else MOST_EXTRA_SEAMS + 1
    count += count % 2 if on_fold else 0
    if count > MOST_EXTRA_SEAMS:
        raise SpecError(
            f"cloth of {both(width, units)} width would need the strip in more than {MOST_EXTRA_SEAMS} sections; "
            "check the width and its unit",
            where,
        )
    return count


def section_ends(full_length: float, count: int, on_fold: bool) -> tuple[float, ...]:
    """Return where the sections of a strip with ``count`` extra end seams meet: from the fold or the left cut end."""
    section = full_length / (count + 1)
    if on_fold:
        return tuple(section / 2 + section * index for index in range(count // 2))
    return tuple(section * index for index in range(1, count + 1))


def cloth_needed(fabric: str, width: float, full_length: float, count: int, cut_width: float, quantity: int) -> Cloth:
    """Lay ``quantity`` strips with ``count`` extra end seams each on cloth of this width."""
    section = full_length / (count + 1)
    abreast = floor(width / section + NOISE)
    rows = ceil((count + 1) * quantity / abreast)
    return Cloth(fabric, width, count, section, abreast, rows, rows * cut_width)
