"""A spec becomes the numbers to cut by.

Lengths are millimetres; the formulas stand in ``finish`` (widths), ``edge``
(seam line), ``loop`` (length) and ``checks``.  Drawn length: loop / 2 and one end
allowance on fold, loop and two of them in full.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from tiler.draft.checks import Sewn, sewing_warnings
from tiler.draft.edge import Kind, SeamLine, seam_line
from tiler.draft.figures import Edge, Figures, Notch, Part, Ratio
from tiler.draft.finish import Allowances, Cut, cut_width, finished_width, press_lines, sewn_edges
from tiler.draft.loop import (
    ASSUMED_STRETCH,
    flat_limit,
    flat_loop,
    loop_length,
    source,
    usual_ratio,
)
from tiler.draft.notches import JOIN_PLACES, notches_of
from tiler.draft.opening import Ring, opening, opening_warnings
from tiler.draft.spec import Job, PieceSpec
from tiler.errors import SpecError
from tiler.lengths import both
from tiler.paper import IN

__all__ = ["Figures", "figure_job", "figure_piece"]

USUAL_ALLOWANCE = float(IN / 4)
"""Seam and end allowance where nothing says otherwise: 1/4 in."""

USUAL_TRIM = float(IN * 3 / 8)
"""What a raw-edge binding is cut wider so that it can be trimmed: 3/8 in, ours."""


@dataclass(frozen=True)
class _Widths:
    cut: float
    finished: float
    sewn_at: float
    extra: Allowances


def figure_job(job: Job) -> tuple[Figures, ...]:
    """Compute every piece of a job; raises :class:`SpecError` for one that cannot be made."""
    return tuple(figure_piece(piece, job) for piece in job.pieces)


def figure_piece(piece: PieceSpec, job: Job) -> Figures:
    """Compute one piece.

    Raises :class:`SpecError` when no such strip can be: no finished width left,
    no finished edge left, a notch outside the strip.
    """
    widths = _widths(piece, job.units)
    line = seam_line(piece.edge, piece.finish, widths.finished, job.units)
    sewn, ratio = _sew(piece, line, widths, job.units)
    join = piece.join_allowance_mm or (widths.sewn_at if piece.finish.is_band else USUAL_ALLOWANCE)
    length = sewn.loop_mm / 2 + join if piece.cut is Cut.ON_FOLD else sewn.loop_mm + 2 * join
    edge = _edge(line, piece.edge.kind, sewn.loop_mm)
    figures = Figures(
        name=piece.name,
        size=None,
        finish=piece.finish,
        cut=piece.cut,
        quantity=piece.quantity,
        edge=edge,
        ratio=ratio,
        loop_mm=sewn.loop_mm,
        cut_length_mm=length,
        cut_width_mm=widths.cut,
        finished_width_mm=widths.finished,
        seam_allowance_mm=widths.sewn_at,
        join_allowance_mm=join,
        join_place=JOIN_PLACES.get(piece.edge.kind, ""),
        cover_mm=piece.cover_mm,
        thickness_mm=widths.extra.thickness,
        press_lines=press_lines(piece.finish, widths.finished, widths.extra),
        sewn_edges=sewn_edges(piece.finish),
        notches=_notches(piece, edge, sewn.loop_mm, join, length, job.units),
        seam_strain=sewn.strain,
        stretch_used=sewn.stretch_used,
        opening=None,
        fabric=piece.fabric.name if piece.fabric else None,
        fabric_stretch=piece.fabric.stretch if piece.fabric else None,
        edge_text=f"{edge.label} {both(edge.edge_mm, job.units)}",
        warnings=sewing_warnings(sewn, job.units),
    )
    return _open(figures, sewn, job.units)


def _widths(piece: PieceSpec, units: str) -> _Widths:
    seam = piece.seam_allowance_mm or piece.edge.garment_allowance_mm or USUAL_ALLOWANCE
    extra = Allowances(
        seam=seam,
        trim=USUAL_TRIM if piece.trim_allowance_mm is None else piece.trim_allowance_mm,
        cover=piece.cover_mm,
        thickness=piece.fabric.thickness_mm if piece.fabric else 0.0,
    )
    if piece.finished_width_mm is not None:
        finished, cut = piece.finished_width_mm, cut_width(piece.finish, piece.finished_width_mm, extra)
    else:
        cut = piece.cut_width_mm or 0.0
        finished = finished_width(piece.finish, cut, extra)
        if finished <= 0:
            raise SpecError(
                f"{piece.where}.cut-width: {both(cut, units)} leaves no finished width, since allowances and turns of "
                f"cloth take {both(cut_width(piece.finish, 0.0, extra), units)}; cut it wider"
            )
    return _Widths(cut, finished, seam if piece.finish.is_band else finished, extra)


def _sew(piece: PieceSpec, line: SeamLine, widths: _Widths, units: str) -> tuple[Sewn, Ratio]:
    edge, taken_up, in_corners = line.length_mm, line.turn.change(widths.finished), 0.0
    if edge - taken_up - in_corners <= 0:
        raise SpecError(
            f"{piece.where}.{'finished-width' if piece.finished_width_mm else 'cut-width'}: a finished width of "
            f"{both(widths.finished, units)} does not fit inside an edge of {both(edge, units)}, since its finished "
            "edge would have no length left; take a narrower strip or check the edge"
        )
    stretch = piece.fabric.stretch if piece.fabric else ASSUMED_STRETCH
    usual = usual_ratio(piece.finish)
    flat = flat_loop(edge, taken_up, in_corners, stretch)
    loop = loop_length(piece.loop, edge, usual, flat)
    ratio = Ratio(
        used=loop / edge,
        usual=usual,
        flat=None if piece.edge.kind is Kind.STRAIGHT else flat / edge,
        flat_limit=flat_limit(edge, taken_up),
        source=source(piece.loop, stretch, units),
    )
    return Sewn(piece, line, taken_up, in_corners, loop, widths.finished, widths.sewn_at), ratio


def _edge(line: SeamLine, kind: Kind, loop: float) -> Edge:
    share = loop / line.length_mm
    return Edge(
        kind=kind.value,
        edge_mm=line.length_mm,
        turning_deg=line.turn.total_deg,
        parts=tuple(Part(part.name, part.length_mm, part.length_mm * share) for part in line.parts),
        label=f"{kind.value} seam line",
    )


def _notches(piece: PieceSpec, edge: Edge, loop: float, join: float, length: float, units: str) -> tuple[Notch, ...]:
    for i, notch in enumerate(piece.notches):
        if notch.at_mm > length:
            raise SpecError(
                f"{piece.where}.notches[{i}].at: {both(notch.at_mm, units)} lies outside the strip, which is "
                f"{both(length, units)} long as drawn; count from {_start(piece.cut)}"
            )
    own = notches_of(piece.edge.kind, piece.cut, edge.parts, loop, join)
    return (*own, *(Notch(notch.name, notch.at_mm) for notch in piece.notches))


def _start(cut: Cut) -> str:
    return "the fold" if cut is Cut.ON_FOLD else "the left cut end"


def _open(figures: Figures, sewn: Sewn, units: str) -> Figures:
    piece, edge = sewn.piece, sewn.line.length_mm
    if piece.must_pass_mm is None:
        return figures
    if piece.fabric is None:
        raise SpecError(f"{piece.where}.opening: needs the stretch of the strip; name its fabric")
    strip = Ring(sewn.loop_mm, piece.fabric.stretch)
    garment = Ring(edge, piece.garment_fabric.stretch) if piece.garment_fabric else None
    found = opening_warnings(
        piece.must_pass_mm, strip, garment, Ring(edge, piece.fabric.stretch), sewn.longest_flat_mm, units
    )
    return replace(figures, opening=opening(piece.must_pass_mm, strip, garment), warnings=(*found, *figures.warnings))
