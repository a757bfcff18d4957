"""The strip as it is cut: its ends, its extra end seams, its length, its notches; mm.

Drawn length: half of the sewn length and one end on fold, all of it and two ends in
full, and two end allowances at each extra end seam.
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass

from tiler.draft.figures import Notch
from tiler.draft.spec.piece import PieceSpec
from tiler.draft.strip.cloth import Cloth, cloth_needed, extra_seams, section_ends
from tiler.draft.strip.corner import StripEnd
from tiler.draft.strip.finish import Cut
from tiler.errors import SpecError
from tiler.lengths import both


@dataclass(frozen=True)
class Strip:
    """A strip with its places: where the sewn length begins, and where its sections meet, as drawn."""

    cut: Cut
    start_mm: float
    length_mm: float
    join_mm: float
    extra_seams_mm: tuple[float, ...]

    def drawn(self, along: float) -> float:
        """Carry a place on the sewn length to the drawn strip."""
        seams = [at - self.join_mm * (2 * index + 1) - self.start_mm for index, at in enumerate(self.extra_seams_mm)]
        return self.start_mm + along + 2 * self.join_mm * bisect_left(seams, along)


def lay_out(piece: PieceSpec, loop: float, end: StripEnd, join: float, units: str) -> Strip:
    """Lay out the strip; raises :class:`SpecError` when its cloth is too narrow for it."""
    on_fold = piece.cut is Cut.ON_FOLD
    full = loop + 2 * end.longest
    count = 0
    if piece.fabric and piece.fabric.width_mm:
        width = piece.fabric.width_mm
        count = extra_seams(full, join, width, on_fold, piece.where.at("fabric"), units)
    full += 2 * join * count
    if count and full / (count + 1) < end.depth + 2 * join:
        section = both(full / (count + 1), units)
        raise SpecError(
            f"slanted ends do not fit on sections of {section}, into which the cloth divides the strip; "
            "take wider cloth or a narrower strip",
            piece.where.at("corner"),
        )
    return Strip(
        piece.cut,
        0.0 if on_fold else end.longest,
        full / 2 if on_fold else full,
        join,
        section_ends(full, count, on_fold),
    )


def strip_notches(piece: PieceSpec, own: tuple[Notch, ...], strip: Strip, units: str) -> tuple[Notch, ...]:
    """Return all notches as drawn: the strip's own, and those that the spec adds.

    Raises :class:`SpecError` for one outside the strip.
    """
    for i, notch in enumerate(piece.notches):
        if notch.at_mm > strip.length_mm:
            start = "the fold" if piece.cut is Cut.ON_FOLD else "the left cut end"
            raise SpecError(
                f"{both(notch.at_mm, units)} lies outside the strip, which is {both(strip.length_mm, units)} long as "
                f"drawn; count from {start}",
                piece.where.at("notches", i, "at"),
            )
    return (
        *(Notch(notch.name, strip.drawn(notch.at_mm), notch.double) for notch in own),
        *(Notch(notch.name, notch.at_mm) for notch in piece.notches),
    )


def cloth_of(piece: PieceSpec, strip: Strip, cut_width: float) -> Cloth | None:
    """Say what the strips take of their cloth, whose width must be known."""
    if piece.fabric is None or piece.fabric.width_mm is None:
        return None
    seams = len(strip.extra_seams_mm)
    if piece.cut is Cut.ON_FOLD:
        full, seams = 2 * strip.length_mm, 2 * seams
    else:
        full = strip.length_mm
    return cloth_needed(piece.fabric.name, piece.fabric.width_mm, full, seams, cut_width, piece.quantity)
