"""Buttons along an open band: where their centres lie, and how long the buttonholes are.

Millimetres.  The first button lies ``first`` from the end of the strip, the last one ``last`` from the other end of the
part that has them, which is the first part of an edge in parts, or else the whole strip; those between lie evenly
(arithmetic).  A buttonhole is 3 mm longer than the button is wide (common practice), and lies in the middle of the
band's width.  Between two holes along the band, and beside one across it, 3 mm of cloth stay.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Any

from tiler.box import Subpath
from tiler.draft.edge.numbers import Part
from tiler.draft.fastening.open_ends import Ends
from tiler.draft.spec.table import Table
from tiler.draft.strip.finish import Finish
from tiler.errors import SpecError
from tiler.languages.catalogue import noted
from tiler.languages.proved import BUTTONHOLE, BUTTONHOLES
from tiler.languages.words import Number, Words
from tiler.lengths import both
from tiler.sentence import Key, Place, Sentence

KEYS = ("count", "first", "last", "diameter", "direction", "on")
MOST_BUTTONS = 60
EASE = 3.0
"""What a buttonhole is longer than its button is wide."""

CLEAR = 3.0
"""Cloth that stays between holes, and beside one, mm."""

CROSS = 4.0
"""How long the strokes of a centre are."""


class Direction(StrEnum):
    """How the buttonholes lie."""

    ALONG = "along"
    ACROSS = "across"


@dataclass(frozen=True)
class ButtonSpec:
    """Buttons as the spec states them, mm; they lie ``on`` the part of this name, where the edge has parts."""

    where: Place
    count: int
    first_mm: float
    last_mm: float
    diameter_mm: float
    direction: Direction
    on: str | None


@dataclass(frozen=True)
class Buttons:
    """Buttons as they are drawn: their centres from the left end of the sewn length, and on the strip's width, mm."""

    at_mm: tuple[float, ...]
    y_mm: float
    hole_mm: float
    diameter_mm: float
    direction: Direction
    part: str

    @property
    def apart_mm(self) -> float:
        """From one centre to the next; nothing of one alone."""
        return self.at_mm[1] - self.at_mm[0] if len(self.at_mm) > 1 else 0.0

    def to_json(self) -> dict[str, Any]:
        """Return the entry of the figures, mm."""
        return {
            "count": len(self.at_mm),
            "at_mm": list(self.at_mm),
            "apart_mm": self.apart_mm,
            "hole_mm": self.hole_mm,
            "direction": self.direction.value,
        }

    def holes(self, shift: float) -> list[tuple[float, float]]:
        """Return from where to where each hole lies, with the cloth that stays beside it; ``shift`` is added."""
        half = (self.hole_mm if self.direction is Direction.ALONG else 0.0) / 2 + CLEAR
        return [(at + shift - half, at + shift + half) for at in self.at_mm]

    def on_half(self, loop: float) -> Buttons:
        """Return the buttons on the half from the fold on, whichever half has them."""
        left = self.at_mm[0] < loop / 2
        return replace(self, at_mm=tuple(sorted(loop / 2 - at if left else at - loop / 2 for at in self.at_mm)))

    def marks(self, shift: float) -> tuple[tuple[Subpath, ...], ...]:
        """Return the strokes of each button, the hole first and then its centre; ``shift`` is added to x."""
        found = []
        for at in self.at_mm:
            x, y, half, arm = at + shift, self.y_mm, self.hole_mm / 2, CROSS / 2
            across = self.direction is Direction.ACROSS
            hole = ((x, y - half), (x, y + half)) if across else ((x - half, y), (x + half, y))
            # what stands at right angles to the hole marks the centre
            cross = ((x - arm, y), (x + arm, y)) if across else ((x, y - arm), (x, y + arm))
            found.append((hole, cross))
        return tuple(found)

    def words(self, units: str, kept: bool = False) -> Words:
        """Say how many there are; ``kept`` lengths are not parted at the end of a line."""
        hole, apart = (
            Number(length.replace(" ", "\u00a0")) if kept else length
            for length in (both(self.hole_mm, units), both(self.apart_mm, units))
        )
        count = len(self.at_mm)
        if count == 1:
            return Words(BUTTONHOLE, hole=hole)
        if self.part:
            on = noted("{count} buttonholes, {hole} long, {apart} apart, on the part “{part}”")
            return Words(on, count=count, hole=hole, apart=apart, part=self.part)
        return Words(BUTTONHOLES, count=count, hole=hole, apart=apart)


def read_buttons(table: Table, finish: Finish, ends: Ends) -> ButtonSpec | None:
    """Read ``buttons`` of a piece; raises :class:`SpecError` beside a ring or a binding."""
    if not table.has("buttons"):
        return None
    if ends is Ends.CLOSED:
        table.refuse("buttons", "close a strip that is open; write ", Key("closed", "false"), " as well")
    if not finish.is_band:
        table.refuse("buttons", f"want a folded-band; on a {finish} there is no room for holes")
    if table.flag("turned-over"):
        table.refuse(
            "buttons",
            "lie in the middle of the band, where one that is turned over has its fold; leave them out, or ",
            Key("turned-over"),
        )
    own = table.table("buttons", KEYS, 'buttons = { count = 7, first = "2 cm", last = "2 cm", diameter = "15 mm" }')
    for key, hint in (("count", "7"), ("first", '"2 cm"'), ("last", '"2 cm"'), ("diameter", '"15 mm"')):
        own.raw(key, Key(key, hint))
    return ButtonSpec(
        own.where,
        own.count("count", 1, MOST_BUTTONS),
        own.length("first", "", zero_ok=True),
        own.length("last", "", zero_ok=True),
        own.length("diameter", ""),
        own.word("direction", Direction, Direction.ALONG),
        own.text("on", Key("on", '"right front"')) if own.has("on") else None,
    )


