"""What is drawn of the pieces, as it is declared: lines in their place on the sheet, and the layers of sizes; mm.

Piece and sheet coordinates are those of :mod:`tiler.declaration`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from tiler.box import Box, Point, Subpath
from tiler.records import LEFT_OUT

ALL_SIZES = "All sizes"
"""The layer of the lines and words that all sizes share."""


def layer_name(size: str | None) -> str:
    """Name the layer of a size; a piece without one is on none."""
    return "" if size is None else f"Size {size}"


def any_of(layers: Iterable[str]) -> str:
    """Name what shows while any of these layers does."""
    return " or ".join(layers)


@dataclass(frozen=True)
class LayerNames:
    """What the layers are called: of sizes whose pattern names them otherwise, and of what all sizes share."""

    of_sizes: tuple[tuple[str, str], ...] = ()
    all_sizes: str = ALL_SIZES

    def of(self, size: str | None) -> str:
        """Name the layer of a size; a piece without one is on none."""
        return dict(self.of_sizes).get(size or "", layer_name(size))


OUR_LAYERS = LayerNames()
"""As they are called where nobody else decides it."""


@dataclass(frozen=True)
class Part:
    """One painted part of a piece, piece mm.  A closed subpath repeats its first point."""

    tag: str
    subpaths: tuple[Subpath, ...]


@dataclass(frozen=True)
class Notch:
    """A match mark: its name and its distance from the fold or the left cut end."""

    name: str
    at_mm: float


@dataclass(frozen=True)
class Drawn:
    """Lines and their place on the sheet.

    ``bounds`` holds all that their form paints, words included, in piece coordinates;
    ``at`` is where the piece's origin lies on the sheet.
    """

    id: str
    name: str
    bounds: Box
    at: Point
    turned: bool
    parts: tuple[Part, ...]

    def on_sheet(self, point: Point) -> Point:
        """Carry a piece point to the sheet."""
        x, y = point
        if self.turned:
            return (self.at[0] - y, self.at[1] + x)
        return (self.at[0] + x, self.at[1] + y)

    def sheet_bounds(self) -> Box:
        """Return the bounds on the sheet."""
        box = self.bounds
        return Box.around(map(self.on_sheet, ((box.x0, box.y0), (box.x1, box.y1))))


@dataclass(frozen=True)
class Section:
    """Of what strip a piece is a section, and what it has of it.

    It is cut ``count`` times for each strip, and drawn ``beyond_mm`` longer than its ``sewn_mm``, or than half of that
    on fold; the sections of a strip make up its sewn length, ``strip_sewn_mm``.
    """

    strip: str
    count: int
    sewn_mm: float
    beyond_mm: float
    strip_sewn_mm: float


@dataclass(frozen=True)
class Piece(Drawn):
    """A piece; one of the sizes of a nest has some of its lines in common with others (:class:`Shared`)."""

    size: str | None
    finish: str
    cut: str
    quantity: int
    cut_length_mm: float
    cut_width_mm: float
    notches: tuple[Notch, ...]
    section: Section | None = None


@dataclass(frozen=True)
class Contour:
    """What the lines of a piece of a contour band keep, mm.

    The finished edge runs ``width_mm`` beside the seam line, the cut line ``allowance_mm`` outside both and ``ends_mm``
    beyond the end seams; where both ends are not alike, ``each_end_mm`` says it of the left and of the right one.  An
    end without any is cut where it is sewn.  Seam line and finished edge are ``sewn_mm`` and ``finished_mm`` long as
    drawn.  ``turns_deg`` is how the edge turns along the left and the right half of the piece, to the finished side.
    """

    width_mm: float
    allowance_mm: float
    ends_mm: float
    sewn_mm: float
    finished_mm: float
    each_end_mm: tuple[float, ...] = field(default=(), metadata={LEFT_OUT: True})
    turns_deg: tuple[float, ...] = field(default=(), metadata={LEFT_OUT: True})

    @property
    def ends(self) -> tuple[float, ...]:
        """What is cut beyond the left and the right end, mm."""
        return self.each_end_mm or (self.ends_mm, self.ends_mm)


@dataclass(frozen=True, kw_only=True)
class ContourPiece(Piece):
    """A piece that is shaped like its edge: length and width are its extents, notches count along the seam line."""

    contour: Contour


@dataclass(frozen=True)
class Bought:
    """What is bought in its width and cut by its length alone: a row of the first page's table, and no piece."""

    name: str
    size: str | None
    quantity: int
    cut_length_mm: float
    cut_width_mm: float
    cut: str = "full-loop"


@dataclass(frozen=True)
class Shared(Drawn):
    """Lines of a nest that are drawn once for several sizes: the ids of these ``pieces``, and the ``layer``."""

    pieces: tuple[str, ...]
    layer: str
