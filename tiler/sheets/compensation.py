"""A drawing made for one printer: enlarged by what that printer shrinks, on both axes of the page.

All lengths of the sheet and of the page stay true mm, those that the printer's paper
will show; the canvas alone draws them times the factors.  So the page, whose size is
that of real paper, holds ``size / factor`` true mm.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from tiler.languages.proved import ONLY_FOR
from tiler.languages.words import say
from tiler.paper import Margins, PageSize


@dataclass(frozen=True)
class Compensation:
    """The printer that the drawing is for, and how much larger it is drawn across and down the page."""

    printer: str
    across: float
    down: float

    @property
    def words(self) -> str:
        """What every page says."""
        return say(ONLY_FOR, printer=self.printer)

    def true_page(self, page: PageSize) -> PageSize:
        """Return a real page in the true mm that the printer makes of it; the overlap is true already."""
        return replace(
            page,
            width=page.width / self.across,
            height=page.height / self.down,
            margins=self.true_margins(page.margins),
        )

    def true_margins(self, margins: Margins) -> Margins:
        """Return real margins in true mm."""
        return Margins(
            margins.left / self.across, margins.right / self.across, margins.top / self.down, margins.bottom / self.down
        )
