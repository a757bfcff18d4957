"""The marks of sections: what stands at their joins, which notches and buttons lie along each; mm."""

from __future__ import annotations

from dataclasses import dataclass, replace

from tiler.draft.fastening.buttons import Buttons
from tiler.draft.sections.names import END_SEAM, JOIN, MIDDLE, as_words, join_name
from tiler.draft.sections.plan import NOISE, Span
from tiler.draft.sections.ring import Ring
from tiler.draft.sections.stretch import part_of
from tiler.draft.strip.notch import Notch
from tiler.draft.strip.notches import POINT
from tiler.languages.words import Words

DOUBLE = ("CB", "underarm")
"""The seams of a garment that have a double notch."""

SIDES = ("right ", "left ")
"""Begin the name of what there is on either side of the wearer."""


@dataclass(frozen=True)
class Join:
    """A join at an end of a section: its mark, and what it is called where its side does not matter."""

    mark: Notch
    either: Notch
    seam: str = ""
    """The seam of the garment that it lies at."""


NONE = Join(Notch("", 0.0), Notch("", 0.0))
"""At an end of its own a strip that is open has no mark."""


@dataclass(frozen=True)
class Marks:
    """What a whole strip has along its sewn length: its own notches, those that the spec adds, and its buttons.

    Without own ones, since nothing of the edge has a place on the garment, every section gets its middle.  Both edges
    of a strip on the bias are ``shifted`` so far, mm: its lower edge begins and ends before its sewn length, its upper
    one, of a strip that is doubled, behind that.
    """

    own: tuple[Notch, ...]
    added: tuple[Notch, ...]
    buttons: Buttons | None = None
    shifted: tuple[float, float] = (0.0, 0.0)

    @property
    def on_bias(self) -> bool:
        """Tell whether the ends of all sections slant in one way."""
        return self.shifted[0] > 0


@dataclass(frozen=True)
class Joins:
    """How the joins of a ring are marked: whether it is ``marked`` besides, and its shoulders ``told_apart``."""

    ring: Ring
    marked: bool
    told_apart: bool

    def of(self, span: Span, place: float) -> Join:
        """Return the join at an end of a span: at a garment seam, or within the stretch between two."""
        seam = next((seam for seam in span.whole if abs(seam.at - place) < NOISE), None)
        if self.ring.ends and (place < NOISE or place > self.ring.loop - NOISE):
            return NONE
        number = span.index - 1 if place == span.start else span.index
        if seam is None:
            # alike from both sides, and unlike the mark of the seam
            double = min(number, span.count - number) % 2 == (0 if self.ring.plain else 1)
            odd = number % 2 == (0 if self.ring.plain else 1)
            mark = Notch(join_name(part_of(self.ring, span, either=False), number), 0.0, odd)
            return Join(mark, Notch(join_name(part_of(self.ring, span, either=True)), 0.0, double and self.marked))
        if self.ring.pointed and seam.at % self.ring.loop < NOISE:
            return Join(Notch(POINT, 0.0), Notch(POINT, 0.0))
        mark = Notch(as_words(seam.name) if seam.name else END_SEAM, 0.0, self._double(seam.name))
        if self.ring.plain and not self.marked:
            return Join(mark, Notch(JOIN, 0.0), seam.name)
        either = replace(mark, name=as_words(_either(mark.name)), double=mark.double and seam.name in DOUBLE)
        return Join(mark, either, seam.name)

    def _double(self, name: str) -> bool:
        return name in DOUBLE or (self.told_apart and name == "left shoulder")


def _either(name: str) -> str:
    """Return a name without its side; one that the spec gives stays."""
    if isinstance(name, Words) and name.fields:
        return name
    return next((name.removeprefix(side) for side in SIDES if name.startswith(side)), name)


def notches_along(ring: Ring, span: Span, marks: Marks) -> tuple[Notch, ...]:
    """Return the notches inside a section; of one without a place on the garment its middle."""
    own = marks.own
    if not own:
        own = (Notch(MIDDLE, (span.start + span.sewn / 2) % ring.loop),)
    before, behind = marks.shifted
    low, high = NOISE - before, span.sewn - NOISE + behind
    found = []
    for notch in (*own, *marks.added) if marks.on_bias else own:
        for at in (notch.at_mm - span.start + turn * ring.loop for turn in (-1, 0, 1)):
            if low < at < high:
                found.append(replace(notch, at_mm=at))
    for notch in () if marks.on_bias else marks.added:
        # what lies in the allowance of the strip's own end stays beside it
        at = notch.at_mm - span.start
        at += ring.loop if at < -NOISE and span.end > ring.loop + NOISE else 0.0
        first, last = span.start < NOISE and at < 0, abs(span.end - ring.loop) < NOISE and at > span.sewn
        if -NOISE <= at <= span.sewn or first or last:
            found.append(replace(notch, at_mm=at))
    # what lies at the end seam of the strip in one lies at both of its ends
    return tuple({(round(notch.at_mm, 4), notch.name): notch for notch in found}.values())


def buttons_along(span: Span, buttons: Buttons | None) -> tuple[float, ...]:
    """Return the centres that lie on a section; no join comes near one."""
    if buttons is None:
        return ()
    return tuple(at - span.start for at in buttons.at_mm if span.start - NOISE <= at <= span.end + NOISE)
