"""What a finished PDF says of itself: the records and the schema of ``tiler.json``.

The writer attaches a :class:`Declaration` to the PDF; the proof reads it back, but only after it has measured
the pages on its own.  The names of the marked content stand here too, since both sides need them.

Coordinates are millimetres, x to the right and y up.

- *page* coordinates count from the lower left corner of the page; in a file that is
  compensated for a printer they are what its paper shows, the drawing's divided by the factors;
- *sheet* coordinates are the true-scale plane that the pieces lie on;
- *piece* coordinates count from the lower left corner of the strip, which lies
  along x: the fold edge or the left cut end is x = 0.

A piece stands on the sheet at ``at``; a turned one is rotated by +90 degrees first, so that piece (x, y) lands on
sheet (at.x - y, at.y + x).  A tile shows the sheet box ``window``, whose lower left corner lies on the page at the
lower left corner of ``frame``.  A page of strips that are cut up shows several windows, its panes: there are as
many records of that page, with the same number.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from enum import StrEnum
from functools import lru_cache
from itertools import chain

from tiler.box import Box, Point
from tiler.drawn import OUR_LAYERS, Bought, ContourPiece, LayerNames, Part, Piece, Shared
from tiler.languages.catalogue import ENGLISH, LANGUAGES
from tiler.printed import Form, Ink, Picture, Placed, Printed, Shape, pointless
from tiler.records import LEFT_OUT, RecordError, record_of, tree_of

FILE_NAME = "tiler.json"
FORMAT = 3
LONGEST_NAME = 30
"""Characters of a printer's name."""

_NAME = re.compile(r"[^\W_](?:[\w .+-]*[\w+])?")

MOST_COMPENSATED = 0.1
"""Share by which a file may be drawn larger or smaller for a printer; more is no fault of paper or feed."""


class PageKind(StrEnum):
    """What a page is, or one of several windows on it."""

    COVER = "cover"
    NOTES = "notes"
    TILE = "tile"
    PANE = "pane"


class Tag(StrEnum):
    """Names of the marked content (ISO 32000-1, 14.6), one BMC ... EMC a part."""

    CUT_LINE = "CutLine"
    FOLD_LINE = "FoldLine"
    PRESS_LINE = "PressLine"
    SEAM_LINE = "SeamLine"
    JOIN_LINE = "JoinLine"
    NOTCH = "Notch"
    BUTTONHOLE = "Buttonhole"
    STRETCH_ARROW = "StretchArrow"
    GRAIN_LINE = "GrainLine"
    TEST_SQUARE = "TestSquare"
    RULE = "Rule"
    REGISTER_MARK = "RegisterMark"
    PAGE_FRAME = "PageFrame"
    TILE_CODE = "TileCode"


PIECE_TAGS = (
    *(Tag.CUT_LINE, Tag.FOLD_LINE, Tag.PRESS_LINE, Tag.SEAM_LINE, Tag.JOIN_LINE),
    *(Tag.NOTCH, Tag.BUTTONHOLE, Tag.STRETCH_ARROW, Tag.GRAIN_LINE),
)


class DeclarationError(RecordError):
    """The attached text is not a declaration of this format."""


@dataclass(frozen=True)
class Square:
    """A test square: its page, nominal side, label, and lower left corner on the page."""

    page: int
    nominal_mm: float
    label: str
    at: Point

    @property
    def box(self) -> Box:
        """The square itself, on its page."""
        return Box(*self.at, self.at[0] + self.nominal_mm, self.at[1] + self.nominal_mm)


@dataclass(frozen=True)
class Rule:
    """A graduated line: ``axis`` is "across" or "down"; ``at`` its left or lower end on the page.

    The baseline is the longest stroke of the part and has the nominal length; its ticks do not leave its ends.
    """

    page: int
    axis: str
    nominal_mm: float
    label: str
    at: Point

    @property
    def end(self) -> Point:
        """Its right or upper end on the page."""
        x, y = self.at
        return (x + self.nominal_mm, y) if self.axis == "across" else (x, y + self.nominal_mm)


@dataclass(frozen=True)
class Mark:
    """A register mark: the sheet point that the two tiles share."""

    tiles: tuple[str, str]
    at: Point


@dataclass(frozen=True)
class Page:
    """One page: a cover, its notes or a tile; or one pane of a page.

    Tiles and panes have a code, a sheet window and a page frame; ``row`` and ``column``
    of a pane are its strip and which part of it this is.  Notes have a code and a page frame alone.
    """

    number: int
    kind: PageKind
    code: str | None = None
    row: int | None = None
    column: int | None = None
    window: Box | None = None
    frame: Box | None = None


@dataclass(frozen=True)
class Host:
    """The pattern PDF that our pages stand in: how many of its pages come before ours, and how many after."""

    before: int
    after: int

    def number(self, page: int) -> int:
        """Return the number that one of our pages has in the whole file."""
        return self.before + page

    def count(self, pages: int) -> int:
        """Return how many pages the whole file has where ours are so many."""
        return self.before + pages + self.after


ALONE = Host(0, 0)
"""No pages but ours."""


