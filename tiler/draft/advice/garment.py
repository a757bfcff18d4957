"""How the garment is cut before the strip is sewn on, and what is done at its corners, in plain sentences."""

from __future__ import annotations

from tiler.draft.spec.piece import PieceSpec
from tiler.draft.strip.corner import corner_instructions
from tiler.draft.strip.finish import Finish
from tiler.draft.strip.refinish import GarmentCut, NewCutEdge
from tiler.lengths import both

NOISE = 0.1
"""A cut edge that moves by less, mm, stays where it is."""


NO_ALLOWANCE = "A binding takes no seam allowance: trim off the garment's."


def corner_steps(piece: PieceSpec, units: str) -> tuple[str, ...]:
    """Return what is done at the garment's corners, in the order of work."""
    return corner_instructions(piece.corner, piece.edge.clipped, piece.finish, units)


def cut_words(finish: Finish, cut: GarmentCut | None, new: NewCutEdge | None, units: str) -> str:
    """Say how the garment is cut and where the seam then runs; nothing of a band where nothing is known."""
    if cut is None:
        return "" if finish.is_band else NO_ALLOWANCE
    if cut.trim_mm is None and new is not None:
        return f"{_beside(new, units)}: {_seam(cut, units)}."
    trim = cut.trim_mm or 0.0
    if abs(trim) < NOISE:
        return f"Cut the garment as it is: {_seam(cut, units)}."
    if trim > 0:
        return f"Trim {both(trim, units)} off the garment's edge, all along: {_seam(cut, units)}."
    return f"Add {both(-trim, units)} to the garment's edge before cutting, all along: {_seam(cut, units)}."


def _seam(cut: GarmentCut, units: str) -> str:
    runs = f"the seam then runs {both(cut.seam_mm, units)} from that edge"
    if abs(cut.deeper_mm) < NOISE:
        return runs
    side = "further into the garment" if cut.deeper_mm > 0 else "nearer to the edge"
    return f"{runs}, {both(abs(cut.deeper_mm), units)} {side} than the pattern's"


def _beside(new: NewCutEdge, units: str) -> str:
    """Say where to cut against the one line of the pattern that is known."""
    inside, line = new.inside_old_seam_mm, f"the pattern's {new.old.line}"
    if abs(inside) < NOISE:
        return f"Cut the garment along {line}"
    return f"Cut the garment {both(abs(inside), units)} {'inside' if inside > 0 else 'beyond'} {line}"
