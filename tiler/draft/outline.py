"""The drawn piece: the strip's lines and its words, in piece millimetres.

The strip lies along x; x = 0 is the fold edge or the left cut end, y = 0 the long edge that is sewn first.  Where the
words stand is decided on the sheet, which knows the type; this module says which words there are.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from tiler.box import Point, Subpath
from tiler.declaration import Tag
from tiler.draft.bought import drawn
from tiler.draft.contour.lines import fold_lanes, lines_of
from tiler.draft.contour.shape import Shape
from tiler.draft.edition import Edition
from tiler.draft.figures import Figures
from tiler.draft.label import MARKS, Label, Line, in_languages, label_of
from tiler.draft.sections.names import pointed_end
from tiler.draft.strip.corner import Corner, StripEnd
from tiler.draft.strip.finish import Cut, Profile
from tiler.draft.strip.notch import Notch
from tiler.drawn import Part
from tiler.languages.proved import FINISHED_EDGE, GARMENT_EDGE
from tiler.languages.words import Words, in_each
from tiler.lengths import both

NOTCH_DEPTH = 3.0
"""Less than 1/8 in, so that a snip on the line stays inside any seam."""

NOTCH_APART = 3.0
"""Between the two cuts of a double notch."""

ONE_LINE = 1.0
"""A seam line so near to a press line cannot be told from it; the words at the edge say where to stitch, mm."""

BRACKET_REACH = 6.0
BRACKET_WITHIN = 0.22
"""How far the arrows of a bracket stand inside its lane, as a share of that."""

ARROW_HEAD = 1.8


@dataclass(frozen=True)
class Word:
    """A word that belongs to a place: the x or y it speaks of, mm; told where it is set."""

    text: str
    at: float


@dataclass(frozen=True)
class Piece:
    """A strip as it is drawn.

    ``lanes`` are the heights of all lines along it: cut edges, seam lines and press lines.
    ``labels`` are one for each language, ``lines`` what they say, and ``advice`` what is added where there is room;
    ``notch_words`` stand at x, ``press_words`` at y, ``end_words`` at the x of an end
    seam; ``edge_words`` names what is sewn at the "lower" and "upper" edge.
    """

    id: str
    figures: Figures
    length: float
    width: float
    on_fold: bool
    parts: tuple[Part, ...]
    lanes: tuple[float, ...]
    labels: tuple[Label, ...]
    lines: tuple[Line, ...]
    advice: tuple[str, ...]
    notch_words: tuple[Word, ...]
    press_words: tuple[Word, ...]
    end_words: tuple[Word, ...]
    edge_words: tuple[tuple[str, str], ...]

    @property
    def label(self) -> Label:
        """The label in the leading language."""
        return self.labels[0]

    def room(self, low: float, high: float) -> tuple[float, float]:
        """Return from where to where the strip is free of its ends between two heights, mm."""
        start, end = sewn_ends(self.figures)
        left, right = (one.reach_between(low, high) for one in (self.figures.left_end, self.figures.end))
        return (0.0 if self.on_fold else start - left), end + right


def sewn_ends(figures: Figures) -> tuple[float, float]:
    """Return where the sewn length begins and ends on the drawn strip; the fold is its beginning."""
    start = 0.0 if figures.cut is Cut.ON_FOLD else figures.left_end.longest
    return start, figures.cut_length_mm - figures.end.longest


def draw_pieces(figures: Sequence[Figures], edition: Edition) -> list[Piece]:
    """Draw what is cut of these figures: strips, and the sections of those that are pieced."""
    return [draw_piece(one, number, edition) for number, one in enumerate(drawn(figures), 1)]


def draw_piece(figures: Figures, number: int, edition: Edition) -> Piece:
    """Draw the strip of these figures; ``number`` makes its id, title and units of ``edition`` stand on the label."""
    width, labels = figures.cut_width_mm, [label_of(figures, edition) for _ in in_each()]
    on_fold = figures.cut is Cut.ON_FOLD
    lanes, parts = _shaped(figures, figures.shape) if figures.shape else _straight(figures)
    ends = sewn_ends(figures)
    return Piece(
        id=f"p{number}",
        figures=figures,
        length=figures.cut_length_mm,
        width=width,
        on_fold=on_fold,
        parts=tuple(parts),
        lanes=lanes,
        labels=tuple(labels),
        lines=in_languages([label.lines() for _, label in zip(in_each(), labels, strict=True)]),
        advice=figures.corner_steps,
        notch_words=tuple(
            Word(MARKS.get(notch.name, notch.name), notch.at_mm) for notch in figures.notches if not notch.on_end
        ),
        press_words=tuple(Word(line.label, line.y_mm) for line in figures.press_lines),
        end_words=_end_words(figures, ends),
        edge_words=tuple((edge, _sewn_words(figures, edition.units, edge)) for edge in figures.sewn_edges),
    )


def _shaped(figures: Figures, shape: Shape) -> tuple[tuple[float, ...], Sequence[Part]]:
    """Return the lanes of a piece of a contour band, through which no line runs straight, and its lines."""
    bracket = _bracket(fold_lanes(shape, BRACKET_REACH)) if shape.on_fold else ()
    depth, apart = notch_depth(figures), _apart(figures)
    return (0.0, figures.cut_width_mm), lines_of(
        shape, figures.notches, figures.seam_allowance_mm, depth, apart, bracket
    )


def _straight(figures: Figures) -> tuple[tuple[float, ...], Sequence[Part]]:
    """Return the heights of the lines along a strip, and its parts."""
    width, on_fold = figures.cut_width_mm, figures.cut is Cut.ON_FOLD
    seams = _seam_heights(figures)
    lanes = (0.0, *sorted((*(line.y_mm for line in figures.press_lines), *seams)), width)
    return lanes, [
        Part(Tag.CUT_LINE, (_outline(figures),)),
        *([Part(Tag.FOLD_LINE, (((0.0, 0.0), (0.0, width)), *_bracket(lanes)))] if on_fold else []),
        *(Part(Tag.PRESS_LINE, (_along(figures, line.y_mm, to_the_cut=True),)) for line in figures.press_lines),
        *(Part(Tag.SEAM_LINE, (_along(figures, y, to_the_cut=False),)) for y in seams),
        *(Part(Tag.JOIN_LINE, (seam,)) for seam in _end_seams(figures)),
        *_notches(figures),
        *(Part(Tag.BUTTONHOLE, strokes) for strokes in _button_marks(figures)),
    ]


def _outline(figures: Figures) -> Subpath:
    start, end = sewn_ends(figures)
    right = _corners((end + reach + figures.end.allowance_along, y) for y, reach in figures.end.seam)
    if figures.cut is Cut.ON_FOLD:
        return ((0.0, 0.0), *right, (0.0, figures.cut_width_mm))
    left = _corners((start - reach - figures.left_end.allowance_along, y) for y, reach in figures.left_end.seam)
    return (left[0], *right, *reversed(left))


def _corners(points: Iterable[Point]) -> Subpath:
    """Leave out the points at which a line runs straight on."""
    kept: list[Point] = []
    for point in points:
        while len(kept) > 1 and _in_line(kept[-2], kept[-1], point):
            kept.pop()
        kept.append(point)
    return tuple(kept)


def _in_line(a: Point, b: Point, c: Point) -> bool:
    return abs((b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])) < 1e-9


def _seam_heights(figures: Figures) -> list[float]:
    """Return where the first seam is stitched along the strip, but where a press line says so."""
    allowance, width = figures.seam_allowance_mm, figures.cut_width_mm
    heights = [allowance if edge == "lower" else width - allowance for edge in figures.sewn_edges]
    return [y for y in heights if all(abs(line.y_mm - y) >= ONE_LINE for line in figures.press_lines)]


def _along(figures: Figures, y: float, *, to_the_cut: bool) -> Subpath:
    """Return a line along the strip from end seam to end seam, or from cut edge to cut edge, or from the fold."""
    start, end = sewn_ends(figures)
    left, right = (
        one.reach_between(y, y) + (one.allowance_along if to_the_cut else 0.0)
        for one in (figures.left_end, figures.end)
    )
    return ((0.0 if figures.cut is Cut.ON_FOLD else start - left, y), (end + right, y))


def _end_seams(figures: Figures) -> Iterator[Subpath]:
    start, end = sewn_ends(figures)
    # of an end that stays raw the cut line is the end
    if figures.cut is not Cut.ON_FOLD and figures.left_end.allowance_along:
        yield _corners((start - reach, y) for y, reach in _sewn_seam(figures, figures.left_end))
    if figures.end.allowance_along:
        yield _corners((end + reach, y) for y, reach in _sewn_seam(figures, figures.end))


def _sewn_seam(figures: Figures, end: StripEnd) -> Profile:
    """Return an end seam as far as it is sewn."""
    low = end.open_below
    high = figures.cut_width_mm - (low if "upper" in figures.sewn_edges else 0.0)
    return tuple((y, reach) for y, reach in end.seam if low - 1e-9 <= y <= high + 1e-9)


def _end_words(figures: Figures, ends: tuple[float, float]) -> tuple[Word, ...]:
    if figures.section:
        names = figures.section.ends
        return tuple(Word(name, x) for name, x in zip(names, ends[-len(names) :], strict=True))
    words = pointed_end(figures.end.style is Corner.LAPPED, figures.join_place)
    if figures.is_open:
        words = figures.ends.words
        ends = (ends[0] - figures.left_end.seam[0][1], ends[1] + figures.end.seam[0][1])
    if figures.cut is Cut.ON_FOLD:
        return (Word(words, ends[1]),)
    # which end is the front matters where the two are not alike
    sides = [Words("front: {end}", end=words), Words("back: {end}", end=words)] if figures.front_first else [words] * 2
    return tuple(Word(side, x) for side, x in zip(sides, ends, strict=True))


def fold_lane(lanes: Sequence[float]) -> tuple[float, float]:
    """Return the lane of the bracket: the widest, where no line runs through it; of some alike the lowest.

    Above it stands the label.
    """
    return max(pairwise(lanes), key=lambda lane: (round(lane[1] - lane[0], 6), -lane[0]))


def _bracket(lanes: Sequence[float]) -> tuple[Subpath, ...]:
    """Return the trade's bracket: two arrows that point at the fold edge, joined by a line."""
    foot, top = fold_lane(lanes)
    low, high = (foot + share * (top - foot) for share in (BRACKET_WITHIN, 1 - BRACKET_WITHIN))
    tip = 1.0
    head = min(ARROW_HEAD, 0.1 * (lanes[-1] - lanes[0]), 0.3 * (top - foot))
    arms: list[Subpath] = [((tip, low), (BRACKET_REACH, low), (BRACKET_REACH, high), (tip, high))]
    arms += [((tip + head, y - head / 2), (tip, y), (tip + head, y + head / 2)) for y in (low, high)]
    return tuple(arms)


