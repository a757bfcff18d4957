"""The figures of a contour band: its pieces, as long as the edge and shaped like it; mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import fsum

from tiler.draft.advice.checks import Sewn
from tiler.draft.advice.doubts import number_findings
from tiler.draft.advice.finding import Check, Finding
from tiler.draft.advice.garment import cut_words
from tiler.draft.advice.making import making_findings
from tiler.draft.advice.opening import passed
from tiler.draft.contour.crossings import CrossingError, widest_of
from tiler.draft.contour.cuts import Cutting, cuttings, edge_of, sections_of
from tiler.draft.contour.piece import Bands
from tiler.draft.edge.seam_line import seam_distance, seam_line
from tiler.draft.fastening.open_ends import Ends, end_allowance
from tiler.draft.fastening.running_on import free_ends_of_child
from tiler.draft.figures import Figures, Ratio
from tiler.draft.judged import with_findings
from tiler.draft.sections.section import Section
from tiler.draft.spec.piece import PieceSpec
from tiler.draft.strip.bounds import MOST_STRETCH_USED, fit
from tiler.draft.strip.cloth import ShapedCloth, shapes_on_cloth
from tiler.draft.strip.corner import straight_end
from tiler.draft.strip.loop import ASSUMED_STRETCH
from tiler.draft.strip.refinish import garment_cut
from tiler.draft.strip.widths import strip_widths
from tiler.errors import SpecError
from tiler.languages.words import Words
from tiler.lengths import both
from tiler.sentence import joined

ARC = Words(
    "Of the edge nothing but length and turning is known, so the band is cut as an arc of a circle: if the edge is of "
    "another shape, name its drawing."
)


def figure_contour(piece: PieceSpec, units: str, sizes: Sequence[PieceSpec] = ()) -> Figures:
    """Compute a contour band; raises :class:`SpecError` where its lines would cross, with the width that goes.

    That goes in all the ``sizes`` that are to be as wide as this one.
    """
    widths = strip_widths(piece, units)
    bands = _bands(piece, units)
    join, end = bands.joins, bands.ends

    def goes(width: float) -> bool:
        try:
            for one in (piece, *sizes):
                cuttings(one, replace(_bands(one, units), width=width), units)
        except (CrossingError, SpecError):
            return False
        return True

    try:
        cuts = cuttings(piece, bands, units)
    except CrossingError as fault:
        raise fault.refusal(widest_of(goes, bands.width, units), piece.where, units) from fault
    cloth = _cloth(piece, cuts, units)
    edge_mm = fsum(one.times * one.edge_mm for one in cuts)
    finished_mm = fsum(one.times * (one.shape.finished_mm - fsum(one.free)) for one in cuts)
    sewn = _sewn(piece, edge_mm, widths.finished, widths.sewn_at, units)
    ratio = _ratio(piece)
    sections = tuple(sections_of(cuts, bands, piece, ratio.tightest, units))
    edge = edge_of(piece.edge, cuts, edge_mm, ratio.tightest)
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
        join_allowance_mm=end,
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
        end=straight_end(widths.finished + 2 * lies, end),
        fittings=(),
        trial_change_mm=0.0,
        new_cut_edge=None,
        cloth=cloth,
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
        piecing=_piecing(sections, piece.ends, join, cloth, units),
        ends=piece.ends,
        runs_on=replace(piece.runs_on, turned=len(cuts) == 1 and cuts[0].way.swapped),
        free_ends=free_ends_of_child(piece.edge, piece.runs_on, piece.for_child),
        contour_mm=finished_mm,
    )
    return with_findings(figures, findings)


def _bands(piece: PieceSpec, units: str) -> Bands:
    widths = strip_widths(piece, units)
    # as of a straight strip, what is said of open ends says nothing of joins
    join = piece.join_allowance_mm or widths.sewn_at
    end = join if piece.ends is Ends.CLOSED else end_allowance(piece.ends, piece.end_allowance_mm, join)
    seam = -seam_distance(piece.edge, piece.finish, widths.finished, units)
    return Bands(seam, widths.finished, widths.sewn_at, join, end)


def _cloth(piece: PieceSpec, cuts: Sequence[Cutting], units: str) -> ShapedCloth | None:
    """Return the cloth that the pieces take; raises :class:`SpecError` for one wider across its grain than that."""
    fabric = piece.fabric
    if fabric is None or fabric.width_mm is None:
        return None
    boxes = []
    for one in cuts:
        across, along = one.shape.extents
        wide = across * (2 if one.shape.on_fold else 1)
        boxes += [(wide, along)] * (one.count * piece.quantity)
        if wide > fabric.width_mm:
            raise SpecError(
                f"a piece of {both(wide, units)} across its grain is wider than the cloth, "
                f"{both(fabric.width_mm, units)}; give the edge in more parts, or take wider cloth",
                piece.where.at("fabric"),
            )
    return shapes_on_cloth(fabric.name, fabric.width_mm, boxes)


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


def _piecing(sections: tuple[Section, ...], ends: Ends, join: float, cloth: ShapedCloth | None, units: str) -> str:
    """Say how the pieces become a band, and what cloth they take."""
    allowance = both(join, units)
    if len(sections) > 1:
        made = Words(
            "Cut to the shape of the edge, in two layers: join the pieces of each at their end seams, mark to mark, "
            "{allowance} from the ends, and press them open; then sew the layers together along the finished edge.",
            allowance=allowance,
        )
    elif ends is Ends.CLOSED:
        made = Words(
            "Cut to the shape of the edge, in two layers: close the end seam of each, {allowance} from the ends, and "
            "press it open; then sew the layers together along the finished edge.",
            allowance=allowance,
        )
    else:
        made = Words("Cut to the shape of the edge, in two layers: sew them together along the finished edge.")
    return joined(" ", [made, cloth.words(units)]) if cloth else made
