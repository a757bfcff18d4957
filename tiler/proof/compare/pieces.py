"""Pieces: every part once on every tile that it belongs to, in its place and size; sheet mm.

The reader of lines sees a piece whole on each tile, since clips are not its matter.
So each tile is carried to the sheet by the measured assembly and its lines are
looked up one by one among those declared.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import dist, floor, fsum

from tiler.box import Box, Point
from tiler.declaration import Declaration, Tag
from tiler.drawn import ContourPiece, LayerNames, Part, Piece, Shared
from tiler.languages.words import Words, listed
from tiler.proof.contour.parallels import along_at
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says
from tiler.proof.seen.page import Line, PaneSeen
from tiler.proof.tolerances import VECTOR

CELL = 0.5
"""Lines are looked up by the cell of their first point, mm."""

TOUCHING = 0.05
"""A piece that overlaps a window by less need not be painted there, and may be."""

NAMES: dict[str, str] = {
    Tag.CUT_LINE: Words("cut line"),
    Tag.FOLD_LINE: Words("fold line"),
    Tag.PRESS_LINE: Words("press line"),
    Tag.SEAM_LINE: Words("seam line"),
    Tag.JOIN_LINE: Words("end seam line"),
    Tag.NOTCH: Words("notch"),
    Tag.BUTTONHOLE: Words("buttonhole"),
    Tag.STRETCH_ARROW: Words("stretch arrow"),
    Tag.GRAIN_LINE: Words("grain line"),
}


@dataclass(frozen=True)
class Laid:
    """A declared piece, or what sizes share, with its lines and bounds carried to the sheet."""

    piece: Piece | Shared
    lines: tuple[Line, ...]
    bounds: Box


def laid(piece: Piece | Shared, layers: LayerNames) -> Laid:
    """Carry a piece, or what sizes share, to the sheet."""
    layer = piece.layer if isinstance(piece, Shared) else layers.of(piece.size)
    lines = tuple(
        Line(part.tag, tuple(piece.on_sheet(point) for point in subpath), layer)
        for part in piece.parts
        for subpath in part.subpaths
    )
    return Laid(piece, lines, piece.sheet_bounds())


class _Index:
    """The lines of one tile on the sheet; each can be taken once."""

    def __init__(self, lines: Iterable[Line], place: Point) -> None:
        self._cells: dict[tuple[str, int, int, int], list[Line]] = {}
        dx, dy = place
        for line in lines:
            moved = Line(line.tag, tuple((x + dx, y + dy) for x, y in line.points), line.layer)
            x, y = moved.points[0]
            self._cells.setdefault((line.tag, len(line.points), floor(x / CELL), floor(y / CELL)), []).append(moved)

    def take(self, wanted: Line) -> bool:
        """Take the line that lies where this one is wanted; False when there is none."""
        x, y = wanted.points[0]
        columns = {floor((x - VECTOR) / CELL), floor((x + VECTOR) / CELL)}
        rows = {floor((y - VECTOR) / CELL), floor((y + VECTOR) / CELL)}
        for column in columns:
            for row in rows:
                cell = self._cells.get((wanted.tag, len(wanted.points), column, row), [])
                for index, line in enumerate(cell):
                    if _same(line, wanted):
                        del cell[index]
                        return True
        return False

    def left(self) -> list[Line]:
        """Return what nobody has taken."""
        return [line for cell in self._cells.values() for line in cell]


def _same(line: Line, wanted: Line) -> bool:
    return line.layer == wanted.layer and all(
        abs(x - u) <= VECTOR and abs(y - v) <= VECTOR for (x, y), (u, v) in zip(line.points, wanted.points, strict=True)
    )


def compare_tile(
    page: PaneSeen, place: Point, needed: Sequence[Laid], allowed: Sequence[Laid], found: dict[str, set[Line]]
) -> Iterator[Check]:
    """Compare one tile with the pieces that its window shows.

    ``place`` carries the page to the sheet; ``allowed`` pieces may be painted but
    need not.  ``found`` gets every declared cut line that is in its place.
    """
    index = _Index(page.lines, place)
    lost: list[tuple[Laid, Line]] = []
    for one in needed:
        for line in one.lines:
            if not index.take(line):
                lost.append((one, line))
            elif line.tag == Tag.CUT_LINE:
                found.setdefault(one.piece.id, set()).add(line)
    for one in allowed:
        for line in one.lines:
            index.take(line)
    left = index.left()
    yield from _lost(page, lost, left)
    if left:
        kinds = ", ".join(f"{NAMES.get(line.tag, line.tag)}" for line in left[:3])
        more = f" and {len(left) - 3} more" if len(left) > 3 else ""
        yield Check(CheckName.STRAY, Status.FAIL, Says.LINES_STRAY, page.number, numbers={"lines": kinds + more})
    ghosts = _ghosts(page.loose, needed)
    if ghosts:
        yield Check(CheckName.STRAY, Status.FAIL, Says.OUTLINES_UNMARKED, page.number, numbers={"count": ghosts})


def _lost(page: PaneSeen, lost: Sequence[tuple[Laid, Line]], left: list[Line]) -> Iterator[Check]:
    """Yield one check for each piece that lacks lines; a line found nearby counts as moved, and is not a stray."""
    by_piece: dict[str, list[tuple[Laid, Line]]] = {}
    for one, line in lost:
        by_piece.setdefault(one.piece.id, []).append((one, line))
    for missing in by_piece.values():
        notches_only = all(line.tag == Tag.NOTCH for _, line in missing)
        name = CheckName.NOTCH if notches_only else CheckName.PIECE
        texts = dict.fromkeys(_what_became(line, left) for _, line in missing)
        first = listed(list(texts)[:3])
        shown = Words("{lines}; and more", lines=first) if len(texts) > 3 else first
        label = missing[0][0].piece.name
        yield Check(name, Status.FAIL, Says.PIECE_LINES, page.number, label=label, numbers={"lines": shown})


def _what_became(line: Line, left: list[Line]) -> str:
    name = NAMES.get(line.tag, line.tag)
    kin = [other for other in left if other.tag == line.tag and len(other.points) == len(line.points)]
    if not kin:
        return Words("{line} missing", line=name)
    nearest = min(kin, key=lambda other: dist(other.points[0], line.points[0]))
    left.remove(nearest)
    off = max(dist(p, q) for p, q in zip(nearest.points, line.points, strict=True))
    if off <= VECTOR and nearest.layer != line.layer:
        if not line.layer:
            return Words("{line} is not on the layer that is always shown", line=name)
        return Words("{line} is not on the layer {layer}", line=name, layer=line.layer)
    return Words("{line} off by {off:.2f} mm", line=name, off=off)


def extent(line: Line) -> Box:
    """Return the box around a line."""
    return Box.around(line.points)


def _ghosts(loose: Sequence[Line], needed: Sequence[Laid]) -> int:
    shapes = [(len(line.points), extent(line)) for one in needed for line in one.lines if line.tag == Tag.CUT_LINE]
    count = 0
    for line in loose:
        box = extent(line)
        count += any(
            len(line.points) == points and abs(box.width - want.width) < 0.1 and abs(box.height - want.height) < 0.1
            for points, want in shapes
        )
    return count


def compare_sizes(
    declaration: Declaration, pieces: Sequence[Laid], found: Mapping[str, set[Line]], page_of: Mapping[str, int]
) -> Iterator[Check]:
    """Compare the measured cut lines, and the notches as declared, with the sizes that the file states.

    What sizes share counts for each of them: a size is measured from all of its cut lines or not at all.
    """
    for one in pieces:
        piece = one.piece
        if isinstance(piece, Shared):
            continue
        own = [one, *(laid(other, declaration.layers) for other in declaration.shared_by(piece))]
        cuts = {(part.piece.id, line) for part in own for line in part.lines if line.tag == Tag.CUT_LINE}
        page = page_of.get(piece.id)
        if page is None or not cuts or any(line not in found.get(key, ()) for key, line in cuts):
            # Where a page should show it, its missing lines are told already.
            if page is None:
                says, stated = Says.PIECE_LOST, piece.cut_length_mm
                yield Check(CheckName.PIECE, Status.FAIL, says, None, None, stated, label=piece.name)
            continue
        box = Box.enclosing(extent(line) for _, line in cuts)
        length, width = (box.height, box.width) if piece.turned else (box.width, box.height)
        right = abs(length - piece.cut_length_mm) <= VECTOR and abs(width - piece.cut_width_mm) <= VECTOR
        yield Check(
            CheckName.PIECE,
            Status.PASS if right else Status.FAIL,
            Says.PIECE_SIZED if right else Says.PIECE_MISSIZED,
            page,
            length,
            piece.cut_length_mm,
            label=piece.name,
            numbers={"width": width, "stated": piece.cut_width_mm},
        )
        if (piece.cut == "on-fold") != any(part.tag == Tag.FOLD_LINE for part in declaration.parts_of(piece)):
            cut = {"cut": piece.cut}
            yield Check(CheckName.PIECE, Status.FAIL, Says.PIECE_CUT, page, label=piece.name, numbers=cut)
        yield from _notches(piece, declaration.parts_of(piece), page)


def _notches(piece: Piece, parts: Sequence[Part], page: int) -> Iterator[Check]:
    ticks = [part.subpaths for part in parts if part.tag == Tag.NOTCH]
    if isinstance(piece, ContourPiece):
        seam = next((part.subpaths[0] for part in parts if part.tag == Tag.SEAM_LINE), ())
        marks = [fsum(along_at(seam, tick) for tick in cuts) / len(cuts) for cuts in ticks]
    else:
        marks = [sum(x for cut in cuts for x, _ in cut) / sum(len(cut) for cut in cuts) for cuts in ticks]
    for notch in piece.notches:
        nearest = min((abs(mark - notch.at_mm) for mark in marks), default=None)
        if nearest is None or nearest > VECTOR:
            yield Check(
                CheckName.NOTCH,
                Status.FAIL,
                Says.NOTCH_MISSING,
                page,
                None,
                notch.at_mm,
                label=piece.name,
                numbers={"notch": notch.name},
            )
    if (
        piece.notches
        and marks
        and all(min(abs(mark - notch.at_mm) for notch in piece.notches) <= VECTOR for mark in marks)
    ):
        count = {"count": len(piece.notches)}
        yield Check(CheckName.NOTCH, Status.PASS, Says.NOTCHES_PLACED, page, label=piece.name, numbers=count)
