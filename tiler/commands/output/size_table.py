"""The cutting chart of several sizes on a terminal: a table of each piece with a row for each size.

Lengths are rounded as in :mod:`tiler.commands.output.cutting_chart`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import chain, groupby, product, zip_longest
from textwrap import wrap

from tiler.commands.output.edge_story import direction, to_buy
from tiler.commands.output.wrapping import Line, width, wrapped
from tiler.draft.figures import Figures
from tiler.draft.judged import warned
from tiler.draft.sections.strips import strips_of
from tiler.draft.spec.read import Job
from tiler.draft.strip.finish import Cut
from tiler.draft.views import by_view, in_views
from tiler.lengths import both, percent

HEAD = ("size", "edge", "cut length", "cut width", "of edge", "")
APART = "  "
NARROW = " "
GOOD = ("size", "sewn length", "good from", "to")
"""From 60 % of the stretch to the longest that lies flat."""

SECTIONS = ("size", "section", "cut", "cut length")

SHAPED = ("size", "seam line", "finished edge", "")
PIECES = ("size", "piece", "cut", "length", "width")

FLAG = "!"

FOLDED_SIZE = 10
"""Columns of the name of a size where the terminal is too narrow for the table."""

Cells = tuple[str, ...]


def size_tables(job: Job, figures: Sequence[Figures]) -> Iterator[Line]:
    """Yield the tables of a job in several sizes; a row with warnings is flagged, and they stand below."""
    yield from wrapped(job.edition.heading, heading=True)
    for _, group in groupby(figures, key=lambda one: one.name):
        yield Line("")
        yield from _table(list(group), job.edition.units)
    yield from _cloth(figures, job.edition.units)
    yield Line("")
    first = figures[0].size
    yield from wrapped(f"Press lines, notches and all the rest of one size: tiler figures SPEC --sizes {first}")


def _table(group: Sequence[Figures], units: str) -> Iterator[Line]:
    one = group[0]
    cloth = f", {one.fabric}" if one.fabric else ""
    how = "" if one.contour_mm is not None else f", cut {one.quantity} {one.cut.words}"
    yield from wrapped(f"{in_views(one.name, one.views)}: {one.finish_words}{cloth}{how}", heading=True)
    if one.contour_mm is not None:
        yield from _shaped(group, units)
        yield from _warnings(group)
        return
    yield from _side_by_side(strip_rows(group, units))
    if one.cut is Cut.ON_FOLD:
        yield Line(f"{APART}cut length from the fold")
    yield from _sections(group, units)
    for of in _MORE:
        yield from _told(group, [of(each, units) for each in group])
    yield from _side_by_side(length_rows(group, units))
    yield from _warnings(group)


def _shaped(group: Sequence[Figures], units: str) -> Iterator[Line]:
    """Yield both edges of a contour band, and its pieces, size by size."""
    edges = [
        (
            one.size or "",
            both(one.edge.edge_mm, units),
            both(one.contour_mm or 0.0, units),
            FLAG if one.warnings else "",
        )
        for one in group
    ]
    yield from _side_by_side([SHAPED, *edges])
    pieces = [
        (
            piece.size or "",
            piece.section.name if piece.section else "",
            f"{piece.quantity} {piece.cut.words}",
            both(piece.half_length_mm, units, times=1 if piece.cut is Cut.ON_FOLD else 2),
            both(piece.cut_width_mm, units),
        )
        for piece in strips_of(group)
    ]
    yield from _side_by_side([PIECES, *pieces])
    if any(piece.cut is Cut.ON_FOLD for piece in strips_of(group)):
        yield Line(f"{APART}on fold: length from the fold")
    for of in _MORE:
        yield from _told(group, [of(each, units) for each in group])
    texts = dict.fromkeys(one.piecing for one in group)
    for words in texts:
        # the cloth is another one in every size
        who = ", ".join(one.size or "" for one in group if one.piecing == words)
        yield from wrapped(words if len(texts) == 1 else f"{who}: {words}", APART, "    ")


_MORE: tuple[Callable[[Figures, str], str], ...] = (
    lambda one, units: one.elastic.words(units) if one.elastic else "",
    lambda one, units: one.buttons.words(units) if one.buttons else "",
    lambda one, units: one.runs_on.words(units) if one.runs_on.there else "",
    lambda one, units: one.bias.words(units) if one.bias else "",
)
"""What is told of some strips besides their lengths."""


def _told(group: Sequence[Figures], texts: Sequence[str]) -> Iterator[Line]:
    """Yield what is said of the sizes, each text once with those that it holds for."""
    found: dict[str, list[str]] = {}
    for one, text in zip(group, texts, strict=True):
        found.setdefault(text, []).append(one.size or "")
    for text, sizes in found.items():
        who = "all sizes" if len(sizes) == len(group) else ", ".join(sizes)
        if text:
            yield from wrapped(f"{who}: {text}", APART, "    ")


def strip_rows(group: Sequence[Figures], units: str) -> list[Cells]:
    """Return the table of a piece in its sizes, its head first; a size that is warned of is flagged."""
    return [HEAD, *(_row(each, units) for each in group)]


def length_rows(group: Sequence[Figures], units: str) -> list[Cells]:
    """Return between which lengths each size is good, the head first."""
    return [GOOD, *(_good(each, units) for each in group)]


def _side_by_side(rows: Sequence[Cells]) -> Iterator[Line]:
    """Yield rows in columns, the head first: long ones with less white between, too long ones folded."""
    flat = [[row] for row in rows]
    folded = [list(zip_longest(*map(_folded, row), fillvalue="")) for row in rows]
    for entries, apart in product((flat, folded), (APART, NARROW)):
        columns = [max(map(len, column)) for column in zip(*chain.from_iterable(entries), strict=True)]
        if len(APART + apart.join(" " * column for column in columns)) <= width():
            break
    for entry in entries:
        for cells in entry:
            row = (cell.ljust(column) for cell, column in zip(cells, columns, strict=True))
            yield Line((APART + apart.join(row)).rstrip(), entry is entries[0])


def _folded(cell: str) -> list[str]:
    """Return the two lines of a cell: a length in one unit over the other, a long size in parts."""
    first, bracket, second = cell.partition(" (")
    return [first, f"({second}"] if bracket else wrap(cell, FOLDED_SIZE)


def _row(one: Figures, units: str) -> Cells:
    return (
        one.size or "",
        both(one.edge.edge_mm, units),
        "sections" if one.sections else both(one.half_length_mm, units, times=1 if one.cut is Cut.ON_FOLD else 2),
        both(one.cut_width_mm, units, up=one.finish.rounds_up),
        percent(one.ratio.used),
        FLAG if one.warnings else "",
    )


def _sections(group: Sequence[Figures], units: str) -> Iterator[Line]:
    """Yield what is cut of each strip that is pieced, and how that is joined, the latter once for sizes alike."""
    cut = [
        (
            section.size or "",
            section.section.name if section.section else "",
            f"{section.quantity} {section.cut.words}",
            both(section.half_length_mm, units, times=1 if section.cut is Cut.ON_FOLD else 2),
        )
        for one in group
        if one.sections
        for section in strips_of([one])
    ]
    if not cut:
        return
    yield from _side_by_side([SECTIONS, *cut])
    for words in dict.fromkeys(one.piecing for one in group if one.sections):
        who = ", ".join(one.size or "" for one in group if one.piecing == words)
        yield from wrapped(f"{who}: {words}", APART, "    ")


def _good(one: Figures, units: str) -> Cells:
    edge, ratio = one.edge.edge_mm, one.ratio
    longest = "any" if ratio.flat is None else both(ratio.flat * edge, units)
    return (one.size or "", both(one.loop_mm, units), both(ratio.tightest * edge, units), longest)


def _warnings(group: Sequence[Figures]) -> Iterator[Line]:
    """Yield each warning once, with the sizes that it is about."""
    for warning, found in warned(group).items():
        who = "all sizes" if len(found) == len(group) else ", ".join(one.size or "" for one in found)
        yield from wrapped(f"{who}: {warning}", f"  {FLAG} ", "    ")


def _cloth(figures: Sequence[Figures], units: str) -> Iterator[Line]:
    rows = [
        (size, f"view {view}, {fabric}" if view else fabric, words)
        for size in dict.fromkeys(one.size for one in figures)
        for view, own in by_view([one for one in figures if one.size == size]).items()
        for fabric, words in to_buy(own, units)
    ]
    if not rows:
        return
    yield from (Line(""), Line("Cloth to buy", True))
    for size, fabric, words in rows:
        yield from wrapped(f"size {size}: {fabric}, {words}", APART, "    ")
    yield from wrapped(direction(figures), APART, APART)
