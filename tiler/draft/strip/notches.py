"""Where the match marks stand: mm along the sewn length, from the fold or from the left end seam.

A neckline strip is joined at CB and folded at CF, and its shoulders stand at
the front half's share of the loop; with mitred or lapped ends it is joined at CF
and folded at CB, and a notch marks the point that lies on the garment's clipped
corner.  Sharp corners on the way, as those of a square neckline, get a notch each.
An armhole strip is joined at the underarm with the front lying left; its fold
lies opposite the underarm.  Any other edge gets its half, and its quarters from
10 in on.  A double notch marks CB.
"""

from __future__ import annotations

from itertools import accumulate

from tiler.draft.edge.numbers import Part
from tiler.draft.edge.seam_line import Kind
from tiler.draft.figures import Notch
from tiler.draft.strip.finish import Cut
from tiler.paper import IN

QUARTERS_FROM = float(10 * IN)
"""An edge of 10 in or more gets quarter marks, mm."""

JOIN_PLACES = {Kind.NECKLINE: "CB", Kind.ARMHOLE: "underarm"}
"""Where the end seam comes to lie; free for other edges."""

POINT_PLACES = {Kind.NECKLINE: "CF", Kind.CURVED: "corner"}
"""Where the ends of a mitred or lapped strip come to lie."""


def notches_of(kind: Kind, cut: Cut, parts: tuple[Part, ...], loop: float, pointed: bool) -> tuple[Notch, ...]:
    """Return the notches of a strip with the sewn length ``loop``, mm; ``pointed`` ends meet at a sharp corner."""
    on_fold = cut is Cut.ON_FOLD
    if kind is Kind.NECKLINE:
        half = _half_neckline(parts, loop, pointed)
    elif kind is Kind.ARMHOLE and len(parts) == 2:
        front = parts[0].strip_mm
        return (Notch("shoulder", abs(loop / 2 - front) if on_fold else front),)
    else:
        half = _half_plain(parts, loop, pointed)
    if on_fold:
        return tuple(half)
    fold, *rest = half
    left = [Notch(notch.name, loop / 2 - notch.at_mm, notch.double) for notch in reversed(rest)]
    right = [Notch(notch.name, loop / 2 + notch.at_mm, notch.double) for notch in rest]
    return (*left, Notch(fold.name, loop / 2, double=fold.name == "CB"), *right)


def _half_neckline(parts: tuple[Part, ...], loop: float, pointed: bool) -> list[Notch]:
    """Return the notches from the fold to the end seam; one that lies on the fold is a single snip there."""
    if pointed:
        marks = [Notch(mark.name, loop / 2 - mark.at_mm) for mark in reversed(_from_front(parts))]
        return [Notch("CB", 0.0), *marks, Notch("point", loop / 2)]
    return [Notch("CF", 0.0), *_from_front(parts), Notch("CB", loop / 2, double=True)]


def _from_front(parts: tuple[Part, ...]) -> list[Notch]:
    # an edge measured whole does not say where its shoulders are
    if len(parts) < 2:
        return []
    names = ["corner"] * (len(parts[0].legs_mm) - 1) + ["shoulder"] + ["corner"] * (len(parts[1].legs_mm) - 1)
    legs = (*parts[0].legs_mm, *reversed(parts[1].legs_mm))
    return [Notch(name, at) for name, at in zip(names, accumulate(legs), strict=False)]


def _half_plain(parts: tuple[Part, ...], loop: float, pointed: bool) -> list[Notch]:
    quarters = sum(part.edge_mm for part in parts) >= QUARTERS_FROM
    half = [Notch("half", 0.0), *([Notch("quarter", loop / 4)] if quarters else [])]
    return [*half, *([Notch("point", loop / 2)] if pointed else [])]
