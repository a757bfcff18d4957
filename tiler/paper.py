"""Papers, margins, overlap, and the window that a page shows.

All lengths are millimetres.  A4 and A3 are ISO 216:2007; letter and tabloid are
ANSI/ASME Y14.1 (8.5 x 11 and 11 x 17 in); legal is the trade size 8.5 x 14 in.
``letter-a4`` is 210 mm x 11 in: it lies inside both papers, so it prints true on
either.  ``one-sheet`` has no size of its own: one page as large as the pieces
need.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from tiler.box import Box
from tiler.errors import SpecError
from tiler.sentence import Place

IN = Fraction(254, 10)
"""One inch in millimetres, exactly (NIST SP 811, App. B)."""

ONE_SHEET = "one-sheet"

PAPERS: dict[str, tuple[Fraction, Fraction]] = {
    "letter": (Fraction(17, 2) * IN, 11 * IN),
    "a4": (Fraction(210), Fraction(297)),
    "letter-a4": (Fraction(210), 11 * IN),
    "legal": (Fraction(17, 2) * IN, 14 * IN),
    "tabloid": (11 * IN, 17 * IN),
    "a3": (Fraction(297), Fraction(420)),
}
"""Width and height of every fixed paper, upright."""

PAPER_NAMES = (*PAPERS, ONE_SHEET)

PAPER_WORDS = {
    "letter": "Letter",
    "a4": "A4",
    "letter-a4": "Letter or A4",
    "legal": "Legal",
    "tabloid": "Tabloid",
    "a3": "A3",
    ONE_SHEET: "one sheet",
}
"""The papers as people write them."""

GRID, STACKED, FEWEST = "grid", "stacked", "fewest"
ARRANGEMENTS = (GRID, STACKED, FEWEST)
"""A grid of pages; strips cut across into parts that lie side by side; whichever needs fewer pages."""

MARK_SIZE = 6.0
"""A register mark measures 6 mm from arm to arm."""

LEAST_OVERLAP = MARK_SIZE + 2.0
"""The least overlap: a mark plus 2 mm."""

LEAST_MARGIN = 2.0
"""Nearer to the paper's edge a page frame could not be told from the edge."""

LONGEST_PAGE = float(200 * IN)
"""200 in: longer pages show blank in some viewers."""

MOST_PAGES = 400
"""A job of more pages is taken for a mistake."""

LEAST_WINDOW = 60.0
"""Smallest side of a window that still holds a test square and the marks."""


@dataclass(frozen=True)
class Margins:
    """What a page leaves white on each side, mm."""

    left: float = 10.0
    right: float = 10.0
    top: float = 10.0
    bottom: float = 10.0


@dataclass(frozen=True)
class PaperChoice:
    """What the spec or the command line asks for; sizes in mm."""

    name: str = "letter"
    margins: Margins = Margins()
    overlap: float = 10.0
    arrange: str = FEWEST
    roll: float | None = None
    """Width of the roll that one sheet is printed on; None where any width will do."""


@dataclass(frozen=True)
class PageSize:
    """An upright page with its window, mm."""

    name: str
    width: float
    height: float
    margins: Margins
    overlap: float

    @property
    def window_width(self) -> float:
        """Width of the part of the sheet that one page shows."""
        return self.width - self.margins.left - self.margins.right

    @property
    def window_height(self) -> float:
        """Height of the part of the sheet that one page shows."""
        return self.height - self.margins.bottom - self.margins.top

    @property
    def frame(self) -> Box:
        """Where the window stands on the page: all of it inside the margins."""
        margins = self.margins
        return Box(margins.left, margins.bottom, self.width - margins.right, self.height - margins.top)


def check_margins(margins: Margins) -> None:
    """Raise :class:`SpecError` for a margin in which no page frame can stand."""
    for side in ("left", "right", "top", "bottom"):
        margin = getattr(margins, side)
        if margin < LEAST_MARGIN:
            raise SpecError(
                f"{margin:g} mm ({side}) is too close to the paper's edge, where printers "
                f"leave 4 to 5 mm white; take {LEAST_MARGIN:g} mm at least, better 5 mm",
                Place("", ("paper", "margin")),
            )


def page_size(choice: PaperChoice) -> PageSize:
    """Give the page for a fixed paper.

    Raises :class:`SpecError` when margins or overlap leave no usable window.
    """
    check_margins(choice.margins)
    width, height = PAPERS[choice.name]
    return checked(PageSize(choice.name, float(width), float(height), choice.margins, choice.overlap))


def checked(page: PageSize) -> PageSize:
    """Give the page back; raises :class:`SpecError` when margins or overlap leave no usable window."""
    if page.overlap < LEAST_OVERLAP:
        raise SpecError(
            f"{page.overlap:g} mm is less than a register mark plus 2 mm; take {LEAST_OVERLAP:g} mm or more",
            Place("", ("paper", "overlap")),
        )
    for side, size in (("width", page.window_width), ("height", page.window_height)):
        if size < max(LEAST_WINDOW, 2 * page.overlap + MARK_SIZE):
            raise SpecError(
                f"margins and overlap leave a window of only {max(size, 0):g} mm {side} on {page.name}; "
                "take smaller margins, a smaller overlap or a larger paper",
                Place("", ("paper",)),
            )
    return page