def placed(
    spec: ButtonSpec | None, parts: Sequence[Part], loop: float, seam: float, width: float, on_fold: bool, units: str
) -> Buttons | None:
    """Return the buttons on a strip of the sewn length ``loop``, sewn at ``seam`` and ``width`` mm wide when folded.

    Raises :class:`SpecError` for buttons that do not fit.
    """
    if spec is None:
        return None
    start, end, name = _stretch(spec, parts, loop)
    hole, room = spec.diameter_mm + EASE, end - start
    between = room - spec.first_mm - spec.last_mm
    if between < 0 or (spec.count > 1 and between == 0):
        raise _no_room(f"“{name}”" if name else "the strip", room, spec, units)
    across = spec.direction is Direction.ACROSS
    if across and hole > width - 2 * CLEAR:
        raise SpecError(
            f"a buttonhole of {both(hole, units)} does not fit across a band of {both(width, units)}; take smaller "
            f"buttons, a band of {both(hole + 2 * CLEAR, units, up=True)}, or holes along it",
            spec.where.at("diameter"),
        )
    if not across and width < 2 * CLEAR:
        raise SpecError(
            f"the band of {both(width, units)} is too narrow for buttonholes; they want one of "
            f"{both(2 * CLEAR, units, up=True)}",
            spec.where,
        )
    takes = (spec.diameter_mm if across else hole) + CLEAR
    if spec.count > 1 and between / (spec.count - 1) < takes:
        most = int(between / takes) + 1
        raise SpecError(
            f"{spec.count} of {both(spec.diameter_mm, units)} lie {both(between / (spec.count - 1), units)} apart, and "
            f"one takes {both(takes, units)} with the cloth between; at most {most} fit",
            spec.where.at("count"),
        )
    _refuse_over_the_end(spec, 0.0 if across else hole / 2, start, end, loop, units, _from_right(spec, parts))
    step = between / (spec.count - 1) if spec.count > 1 else 0.0
    first = start + spec.first_mm if not _from_right(spec, parts) else end - spec.first_mm
    way = -1 if _from_right(spec, parts) else 1
    at = tuple(sorted(first + way * step * number for number in range(spec.count)))
    if on_fold and at[0] < loop / 2 < at[-1]:
        raise SpecError(
            Sentence("is on both sides of the fold; write ", Key("cut", '"full-loop"', ("..",))), spec.where.at("on")
        )
    return Buttons(at, seam + width / 2, hole, spec.diameter_mm, spec.direction, name)


def _refuse_over_the_end(
    spec: ButtonSpec, half: float, start: float, end: float, loop: float, units: str, from_right: bool
) -> None:
    """Raise :class:`SpecError` for a button at an end of the strip whose hole, ``half`` to a side, reaches over it."""
    least = half + CLEAR
    begin, close = (loop - end, start) if from_right else (start, loop - end)
    for key, from_part, to_end in (("first", spec.first_mm, begin), ("last", spec.last_mm, close)):
        if from_part + to_end < least - 1e-6:
            raise SpecError(
                f"of {both(from_part, units)} leaves no cloth between the buttonhole and the end of the band; write "
                f"at least {both(least - to_end, units, up=True)}",
                spec.where.at(key),
            )


def _no_room(where: str, room: float, spec: ButtonSpec, units: str) -> SpecError:
    """Return the fault of the one of first and last that leaves nothing of what has the buttons."""
    (own, mine), (other, theirs) = ("last", spec.last_mm), ("first", spec.first_mm)
    if spec.first_mm >= room:
        (own, mine), (other, theirs) = (other, theirs), (own, mine)
    why = Sentence(
        f"of {both(mine, units)} and ",
        Key(other),
        f" of {both(theirs, units)} leave nothing of {where}, which has only {both(room, units)}; write less",
    )
    return SpecError(why, spec.where.at(own))


def _stretch(spec: ButtonSpec, parts: Sequence[Part], loop: float) -> tuple[float, float, str]:
    """Return from where to where the part lies that has the buttons, and its name."""
    if not parts[0].listed:
        if spec.on is not None:
            raise SpecError("names a part, and the edge is not given in parts; leave it out", spec.where.at("on"))
        return 0.0, loop, ""
    names = [part.name for part in parts]
    wanted = names[0] if spec.on is None else spec.on
    if wanted not in names:
        raise SpecError(f'"{wanted}" is none of the parts: {", ".join(names)}', spec.where.at("on"))
    index = names.index(wanted)
    start = sum(part.strip_mm for part in parts[:index])
    return start, start + parts[index].strip_mm, wanted


def _from_right(spec: ButtonSpec, parts: Sequence[Part]) -> bool:
    """Tell whether the end that the buttons are counted from is the right one: theirs is the last part."""
    return parts[0].listed and len(parts) > 1 and spec.on == parts[-1].name