@dataclass(frozen=True)
class Declaration:
    """All that a file of ours declares; pages count from 1 and stand in order.

    ``shared`` are the lines that sizes of a nest have in common.
    With a ``host`` our pages are a part of a longer file: here they still count from 1, but what is printed on
    them counts the pages of the whole file.
    ``languages`` are those of its words, the leading one first.
    ``forms`` and ``printed``, page by page, are all that is painted; ``checksums`` are those
    of the pages (:mod:`tiler.checksums`).
    A file for one ``printer`` is drawn larger by ``factor_across`` and ``factor_down`` on the
    axes of the page; its page size is that of the paper, all other lengths are without them.
    """

    title: str
    version: str | None
    date: str | None
    units: str
    paper: str
    page_width_mm: float
    page_height_mm: float
    overlap_mm: float
    pages: tuple[Page, ...]
    squares: tuple[Square, ...]
    rules: tuple[Rule, ...]
    marks: tuple[Mark, ...]
    pieces: tuple[Piece | ContourPiece, ...]
    forms: tuple[Form, ...]
    printed: tuple[tuple[Printed, ...], ...]
    checksums: tuple[str, ...]
    printer: str | None = None
    host: Host | None = None
    factor_across: float = 1.0
    factor_down: float = 1.0
    shared: tuple[Shared, ...] = ()
    languages: tuple[str, ...] = (ENGLISH,)
    layers: LayerNames = OUR_LAYERS
    dark: bool = False
    bought: tuple[Bought, ...] = field(default=(), metadata={LEFT_OUT: True})
    """What the first page lists besides the pieces."""
    format: int = field(default=FORMAT)

    @property
    def place(self) -> Host:
        """Where our pages stand in the whole file."""
        return self.host or ALONE

    @property
    def drawn(self) -> tuple[Piece | Shared, ...]:
        """All lines: those of each piece alone, and those that sizes share."""
        return (*self.pieces, *self.shared)

    def coloured(self, number: int) -> bool:
        """Tell whether anything on a page is printed in a colour."""
        marks = self.printed[number - 1]
        placed = {mark.form for mark in marks if isinstance(mark, Placed)}
        forms = chain.from_iterable(form.marks for form in self.forms if form.id in placed)
        return any(isinstance(mark, Ink | Shape | Picture) for mark in (*marks, *forms))

    @property
    def painted(self) -> tuple[tuple[Printed, ...], ...]:
        """All marks: those of each form, and those of each page."""
        return (*(form.marks for form in self.forms), *self.printed)

    def shared_by(self, piece: Piece) -> list[Shared]:
        """Return the lines that a piece has in common with other sizes."""
        return [one for one in self.shared if piece.id in one.pieces]

    def parts_of(self, piece: Piece) -> tuple[Part, ...]:
        """Return all lines of a piece, piece mm."""
        return (*piece.parts, *(part for one in self.shared_by(piece) for part in one.parts))

    def page_labels(self) -> tuple[str | None, ...]:
        """Return what viewers call each page: its codes; None for the first page."""
        return tuple(" ".join(page.code or "" for page in records) or None for records in printed_pages(self.pages))

    def to_bytes(self) -> bytes:
        """Return the attached text: UTF-8 JSON with sorted keys, lengths to 0.0001 mm."""
        return (json.dumps(tree_of(self), sort_keys=True, ensure_ascii=False) + "\n").encode()

    @classmethod
    @lru_cache(4)  # a file is proved, and then shown or joined
    def from_bytes(cls, data: bytes) -> Declaration:
        """Read the attached text; raises :class:`DeclarationError` when it is anything else."""
        try:
            tree = json.loads(data.decode("utf-8"))
            if not isinstance(tree, dict) or tree.get("format") != FORMAT:
                raise DeclarationError(_other_format(tree))
            return _checked(record_of(cls, tree))
        except (RecordError, ValueError, TypeError, KeyError, RecursionError) as fault:
            raise DeclarationError(str(fault)) from fault


def printed_pages(pages: Iterable[Page]) -> tuple[tuple[Page, ...], ...]:
    """Return the records of each page, in order: one, or its panes."""
    by_number: dict[int, list[Page]] = {}
    for page in pages:
        by_number.setdefault(page.number, []).append(page)
    return tuple(tuple(records) for records in by_number.values())


def _checked(declaration: Declaration) -> Declaration:
    """Refuse factors of no printer, lines without a point and sizes without a length: no file of ours has such."""
    parts = [points for one in declaration.drawn for part in one.parts for points in part.subpaths]
    sized: tuple[Square | Rule, ...] = (*declaration.squares, *declaration.rules)
    sizes = [one.nominal_mm >= 1 and one.label.strip() for one in sized]
    if pointless(declaration.painted) or not all((*parts, *sizes)):
        raise DeclarationError("a line has no point, or a test square or ruler line no size or no label")
    if not declaration.languages or not {*declaration.languages} <= {*LANGUAGES}:
        raise DeclarationError("its words are in no language that is known")
    pictures = [mark for marks in declaration.printed for mark in marks if isinstance(mark, Picture)]
    if not all(picture.holds_together for picture in pictures):
        raise DeclarationError("a picture has no samples, or too many")
    factors = (declaration.factor_across, declaration.factor_down)
    if not all(abs(factor - 1) <= MOST_COMPENSATED for factor in factors):
        raise DeclarationError("the factors are not those of a printer")
    if declaration.printer is None and factors != (1.0, 1.0):
        raise DeclarationError("there are factors, but no printer is named")
    if declaration.printer is not None and not reads_like_a_name(declaration.printer):
        raise DeclarationError("the printer has no name that can be read")
    return declaration


def _other_format(tree: object) -> str:
    stated = tree.get("format") if isinstance(tree, dict) else None
    if isinstance(stated, int) and not isinstance(stated, bool):
        which = "an earlier" if stated < FORMAT else "a later"
        return f"it was written by {which} version of tiler; draft the file again, or verify it with that version"
    return "it is none that tiler writes"


def reads_like_a_name(printer: str) -> bool:
    """Tell whether a printer can be called so: up to 30 letters, digits, spaces, dots and dashes on one line."""
    return len(printer) <= LONGEST_NAME and _NAME.fullmatch(printer) is not None
