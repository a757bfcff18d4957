"""A spec becomes the numbers to cut by; mm.

The formulas stand in ``finish`` (widths), ``edge`` (seam line), ``loop`` and ``bounds`` (length), ``ease`` (shares),
``corner`` (ends), ``strip`` (drawn length) and ``checks``.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from tiler.draft.advice.bends import bend_findings, mitrable, worst_bend
from tiler.draft.advice.checks import Sewn, length_findings
from tiler.draft.advice.doubts import number_findings
from tiler.draft.advice.finding import Finding
from tiler.draft.advice.garment import corner_steps, cut_words
from tiler.draft.advice.grade import with_slips
from tiler.draft.advice.making import making_findings
from tiler.draft.advice.opening import passed
from tiler.draft.advice.shares import part_findings
from tiler.draft.contour.figures import figure_contour
from tiler.draft.edge.numbers import Before, Edge, Part
from tiler.draft.edge.part_words import edge_words
from tiler.draft.edge.seam_line import MeasuredOn, SeamLine, seam_line
from tiler.draft.fastening.buttons import placed
from tiler.draft.fastening.open_ends import Ends, end_allowance
from tiler.draft.fastening.running_on import free_ends_of_child, leaving
from tiler.draft.figures import Figures, Ratio
from tiler.draft.judged import with_findings
from tiler.draft.sections.pieced import pieced
from tiler.draft.spec.piece import PieceSpec
from tiler.draft.spec.read import Job
from tiler.draft.spec.sizes import picked
from tiler.draft.strip.bias import CutOn, bias_cloth, bias_ends
from tiler.draft.strip.bounds import fit
from tiler.draft.strip.corner import Corner, StripEnd, slanted_end, straight_end
from tiler.draft.strip.ease import Ease, eased
from tiler.draft.strip.elastic import cut_elastic
from tiler.draft.strip.finish import Cut, press_lines, sewn_edges
from tiler.draft.strip.fittings import after_trials, fittings, total_change
from tiler.draft.strip.layout import lay_out, strip_notches
from tiler.draft.strip.loop import ASSUMED_STRETCH, AdvisedRatio, FlatRatio, source, start_length
from tiler.draft.strip.notches import join_place, notches_of
from tiler.draft.strip.refinish import NewCutEdge, deeper_seam, garment_cut, new_cut_edge
from tiler.draft.strip.widths import USUAL_ALLOWANCE, StripWidths, strip_widths
from tiler.errors import SpecError
from tiler.lengths import both
from tiler.sentence import Key, Sentence

__all__ = ["Figures", "figure_job", "figure_piece", "sewn_line"]


def figure_job(job: Job, sizes: str | None = None) -> tuple[Figures, ...]:
    """Compute every piece of a job, in the sizes that ``sizes`` names ("S,M"), else in all that it has.

    A piece is compared over all its sizes, so that one that is out of line is warned of.
    Raises :class:`SpecError` for a piece that cannot be made, and for an unknown size.
    """
    if not job.sizes and sizes is None:
        return tuple(figure_piece(piece, job) for piece in job.pieces)
    wanted, count = picked(sizes, job.sizes), len(job.sizes)
    figures = [_figure_size(piece, job) for piece in job.pieces]
    spans = [slice(start, start + count) for start in range(0, len(figures), count)]
    in_sizes = (with_slips(figures[each], job.pieces[each], job.edition.units) for each in spans)
    return tuple(one for each in in_sizes for one in each if one.size in wanted)


def _figure_size(piece: PieceSpec, job: Job) -> Figures:
    try:
        return figure_piece(piece, job)
    except SpecError as fault:
        raise fault.at_size(piece.size) from fault


def figure_piece(piece: PieceSpec, job: Job) -> Figures:
    """Compute one piece, and the same on the edge as it was before a change.

    Raises :class:`SpecError` when no such strip can be: no finished width left,
    no finished edge left, a notch outside the strip.
    """
    if piece.form.shaped:
        same = (piece.name, piece.finished_width_mm)
        as_wide = [one for one in job.pieces if (one.name, one.finished_width_mm) == same and one is not piece]
        return figure_contour(piece, job.edition.units, as_wide)
    found = _figure(piece, job.edition.units)
    was = piece.edge.before
    if was is None or was.outline is None:
        return found
    try:
        old = _figure(replace(piece, edge=was, notches=(), must_pass_mm=None), job.edition.units)
    except SpecError:
        # the strip did not fit the neckline as it was, which may be why it was changed
        return found
    before = Before(was.outline, piece.edge.neck_drop_mm, old.edge.edge_mm, old.loop_mm, old.cut_length_mm)
    return replace(found, before=before)


def _figure(piece: PieceSpec, units: str) -> Figures:
    widths = strip_widths(piece, units)
    line, new_edge = sewn_line(piece, widths, units)
    garment = garment_cut(piece.edge, piece.replaces, new_edge, piece.finish, widths.finished, widths.sewn_at)
    sewn, ratio, first = _sew(piece, line, widths, units)
    loop = sewn.loop_mm
    usual_join = widths.sewn_at if piece.finish.is_band else USUAL_ALLOWANCE
    is_open, on_fold = piece.ends is not Ends.CLOSED, piece.cut is Cut.ON_FOLD
    join = piece.join_allowance_mm or usual_join
    if is_open:
        join = end_allowance(piece.ends, piece.end_allowance_mm, usual_join)
    end = _end(piece, widths, join)
    start = straight_end(widths.cut, join, piece.runs_on.before_mm) if piece.runs_on.there else end
    on_bias, cloth = piece.cut_on is CutOn.BIAS, piece.fabric.width_mm if piece.fabric else None
    if on_bias:
        start, end = bias_ends(widths.cut, widths.sewn_at, join)
    strip = lay_out(piece, loop, start, end)
    edge = _edge(piece, sewn, units)
    pointed = end.style is not Corner.NONE
    opens, found = passed(piece, loop, line.length_mm, sewn.longest_flat_mm, units)
    own = notches_of(piece.edge.kind, piece.cut, edge.parts, loop, pointed, piece.join_at, is_open)
    if on_bias:
        # the slanted ends are marks themselves
        own = tuple(mark for mark in own if 0 < mark.at_mm < loop)
    figures = Figures(
        name=piece.name,
        size=piece.size,
        finish=piece.finish,
        cut=piece.cut,
        quantity=piece.quantity,
        views=piece.views,
        edge=edge,
        ratio=ratio,
        loop_mm=loop,
        cut_length_mm=strip.length_mm,
        cut_width_mm=widths.cut,
        finished_width_mm=widths.finished,
        widest_mm=sewn.fit.widest_mm,
        seam_allowance_mm=widths.sewn_at,
        join_allowance_mm=join,
        join_place="" if is_open else join_place(piece.edge.kind, piece.join_at, pointed),
        cover_mm=piece.cover_mm,
        thickness_mm=widths.extra.thickness,
        press_lines=press_lines(piece.finish, widths.folded, widths.extra),
        sewn_edges=sewn_edges(piece.finish),
        notches=strip_notches(piece, leaving(own, piece.runs_on, loop, on_fold), strip, units),
        seam_strain=sewn.strain,
        stretch_used=sewn.stretch_used,
        opening=opens,
        fabric=piece.fabric.name if piece.fabric else None,
        fabric_stretch=piece.fabric.stretch if piece.fabric else None,
        edge_text=f"{edge.label} {both(edge.edge_mm, units)}",
        end=end,
        fittings=fittings(piece.trials, first, line.length_mm),
        trial_change_mm=total_change(piece.trials),
        new_cut_edge=new_edge,
        cloth=None,
        cut_words=cut_words(piece.finish, garment, new_edge, units),
        corner_steps=corner_steps(piece, units),
        warnings=(),
        for_child=piece.for_child,
        standing=piece.standing,
        ends=piece.ends,
        runs_on=piece.runs_on,
        start=start if piece.runs_on.there or on_bias else None,
        bias=bias_cloth(widths.cut, loop, join, piece.quantity, cloth) if on_bias else None,
        free_ends=free_ends_of_child(piece.edge, piece.runs_on, piece.for_child),
        buttons=placed(piece.buttons, edge.parts, loop, widths.sewn_at, widths.folded, on_fold, units),
        elastic=cut_elastic(piece.elastic, line.length_mm),
    )
    judged = pieced(figures, sewn, units)
    findings = [*found, *_findings(sewn, edge, bool(judged.sections), units, found)]
    return with_findings(judged, findings)


def _findings(sewn: Sewn, edge: Edge, in_sections: bool, units: str, of_opening: Sequence[Finding]) -> list[Finding]:
    piece = sewn.piece
    of_length = [*length_findings(sewn, units), *part_findings(edge.parts, sewn, units)]
    unshared = piece.ease is Ease.EVEN and len(edge.parts) > 1
    return [
        *of_length,
        *bend_findings(edge.bend, sewn.narrower, unshared, mitrable(piece), units),
        *number_findings(sewn, units),
        *making_findings(
            sewn, any("engthen" in finding.asks for finding in (*of_length, *of_opening)), in_sections, units
        ),
    ]


def sewn_line(piece: PieceSpec, widths: StripWidths, units: str) -> tuple[SeamLine, NewCutEdge | None]:
    """Return the seam line; where the finish is changed, that one which leaves the finished edge in its place."""
    old, deeper = piece.replaces, deeper_seam(piece.edge, piece.replaces, piece.finish, widths.finished)
    if old is None:
        return seam_line(piece.edge, piece.finish, widths.finished, units, deeper), None
    new = new_cut_edge(piece.edge, old, piece.finish, widths.finished, widths.sewn_at, units)
    return seam_line(piece.edge, old.finish, old.finished_width_mm, units, deeper), new


def _sew(piece: PieceSpec, line: SeamLine, widths: StripWidths, units: str) -> tuple[Sewn, Ratio, float]:
    """Return the sewn strip, its ratio, and the sewn length before any fitting."""
    point = piece.edge.point_deg if piece.corner is not Corner.NONE else None
    worn = line if point is None else line.without(point)
    edge, taken_up = line.length_mm, worn.turn.change(widths.inside)
    in_corners = line.turn.change(widths.inside) - taken_up
    if edge - taken_up - in_corners <= 0:
        instead = (", or write ", Key("stands", "true"), " for a band that stands up") if piece.finish.is_band else ()
        raise SpecError(
            Sentence(
                f"a finished width of {both(widths.finished, units)} does not fit inside an edge of "
                f"{both(edge, units)}, since its finished edge would have no length left; take a narrower strip or "
                "check the edge",
                *instead,
            ),
            piece.where.at("finished-width" if piece.finished_width_mm else "cut-width"),
        )
    stretch = piece.fabric.stretch if piece.fabric else ASSUMED_STRETCH
    usual = piece.finish.making.usual_ratio
    # the seam line of a binding, and of what replaces another finish, moves with the width
    trimmed = piece.edge.measured_on is MeasuredOn.CUT_EDGE or piece.edge.garment_allowance_mm is not None
    follows = piece.replaces is not None or (trimmed and not piece.finish.is_band)
    is_open = piece.ends is not Ends.CLOSED
    found = fit(
        piece.edge,
        line,
        worn,
        piece.finish,
        widths.finished,
        stretch,
        follows,
        piece.standing,
        piece.elastic is not None,
        is_open,
    )
    start = start_length(piece.loop, found, usual)
    loop = start + total_change(piece.trials)
    if loop <= 0:
        left = f"nothing is left of a strip of {both(start, units)}; check the changes"
        raise SpecError(left, piece.where.at("trials"))
    if found.rest and loop <= found.stated_mm:
        left = f"nothing of {both(loop, units)} is left for the other parts; make it longer, or their ratios smaller"
        raise SpecError(left, piece.where.at("edge", "parts"))
    if loop <= in_corners:
        raise SpecError(
            f"the slanted ends take up the whole strip of {both(loop, units)}; take a narrower strip or a longer one",
            piece.where.at("corner"),
        )
    ratio = Ratio(
        used=loop / edge,
        advised=found.whole.advised_mm / edge,
        flat=None if found.whole.flat_mm is None else found.whole.flat_mm / edge,
        usual=usual,
        tightest=found.whole.tightest_mm / edge,
        flat_limit=(edge - taken_up) / edge,
        source=Sentence(source(piece.loop, found, units), after_trials(piece.trials)),
    )
    return Sewn(piece, line, worn, taken_up, in_corners, loop, widths.finished, widths.sewn_at, found), ratio, start


def _end(piece: PieceSpec, widths: StripWidths, join: float) -> StripEnd:
    if piece.corner is Corner.NONE or piece.edge.point_deg is None:
        return straight_end(widths.cut, join, piece.runs_on.after_mm)
    return slanted_end(piece.corner, piece.edge.point_deg, join, piece.finish, widths.finished, widths.extra)


def _edge(piece: PieceSpec, sewn: Sewn, units: str) -> Edge:
    line, kind = sewn.line, piece.edge.kind
    inside = 0.0 if piece.standing.stands else sewn.finished_width_mm
    lies_flat = isinstance(piece.loop, FlatRatio) or (isinstance(piece.loop, AdvisedRatio) and not sewn.fit.whole.good)
    parts: tuple[Part, ...] = eased(line, sewn.worn, sewn.loop_mm, inside, piece.ease, sewn.fit, lies_flat, piece.where)
    mitred = piece.corner is not Corner.NONE
    bend = worst_bend(piece.edge, line, parts, inside, mitred, units) if inside and not piece.elastic else None
    return Edge(
        kind=kind.value,
        edge_mm=line.length_mm,
        turning_deg=line.turn.total_deg,
        parts=parts,
        label=edge_words(kind.value),
        ease=piece.ease.value,
        bend=bend,
        outline=piece.edge.outline,
    )
