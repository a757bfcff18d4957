"""The figures of a strip that is longer than its cloth is wide get the sections that are cut of it."""

from __future__ import annotations

from dataclasses import replace

from tiler.draft.advice.checks import Sewn
from tiler.draft.edge.seam_line import Kind
from tiler.draft.figures import Figures
from tiler.draft.sections.cutting import Marks, cut_sections
from tiler.draft.sections.names import SIDES
from tiler.draft.sections.piecing import both_places, joined_at, piecing_words
from tiler.draft.sections.plan import NOISE, Ends, planned
from tiler.draft.sections.ring import Good, Ring, ring_of
from tiler.draft.sections.section import Section
from tiler.draft.strip.cloth import cloth_needed
from tiler.draft.strip.corner import straight_end
from tiler.draft.strip.ease import Ease
from tiler.draft.strip.finish import Cut
from tiler.draft.strip.notch import Notch
from tiler.draft.strip.notches import SectionAt, notches_of
from tiler.errors import SpecError
from tiler.lengths import both


def pieced(figures: Figures, sewn: Sewn, units: str) -> Figures:
    """Return the figures with their cloth, whose width must be known, and with the sections that it asks for.

    Raises :class:`SpecError` for cloth that is too narrow for sensible ones.
    """
    fabric = sewn.piece.fabric
    # strips of the bias are joined as they come off the cloth
    if fabric is None or fabric.width_mm is None or figures.bias:
        return figures
    ring = _ring(figures, sewn)
    sections = _sections(figures, sewn, ring, fabric.width_mm, units)
    lengths = [one.full_length_mm for one in sections for _ in range(one.count)] or [2 * figures.half_length_mm]
    cloth = cloth_needed(fabric.name, fabric.width_mm, lengths, figures.cut_width_mm, figures.quantity)
    if not sections:
        return replace(figures, cloth=cloth)
    at_sides = ring.plain and sewn.piece.section is SectionAt.SIDES
    place = SIDES if at_sides else figures.join_place
    words = piecing_words(sections, cloth, place, figures.join_allowance_mm, units)
    place = place if ring.plain or ring.pointed else both_places(joined_at(sections))
    return replace(figures, cloth=cloth, sections=sections, piecing=words, join_place=place)


def _ring(figures: Figures, sewn: Sewn) -> Ring:
    piece, parts, ratio = sewn.piece, figures.edge.parts, figures.ratio
    edges = [[leg.edge_mm for leg in legs] for legs in sewn.fit.legs]
    good: list[Good] = [(part.tightest_mm, part.flat_mm) for part in parts]
    if piece.ease is Ease.EVEN:
        # the whole is judged then
        good = [(ratio.tightest * part.edge_mm, ratio.flat and ratio.flat * part.edge_mm) for part in parts]
    ring = ring_of(piece.edge.kind, parts, edges, good, figures.pointed, piece.join_at)
    return replace(ring, seams=ring.seams[:1]) if piece.section is SectionAt.EVEN else ring


def _sections(figures: Figures, sewn: Sewn, ring: Ring, cloth: float, units: str) -> tuple[Section, ...]:
    piece, kind = sewn.piece, sewn.piece.edge.kind
    ends = Ends(straight_end(figures.cut_width_mm, figures.join_allowance_mm), figures.end)
    if figures.is_open and 2 * figures.half_length_mm > cloth + NOISE:
        raise SpecError(
            f"an open strip is cut in one, and {both(cloth, units)} of cloth are narrower than this one of "
            f"{both(2 * figures.half_length_mm, units)}; cut it along the cloth and leave its width out",
            piece.where.at("fabric"),
        )
    if figures.is_open:
        return ()
    plan = planned(ring, ends, cloth, figures.cut_width_mm, piece.where, units, piece.section)
    if not plan:
        return ()
    own: tuple[Notch, ...] = ()
    if len(ring.arcs) > 1 or kind is Kind.NECKLINE:
        own = notches_of(kind, Cut.FULL_LOOP, figures.edge.parts, sewn.loop_mm, figures.pointed, piece.join_at)
    return cut_sections(ring, plan, ends, Marks(own, _added(figures, sewn)), piece.cut)


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
