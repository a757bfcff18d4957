"""The drawn piece: the strip's lines and its words, in piece millimetres.

The strip lies along x; x = 0 is the fold edge or the left cut end, y = 0 the
long edge that is sewn first.  Where the words stand is decided on the sheet,
which knows the type; this module says which words there are.
"""

from __future__ import annotations

from dataclasses import dataclass

from tiler.declaration import Part, Point, Subpath, Tag
from tiler.draft.figures import Figures
from tiler.draft.finish import Cut
from tiler.lengths import both, percent

NOTCH_DEPTH = 3.0
"""Less than 1/8 in, so that a snip on the line stays inside any seam."""

NOTCH_APART = 3.0
"""Between the two cuts of a double notch."""

BRACKET_REACH = 6.0
ARROW_HEAD = 1.8

KEEP = "\u00a0"
"""A space at which no line is broken; it prints as a plain one."""


@dataclass(frozen=True)
class Word:
    """A word that belongs to a place: the x or y it speaks of, mm."""

    text: str
    at: float


@dataclass(frozen=True)
class Piece:
    """A strip as it is drawn.

    ``facts`` are the lines of the label, the first ``bold`` of them in bold;
    ``notch_words`` stand at x, ``press_words`` at y, ``end_words`` at the x of an
    end seam; ``edge_words`` names what is sewn at the "lower" and "upper" edge.
    """

    id: str
    figures: Figures
    length: float
    width: float
    on_fold: bool
    parts: tuple[Part, ...]
    lanes: tuple[float, ...]
    left: float
    right: float
    cut_size: str
    facts: tuple[str, ...]
    bold: int
    notch_words: tuple[Word, ...]
    press_words: tuple[Word, ...]
    end_words: tuple[Word, ...]
    edge_words: tuple[tuple[str, str], ...]


def draw_piece(figures: Figures, number: int, title: str, units: str) -> Piece:
    """Draw the strip of these figures; ``number`` makes its id, ``units`` leads on the label."""
    length, width = figures.cut_length_mm, figures.cut_width_mm
    on_fold = figures.cut is Cut.ON_FOLD
    join = figures.join_allowance_mm
    joins = (length - join,) if on_fold else (join, length - join)
    parts = [
        Part(Tag.CUT_LINE, (_outline(length, width, on_fold),)),
        *([Part(Tag.FOLD_LINE, (((0.0, 0.0), (0.0, width)), *_bracket(width)))] if on_fold else []),
        *(Part(Tag.PRESS_LINE, (((0.0, line.y_mm), (length, line.y_mm)),)) for line in figures.press_lines),
        *(Part(Tag.JOIN_LINE, (((x, 0.0), (x, width)),)) for x in joins),
        *_notches(figures),
    ]
    end = f"end seam ({figures.join_place})" if figures.join_place else "end seam"
    return Piece(
        id=f"p{number}",
        figures=figures,
        length=length,
        width=width,
        on_fold=on_fold,
        parts=tuple(parts),
        lanes=(0.0, *sorted(line.y_mm for line in figures.press_lines), width),
        left=0.0 if on_fold else join,
        right=length - join,
        cut_size=_cut_size(figures, units).replace(KEEP, " "),
        facts=_facts(figures, title, units),
        bold=2,
        notch_words=tuple(Word(notch.name, notch.at_mm) for notch in figures.notches),
        press_words=tuple(Word(line.label, line.y_mm) for line in figures.press_lines),
        end_words=tuple(Word(end, x) for x in joins),
        edge_words=tuple((edge, _sewn_words(figures, units)) for edge in figures.sewn_edges),
    )


def _outline(length: float, width: float, on_fold: bool) -> Subpath:
    sides: Subpath = ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width))
    return sides if on_fold else (*sides, sides[0])


def _bracket(width: float) -> tuple[Subpath, ...]:
    """Give the trade's bracket: two arrows that point at the fold edge, joined by a line."""
    low, high = 0.22 * width, 0.78 * width
    tip = 1.0
    head = min(ARROW_HEAD, 0.1 * width)
    arms: list[Subpath] = [((tip, low), (BRACKET_REACH, low), (BRACKET_REACH, high), (tip, high))]
    arms += [((tip + head, y - head / 2), (tip, y), (tip + head, y + head / 2)) for y in (low, high)]
    return tuple(arms)


def _notches(figures: Figures) -> list[Part]:
    depth = min(NOTCH_DEPTH, figures.seam_allowance_mm / 2)
    apart = min(NOTCH_APART, figures.join_allowance_mm)
    parts = []
    for notch in figures.notches:
        cuts = (notch.at_mm - apart / 2, notch.at_mm + apart / 2) if notch.double else (notch.at_mm,)
        for edge in figures.sewn_edges:
            start, end = (0.0, depth) if edge == "lower" else (figures.cut_width_mm, figures.cut_width_mm - depth)
            parts.append(Part(Tag.NOTCH, tuple(((x, start), (x, end)) for x in cuts)))
    return parts


def _sewn_words(figures: Figures, units: str) -> str:
    return f"sew this edge, {both(figures.seam_allowance_mm, units)} in from it"


def _facts(figures: Figures, title: str, units: str) -> tuple[str, ...]:
    on_fold = figures.cut is Cut.ON_FOLD
    size = f", size {figures.size}" if figures.size else ""
    share = f"{percent(figures.ratio.used)} of the {figures.edge.label}, {_both(figures.edge.edge_mm, units)}"
    cloth = ""
    if figures.fabric and figures.fabric_stretch is not None:
        cloth = f" · {figures.fabric}, {percent(figures.fabric_stretch)} stretch"
    return (
        f"{figures.name}{size}",
        f"CUT {figures.quantity} {'ON FOLD' if on_fold else 'FULL LENGTH'}",
        title,
        f"cut {_cut_size(figures, units)}",
        f"finished width {_both(figures.finished_width_mm, units)} · sewn length {_both(figures.loop_mm, units)}",
        f"{figures.finish.words}{cloth}",
        share,
    )


def _cut_size(figures: Figures, units: str) -> str:
    """Give length and width as the cutting chart has them: a full length is twice the rounded half."""
    half, width = figures.half_length_mm, _both(figures.cut_width_mm, units, up=not figures.finish.is_band)
    if figures.cut is Cut.ON_FOLD:
        return f"{_both(half, units)} from the fold × {width}"
    return f"{both(half, units, times=2).replace(' ', KEEP)} × {width}"


def _both(mm: float, units: str, up: bool = False) -> str:
    """Give a length that no line break parts."""
    return both(mm, units, up=up).replace(" ", KEEP)


def arrow(start: Point, length: float) -> Part:
    """Give the arrow of greatest stretch: a line along the strip with a head at both ends."""
    x, y = start
    end = x + length
    head = ARROW_HEAD
    return Part(
        Tag.STRETCH_ARROW,
        (
            ((x, y), (end, y)),
            ((x + head, y - head / 2), (x, y), (x + head, y + head / 2)),
            ((end - head, y - head / 2), (end, y), (end - head, y + head / 2)),
        ),
    )
