"""Which squares are test squares, and what stays open: several sizes, edges or squares that disagree; mm.

Words such as "test" rank above a usual size, and that above any other; what reads like a
piece is never measured.  What cannot be told is named, with what to do.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from statistics import median

from tiler.errors import OffScaleError
from tiler.languages.words import Number, Words, listed
from tiler.proof.foreign.guessing import is_common
from tiler.proof.foreign.label_lines import label_lines, sizes_said
from tiler.proof.foreign.labelled import Labelled, Rank, shapes_of, squares_of_page
from tiler.proof.foreign.quadrangle import Edge
from tiler.proof.foreign.side_ink import Looks
from tiler.proof.foreign.size_words import Stated
from tiler.proof.ink.pixels import Pixels
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.effect import error
from tiler.proof.report.sentences import Says
from tiler.proof.tolerances import FOREIGN_SCALE
from tiler.reading.pdf.document import PageRead

EXACT = 0.0003
"""A size by one edge that is as near as this to nominal is the one that its maker means."""

LIKE, ROUNDED = 0.0003, 0.0005
"""A line is of a usual weight when it is as near to one as this share, or but for the rounding of its ends, mm."""

WEIGHTS = (25.4 / 720, 25.4 / 96, 0.05, 0.4 * 25.4 / 72.27)
"""Steps in which programs give weights of lines: tenths of a point, pixels of style sheets, parts of a millimetre,
0.4 pt of a typesetter; common practice."""

STEPS = 30
"""A line of more steps than this is of any weight."""

AGREE = 2 * FOREIGN_SCALE
"""Squares whose shares differ by no more than this agree."""


@dataclass
class Choice:
    """What became of squares: those that are judged, the checks of those that are not decided, and what is passed."""

    judged: list[Labelled] = field(default_factory=list)
    open: list[Check] = field(default_factory=list)
    passed: list[Labelled] = field(default_factory=list)


def choose(squares: Sequence[Labelled]) -> Choice:
    """Choose page by page among squares that state their size."""
    choice = Choice()
    best = max((one.rank for one in squares), default=Rank.PIECE)
    for page in sorted({one.page for one in squares}):
        here = [one for one in squares if one.page == page]
        top = max(one.rank for one in here)
        least = Rank.PLAIN if best >= Rank.PLAIN else Rank.UNUSUAL
        # a label that only says a size of test squares is as good as one that speaks of a test
        counted = [one for one in here if top >= least and (one.rank == top or is_common(one))]
        choice.passed += (one for one in here if one not in counted)
        _settle(counted, choice)
    return choice


def labelled_squares(page: PageRead, render: Callable[[int | None], Pixels]) -> list[Labelled]:
    """Return the squares of a page whose size is stated; it is only rendered when there may be some.

    Raises :class:`OffScaleError` where they leave open what the scale is.
    """
    lines = label_lines(page.texts)
    said = sizes_said(lines)
    found = shapes_of(page.strokes, said) if said else []
    if not found:
        return []
    squares = squares_of_page(page.number, Looks(render), found, said, lines).labelled
    choice = choose(squares)
    open_ = next((one for one in choice.open if one.name is CheckName.UNDECIDED), None)
    if open_ and open_.says is Says.SQUARES_OPEN:
        # who asks says that they contradict each other
        return squares
    if open_ and not choice.judged:
        raise OffScaleError(
            f"the scale of the drawing is not decided: its test squares on page {page.number} ({open_.label}) can be "
            "read in more than one way; its lengths cannot be believed"
        )
    return choice.judged


def _settle(squares: Sequence[Labelled], choice: Choice) -> None:
    """Judge the squares of one page that rank alike, or say why that is not decided."""
    sure = [one for one in squares if len(one.sizes) < 2]
    edged = [by_edge(one) for one in sure]
    decided = [one for one in edged if one]
    if len(decided) == 0 or len(decided) < len(sure):
        choice.open += (
            check for one, found in zip(sure, edged, strict=True) if not found for check in _edges_open(one)
        )
    for one in squares:
        if len(one.sizes) > 1:
            taken = _agreeing(one, decided)
            if taken:
                decided.append(taken)
            else:
                choice.open += _sizes_open(one)
    groups = _groups(decided)
    if len(groups) > 1:
        first, second = groups[:2]
        if len({round(one.nominal, 2) for one in first}) > 1 and len(second) == 1:
            choice.judged += first
            choice.passed += (one for group in groups[1:] for one in group)
        else:
            choice.open += _squares_open(sorted(decided, key=lambda one: one.number))
        return
    choice.judged += decided


def _groups(squares: Sequence[Labelled]) -> list[list[Labelled]]:
    """Return squares that agree together, the largest group first."""
    groups: list[list[Labelled]] = []
    for one in squares:
        for group in groups:
            if all(_agree(one.ratios, other.ratios) for other in group):
                group.append(one)
                break
        else:
            groups.append([one])
    return sorted(groups, key=lambda group: -len(group))


def _agree(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return max(abs(a / b - 1) for a, b in zip(one, other, strict=True)) <= AGREE


def _agreeing(one: Labelled, sure: Sequence[Labelled]) -> Labelled | None:
    """Return a square by the only one of its sizes that agrees with squares which name one size."""
    if not sure:
        return None
    usual = (median(other.ratios[0] for other in sure), median(other.ratios[1] for other in sure))
    fits = [by for size in one.sizes if (by := by_edge(_by_size(one, size))) and _agree(by.ratios, usual)]
    return fits[0] if len(fits) == 1 else None


def _by_size(one: Labelled, size: Stated) -> Labelled:
    high = size.high if size.oblong else 0.0
    return replace(one, nominal=size.wide, high=high, label=size.words, sizes=(size,))


def _by(one: Labelled, edge: tuple[Edge, float, float]) -> Labelled:
    return replace(one, across=edge[1], down=edge[2], edges=(edge,), line=0.0)


def by_edge(one: Labelled) -> Labelled | None:
    """Return a square by the edge of its line that its maker means; None when that is open and matters.

    What a pen draws is measured by the middle of its line, unless another edge is just right and the line's own
    weight, once that scale is taken out, is a usual one, as it is where a style sheet draws a box with a pen.
    """
    ways = [_by(one, edge) for edge in one.edges]
    if len(ways) < 2:
        return one
    middle = next(way for way in ways if way.edges[0][0] is Edge.MIDDLE)
    true = [way for way in ways if _furthest(way) <= FOREIGN_SCALE]
    exact = [way for way in ways if _furthest(way) <= EXACT]
    one_axis = [way for way in ways if min(abs(ratio - 1) for ratio in way.ratios) <= EXACT]
    if not true and not _even(middle) and len(one_axis) == 1:
        # a placement mostly stretches one axis alone
        return one_axis[0]
    usual = _usual(one.line, ways, LIKE)
    surely = usual[0] if len(usual) == 1 else None
    if ways[0] is middle:
        return _by_pen(middle, true, exact, surely)
    likely = _usual(one.line, ways, LIKE + ROUNDED / one.line)
    alike = len({_furthest_ratio(way) > 1 for way in ways}) == 1
    found: Labelled | None
    if len(true) == len(ways):
        found = exact[0] if exact else middle
    elif exact:
        # by chance another edge may be just right: its line must be of a usual weight, and of none by what is off
        found = exact[0] if exact[0] in likely and all(way in true for way in usual) else None
    elif surely or true:
        found = surely
    else:
        found = likely[0] if likely else middle if alike else None
    return found


def _by_pen(
    middle: Labelled, true: Sequence[Labelled], exact: Sequence[Labelled], surely: Labelled | None
) -> Labelled | None:
    """Return what a pen draws by its middle, or by another edge that is just right; None where both may be meant."""
    other = surely if _even(middle) and surely is not middle else None
    if middle in true:
        return middle if middle in exact or other is None or other in true else None
    if exact:
        return middle if surely is middle else other if other in exact else None
    return other or middle


def _usual(line: float, ways: Sequence[Labelled], within: float) -> list[Labelled]:
    """Return the ways by which a line has a usual weight, once its scale is taken out."""
    usual = []
    for way in ways:
        weight = line * 2 / sum(way.ratios)
        counts = ((step, round(weight / step)) for step in WEIGHTS)
        if any(0 < count <= STEPS and abs(weight / (step * count) - 1) <= within for step, count in counts):
            usual.append(way)
    return usual


def _even(one: Labelled) -> bool:
    """Tell whether both axes have the same scale."""
    return abs(one.ratios[0] - one.ratios[1]) <= EXACT


def _furthest_ratio(one: Labelled) -> float:
    return max(one.ratios, key=lambda ratio: abs(ratio - 1))


def _furthest(one: Labelled) -> float:
    return max(abs(ratio - 1) for ratio in one.ratios)


def off(one: Labelled) -> Words | Number:
    """Write how far a square is off, on both axes where they differ."""
    across, down = (error(ratio) for ratio in one.ratios)
    return across if across == down else Words("{across} across and {down} down", across=across, down=down)


def _open(one: Labelled, ways: Sequence[Labelled], says: Says, **numbers: str | float) -> Iterator[Check]:
    for way in ways:
        yield from sizes_of(way, Status.WARN)
    yield Check(
        CheckName.UNDECIDED,
        Status.FAIL,
        says,
        one.page,
        label=one.label,
        box=one.box,
        foreign=True,
        numbers={"number": one.number, **numbers},
    )


def _sizes_open(one: Labelled) -> Iterator[Check]:
    ways = [by_edge(_by_size(one, size)) or _by_size(one, size) for size in one.sizes]
    readings = listed(Words("as {size} it is off by {off}", size=way.label, off=off(way)) for way in ways)
    return _open(one, ways, Says.SIZES_OPEN, readings=readings)


def _edges_open(one: Labelled) -> Iterator[Check]:
    names = {Edge.OUTER: Words("outer edge"), Edge.MIDDLE: Words("middle"), Edge.INNER: Words("inner edge")}
    ways = [_by(one, edge) for edge in one.edges]
    readings = listed(
        Words("by its {edge} it is off by {off}", edge=names[way.edges[0][0]], off=off(way)) for way in ways
    )
    named = [replace(way, label=Words("{size}, {edge}", size=way.label, edge=names[way.edges[0][0]])) for way in ways]
    return _open(one, named, Says.EDGES_OPEN, readings=readings)


def _squares_open(squares: Sequence[Labelled]) -> Iterator[Check]:
    named = listed(
        Words("square {number} ({label}) is off by {off}", number=one.number, label=one.label, off=off(one))
        for one in squares
    )
    return _open(squares[0], squares, Says.SQUARES_OPEN, readings=named)


def judge(squares: Sequence[Labelled]) -> Iterator[Check]:
    """Yield both sides of every square."""
    for square in squares:
        yield from sizes_of(square)


def sizes_of(square: Labelled, status: Status | None = None) -> Iterator[Check]:
    """Yield both sides of a square, judged unless a status is given."""
    lean = square.leaning > FOREIGN_SCALE * square.nominal
    nominal = (square.nominal, square.high or square.nominal)
    for axis, size, stated in zip(("across", "down"), (square.across, square.down), nominal, strict=True):
        right = abs(size / stated - 1) <= FOREIGN_SCALE and not lean
        yield Check(
            CheckName.SQUARE,
            status or (Status.PASS if right else Status.FAIL),
            Says.FOUND_LEANING if lean else Says.FOUND,
            square.page,
            size,
            stated,
            label=square.label,
            axis=axis,
            box=square.box,
            foreign=True,
            numbers={"lean": square.leaning} if lean else {},
        )
