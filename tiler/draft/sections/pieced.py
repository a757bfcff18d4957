"""The figures of a strip that is longer than its cloth is wide get the sections that are cut of it; mm."""

from __future__ import annotations

from dataclasses import replace

from tiler.draft.advice.checks import Sewn
from tiler.draft.edge.seam_line import Kind
from tiler.draft.fastening.running_on import leaving
from tiler.draft.figures import Figures
from tiler.draft.sections.cutting import cut_sections
from tiler.draft.sections.marks import Marks
from tiler.draft.sections.names import SIDES
from tiler.draft.sections.piecing import Way, both_places, joined_at, piecing_words
from tiler.draft.sections.plan import Ends, planned
from tiler.draft.sections.ring import Good, Ring, ring_of
from tiler.draft.sections.section import Section
from tiler.draft.strip.bias import bias_length, bias_shift
from tiler.draft.strip.cloth import cloth_needed
from tiler.draft.strip.corner import straight_end
from tiler.draft.strip.ease import Ease
from tiler.draft.strip.finish import Cut
from tiler.draft.strip.notch import Notch
from tiler.draft.strip.notches import SectionAt, notches_of
from tiler.draft.strip.widths import USUAL_ALLOWANCE


def pieced(figures: Figures, sewn: Sewn, units: str) -> Figures:
    """Return the figures with their cloth, whose width must be known, and with the sections that it asks for.

    Raises :class:`SpecError` for cloth that is too narrow for sensible ones.
    """
    fabric = sewn.piece.fabric
    if fabric is None or fabric.width_mm is None or figures.finish.is_bought:
        return figures
    ring = _ring(figures, sewn)
    sections = _sections(figures, sewn, ring, fabric.width_mm, units)
    lengths = [one.full_length_mm for one in sections for _ in range(one.count)] or [2 * figures.half_length_mm]
    cloth = None
    if figures.bias is None:
        cloth = cloth_needed(fabric.name, fabric.width_mm, lengths, figures.cut_width_mm, figures.quantity)
    if not sections:
        return replace(figures, cloth=cloth)
    at_sides = ring.plain and sewn.piece.section is SectionAt.SIDES
    place = SIDES if at_sides else figures.join_place
    way = Way(fabric.name, fabric.width_mm, place, bool(ring.ends), figures.bias is not None)
    words = piecing_words(sections, way, _join(figures), units)
    if figures.bias:
        # those that keep off CF may be more than fit the cloth one by one
        return replace(figures, sections=sections, piecing=words, bias=figures.bias.in_strips(len(lengths)))
    place = place if ring.plain or ring.own_ends else both_places(joined_at(sections))
    return replace(figures, cloth=cloth, sections=sections, piecing=words, join_place=place)


def _ring(figures: Figures, sewn: Sewn) -> Ring:
    piece, parts, ratio = sewn.piece, figures.edge.parts, figures.ratio
    edges = [[leg.edge_mm for leg in legs] for legs in sewn.fit.legs]
    good: list[Good] = [(part.tightest_mm, part.flat_mm) for part in parts]
    if piece.ease is Ease.EVEN:
        # the whole is judged then
        good = [(ratio.tightest * part.edge_mm, ratio.flat and ratio.flat * part.edge_mm) for part in parts]
    ends = figures.ends.words if figures.is_open else ""
    ring = ring_of(piece.edge.kind, parts, edges, good, figures.pointed, piece.join_at, ends, figures.runs_on)
    if figures.buttons:
        ring = ring.clear_of(figures.buttons.holes(figures.runs_on.before_mm))
    # strips of the bias are joined as they come off the cloth
    return replace(ring, seams=ring.seams[:1]) if piece.section is SectionAt.EVEN or figures.bias else ring


def _sections(figures: Figures, sewn: Sewn, ring: Ring, cloth: float, units: str) -> tuple[Section, ...]:
    piece, kind, before = sewn.piece, sewn.piece.edge.kind, figures.runs_on.before_mm
    join = straight_end(figures.cut_width_mm, _join(figures))
    asked, most = piece.section, None
    if figures.bias:
        ends = Ends(figures.end, figures.end, figures.left_end, figures.left_end)
        asked, most = SectionAt.EVEN, bias_length(cloth, figures.cut_width_mm)
    elif figures.is_open:
        # free lengths lie on the ring
        own = straight_end(figures.cut_width_mm, figures.join_allowance_mm)
        ends = Ends(join, own)
    else:
        ends = Ends(join, figures.end)
    plan = planned(ring, ends, cloth, figures.cut_width_mm, piece.where, units, asked, most)
    if not plan:
        return ()
    own_marks: tuple[Notch, ...] = ()
    if len(ring.arcs) > 1 or kind is Kind.NECKLINE or figures.is_open:
        is_open = figures.is_open
        own_marks = notches_of(
            kind, Cut.FULL_LOOP, figures.edge.parts, sewn.loop_mm, figures.pointed, piece.join_at, is_open
        )
        own_marks = leaving(own_marks, figures.runs_on, sewn.loop_mm, on_fold=False)
        if figures.bias:
            # there the slanted ends are marks themselves
            own_marks = tuple(mark for mark in own_marks if 0 < mark.at_mm < sewn.loop_mm)
    buttons = figures.buttons
    marks = Marks(
        moved(own_marks, before),
        moved(_added(figures, sewn), before),
        buttons and replace(buttons, at_mm=tuple(at + before for at in buttons.at_mm)),
        bias_shift(figures.cut_width_mm, figures.seam_allowance_mm, len(figures.sewn_edges) > 1)
        if figures.bias
        else (0.0, 0.0),
    )
    return cut_sections(ring, plan, ends, marks, piece.cut)


def _join(figures: Figures) -> float:
    """Return the allowance of a join, mm: that of an open strip's ends says nothing about it."""
    if not figures.is_open:
        return figures.join_allowance_mm
    return figures.seam_allowance_mm if figures.finish.is_band else USUAL_ALLOWANCE


def moved(notches: tuple[Notch, ...], before: float) -> tuple[Notch, ...]:
    """Return notches that count from the strip's left end, where its edge begins so far behind that, mm."""
    return tuple(replace(one, at_mm=one.at_mm + before) for one in notches)


def _added(figures: Figures, sewn: Sewn) -> tuple[Notch, ...]:
    """Return the notches that the spec adds, along the sewn length from its own end seam."""
    if figures.cut is Cut.FULL_LOOP:
        return tuple(Notch(one.name, one.at_mm - figures.left_end.longest) for one in sewn.piece.notches)
    # what is marked on folded cloth is marked on both layers
    middle = sewn.loop_mm / 2
    return tuple(
        Notch(one.name, at)
        for one in sewn.piece.notches
        for at in dict.fromkeys((middle - one.at_mm, middle + one.at_mm))
    )
