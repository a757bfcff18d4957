"""The finishes that get an instruction page, and the figures of their strips in words."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import product

from tiler.draft.edition import Edition
from tiler.draft.figures import Figures
from tiler.draft.strip.corner import Corner
from tiler.draft.strip.finish import Cut, Finish
from tiler.lengths import both


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
        """How the ends of the strips meet, in words; nothing of plain ones."""
        return {Corner.MITRE: "ends mitred", Corner.LAPPED: "ends lapped"}.get(self.corner, "")

    @property
    def in_ditch(self) -> bool:
        """Tell whether the last seam runs in the ditch: the back passes the first seam and is caught from there."""
        raw = self.finish is Finish.RAW_EDGE
        return raw or (bool(self.strips) and all(strip.cover_mm > 0 for strip in self.strips))


@dataclass(frozen=True)
class StripFigures:
    """The figures of a strip in a sentence.

    ``whole`` goes on with how the garment is cut; ``short`` says where that stands.
    """

    name: str
    short: str
    whole: str


def finishes_of(figures: Sequence[Figures], edition: Edition) -> tuple[FinishSteps, ...]:
    """Return one entry for every finish and way of the ends that the pieces use, in the order of both."""
    pages = []
    for finish, corner in product(Finish, Corner):
        strips = tuple(one for one in figures if one.finish is finish and one.end.style is corner)
        if strips:
            pages.append(FinishSteps(finish, edition.title, edition.units, strips))
    return tuple(pages)


def strip_lines(page: FinishSteps) -> list[StripFigures]:
    """Return what every strip of the page is cut to and sewn to."""
    return [_figures(strip, page.units) for strip in page.strips]


def _name(strip: Figures) -> str:
    return strip.name if strip.size is None else f"{strip.name}, size {strip.size}"


def _figures(strip: Figures, units: str) -> StripFigures:
    on_fold = strip.cut is Cut.ON_FOLD
    length = both(strip.half_length_mm, units, times=1 if on_fold else 2)
    width = both(strip.cut_width_mm, units, up=not strip.finish.is_band)
    cut = f"cut {strip.quantity} {strip.cut.words}, {length} × {width}"
    pull = f"stretch {both(strip.loop_mm, units)} of strip to {both(strip.edge.edge_mm, units)} of edge"
    figures = f"{cut}; {pull}."
    short = f"{figures} How the garment is cut stands on the piece." if strip.cut_words else figures
    return StripFigures(_name(strip), short, f"{figures} {strip.cut_words}".rstrip())


def shared(page: FinishSteps, measure: Callable[[Figures], float], words: str, neutral: str) -> str:
    """Put a length into the words where all strips have the same; else return the neutral words."""
    found = {both(measure(strip), page.units) for strip in page.strips}
    return words.format(found.pop()) if len(found) == 1 else neutral
