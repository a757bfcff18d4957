"""Papers, margins, overlap, and the window that a page shows.

All lengths are millimetres.  A4 and A3 are ISO 216:2007; letter and tabloid are
ANSI/ASME Y14.1 (8.5 x 11 and 11 x 17 in); legal is the trade size 8.5 x 14 in.
``letter-a4`` is 210 mm x 11 in: it lies inside both papers, so it prints true on
either.  ``one-sheet`` has no size of its own: one page as large as the pieces
need.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction

from tiler.box import Box
from tiler.errors import SpecError
from tiler.languages.catalogue import noted
from tiler.sentence import Place

IN = Fraction(254, 10)
"""One inch in millimetres, exactly (NIST SP 811, App. B)."""

ONE_SHEET = "one-sheet"


@dataclass(frozen=True)
class Paper:
    """A paper as people write it, with its sides, upright, in mm; ``has_tray`` where printers know it by its size."""

    words: str
    width: Fraction
    height: Fraction
    has_tray: bool = True

    @property
    def size(self) -> tuple[float, float]:
        """Width and height, mm."""
        return float(self.width), float(self.height)


PAPERS = {
    "letter": Paper("Letter", Fraction(17, 2) * IN, 11 * IN),
    "a4": Paper("A4", Fraction(210), Fraction(297)),
    "letter-a4": Paper(noted("Letter or A4"), Fraction(210), 11 * IN, has_tray=False),
    "legal": Paper("Legal", Fraction(17, 2) * IN, 14 * IN),
    "tabloid": Paper("Tabloid", 11 * IN, 17 * IN),
    "a3": Paper("A3", Fraction(297), Fraction(420)),
}
"""Every fixed paper; one sheet is not among them."""

PAPER_NAMES = (*PAPERS, ONE_SHEET)
PAPER_WORDS = {name: paper.words for name, paper in PAPERS.items()} | {ONE_SHEET: noted("one sheet")}

NO_TRAY = (*(name for name, paper in PAPERS.items() if not paper.has_tray), ONE_SHEET)
"""Papers that match no tray, so that picking a tray by size would mislead."""

HOME = "letter-a4"
"""The paper of pages that are read at home, where no other is asked for."""


class Arrangement(StrEnum):
    """How the pieces lie: in a grid of pages; cut across into parts side by side; whichever needs fewer pages."""

    GRID = "grid"
    STACKED = "stacked"
    FEWEST = "fewest"


MARK_SIZE = 6.0
"""A register mark measures 6 mm from arm to arm."""

LEAST_OVERLAP = MARK_SIZE + 2.0
"""The least overlap: a mark plus 2 mm."""

LEAST_MARGIN = 2.0
"""Nearer to the paper's edge a page frame could not be told from the edge."""

UNPRINTED = 4.3
"""A home printer leaves about so much white at the paper's edge, mm: 12 pt, common practice."""

FOOT_HEIGHT = 5.7
"""What the strip at the foot of a page takes, with the white below the page frame, mm."""

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
    arrange: Arrangement = Arrangement.FEWEST
    roll: float | None = None
    """Width of the roll or sheet that one sheet is printed on; None where any usual roll will do."""
    length: float | None = None
    """Height of the sheet; None where it is cut off a roll."""


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
    """Return the page of a fixed paper.

    Raises :class:`SpecError` when margins or overlap leave no usable window.
    """
    margins = with_foot(choice.margins)
    return checked(PageSize(choice.name, *PAPERS[choice.name].size, margins, choice.overlap))


def with_foot(margins: Margins) -> Margins:
    """Return margins with room for the strip at the foot of the page.

    Raises :class:`SpecError` for a margin in which no page frame can stand.
    """
    check_margins(margins)
    return replace(margins, bottom=max(margins.bottom, UNPRINTED + FOOT_HEIGHT))


def checked(page: PageSize) -> PageSize:
    """Return the page as it is; raise :class:`SpecError` when margins or overlap leave no usable window."""
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


class Projected(StrEnum):
    """How a file for a projector is painted: black on white, or as the negative, which dazzles less."""

    LIGHT = "light"
    DARK = "dark"
