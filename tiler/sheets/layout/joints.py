"""Where a strip crosses the joints of pages along one axis, and where it can lie so that none is bad; mm."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import ceil

from tiler.paper import MARK_SIZE

TINY = 1e-6

LEAST_LEFT = 40.0
"""A joint leaves this much of a piece on either side of what both pages show, mm; less is more tape than strip."""

FAR, NEAR = 8.0, 2.0
"""From a register mark to a line that is cut: where there is room, and at least, mm."""

ROOM = MARK_SIZE / 2 + NEAR - TINY
"""From the middle of a mark to where such a line may lie, mm."""

STEP_ASIDE = 0.5
"""In such steps register marks give way from the middle of the shared strip, mm."""

OFF_FRAME = 0.5
"""Least white between a mark and the edges of the shared strip, mm."""


def tiles_needed(start: float, end: float, window: float, step: float) -> range:
    """Return the windows that together show the stretch from ``start`` to ``end``, none too many."""
    first = int((start + TINY) // step)
    last = max(first, ceil((end - window - TINY) / step))
    return range(first, last + 1)


@dataclass(frozen=True)
class Span:
    """What an item takes of one axis of the sheet: its extent, and from where to where the strip goes in it.

    One that is ``edged`` has long edges there, and no register mark has room on a shared strip where one lies;
    ``tags`` is from where to where the row of short names lies that no edge of a window should cut,
    ``words`` from where to where all words lie.
    """

    extent: float
    low: float
    high: float
    window: float
    overlap: float
    edged: bool = False
    tags: tuple[float, float] | None = None
    words: tuple[float, float] | None = None

    @cached_property
    def step(self) -> float:
        """How far one window lies behind the other."""
        return self.window - self.overlap

    def bad(self, start: float) -> int:
        """Count the joints that need not be, or leave too little of the strip on a side."""
        # asked for millions of times where a job has many pieces
        step, edges = self.step, 0
        if self.edged:
            edges = self._on_marks(start + self.low) + self._on_marks(start + self.high)
        if self.tags is not None:
            edges += self.cut_tags(start)
        first = int((start + TINY) // step)
        last = ceil((start + self.extent - self.window - TINY) / step)
        if last <= first:
            return edges
        if self.extent <= self.window + TINY:
            return last - first
        # windows are wider than what is to be left, so only the outer joints can be bad
        head = (first + 1) * step - start - self.low
        tail = start + self.high - last * step - self.overlap
        return edges + (head < LEAST_LEFT - TINY) + (tail < LEAST_LEFT - TINY)

    def cut_tags(self, start: float) -> bool:
        """Tell whether the edge of a window runs through the row of short names."""
        if self.tags is None:
            return False
        (low, high), step = self.tags, self.step
        return any(
            low + TINY < (k * step + by - start) < high - TINY
            for by in (0.0, self.overlap)
            for k in range(1, 1 + int((start + high) // step))
        )

    def cut_words(self, start: float) -> bool:
        """Tell whether the window before the one that shows all cuts through the words."""
        if self.words is None:
            return False
        edge = (start + TINY) // self.step * self.step + self.overlap - start
        return start >= self.step - TINY and self.words[0] + TINY < edge < self.words[1] - TINY

    def _on_marks(self, edge: float) -> bool:
        """Tell whether an edge lies where the register marks of a joint stand, or too near to them."""
        middle = self.overlap / 2
        past = (edge - middle) % self.step
        return edge > self.overlap and (past < ROOM or self.step - past < ROOM)

    def settled(self, start: float) -> float:
        """Return the next place from ``start`` on where no joint is bad; ``start`` where there is none near."""
        if not self.bad(start):
            return start
        step = self.step
        first = int(start // step) + 1
        ahead = range(first, first + 2 + ceil(self.extent / step))
        places = [k * step for k in ahead]
        places += [k * step + self.overlap + LEAST_LEFT - self.high for k in ahead]
        if self.edged:
            # just behind the marks
            off = self.overlap / 2 + MARK_SIZE / 2 + NEAR
            places += [k * step + off - edge for k in (first - 1, *ahead) for edge in (self.low, self.high)]
        edges = [k * step + by for k in (first - 1, *ahead) for by in (0.0, self.overlap)] if self.tags else []
        places += [edge - at for edge in edges for at in self.tags or ()]
        return next((place for place in sorted(places) if place >= start and not self.bad(place)), start)


def clear_of_joint(start: float, span: Span) -> float:
    """Move what crosses more seams than it must, or is shown in part by a window more, behind the shared strip.

    What does not fit there goes to where the next window begins.
    """
    extent, window, overlap = span.extent, span.window, span.overlap
    step = window - overlap
    if span.cut_words(start):
        behind = (start + TINY) // step * step + overlap
        if len(tiles_needed(behind, behind + extent, window, step)) == 1:
            return behind
    if len(tiles_needed(start, start + extent, window, step)) <= len(tiles_needed(0, extent, window, step)):
        return start
    following = (int(start // step) + 1) * step
    behind = following + overlap
    fewest = len(tiles_needed(following, following + extent, window, step))
    return behind if len(tiles_needed(behind, behind + extent, window, step)) == fewest else following


def place_for(start: float, span: Span, clear: bool) -> float:
    """Return the next place from ``start`` on; with ``clear`` it crosses no seam that it need not."""
    return span.settled(clear_of_joint(start, span) if clear else start)
