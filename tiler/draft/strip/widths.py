"""How wide a strip is cut and finished, and how far from its edge it is sewn; mm."""

from __future__ import annotations

from dataclasses import dataclass

from tiler.draft.spec.piece import PieceSpec
from tiler.draft.strip.elastic import NOISE
from tiler.draft.strip.finish import Allowances, cut_width, finished_width
from tiler.draft.strip.refinish import Had
from tiler.errors import SpecError
from tiler.lengths import both
from tiler.paper import IN

USUAL_ALLOWANCE = float(IN / 4)
"""Seam and end allowance where nothing says otherwise: 1/4 in."""

USUAL_TRIM = float(IN * 3 / 8)
"""What a raw-edge binding is cut wider so that it can be trimmed: 3/8 in, ours."""


@dataclass(frozen=True)
class StripWidths:
    """The widths of a strip, mm: to cut, that shows, and from which edge it is sewn."""

    cut: float
    finished: float
    sewn_at: float
    extra: Allowances
    folded: float
    """The finished width before the band is turned over."""
    inside: float
    """How far the finished edge runs inside the seam line."""


def strip_widths(piece: PieceSpec, units: str) -> StripWidths:
    """Return the widths; raises :class:`SpecError` where a cut width leaves no finished one."""
    # a binding's garment allowance is its finished width, a hem's its depth: they say nothing about a band's seam
    kept = piece.replaces is None or piece.replaces.had in (Had.FOLDED_BAND, Had.FACING)
    garment = piece.edge.garment_allowance_mm if kept else None
    seam = piece.seam_allowance_mm or garment or USUAL_ALLOWANCE
    thickness = piece.fabric.thickness_mm if piece.fabric else 0.0
    extra = Allowances(
        seam=seam,
        trim=USUAL_TRIM if piece.trim_allowance_mm is None else piece.trim_allowance_mm,
        cover=piece.cover_mm,
        thickness=thickness,
        garment=(piece.garment_fabric.thickness_mm if piece.garment_fabric else 0.0) or thickness,
    )
    times = piece.standing.times
    if piece.finished_width_mm is not None:
        finished, cut = piece.finished_width_mm, cut_width(piece.finish, times * piece.finished_width_mm, extra)
    else:
        cut = piece.cut_width_mm or 0.0
        finished = finished_width(piece.finish, cut, extra) / times
        if finished <= 0:
            raise SpecError(
                f"{both(cut, units)} leaves no finished width, since allowances and turns of cloth take "
                f"{both(cut_width(piece.finish, 0.0, extra), units)}; cut it wider",
                piece.where.at("cut-width"),
            )
    if piece.elastic and finished < piece.elastic.casing_mm - NOISE:
        casing = piece.elastic.casing_mm
        least = cut_width(piece.finish, times * casing, extra) if piece.cut_width_mm else casing
        room = (
            f"leaves no room for elastic of {both(piece.elastic.width_mm, units)}; write {both(least, units, up=True)}"
        )
        raise SpecError(f"{room} or more", piece.where.at("cut-width" if piece.cut_width_mm else "finished-width"))
    inside = 0.0 if piece.standing.stands else finished
    return StripWidths(cut, finished, seam if piece.finish.is_band else finished, extra, times * finished, inside)
