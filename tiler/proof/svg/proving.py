"""The proof of an SVG drawing: its unit, its squares, every line of every piece, and every word; mm."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from tiler.box import Box
from tiler.declaration import Declaration, Tag
from tiler.drawn import Piece, Shared
from tiler.errors import UnreadableError
from tiler.files import read_file
from tiler.languages.words import Words, speaking
from tiler.printed import Line, Printed
from tiler.proof.compare.itself import compare_itself
from tiler.proof.compare.pieces import Laid, compare_sizes, compare_tile, laid
from tiler.proof.compare.print import NAMES
from tiler.proof.compare.said import compare_said
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says
from tiler.proof.report.verdict import Report
from tiler.proof.seen.page import Line as LineSeen
from tiler.proof.seen.page import PaneSeen
from tiler.proof.seen.squares import SquareSeen, compare_squares, off_box
from tiler.proof.svg.words import Matched, compare_words, ink_of
from tiler.proof.tolerances import VECTOR
from tiler.reading.svg.markup import LARGEST_FILE
from tiler.reading.svg.plain import PlainDrawing, PlainGroup, PlainLine, read_plain

EXACT = 1e-6
"""A unit that differs from 1 mm by more was meant otherwise."""

LEADERS = "Leaders"
"""The class of lines that are no part of a piece but lead to its words."""

Drawn = Piece | Shared

Style = tuple[str, float, tuple[float, ...], str, str]
"""Kind, weight, dashes, and the colours of a line and of what it holds."""


def prove_svg(source: Path | bytes, declaration: Declaration) -> Report:
    """Read a drawing back and hold it against what is declared of it; one that cannot be read has failed."""
    name = "the drawing" if isinstance(source, bytes) else str(source)
    try:
        data = source if isinstance(source, bytes) else read_file(source, "drawing", LARGEST_FILE)
        drawing = read_plain(data, name)
    except UnreadableError as fault:
        reason = {"reason": str(fault)}
        unread = Check(CheckName.DECLARATION, Status.FAIL, Says.DECLARATION_BROKEN, numbers=reason)
        return Report(name, 1, (unread,), languages=declaration.languages)
    with speaking(*declaration.languages):
        checks = tuple(replace(check, page=None) for check in _checks(declaration, drawing))
    size = (drawing.width, drawing.height)
    return Report(name, 1, checks, page_mm=size, languages=declaration.languages)


def _checks(declaration: Declaration, drawing: PlainDrawing) -> Iterator[Check]:
    yield from _plane(declaration, drawing)
    yield from _carried(declaration, drawing)
    matched = list(_matched(declaration, drawing.groups))
    yield from _squares(declaration, matched)
    yield from _pieces(declaration, matched)
    yield from _painted(declaration, matched)
    yield from compare_words(declaration, matched)
    yield from compare_itself(declaration)
    # there is no page of whose number and place the words could tell
    yield from compare_said(replace(declaration, pages=()))


def _plane(declaration: Declaration, drawing: PlainDrawing) -> Iterator[Check]:
    """Hold the unit of the drawing against the millimetre, and its size against the declared one."""
    across, down = drawing.unit
    if max(abs(across - 1), abs(down - 1)) > EXACT:
        unit = {"across": across, "down": down}
        yield Check(CheckName.USER_UNIT, Status.FAIL, Says.DRAWING_UNIT, numbers=unit)
    wanted = (declaration.page_width_mm, declaration.page_height_mm)
    if any(abs(one - other) > VECTOR for one, other in zip((drawing.width, drawing.height), wanted, strict=True)):
        high = {"high": drawing.height, "stated": wanted[1]}
        yield Check(CheckName.PAGE_SIZE, Status.FAIL, Says.PAGE_SIZED, None, drawing.width, wanted[0], numbers=high)


def _carried(declaration: Declaration, drawing: PlainDrawing) -> Iterator[Check]:
    for strange in drawing.strange:
        yield Check(CheckName.CARRIED, Status.FAIL, Says.CARRIED_BY_FILE, label=strange)
    if drawing.title.strip() != declaration.title.strip():
        yield Check(CheckName.DOCUMENT, Status.FAIL, Says.DOCUMENT_LOST, numbers={"lost": Words("title")})


def _matched(declaration: Declaration, groups: Sequence[PlainGroup]) -> Iterator[Matched]:
    """Yield what is declared, in its order, with its group, and groups that nothing is declared of."""
    left: dict[tuple[str | None, ...], list[PlainGroup]] = {}
    for group in groups:
        names = ("data-piece", "data-size", "data-sizes", "data-layer")
        left.setdefault(tuple(group.attributes.get(name) for name in names), []).append(group)
    sizes = {piece.id: piece.size for piece in declaration.pieces}
    for one in (None, *declaration.drawn):
        kin = left.get(_key(one, sizes))
        yield one, kin.pop(0) if kin else None
    yield from ((None, group) for kin in left.values() for group in kin)


def _key(one: Drawn | None, sizes: Mapping[str, str | None]) -> tuple[str | None, ...]:
    """Return what the attributes of a group say that is of this piece or these sizes of one."""
    if one is None:
        return (None,) * 4
    if isinstance(one, Piece):
        return one.name, one.size, None, None
    return one.name, None, ", ".join(size for piece in one.pieces if (size := sizes.get(piece)) is not None), one.layer


def _squares(declaration: Declaration, matched: Sequence[Matched]) -> Iterator[Check]:
    """Compare the test squares; one that is out of its place is no drawing of ours."""
    groups = [group for one, group in matched if group and one is None]
    words = [word for group in groups for word in group.words]
    seen = []
    for points in _subpaths(line for group in groups for line in group.lines if line.kind == Tag.TEST_SQUARE):
        box = Box.around(points)
        inside = " ".join(word.text for word in words if box.holds(Box(*word.at, *word.at)))
        seen.append(SquareSeen(box, off_box(points, box) if len(points) == 5 else box.width, inside))
    for check in compare_squares(declaration.squares, seen, 1):
        yield replace(check, status=Status.FAIL) if check.status is Status.WARN else check


def _subpaths(lines: Iterator[PlainLine]) -> Iterator[tuple[tuple[float, float], ...]]:
    return (points for line in lines for points in line.subpaths)


def _pieces(declaration: Declaration, matched: Sequence[Matched]) -> Iterator[Check]:
    """Look up every line of every piece in its own group, and measure the pieces."""
    forms = {form.id: form.marks for form in declaration.forms}
    found: dict[str, set[LineSeen]] = {}
    pieces = []
    for one, group in matched:
        needed = [_laid(one, declaration, forms.get(one.id, ()))] if one else []
        pieces += needed
        # which size a line is of says its group
        layer = needed[0].lines[0].layer if needed and needed[0].lines else ""
        lines = [line for line in group.lines if one or line.kind != Tag.TEST_SQUARE] if group else []
        seen = tuple(LineSeen(line.kind, points, layer) for line in lines for points in line.subpaths)
        pane = PaneSeen(1, True, None, True, None, 0.0, 0, (), seen, (), (), ())
        yield from compare_tile(pane, (0.0, 0.0), needed, (), found)
    yield from compare_sizes(declaration, pieces, found, dict.fromkeys((one.piece.id for one in pieces), 1))


def _laid(one: Drawn, declaration: Declaration, marks: Sequence[Printed]) -> Laid:
    """Carry a piece to the plane, with the lines that lead to its words."""
    plain = laid(one, declaration.layers)
    layer = plain.lines[0].layer if plain.lines else ""
    leaders = (
        LineSeen(LEADERS, tuple(one.on_sheet(point) for point in points), layer)
        for mark in marks
        if isinstance(mark, Line) and not mark.tag
        for points in mark.lines
    )
    return replace(plain, lines=(*plain.lines, *leaders))


def _painted(declaration: Declaration, matched: Sequence[Matched]) -> Iterator[Check]:
    """Hold the weight, the dashes and the colour of every line against the declared ones, and count all lines."""
    forms = {form.id: form.marks for form in declaration.forms}
    for one, group in matched:
        marks = forms.get(one.id, ()) if one else declaration.printed[0] if group is matched[0][1] else ()
        wanted = Counter(_declared_styles(marks))
        seen = Counter(map(_style, group.lines)) if group else Counter[Style]()
        for style in dict.fromkeys((*(wanted - seen), *(seen - wanted))):
            kin = [line for line in group.lines if _style(line) == style] if group else []
            what = NAMES.get(style[0], Words("a line"))
            if wanted[style] > seen[style]:
                label = Words("{line} of {piece}", line=what, piece=one.name) if one else what
                yield Check(CheckName.INK, Status.FAIL, Says.SAID_UNLIKE, label=label)
            elif kin:
                yield Check(CheckName.STRAY, Status.FAIL, Says.LINES_STRAY, numbers={"lines": what})


def _declared_styles(marks: Sequence[Printed]) -> Iterator[Style]:
    colour = ink_of(marks)
    for mark in marks:
        if isinstance(mark, Line):
            yield mark.tag or LEADERS, _written(mark.weight), tuple(map(_written, mark.dash)), colour, "none"


def _style(line: PlainLine) -> Style:
    return line.kind, _written(line.weight), tuple(map(_written, line.dash)), line.stroke, line.fill


def _written(length: float) -> float:
    """Round a length to what a drawing writes of it: one rounded further might fall to either side, mm."""
    return round(length, 4)
