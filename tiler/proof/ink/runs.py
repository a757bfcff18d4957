"""A run of pixels under a line along an axis: whole rows are looked at in one step each; pixels.

A row here runs along the line, whichever axis that is.  Three questions: is there
ink without a gap, is there paper on at least one side, and does the darkness across
the line lie where the line is written.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from math import ceil
from statistics import median

from tiler.proof.ink.faults import InkKind
from tiler.proof.tolerances import DASHED_SHARE

LIGHT = 200
"""Pixels from here on count as paper; 255 is white."""

LEAST_SHARE = 0.7
"""Least share of a line's own darkness that must arrive."""

HEMMED = 4
"""Pixels of length on which neither side of a line need show paper: another line may cross."""

SOUNDING = 3
"""Pixels of length over which the darkness across a line is summed."""

SPREAD = (0.13, 0.31, 0.5, 0.67, 0.86)
"""Where along a run the soundings are taken."""

_PAPER = bytes(range(LIGHT, 256))
_LIGHT = bytes(1 if value >= LIGHT else 0 for value in range(256))


@dataclass(frozen=True, slots=True)
class Pen:
    """How a line should look, pixels: its weight, longest gap, darkness, and how far it may be off."""

    weight: float
    gap: float
    darkness: float
    tolerance: float

    @property
    def level(self) -> int:
        """The lightest pixel that counts as ink: the row under a line gets at least half a pixel of it."""
        return 255 - int(0.3 * self.darkness * 255)


@dataclass(frozen=True, slots=True)
class RunFault:
    """What is wrong, and from which pixel to which along the run."""

    kind: InkKind
    start: int
    end: int


@cache
def _marks(level: int) -> bytes:
    return bytes(ord("#") if value <= level else ord(".") for value in range(256))


@cache
def _dark(level: int) -> bytes:
    return bytes(range(level + 1))


@dataclass(frozen=True, slots=True)
class Run:
    """``count`` pixels from index ``first`` on; steps along and across; how many rows lie before and behind."""

    data: bytes
    first: int
    along: int
    across: int
    count: int
    before: int
    behind: int

    def row(self, off: int) -> bytes:
        """Return the row that lies ``off`` rows beside the line."""
        first = self.first + off * self.across
        return self.data[first : first + (self.count - 1) * self.along + 1 : self.along]

    def faults(self, pen: Pen, off: float) -> Iterator[RunFault]:
        """Judge the run; ``off`` is where the line lies from the middle of its row."""
        core = self.row(0)
        gaps = list(self._gaps(core, pen)) if core.translate(None, _dark(pen.level)) else []
        yield from gaps
        hemmed = list(self._hemmed(max(2, ceil(pen.weight / 2 + 1.2))))
        yield from hemmed
        if gaps or hemmed:
            return
        kind = self._soundings(core, pen, off, dense=False) and self._soundings(core, pen, off, dense=True)
        if kind:
            yield RunFault(kind, 0, self.count)

    def _gaps(self, core: bytes, pen: Pen) -> Iterator[RunFault]:
        marks = core.translate(_marks(pen.level))
        start = 0
        for blank in marks.split(b"#"):
            if len(blank) > pen.gap + 1.5:
                yield RunFault(InkKind.HIDDEN, start, start + len(blank))
            start += len(blank) + 1
        if pen.gap and self.count > 8 * pen.gap and marks.count(b"#") < DASHED_SHARE * self.count:
            yield RunFault(InkKind.SPARSE, 0, self.count)

    def _hemmed(self, distance: int) -> Iterator[RunFault]:
        """Yield the stretches where neither side shows paper."""
        light = 0
        for off, room in ((-distance, self.before), (distance, self.behind)):
            if distance <= room:
                side = self.row(off)
                if not side.translate(None, _PAPER):
                    return
                light |= int.from_bytes(side.translate(_LIGHT))
        start = 0
        for dark in light.to_bytes(self.count).split(b"\1"):
            if len(dark) > HEMMED or len(dark) == self.count >= SOUNDING:
                yield RunFault(InkKind.HEMMED, start, start + len(dark))
            start += len(dark) + 1

    def _soundings(self, core: bytes, pen: Pen, off: float, *, dense: bool) -> InkKind | None:
        reach = max(2, ceil(pen.weight / 2 + 0.5))
        if reach > min(self.before, self.behind) or self.count < SOUNDING:
            return None
        marks = core.translate(_marks(pen.level))
        starts = [start for place in self._places(dense) if (start := marks.find(b"###", place)) >= 0]
        sums = [self._across(start, reach) for start in starts]
        amounts = [total for total, _ in sums]
        middles = [moment / total if total else 0.0 for total, moment in sums]
        if not amounts:
            return None
        # Dashes have pale ends, so of a dashed line the darkest sounding counts.
        amount = max(amounts) if pen.gap else median(amounts)
        if amount < LEAST_SHARE * pen.darkness * pen.weight:
            return InkKind.PALE
        return InkKind.DISPLACED if abs(median(middles) - off) > pen.tolerance else None

    def _places(self, dense: bool) -> list[int]:
        if dense:
            return list(range(0, self.count - SOUNDING + 1, SOUNDING))
        if self.count < 4 * SOUNDING:
            return [(self.count - SOUNDING) // 2]
        return [int(self.count * share) for share in SPREAD]

    def _across(self, start: int, reach: int) -> tuple[float, float]:
        """Return darkness in full pixels per pixel of length, and its moment about the row."""
        first = self.first + start * self.along
        span = (SOUNDING - 1) * self.along + 1
        total = moment = 0
        for off in range(-reach, reach + 1):
            begin = first + off * self.across
            dark = 255 * SOUNDING - sum(self.data[begin : begin + span : self.along])
            total += dark
            moment += off * dark
        return total / (255 * SOUNDING), moment / (255 * SOUNDING)
