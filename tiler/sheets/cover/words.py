"""What the first page says: the four steps, the cautions, and what it says of this job."""

from __future__ import annotations

from dataclasses import dataclass, replace

from tiler.declaration import ALONE, Host
from tiler.languages.catalogue import noted
from tiler.printed import Logo
from tiler.sheets.cover.lengths import Lengths
from tiler.sheets.cover.notes import Note
from tiler.sheets.cover.piece_table import CoverPiece, in_one
from tiler.sheets.cover.sizes import SizePages

PRINT = (
    noted(
        "Print this page alone first, at 100 % or “actual size”, on the paper named above, one side only. Never “fit”, "
        "“shrink”, “scale to printable area” or “borderless”. Phones often shrink: print from a computer."
    ),
)

PRINT_ALONE = (
    noted(
        "Print this page at 100 % or “actual size”, on the paper named above. Never “fit”, “shrink”, “scale to "
        "printable area” or “borderless”. Phones often shrink: print from a computer."
    ),
)

PRINT_ONE_SHEET = (
    noted("Ask for 100 % or “actual size”, on paper at least as large as named above, nothing fitted or shrunk."),
)

PROJECT = (
    noted(
        "This file is for a projector that shines straight down on the table, shown at 100 %. Set its height, zoom and "
        "keystone until both squares measure right, across and down, first here and then at all four corners."
    ),
    noted("Print nothing of it: for paper there are files of its own."),
)

MEASURE = (
    noted(
        "Hold a good ruler to both squares and to the long lines, across and down. A square is right to half a "
        "millimetre (1/64 in), a long line to 1 mm (1/32 in)."
    ),
    noted("If one is not, change the setting and print this page again before you print another or cut cloth."),
)
MEASURE_SHOWN = (MEASURE[0], noted("If one is not, set the projector anew before you cut cloth."))

TAPE = noted(
    "Tape only pages at whose edges it says which page joins. Trim the edge with the scissors along the thin page "
    "frame; the edge with the tab stays. Lay the trimmed edge over the tab until the register marks lie one on the "
    "other (a window pane or a pin through the centre helps), and tape. Go by the marks, never by the paper's edge."
)

TAPE_ROWS = noted("First tape the pages of each row, from left to right; then the rows, from top to bottom.")

TAPE_NOTHING = noted("Nothing is taped: every piece lies whole on its page.")

TAPE_PANES = noted(
    "Cut out every pane along its thin frame and keep the parts of a strip together: 1A, 1B, 1C … are strip 1 in its "
    "order. Lay the next part over the one before until the register marks lie one on the other (a window pane or a "
    "pin through the centre helps), and tape. Go by the marks, never by the frame's edge."
)

CAUTIONS = (
    noted(
        "Rotary cutter: close the guard after every cut, keep fingers away from the ruler's edge. "
        "Iron: heat and steam burn; press away from your hands and out of the reach of children."
    ),
    noted(
        "Children: no ties or drawstrings at the head or neck; a neckline must pass over the head without force and "
        "must not sit tight on the throat. The figures here help with the fit and are no safety check. "
        "The rules of the place where the garment is sold or worn decide (for example 16 CFR 1120 or EN 14682)."
    ),
)
"""Of cutter and iron, and of what a child wears."""


@dataclass(frozen=True)
class CoverWords:
    """What the first page says about this job."""

    title: str
    edition: str
    paper: str
    paper_is_fixed: bool
    pages: int
    taped: bool
    """Whether a piece runs over a joint of pages."""
    in_rows: bool
    """Whether pages are taped across as well as down."""
    pieces: tuple[CoverPiece, ...]
    grouped: tuple[CoverPiece, ...]
    """The same with the sizes of a piece in one row, for where all have no room."""
    notes: tuple[Note, ...]
    """What is remarked of pieces, whose rows give its number, counted from 1."""
    lengths: tuple[Lengths, ...] = ()
    """How long each size is cut, of all pieces and of fewer, for where the sizes of a piece stand in one row."""
    sizes: tuple[SizePages, ...] = ()
    """Which pages to print for each size, where not all need the same."""
    only_for: str = ""
    failed: tuple[str, ...] = ()
    """The checks that are not passed, each with its pieces, as sentences."""
    for_child: bool = False
    logo: Logo | None = None
    projected: bool = False
    host: Host = ALONE
    """Of the pages that join a pattern: where in the whole file they stand."""

    @property
    def plain(self) -> CoverWords:
        """The same with cells and notes in the leading language alone."""
        pieces, grouped = (tuple(map(in_one, rows)) for rows in (self.pieces, self.grouped))
        return replace(self, pieces=pieces, grouped=grouped, notes=tuple(note[:1] for note in self.notes))
