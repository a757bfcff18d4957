"""Where the match marks stand: mm along the sewn length, from the fold or from the left end seam.

A neckline strip is joined at CB and folded at CF, and its shoulders stand at
the front half's share of the loop; with mitred or lapped ends it is joined at CF
and folded at CB, and a notch marks the point that lies on the garment's clipped
corner.  Sharp corners on the way, as those of a square neckline, get a notch each.
Joined at a shoulder it lies the front first, and its two halves are not alike.
An armhole strip is joined at the underarm, or at the shoulder, that of a leg opening at the
inseam or the side, with the front lying left; its fold lies opposite the end seam.  Any other
edge gets its half, and its quarters from 10 in on; a neckline or an armhole measured whole gets its quarters in
any case, since it has no other marks.  A double notch marks CB.
"""

from __future__ import annotations

from enum import StrEnum
from itertools import accumulate

from tiler.draft.edge.numbers import Part
from tiler.draft.edge.seam_line import FRONT_AND_BACK, Kind
from tiler.draft.strip.finish import Cut
from tiler.draft.strip.notch import Notch
from tiler.languages.words import Words
from tiler.paper import IN

QUARTERS_FROM = float(10 * IN)
"""An edge of 10 in or more gets quarter marks, mm."""


CF, CB = Words("CF"), Words("CB")
SHOULDER, UNDERARM = Words("shoulder"), Words("underarm")
SIDE, INSEAM = Words("side"), Words("inseam")
CORNER, POINT, HALF, QUARTER = Words("corner"), Words("point"), Words("half"), Words("quarter")


class JoinAt(StrEnum):
    """Where the end seam comes to lie on the garment."""

    CB = "CB"
    SHOULDER = "shoulder"
    SIDE = "side"
    UNDERARM = "underarm"
    INSEAM = "inseam"


class SectionAt(StrEnum):
    """Where the sections of a strip that is longer than its cloth is wide are joined."""

    SHOULDERS = "shoulders"
    SIDES = "sides"
    CB = "cb"
    EVEN = "even"


JOIN_PLACES = {
    Kind.NECKLINE: (JoinAt.CB, JoinAt.SHOULDER),
    Kind.ARMHOLE: (JoinAt.UNDERARM, JoinAt.SHOULDER),
    Kind.LEG: (JoinAt.INSEAM, JoinAt.SIDE),
    Kind.STRAIGHT: (JoinAt.CB, JoinAt.SIDE, JoinAt.UNDERARM),
    Kind.CURVED: tuple(JoinAt),
}
"""Where the end seam of each kind of edge may lie, of those in :data:`USUALLY` the usual place first."""

USUALLY = (Kind.NECKLINE, *FRONT_AND_BACK)

ALIKE = 0.1
"""Marks that lie so near to each other are one, mm."""

POINT_PLACES = {Kind.NECKLINE: CF, Kind.CURVED: CORNER}
"""Where the ends of a mitred or lapped strip come to lie."""


def join_place(kind: Kind, join_at: JoinAt | None, pointed: bool) -> str:
    """Return where the end seam comes to lie; empty where that is free."""
    if pointed:
        return POINT_PLACES.get(kind, "")
    usual = JOIN_PLACES[kind][0] if kind in USUALLY else ""
    place = str(join_at or usual)
    return Words(place) if place else ""


def opposite(kind: Kind, join_at: JoinAt | None) -> str:
    """Return the mark between front and back of an armhole or a leg opening that is not its end seam."""
    if kind is Kind.LEG:
        return INSEAM if join_at is JoinAt.SIDE else SIDE
    return UNDERARM if join_at is JoinAt.SHOULDER else SHOULDER


