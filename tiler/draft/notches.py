"""Where the match marks stand: mm from the fold, or from the left cut end of a full loop.

A neckline strip is joined at CB and folded at CF, and its shoulders stand at
the front half's share of the loop.  An armhole strip is joined at the underarm
with the front lying left; its fold lies opposite the underarm.  Any other edge
gets its half, and its quarters from 10 in on.  A double notch marks CB.
"""

from __future__ import annotations

from tiler.draft.edge import Kind
from tiler.draft.figures import Notch, Part
from tiler.draft.finish import Cut
from tiler.paper import IN

QUARTERS_FROM = float(10 * IN)
"""An edge of 10 in or more gets quarter marks, mm."""

JOIN_PLACES = {Kind.NECKLINE: "CB", Kind.ARMHOLE: "underarm"}
"""Where the end seam comes to lie; free for other edges."""


def notches_of(kind: Kind, cut: Cut, parts: tuple[Part, ...], loop: float, join: float) -> tuple[Notch, ...]:
    """Give the notches of a strip with the sewn length ``loop`` and the end allowance ``join``, mm."""
    strips = {part.name: part.strip_mm for part in parts}
    on_fold = cut is Cut.ON_FOLD
    if kind is Kind.NECKLINE:
        # an edge measured whole does not say where its shoulders are
        shoulder = strips.get("front-half")
        return _neckline(on_fold, shoulder, loop, join)
    if kind is Kind.ARMHOLE and "front" in strips:
        front = strips["front"]
        return (Notch("shoulder", abs(loop / 2 - front) if on_fold else join + front),)
    quarters = sum(part.edge_mm for part in parts) >= QUARTERS_FROM
    if on_fold:
        return (Notch("half", 0.0), *((Notch("quarter", loop / 4),) if quarters else ()))
    steps = ((1, "quarter"), (2, "half"), (3, "quarter")) if quarters else ((2, "half"),)
    return tuple(Notch(name, join + loop * step / 4) for step, name in steps)


def _neckline(on_fold: bool, shoulder: float | None, loop: float, join: float) -> tuple[Notch, ...]:
    if on_fold:
        middle = () if shoulder is None else (Notch("shoulder", shoulder),)
        return (Notch("CF", 0.0), *middle, Notch("CB", loop / 2, double=True))
    front = join + loop / 2
    marks = [Notch("CB", join, double=True), Notch("CF", front), Notch("CB", join + loop, double=True)]
    if shoulder is not None:
        marks[1:2] = [Notch("shoulder", front - shoulder), marks[1], Notch("shoulder", front + shoulder)]
    return tuple(marks)
