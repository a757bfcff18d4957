"""The figures of a contour band: its pieces, as long as the edge and shaped like it; mm."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import fsum

from tiler.draft.advice.checks import Sewn
from tiler.draft.advice.doubts import number_findings
from tiler.draft.advice.finding import Check, Finding
from tiler.draft.advice.garment import cut_words
from tiler.draft.advice.making import making_findings
from tiler.draft.advice.opening import passed
from tiler.draft.contour.pattern import Way, ways_of
from tiler.draft.contour.piece import Bands, shape_of
from tiler.draft.contour.shape import Shape
from tiler.draft.edge.numbers import Edge, Part
from tiler.draft.edge.part_words import edge_words
from tiler.draft.edge.seam_line import EdgeSpec, Kind, seam_distance, seam_line
from tiler.draft.figures import Figures, Ratio
from tiler.draft.judged import with_findings
from tiler.draft.sections.names import END_SEAM, pointed_end
from tiler.draft.sections.section import Section
from tiler.draft.spec.piece import PieceSpec
from tiler.draft.strip.bounds import MOST_STRETCH_USED, fit
from tiler.draft.strip.corner import straight_end
from tiler.draft.strip.finish import Cut
from tiler.draft.strip.loop import ASSUMED_STRETCH
from tiler.draft.strip.notch import Notch
from tiler.draft.strip.notches import CB, CF, HALF, SHOULDER, UNDERARM, between
from tiler.draft.strip.refinish import garment_cut
from tiler.draft.strip.widths import strip_widths
from tiler.errors import SpecError
from tiler.languages.words import Words
from tiler.lengths import both

IN_ONE = Words("in one piece")
"""Of a band whose edge has no parts."""

ARC = Words(
    "Of the edge nothing but length and turning is known, so the band is cut as an arc of a circle: if the edge is of "
    "another shape, name its drawing."
)


@dataclass(frozen=True)
class _Cut:
    """A piece: what it follows, its shape, and the names of its ends and of its middle."""

    way: Way
    shape: Shape
    ends: tuple[str, str]
    middle: str

    @property
    def times(self) -> int:
        """How often what is drawn of it is met along the edge: twice where that is a half."""
        return self.way.count * (2 if self.shape.on_fold else 1)


def figure_contour(piece: PieceSpec, units: str) -> Figures:
    """Compute a contour band; raises :class:`SpecError` where its lines would cross."""
    widths = strip_widths(piece, units)
    join = piece.join_allowance_mm or widths.sewn_at
    seam = -seam_distance(piece.edge, piece.finish, widths.finished, units)
    bands = Bands(seam, widths.finished, widths.sewn_at, join)
    on_fold = piece.cut is Cut.ON_FOLD
    cuts = [
        _Cut(way, shape_of(way, bands, on_fold and not way.in_full, piece.where, units), *_names(piece.edge, way))
        for way in ways_of(piece.edge, piece.where, on_fold)
    ]
    for one in cuts:
        _check_cloth(piece, one.shape, units)
    edge_mm = fsum(one.times * one.shape.sewn_mm for one in cuts)
    finished_mm = fsum(one.times * one.shape.finished_mm for one in cuts)
    sewn = _sewn(piece, edge_mm, widths.finished, widths.sewn_at, units)
    ratio = _ratio(piece)
    sections = tuple(_section(one, join, ratio.tightest) for one in cuts)
    edge = _edge(piece.edge, cuts, edge_mm, ratio.tightest)
    # the finished edge is the shortest ring of a band that nothing stretches
    opened, found = passed(piece, finished_mm, edge_mm, 0.0, units)
    findings = [*found, *_findings(sewn, piece, units)]
    lies = bands.allowance
    figures = Figures(
        name=piece.name,
        size=piece.size,
        finish=piece.finish,
        cut=piece.cut,
        quantity=piece.quantity,
        edge=edge,
        ratio=ratio,
        loop_mm=edge_mm,
        cut_length_mm=fsum(section.full_length_mm for section in sections),
        cut_width_mm=widths.finished + 2 * lies,
        finished_width_mm=widths.finished,
        widest_mm=None,
        seam_allowance_mm=lies,
        join_allowance_mm=join,
        join_place="",
        cover_mm=0.0,
        thickness_mm=0.0,
        press_lines=(),
        sewn_edges=("lower", "upper"),
        notches=(),
        seam_strain=0.0,
        stretch_used=0.0 if piece.fabric else None,
        opening=opened,
        fabric=piece.fabric.name if piece.fabric else None,
        fabric_stretch=piece.fabric.stretch if piece.fabric else None,
        edge_text=f"{edge.label} {both(edge_mm, units)}",
        end=straight_end(widths.finished + 2 * lies, join),
        fittings=(),
        trial_change_mm=0.0,
        new_cut_edge=None,
        cloth=None,
        cut_words=cut_words(
            piece.finish,
            garment_cut(piece.edge, None, None, piece.finish, widths.finished, lies),
            None,
            units,
        ),
        corner_steps=(),
        warnings=(),
        for_child=piece.for_child,
        views=piece.views,
        sections=sections,
        piecing=_piecing(sections, join, units),
        contour_mm=finished_mm,
    )
    return with_findings(figures, findings)


def _check_cloth(piece: PieceSpec, shape: Shape, units: str) -> None:
    """Refuse a piece that is wider across its grain than its cloth."""
    cloth = piece.fabric.width_mm if piece.fabric else None
    x, y = shape.grain
    across = [u * y - v * x for u, v in shape.outline]
    wide = (max(across) - min(across)) * (2 if shape.on_fold else 1)
    if cloth is not None and wide > cloth:
        raise SpecError(
            f"a piece of {both(wide, units)} across its grain is wider than the cloth, {both(cloth, units)}; give the "
            "edge in more parts, or take wider cloth",
            piece.where.at("fabric"),
        )


def _names(edge: EdgeSpec, way: Way) -> tuple[tuple[str, str], str]:
    """Return what the left and the right end of a piece are, and its middle."""
    index = next(index for index, part in enumerate(edge.parts) if part is way.part)
    if edge.kind is Kind.NECKLINE and not edge.listed:
        return (SHOULDER, SHOULDER), CF if index == 0 else CB
    if edge.kind is Kind.ARMHOLE:
        ends = (UNDERARM, SHOULDER)
        return (ends[::-1] if way.swapped else ends), HALF
    if not edge.listed:
        return (END_SEAM, END_SEAM), HALF
    if way.part.curve is not None and not (way.folded or way.told):
        # a drawing may be run either way
        return (END_SEAM, END_SEAM), HALF
    named = [_part(part.words) for part in edge.parts]
    right = between(named[index], named[index + 1]) if index < len(named) - 1 else END_SEAM
    # beyond the fold it has the same end again
    left = right if way.both else between(named[index - 1], named[index]) if index else END_SEAM
    return ((right, left) if way.swapped else (left, right)), HALF


def _part(name: str) -> Part:
    return Part(name, 0.0, 0.0, 1.0, 0.0, None, (), listed=True)


def _section(one: _Cut, join: float, tightest: float) -> Section:
    shape, part = one.shape, one.way.part
    on_fold = shape.on_fold
    # how much of the edge one piece has
    sewn = one.times * shape.sewn_mm / one.way.count
    left, right = one.ends
    middle = Notch(one.middle, 0.0 if on_fold else shape.sewn_mm / 2, double=one.middle is CB and not on_fold)
    marks = [*([] if on_fold else [Notch(left, 0.0)]), middle, Notch(right, shape.sewn_mm)]
    if left != right:
        # folded, both of its ends are cut alike
        left, right = (END_SEAM, END_SEAM) if on_fold else (left, right)
        marks = marks[:-1] if on_fold else marks
    marks = [mark for mark in marks if mark.name != END_SEAM]
    name = {"front-half": Words("front"), "back-half": Words("back"), "whole": IN_ONE}.get(part.name, part.words)
    return Section(
        name=Words("{name}", name=name) if part.listed else name,
        part=name if part.name != "whole" else "",
        shares=1,
        numbers=(1,),
        cut=Cut.ON_FOLD if on_fold else Cut.FULL_LOOP,
        count=shape.layers * one.way.count,
        pair=shape.layers * one.way.count > 1 and not one.way.folded,
        sewn_mm=sewn,
        edge_mm=sewn,
        tightest_mm=tightest * sewn,
        flat_mm=sewn,
        cut_length_mm=shape.length,
        left=straight_end(shape.width, join),
        right=straight_end(shape.width, join),
        joins=(_end(left), _end(right)),
        seams=("", ""),
        notches=tuple(marks),
        shape=shape,
    )


def _end(name: str) -> str:
    return END_SEAM if name == END_SEAM else pointed_end(False, name)


def _edge(spec: EdgeSpec, cuts: list[_Cut], edge_mm: float, tightest: float) -> Edge:
    def part(one: _Cut) -> Part:
        # of a neckline its halves are told
        half = spec.kind is Kind.NECKLINE and not spec.listed
        own = one.shape.sewn_mm * (one.times if not half else 1 if one.shape.on_fold else 0.5)
        stated = one.way.part
        return Part(stated.name, own, own, 1.0, tightest * own, own, (own,), drawn=stated.drawn, listed=stated.listed)

    return Edge(
        kind=spec.kind.value,
        edge_mm=edge_mm,
        turning_deg=spec.turn.total_deg,
        parts=tuple(map(part, cuts)),
        label=edge_words(spec.kind.value),
        ease="even",
        outline=spec.outline,
    )


def _ratio(piece: PieceSpec) -> Ratio:
    stretch = piece.fabric.stretch if piece.fabric else ASSUMED_STRETCH
    source = "form: as long as the edge, since it is cut to its shape"
    tightest = 1 / (1 + MOST_STRETCH_USED * stretch)
    return Ratio(1.0, 1.0, 1.0, piece.finish.making.usual_ratio, tightest, 1.0, source)


def _sewn(piece: PieceSpec, edge_mm: float, finished: float, sewn_at: float, units: str) -> Sewn:
    """Return the band as a strip on its edge, for what is found about the numbers."""
    line = replace(seam_line(piece.edge, piece.finish, finished, units), length_mm=edge_mm)
    stretch = piece.fabric.stretch if piece.fabric else ASSUMED_STRETCH
    found = fit(piece.edge, line, line, piece.finish, finished, stretch, False, piece.standing)
    return Sewn(piece, line, line, 0.0, 0.0, edge_mm, finished, sewn_at, found)


def _findings(sewn: Sewn, piece: PieceSpec, units: str) -> Iterator[Finding]:
    yield from number_findings(sewn, units)
    yield from making_findings(sewn, lengthens=True, pieced=True, units=units)
    if any(part.curve is None for part in piece.edge.parts):
        yield Finding(Check.REMARK, ARC.removesuffix("."))


def _piecing(sections: tuple[Section, ...], join: float, units: str) -> str:
    """Say how the pieces become a band."""
    allowance = both(join, units)
    if len(sections) == 1:
        return Words(
            "Cut to the shape of the edge, in two layers: close the end seam of each, {allowance} from the ends, and "
            "press it open; then sew the layers together along the finished edge.",
            allowance=allowance,
        )
    return Words(
        "Cut to the shape of the edge, in two layers: join the pieces of each at their end seams, mark to mark, "
        "{allowance} from the ends, and press them open; then sew the layers together along the finished edge.",
        allowance=allowance,
    )