def notches_of(
    kind: Kind,
    cut: Cut,
    parts: tuple[Part, ...],
    loop: float,
    pointed: bool,
    join_at: JoinAt | None = None,
    is_open: bool = False,
) -> tuple[Notch, ...]:
    """Return the notches of a strip with the sewn length ``loop``, mm; ``pointed`` ends meet at a sharp corner.

    A strip that ``is_open`` has no mark at its ends.
    """
    on_fold = cut is Cut.ON_FOLD
    if parts[0].listed:
        from_cb = kind is Kind.NECKLINE and join_at in (None, JoinAt.CB) and not is_open
        middle = CF if from_cb else CB if is_open and kind is not Kind.STRAIGHT else HALF
        return _between(parts, loop, on_fold, from_cb, middle)
    if kind is Kind.NECKLINE and join_at is JoinAt.SHOULDER:
        return _from_shoulder(parts)
    if kind is Kind.NECKLINE:
        # one that is open begins and ends at CF, and is folded at CB
        half = _half_neckline(parts, loop, pointed or is_open)
        half = half[:-1] if is_open else half
    elif kind in FRONT_AND_BACK and len(parts) == 2:
        front = parts[0].strip_mm
        return (Notch(opposite(kind, join_at), abs(loop / 2 - front) if on_fold else front),)
    else:
        half = _half_plain(parts, loop, pointed, always=kind in FRONT_AND_BACK)
    if on_fold:
        return tuple(half)
    fold, *rest = half
    left = [Notch(notch.name, loop / 2 - notch.at_mm, notch.double) for notch in reversed(rest)]
    right = [Notch(notch.name, loop / 2 + notch.at_mm, notch.double) for notch in rest]
    return (*left, Notch(fold.name, loop / 2, double=fold.name == CB), *right)


def _between(parts: tuple[Part, ...], loop: float, on_fold: bool, from_cb: bool, name: str) -> tuple[Notch, ...]:
    """Return the notches between parts of their own names, and CB and CF where they are known."""
    ends = list(accumulate(part.strip_mm for part in parts))
    marks = [Notch(between(one, then), at) for one, then, at in zip(parts, parts[1:], ends, strict=False)]
    mirrored = all(abs(a + b - loop) < ALIKE for a, b in zip(ends[:-1], reversed(ends[:-1]), strict=True))
    middle = [] if any(abs(mark.at_mm - loop / 2) < ALIKE for mark in marks) else [Notch(name, loop / 2)]
    if mirrored:
        marks = sorted([*marks, *middle], key=lambda mark: mark.at_mm)
    if from_cb:
        marks = [Notch(CB, 0.0, double=True), *marks, Notch(CB, loop, double=True)]
    if not on_fold:
        return tuple(marks)
    return tuple(
        Notch(mark.name, max(mark.at_mm - loop / 2, 0.0), mark.double)
        for mark in marks
        if mark.at_mm > loop / 2 - ALIKE
    )


def between(one: Part, then: Part) -> Words:
    """Return the mark between two parts of an edge."""
    return Words("{first} / {then}", first=one.words, then=then.words)


def _half_neckline(parts: tuple[Part, ...], loop: float, pointed: bool) -> list[Notch]:
    """Return the notches from the fold to the end seam; one that lies on the fold is a single snip there."""
    # an edge measured whole does not say where its shoulders are
    marks = _from_front(parts) if len(parts) == 2 else [Notch(QUARTER, loop / 4)]
    if pointed:
        marks = [Notch(mark.name, loop / 2 - mark.at_mm) for mark in reversed(marks)]
        return [Notch(CB, 0.0), *marks, Notch(POINT, loop / 2)]
    return [Notch(CF, 0.0), *marks, Notch(CB, loop / 2, double=True)]


def _from_front(parts: tuple[Part, ...]) -> list[Notch]:
    names = [CORNER] * (len(parts[0].legs_mm) - 1) + [SHOULDER] + [CORNER] * (len(parts[1].legs_mm) - 1)
    legs = (*parts[0].legs_mm, *reversed(parts[1].legs_mm))
    return [Notch(name, at) for name, at in zip(names, accumulate(legs), strict=False)]


def _from_shoulder(parts: tuple[Part, ...]) -> tuple[Notch, ...]:
    """Return the notches of a whole strip from the end seam at a shoulder: the front, the other shoulder, the back."""
    front, back = (part.legs_mm for part in parts)
    legs = (*reversed(front), *front, *reversed(back), *back)
    corners = [[CORNER] * (len(part.legs_mm) - 1) for part in parts]
    names = [*corners[0], CF, *corners[0], SHOULDER, *corners[1], CB, *corners[1]]
    return tuple(Notch(name, at, double=name == CB) for name, at in zip(names, accumulate(legs), strict=False))


def _half_plain(parts: tuple[Part, ...], loop: float, pointed: bool, always: bool) -> list[Notch]:
    quarters = always or sum(part.edge_mm for part in parts) >= QUARTERS_FROM
    half = [Notch(HALF, 0.0), *([Notch(QUARTER, loop / 4)] if quarters else [])]
    return [*half, *([Notch(POINT, loop / 2)] if pointed else [])]
