"""What is done to the garment before the strip is sewn on, and at its corners, in plain sentences."""

from __future__ import annotations

from tiler.draft.spec.piece import PieceSpec
from tiler.draft.strip.corner import corner_instructions
from tiler.draft.strip.refinish import NewCutEdge
from tiler.lengths import both

NOISE = 0.1
"""A cut edge that moves by less, mm, stays where it is."""


def instructions(piece: PieceSpec, new_edge: NewCutEdge | None, units: str) -> tuple[str, ...]:
    """Return the sentences for one piece, in the order of work."""
    inward = sum(corner > 0 for corner in piece.edge.turn.corners_deg)
    return (
        *([_cut(new_edge, units)] if new_edge else []),
        *corner_instructions(piece.corner, inward, piece.finish, units),
    )


def _cut(new: NewCutEdge, units: str) -> str:
    trim = new.trim_mm
    if trim is None:
        side = "inside" if new.inside_old_seam_mm >= 0 else "beyond"
        return f"Cut the garment {both(abs(new.inside_old_seam_mm), units)} {side} the pattern's seam line."
    if abs(trim) < NOISE:
        return "Leave the garment's cut edge where the pattern has it."
    if trim > 0:
        return f"Trim {both(trim, units)} off the garment's cut edge, all along."
    return f"Add {both(-trim, units)} to the garment's cut edge, all along, before you cut it out."
