"""The strip in one, as it is cut where its cloth is wide enough: its length, its notches; mm.

Drawn length: half of the sewn length and one end on fold, all of it and two ends in full.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tiler.draft.spec.piece import PieceSpec
from tiler.draft.strip.corner import StripEnd
from tiler.draft.strip.finish import Cut
from tiler.draft.strip.notch import Notch
from tiler.errors import SpecError
from tiler.lengths import both


@dataclass(frozen=True)
class Strip:
    """A strip as drawn in one: where its sewn length begins, and how long it is."""

    start_mm: float
    length_mm: float


def lay_out(piece: PieceSpec, loop: float, start: StripEnd, end: StripEnd) -> Strip:
    """Lay out the strip between its left end and its right one."""
    full = loop + (start.longest + end.longest)
    on_fold = piece.cut is Cut.ON_FOLD
    return Strip(0.0 if on_fold else start.longest, full / 2 if on_fold else full)


def strip_notches(piece: PieceSpec, own: Sequence[Notch], strip: Strip, units: str) -> tuple[Notch, ...]:
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
        *(Notch(notch.name, strip.start_mm + notch.at_mm, notch.double) for notch in own),
        *(Notch(notch.name, notch.at_mm) for notch in piece.notches),
    )
