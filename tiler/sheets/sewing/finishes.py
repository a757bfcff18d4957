"""The finishes that get instruction pages, and the figures that all their strips share."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import product

from tiler.draft.edition import Edition
from tiler.draft.fastening.open_ends import Ends
from tiler.draft.figures import Figures
from tiler.draft.sections.strips import strips_of
from tiler.draft.strip.corner import Corner
from tiler.draft.strip.finish import Finish
from tiler.draft.strip.standing import Standing
from tiler.languages.catalogue import noted
from tiler.languages.words import Words, say
from tiler.lengths import both
from tiler.sentence import joined

STANDING = {Standing.UP: noted("stands up"), Standing.OVER: noted("turned over")}
OPEN = {
    Ends.TURNED: noted("open, ends turned in"),
    Ends.RAW: noted("open, ends raw"),
    Ends.CAUGHT: noted("open, ends caught in seams"),
}

BOTH = (False, True)

ENDS = {Corner.MITRE: noted("ends mitred"), Corner.LAPPED: noted("ends lapped")}


@dataclass(frozen=True)
class FinishSteps:
    """A finish to print a page for, with the strips that are sewn that way; without strips the words are neutral.

    ``units`` is "in" or "cm", the unit that stands first.
    """

    finish: Finish
    title: str = ""
    units: str = "in"
    strips: tuple[Figures, ...] = ()

    @property
    def corner(self) -> Corner:
        """How the ends of the strips meet: all strips of a page do so in one way."""
        return self.strips[0].end.style if self.strips else Corner.NONE

    @property
    def ends(self) -> str:
        """How the ends of the strips meet, or how a band stays, in words; nothing of plain ones."""
        ways = [Words(STANDING[self.standing])] if self.standing.stands else []
        ways += [Words(ENDS[self.corner])] if self.corner in ENDS else []
        ways += [Words(OPEN[self.ends_are])] if self.is_open else []
        ways += [Words("with free lengths")] if self.runs_on else []
        ways += [Words("on the bias")] if self.on_bias else []
        return joined(", ", [*ways, *([Words("with elastic")] if self.casing else [])])

    @property
    def shaped(self) -> bool:
        """Tell whether the bands are cut to the shape of their edges."""
        return bool(self.strips) and self.strips[0].contour_mm is not None

    @property
    def mirrored(self) -> bool:
        """Tell whether the layers of bands that are cut to shape are mirror images of each other."""
        return self.shaped and any(piece.paired for piece in strips_of(self.strips))

    @property
    def folded(self) -> bool:
        """Tell whether a piece of a band that is cut to shape is folded along its finished edge."""
        return any(one.shape and one.shape.doubled for strip in self.strips for one in strip.sections)

    @property
    def joined(self) -> bool:
        """Tell whether end seams are sewn: those of rings, or of bands that are cut in pieces."""
        return not self.is_open or any(strip.sections[1:] for strip in self.strips)

    @property
    def words(self) -> str:
        """What the finish is called."""
        return self.strips[0].finish_words if self.shaped else self.finish.words

    @property
    def even(self) -> bool:
        """Tell whether the strips are as long as their edges, so that nothing is stretched."""
        return bool(self.strips) and all(strip.even for strip in self.strips)

    @property
    def unequal(self) -> bool:
        """Tell whether parts of an edge get unequal shares of their strip."""
        return any(strip.edge.unequal for strip in self.strips)

    @property
    def ends_are(self) -> Ends:
        """How the ends are finished: those of all strips of a page are so in one way."""
        return self.strips[0].ends if self.strips else Ends.CLOSED

    @property
    def is_open(self) -> bool:
        """Tell whether the strips are no rings."""
        return self.ends_are is not Ends.CLOSED

    @property
    def runs_on(self) -> bool:
        """Tell whether the strips run on beyond their edges."""
        return bool(self.strips) and self.strips[0].runs_on.there

    @property
    def on_bias(self) -> bool:
        """Tell whether the strips are cut on the bias of woven cloth."""
        return bool(self.strips and self.strips[0].bias)

    @property
    def buttoned(self) -> bool:
        """Tell whether the bands have buttonholes."""
        return bool(self.strips and self.strips[0].buttons)

    @property
    def casing(self) -> bool:
        """Tell whether the bands are casings for elastic."""
        return bool(self.strips and self.strips[0].elastic)

    @property
    def standing(self) -> Standing:
        """How the band stays on its edge: all strips of a page do so in one way."""
        return self.strips[0].standing if self.strips else Standing.FLAT

    @property
    def in_ditch(self) -> bool:
        """Tell whether the last seam runs in the ditch: the back passes the first seam and is caught from there."""
        raw = self.finish is Finish.RAW_EDGE
        return raw or (bool(self.strips) and all(strip.cover_mm > 0 for strip in self.strips))


def finishes_of(figures: Sequence[Figures], edition: Edition) -> tuple[FinishSteps, ...]:
    """Return one entry for every finish and way to make it that the pieces use, in their order."""
    by_way: dict[tuple[object, ...], list[Figures]] = {}
    for one in figures:
        by_way.setdefault(_way(one), []).append(one)
    ways = product(Finish, Corner, Standing, BOTH, Ends, BOTH, BOTH, BOTH, BOTH)
    return tuple(FinishSteps(way[0], edition.title, edition.units, tuple(by_way[way])) for way in ways if way in by_way)


def _way(one: Figures) -> tuple[object, ...]:
    return (
        one.finish,
        one.end.style,
        one.standing,
        bool(one.elastic),
        one.ends,
        bool(one.buttons),
        one.runs_on.there,
        bool(one.bias),
        one.contour_mm is not None,
    )


def shared(page: FinishSteps, measure: Callable[[Figures], float], words: str, neutral: str, **fields: str) -> str:
    """Say a length in the words where all strips have the same, else the neutral words; both are templates."""
    found = {both(measure(strip), page.units) for strip in page.strips}
    if len(found) == 1:
        return say(words, length=found.pop(), **fields)
    return say(neutral, **fields)