def notch_depth(figures: Figures) -> float:
    """Return how deep notches are cut, mm."""
    return min(NOTCH_DEPTH, figures.seam_allowance_mm / 2)


def _apart(figures: Figures) -> float:
    """Return how far the cuts of a double notch lie apart: at its own ends an open strip has none."""
    return NOTCH_APART if figures.is_open else min(NOTCH_APART, figures.join_allowance_mm)


def _notches(figures: Figures) -> list[Part]:
    depth, apart, parts = notch_depth(figures), _apart(figures), []
    for notch in figures.notches:
        if notch.on_end:
            parts.append(Part(Tag.NOTCH, _on_end(figures, notch)))
            continue
        cuts = (notch.at_mm - apart / 2, notch.at_mm + apart / 2) if notch.double else (notch.at_mm,)
        for edge in figures.sewn_edges:
            start, end = (0.0, depth) if edge == "lower" else (figures.cut_width_mm, figures.cut_width_mm - depth)
            if within := _within(figures, cuts, edge):
                parts.append(Part(Tag.NOTCH, tuple(((x, start), (x, end)) for x in within)))
    return parts


def _within(figures: Figures, cuts: tuple[float, ...], edge: str) -> tuple[float, ...]:
    """Return the places of a notch at a long edge: on a bias strip what lies beyond one end comes in at the other."""
    if figures.bias is None or (edge == "lower" and not figures.section):
        return cuts
    y = 0.0 if edge == "lower" else figures.cut_width_mm
    start, end = sewn_ends(figures)
    left, right = start - figures.left_end.reach_between(y, y), end + figures.end.reach_between(y, y)
    if figures.section:
        # the next section has it
        return tuple(x for x in cuts if left <= x <= right)
    return tuple(x + figures.loop_mm if x < left else x for x in cuts)


def _on_end(figures: Figures, notch: Notch) -> tuple[Subpath, ...]:
    """Return the cuts of a notch on a slanted end."""
    start, end = sewn_ends(figures)
    strip_end, x = (figures.left_end, start) if notch.on_end < 0 else (figures.end, end)
    return tuple(tuple((x + notch.on_end * reach, y) for reach, y in cut) for cut in strip_end.marks(notch.double))


def _button_marks(figures: Figures) -> tuple[tuple[Subpath, ...], ...]:
    """Return the strokes of each buttonhole; on fold those of the half that is drawn."""
    if figures.buttons is None:
        return ()
    if figures.cut is Cut.ON_FOLD:
        return figures.buttons.on_half(figures.loop_mm).marks(0.0)
    return figures.buttons.marks(figures.left_end.longest)


def _sewn_words(figures: Figures, units: str, edge: str) -> str:
    length = both(figures.seam_allowance_mm, units)
    if figures.shape and not figures.shape.doubled:
        return Words(FINISHED_EDGE if edge == "upper" else GARMENT_EDGE, length=length)
    return Words("stitch {length} from this edge", length=length)
