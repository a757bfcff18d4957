"""How the garment is cut before the strip is sewn on, and what is done at its corners, in plain sentences."""

from __future__ import annotations

from tiler.draft.spec.piece import PieceSpec
from tiler.draft.strip.corner import corner_instructions
from tiler.draft.strip.finish import Finish
from tiler.draft.strip.refinish import GarmentCut, NewCutEdge
from tiler.languages.catalogue import noted
from tiler.languages.words import Words
from tiler.lengths import both

NOISE = 0.1
"""A cut edge that moves by less, mm, stays where it is."""


NO_ALLOWANCE = Words("A binding takes no seam allowance: cut off that of the garment.")


def corner_steps(piece: PieceSpec, units: str) -> tuple[str, ...]:
    """Return what is done at the garment's corners, in the order of work."""
    return corner_instructions(piece.corner, piece.edge.clipped, piece.finish, units)


def cut_words(finish: Finish, cut: GarmentCut | None, new: NewCutEdge | None, units: str) -> str:
    """Say how the garment is cut and where the seam then runs; nothing of a band where nothing is known."""
    if cut is None:
        return "" if finish.is_band else NO_ALLOWANCE
    seam = _seam(cut, units)
    if cut.trim_mm is None and new is not None:
        return Words("{where}: {seam}.", where=_beside(new, units), seam=seam)
    trim = cut.trim_mm or 0.0
    if abs(trim) < NOISE:
        return Words("Cut the garment as it is: {seam}.", seam=seam)
    width = both(abs(trim), units)
    if trim > 0:
        return Words("Trim {width} off the garment's edge, all along: {seam}.", width=width, seam=seam)
    return Words("Add {width} to the garment's edge before cutting, all along: {seam}.", width=width, seam=seam)


def _seam(cut: GarmentCut, units: str) -> str:
    seam, off = both(cut.seam_mm, units), both(abs(cut.deeper_mm), units)
    if abs(cut.deeper_mm) < NOISE:
        return Words("the seam then runs {width} from that edge", width=seam)
    deeper, nearer = (
        noted("the seam then runs {width} from that edge, {off} further into the garment than the pattern's seam"),
        noted("the seam then runs {width} from that edge, {off} nearer to the edge than the pattern's seam"),
    )
    return Words(deeper if cut.deeper_mm > 0 else nearer, width=seam, off=off)


def _beside(new: NewCutEdge, units: str) -> str:
    """Say where to cut against the one line of the pattern that is known."""
    inside, line = new.inside_old_seam_mm, new.old.line
    if abs(inside) < NOISE:
        return Words("Cut the garment along the pattern's {line}", line=line)
    width = both(abs(inside), units)
    if inside > 0:
        return Words(
            "Cut the garment {width} outside the pattern's {line} (more cloth stays on)", width=width, line=line
        )
    return Words("Cut the garment {width} inside the pattern's {line} (more cloth comes off)", width=width, line=line)
