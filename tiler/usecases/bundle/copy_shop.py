"""Papers of a copy shop, as the pages of a pattern PDF show them; mm.

Sheets are those of ISO 216:2007. Rolls of 24, 36 and 42 in and those as wide as A0 and A1 are
common in copy shops; what is wider than home paper and none of these is taken as it is.
"""

from __future__ import annotations

from dataclasses import dataclass

from tiler.errors import SpecError
from tiler.lengths import both
from tiler.paper import IN, PAPER_WORDS, PAPERS
from tiler.sentence import Place
from tiler.usecases.bundle.base_apart import BaseApart

SHEETS = {"A0": (841.0, 1189.0), "A1": (594.0, 841.0), "A2": (420.0, 594.0)}

ROLLS = (*(float(inches * IN) for inches in (36, 24, 42)), 841.0, 594.0)

HOME_PAPERS = ("letter", "a4")
"""The home papers of a release."""

NEAR = 2.0
"""By how much a page may differ from such a size: programs round it, and pages are cut to 2 mm."""


@dataclass(frozen=True)
class CopyShopPaper:
    """A sheet of a width and a height, or a roll of a width."""

    words: str
    width: float
    height: float | None


def copy_shop_paper(size: tuple[float, float], side: float, units: str) -> CopyShopPaper | None:
    """Return the paper of pages of a usual size, shorter side first; None for home paper.

    ``side`` is the length that most pages have as a side; ``units`` are shown first.
    """
    for words, sheet in SHEETS.items():
        if all(abs(one - other) <= NEAR for one, other in zip(size, sheet, strict=True)):
            return CopyShopPaper(words, *sheet)
    for own in (side, *size):
        if any(abs(own - roll) <= NEAR for roll in ROLLS):
            return _roll(own, units)
    widest = max(float(paper.width) for paper in PAPERS.values())
    return _roll(side, units) if size[0] > widest else None


def _roll(width: float, units: str) -> CopyShopPaper:
    return CopyShopPaper(f"{both(width, units)} wide", width, None)


def sheet_of(base: BaseApart, roll: float | None, units: str) -> CopyShopPaper:
    """Return the paper of a base that the one sheet joins, which is as wide as the roll where one is asked for.

    Raises :class:`SpecError` for home paper that is none of a release, and for a roll of another width.
    """
    sheet = copy_shop_paper(base.size, base.side, units)
    if sheet is None:
        home = ", ".join(PAPER_WORDS[paper] for paper in HOME_PAPERS)
        raise SpecError(
            f"the pages of {base.path} are {base.size[0]:.0f} × {base.size[1]:.0f} mm; a base is {home}, or for a copy "
            "shop, such as A0 or a roll of 36 in",
            Place("--with"),
        )
    if roll is not None and abs(roll - sheet.width) > NEAR:
        raise SpecError(
            f"is {both(roll, units)}, and the pages of {base.path} are {both(sheet.width, units)} wide; leave it out, "
            "and the one sheet gets their width",
            Place("--roll"),
        )
    return sheet
