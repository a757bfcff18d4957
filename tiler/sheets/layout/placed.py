"""A lettered piece in its place on the sheet: what is declared of it, and what it keeps others off; sheet mm."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil

from tiler.box import Box, Point, Subpath
from tiler.declaration import Page, Tag
from tiler.draft.contour.shape import Shape
from tiler.draft.figures import Figures
from tiler.drawn import Contour, ContourPiece, Notch, Section
from tiler.drawn import Piece as DeclaredPiece
from tiler.languages.words import told
from tiler.sheets.page.free_places import ON_LINE, ON_PIECE, ON_TEXT, Obstacle
from tiler.sheets.pieces.curved.bits import bits, fewest, simplified
from tiler.sheets.pieces.lettering import Lettered

SLANT = 3.0
"""A slanted line is gone round in pieces no larger than this on their shorter side, mm."""

TINY = 0.01
"""What a page shows so little less of is shown whole, mm."""


@dataclass(frozen=True)
class Placed:
    """A piece in its place: what it occupies on the sheet, line by line and text by text."""

    lettered: Lettered
    declared: DeclaredPiece
    bounds: Box
    obstacles: tuple[Obstacle, ...]
    cuts: tuple[Box, ...]
    """The lines along which it is cut; slanted ones in pieces."""
    bits: tuple[Box, ...] = ()
    """Of a piece with curved lines, the bits of its outline."""
    outline: Subpath = ()
    """Of such a piece, its outline in few points, closed."""

    @property
    def words(self) -> list[Box]:
        """The places of its words."""
        boxes = (text.box for text in self.lettered.texts)
        return [Box.around(map(self.declared.on_sheet, ((box.x0, box.y0), (box.x1, box.y1)))) for box in boxes]

    @property
    def in_small(self) -> Box | Subpath:
        """How a page map shows it."""
        return self.outline or self.bounds


def _section(figures: Figures) -> Section | None:
    """Return what is declared of a section of a strip that is pieced."""
    own, strip = figures.section, figures.pieced_from
    if own is None or strip is None:
        return None
    return Section(strip.name, own.count, own.sewn_mm, own.beyond_mm, strip.loop_mm + strip.runs_on.length_mm)


def _contour(figures: Figures, shape: Shape) -> Contour:
    """Return what is declared of the shape of a piece."""
    left, right = figures.left_end.allowance_along, figures.end.allowance_along
    return Contour(
        figures.finished_width_mm,
        figures.seam_allowance_mm,
        right,
        shape.sewn_mm,
        shape.finished_mm,
        () if shape.on_fold or left == right else (left, right),
        shape.turns,
    )


def placed(one: Lettered, inner: Box, box: Box, turned: bool) -> Placed:
    """Put a lettered piece where the layout wants the bounds ``inner`` of its group."""
    at = (box.x0 + inner.y1, box.y0 - inner.x0) if turned else (box.x0 - inner.x0, box.y0 - inner.y0)
    figures = one.piece.figures
    shape = figures.shape
    kept = {"contour": _contour(figures, shape)} if shape else {}
    declared = (ContourPiece if shape else DeclaredPiece)(
        id=one.piece.id,
        name=figures.name,
        size=figures.size,
        finish=figures.finish.value,
        cut=figures.cut.value,
        quantity=figures.quantity,
        cut_length_mm=figures.cut_length_mm,
        cut_width_mm=figures.cut_width_mm,
        notches=tuple(Notch(told(notch.name), notch.at_mm) for notch in figures.notches),
        bounds=one.bounds,
        at=at,
        turned=turned,
        parts=one.parts,
        section=None if shape else _section(figures),
        **kept,
    )

    def on_sheet(inner: Box) -> Box:
        xa, ya = declared.on_sheet((inner.x0, inner.y0))
        xb, yb = declared.on_sheet((inner.x1, inner.y1))
        return Box(min(xa, xb), min(ya, yb), max(xa, xb), max(ya, yb))

    obstacles = [Obstacle(on_sheet(Box(0.0, 0.0, one.piece.length, one.piece.width)).grown(1.0), ON_PIECE)]
    obstacles += [Obstacle(on_sheet(text.box).grown(0.8), ON_TEXT) for text in one.texts]
    lines = [(subpath, ON_LINE) for part in one.parts for subpath in part.subpaths]
    # leaders belong to the words
    lines += [(leader, ON_TEXT) for leader in one.leaders]
    for subpath, cost in lines:
        for start, end in pairwise(subpath):
            obstacles += (Obstacle(on_sheet(Box.around(ends).grown(0.8)), cost) for ends in _pieces(start, end))
    cuts = (
        on_sheet(Box.around(ends))
        for part in one.parts
        if part.tag in (Tag.CUT_LINE, Tag.FOLD_LINE)
        for start, end in pairwise(part.subpaths[0])
        for ends in _pieces(start, end)
    )
    bounds = declared.sheet_bounds()
    own: tuple[Box, ...] = ()
    outline: Subpath = ()
    if shape:
        own = tuple(map(on_sheet, bits(shape.outline)))
        around = simplified(shape.outline)
        outline = tuple(map(declared.on_sheet, (*around, around[0])))
    return Placed(one, declared, bounds, tuple(obstacles), tuple(cuts), own, outline)


def _pieces(start: Point, end: Point) -> Iterator[tuple[Point, Point]]:
    """Yield a line, or where it slants pieces of it: the box around all of it would hold much else."""
    (x, y), (dx, dy) = start, (end[0] - start[0], end[1] - start[1])
    count = max(1, ceil(min(abs(dx), abs(dy)) / SLANT))
    points = [(x + dx * k / count, y + dy * k / count) for k in range(count)]
    yield from pairwise([*points, end])


def shown_on(boxes: Iterable[Box], pages: Sequence[Page]) -> list[Page]:
    """Return the pages or panes that what has these bounds needs: one that shows it whole, or those of all its parts.

    What reaches into the strip that a page shares with another, and is shown on that one too, is not taken from here.
    """
    needed: set[str | None] = set()
    for box in boxes:
        parts = [one for one in pages if one.window and one.window.overlaps(box)]
        whole = next((one for one in parts if one.window and one.window.grown(TINY).holds(box)), None)
        needed |= {one.code for one in ([whole] if whole else _without_bits(box, parts))}
    return [one for one in pages if one.code in needed]


def pages_of(places: Iterable[Placed], pages: Sequence[Page]) -> list[Page]:
    """Return the pages or panes that pieces need; of a curved one those that show any of its outline."""
    needed: set[str | None] = set()
    for place in places:
        if place.bits:
            needed |= fewest([one.code for one in pages if one.window and one.window.holds(bit)] for bit in place.bits)
        else:
            needed |= {one.code for one in shown_on([place.bounds], pages)}
    return [one for one in pages if one.code in needed]


def _without_bits(box: Box, parts: Sequence[Page]) -> list[Page]:
    """Leave out pages of which another one that stays shows all they show of a box, the smallest bits first."""
    shown = {one.code: (one, box.within(one.window)) for one in parts if one.window}
    for code, (_, bit) in sorted(shown.items(), key=lambda item: item[1][1].width * item[1][1].height):
        if any(other != code and one.window and one.window.grown(TINY).holds(bit) for other, (one, _) in shown.items()):
            del shown[code]
    return [one for one, _ in shown.values()]
