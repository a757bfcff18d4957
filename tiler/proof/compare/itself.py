"""The declaration held against itself: what it says of lines and squares, and what it says is printed; mm.

The pages are measured against the one and rendered against the other, so both must speak of the same lines.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import dist, fsum

from tiler.box import Box, Subpath
from tiler.declaration import Declaration, Page, Rule, Square, Tag, printed_pages
from tiler.drawn import ContourPiece, Part, Piece, Section, any_of
from tiler.languages.words import Words
from tiler.printed import Area, Colour, Ink, Line, Picture, Printed, Region, Shape, Word
from tiler.proof.compare.left_out import called_piece, in_size
from tiler.proof.compare.print import NAMES
from tiler.proof.contour.parallels import runs_parallel
from tiler.proof.contour.turns import bends_like_its_edge
from tiler.proof.foreign.size_words import sizes_named
from tiler.proof.ink.where import mark_box, word_box
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says
from tiler.proof.tolerances import FAINTEST, LEAST_CONTRAST, VECTOR

A_LINE, SOME_WORDS = Words("a line"), Words("some words")
Key = tuple[str, Subpath]
"""A line by its tag and its points."""


def compare_itself(declaration: Declaration) -> Iterator[Check]:
    """Hold every declared line, square, rule, mark and frame against the marks that are declared to be printed."""
    faults = [*_pieces(declaration), *_sections(declaration), *_pages(declaration), *_sizes(declaration)]
    for says, label in dict.fromkeys(faults):
        yield Check(CheckName.DECLARATION, Status.FAIL, says, label=label)
    if not faults:
        yield Check(CheckName.DECLARATION, Status.PASS, Says.ITSELF_KEPT)


def _pieces(declaration: Declaration) -> Iterator[tuple[Says, str]]:
    forms = {form.id: form for form in declaration.forms}
    for piece in declaration.drawn:
        form = forms.get(piece.id)
        drawn = _lines(form.marks) if form and form.bounds == piece.bounds else set()
        for part in piece.parts:
            if any((part.tag, subpath) not in drawn for subpath in part.subpaths):
                yield (
                    Says.ITSELF_UNPRINTED,
                    Words("{line} of {piece}", line=NAMES.get(part.tag, A_LINE), piece=piece.name),
                )
    for piece in declaration.pieces:
        if not _goes_round(piece, declaration.parts_of(piece)):
            yield Says.ITSELF_OPEN, called_piece(piece)
        if isinstance(piece, ContourPiece):
            if not runs_parallel(piece.contour, piece.parts, piece.cut == "on-fold"):
                yield Says.ITSELF_UNPARALLEL, called_piece(piece)
            if not bends_like_its_edge(piece.contour, piece.parts):
                yield Says.ITSELF_MIRRORED, called_piece(piece)
    yield from _nests(declaration)
    inks = [mark for marks in declaration.painted for mark in marks if isinstance(mark, Ink)]
    if any(contrast(ink.colour) < LEAST_CONTRAST for ink in inks):
        yield Says.ITSELF_PALE, Words("a size")
    for form in declaration.forms:
        if any(isinstance(mark, Area | Region | Shape | Picture) for mark in form.marks):
            yield Says.ITSELF_COVERED, Words("a piece")


def contrast(colour: Colour) -> float:
    """Return the contrast of a colour on white, from 1 to 21 (WCAG 2.2, contrast ratio and relative luminance)."""
    shares = [min(max(share, 0.0), 1.0) for share in colour]
    red, green, blue = (s / 12.92 if s <= 0.04045 else ((s + 0.055) / 1.055) ** 2.4 for s in shares)
    return 1.05 / (0.2126 * red + 0.7152 * green + 0.0722 * blue + 0.05)


def _goes_round(piece: Piece, parts: Sequence[Part]) -> bool:
    """Tell whether the cut lines of a piece, and those it shares, go round it once; on fold the fold edge is open."""
    cuts = [subpath for part in parts if part.tag == Tag.CUT_LINE for subpath in part.subpaths]
    ends = [point for subpath in cuts for point in (subpath[0], subpath[-1])]
    met = [sum(dist(end, other) <= VECTOR for other in ends) - 1 for end in ends]
    fold: Subpath = ((0.0, 0.0), (0.0, piece.cut_width_mm)) if piece.cut == "on-fold" else ()
    if fold and isinstance(piece, ContourPiece):
        fold = next((part.subpaths[0] for part in parts if part.tag == Tag.FOLD_LINE), ())
        if any(abs(x) > VECTOR for x, _ in fold):
            return False
    alone = sorted(end for end, others in zip(ends, met, strict=True) if others == 0)
    return all(others <= 1 for others in met) and _alike(tuple(alone), fold)


def _nests(declaration: Declaration) -> Iterator[tuple[Says, str]]:
    """Hold that what sizes share is on the layers of just these, or of all where all of a nest share it."""
    sizes = {piece.id: piece for piece in declaration.pieces}
    for one in declaration.shared:
        kin = [other.pieces for other in declaration.shared if {*other.pieces} & {*one.pieces}]
        all_of_them = all({*pieces} <= {*one.pieces} for pieces in kin)
        known = [sizes[piece] for piece in one.pieces if piece in sizes]
        names = declaration.layers
        layer = names.all_sizes if all_of_them else any_of(names.of(piece.size) for piece in known)
        alike = all((piece.name, piece.at, piece.turned) == (one.name, one.at, one.turned) for piece in known)
        if one.layer != layer or not alike or len(known) != len(one.pieces):
            yield Says.ITSELF_UNSHARED, one.name


def _sections(declaration: Declaration) -> Iterator[tuple[Says, str]]:
    """Hold that sections are drawn as long as they are sewn and that all of a strip make up its sewn length."""
    strips: dict[tuple[str, str | None], list[tuple[Piece, Section]]] = {}
    for piece in declaration.pieces:
        if piece.section:
            strips.setdefault((piece.section.strip, piece.size), []).append((piece, piece.section))
    for (name, size), found in strips.items():
        sewn = fsum(one.count * one.sewn_mm for _, one in found)
        for piece, one in found:
            drawn = piece.cut_length_mm - one.beyond_mm
            seams = [line for part in piece.parts if part.tag == Tag.JOIN_LINE for line in part.subpaths]
            halves = 2 if piece.cut == "on-fold" else 1
            if abs(drawn * halves - one.sewn_mm) > VECTOR or not _sewn_there(piece, one.sewn_mm / halves, seams):
                yield Says.ITSELF_UNSEWN, called_piece(piece)
            if abs(one.strip_sewn_mm - sewn) > VECTOR or piece.quantity * found[0][1].count != (
                one.count * found[0][0].quantity
            ):
                yield Says.ITSELF_UNSUMMED, in_size(name, size)


def _sewn_there(piece: Piece, sewn: float, seams: Sequence[Subpath]) -> bool:
    """Tell whether the sewn length lies between the lines of both joins, or from the fold, at every height.

    Lines that slant by other angles say nothing, nor does an end that is cut where it is sewn.
    """
    lines = [((0.0, 0.0), (0.0, piece.cut_width_mm)), *seams] if piece.cut == "on-fold" else [*seams]
    if len(lines) != 2 or {len(line) for line in lines} != {2}:
        return True
    left, right = sorted(lines)
    if abs(_run(left) - _run(right)) > VECTOR / piece.cut_width_mm:
        return True
    (x0, y0), (x1, y1) = left[0], right[0]
    return abs(x1 - x0 - _run(left) * (y1 - y0) - sewn) <= VECTOR


def _run(line: Subpath) -> float:
    """Return how far a line runs along the strip for each millimetre across it."""
    (x0, y0), (x1, y1) = line[0], line[-1]
    return (x1 - x0) / (y1 - y0) if y1 != y0 else 0.0


def _pages(declaration: Declaration) -> Iterator[tuple[Says, str]]:
    """Count what stands on each page: as many marks of a kind as are declared, no grey area over any of them."""
    pages = printed_pages(declaration.pages)
    if len(pages) != len(declaration.printed):
        yield Says.ITSELF_UNPRINTED, Words("a page")
        return
    for records, marks in zip(pages, declaration.printed, strict=True):
        codes = {record.code for record in records if record.code}
        number = records[0].number
        marked = {
            Tag.TEST_SQUARE: sum(square.page == number for square in declaration.squares),
            Tag.RULE: sum(rule.page == number for rule in declaration.rules),
            Tag.PAGE_FRAME: sum(record.frame is not None for record in records),
            Tag.REGISTER_MARK: sum(code in codes for mark in declaration.marks for code in mark.tiles),
        }
        drawn = [mark for mark in marks if isinstance(mark, Line) and mark.tag and mark.weight >= FAINTEST]
        for tag, count in marked.items():
            if sum(line.tag == tag for line in drawn) != count:
                yield Says.ITSELF_UNPRINTED, _on_page(NAMES[tag], number)
        yield from _shapes(declaration, records, drawn)
        signs = [mark_box(mark) for mark in marks if isinstance(mark, Shape | Picture)]
        areas = [mark_box(mark) for mark in marks if isinstance(mark, Area | Region)]
        for line in drawn:
            box = _around(line)
            # what goes round a whole sheet may go round a logo too
            sides = _sides(line) if line.tag == Tag.PAGE_FRAME else [box]
            if any(area.overlaps(box) for area in areas) or any(one.overlaps(side) for one in signs for side in sides):
                yield Says.ITSELF_COVERED, _on_page(NAMES.get(line.tag, A_LINE), number)
        # what is grey may lie below words, as the pages of a map do, but nothing of a logo does
        words = [word_box(mark) for mark in marks if isinstance(mark, Word)] if signs else []
        if any(sign.overlaps(word) for sign in signs for word in words):
            yield Says.ITSELF_COVERED, _on_page(SOME_WORDS, number)


def _shapes(declaration: Declaration, records: Sequence[Page], drawn: Sequence[Line]) -> Iterator[tuple[Says, str]]:
    """Hold that squares and frames have four sides that close, register marks two lines and a circle, rules a base."""
    number = records[0].number
    squares = [one for one in declaration.squares if one.page == number]
    boxes = [
        *((Tag.TEST_SQUARE, one.box) for one in squares),
        *((Tag.PAGE_FRAME, record.frame) for record in records if record.frame),
    ]
    for tag, box in boxes:
        if not any(line.tag == tag and _four_sides(line, box) for line in drawn):
            yield Says.ITSELF_SHAPELESS, _on_page(NAMES[tag], number)
    for line in drawn:
        if line.tag == Tag.REGISTER_MARK and not _crossed(line):
            yield Says.ITSELF_SHAPELESS, _on_page(NAMES[line.tag], number)
    for rule in (one for one in declaration.rules if one.page == number):
        base = (rule.at, rule.end)
        if not any(line.tag == Tag.RULE and line.lines and _alike(line.lines[0], base) for line in drawn):
            yield Says.ITSELF_SHAPELESS, _on_page(NAMES[Tag.RULE], number)


def _alike(points: Subpath, others: Subpath) -> bool:
    return len(points) == len(others) and all(dist(a, b) <= VECTOR for a, b in zip(points, others, strict=True))


def _four_sides(line: Line, box: Box) -> bool:
    """Tell whether a line goes once round a box."""
    corners = ((box.x0, box.y0), (box.x1, box.y0), (box.x1, box.y1), (box.x0, box.y1))
    if len(line.lines) != 1 or line.circles or line.dash:
        return False
    rounds = [corners[start:] + corners[: start + 1] for start in range(4)]
    return any(_alike(line.lines[0], way) for one in rounds for way in (one, one[::-1]))


def _crossed(line: Line) -> bool:
    """Tell whether a mark is two lines of one length that cross at right angles in the middle of a circle."""
    if [len(points) for points in line.lines] != [2, 2] or len(line.circles) != 1 or line.dash:
        return False
    boxes = sorted((Box.around(points) for points in line.lines), key=lambda box: box.height)
    middle, radius = line.circles[0]
    flat, upright = boxes
    return (
        flat.height <= VECTOR
        and upright.width <= VECTOR
        and abs(flat.width - upright.height) <= VECTOR
        and all(dist(box.middle, middle) <= VECTOR for box in boxes)
        and radius > FAINTEST
    )


def _sizes(declaration: Declaration) -> Iterator[tuple[Says, str]]:
    """Hold the size that is printed beside a square or a ruler line against the one that is declared of it."""
    sized: Sequence[Square | Rule] = (*declaration.squares, *declaration.rules)
    for one in sized:
        if not any(abs(size - one.nominal_mm) <= VECTOR for size, _ in sizes_named(one.label)):
            yield Says.ITSELF_UNLIKE, one.label


def _lines(marks: Sequence[Printed]) -> set[Key]:
    return {
        (mark.tag, subpath)
        for mark in marks
        if isinstance(mark, Line) and mark.weight >= FAINTEST
        for subpath in mark.lines
    }


def _sides(line: Line) -> list[Box]:
    return [Box.around(ends).grown(line.weight / 2) for points in line.lines for ends in pairwise(points)]


def _around(line: Line) -> Box:
    points = [point for subpath in line.lines for point in subpath]
    points += [(x + d, y + d) for (x, y), radius in line.circles for d in (radius, -radius)]
    # a line along an axis has no area of its own
    return Box.around(points).grown(VECTOR)


def _on_page(what: str, number: int) -> Words:
    return Words("{what} on page {number}", what=what, number=number)
