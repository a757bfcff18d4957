"""The label of a strip: what it says, line by line."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import IntEnum
from typing import NamedTuple

from tiler.draft.edition import Edition
from tiler.draft.figures import Figures
from tiler.draft.strip.bounds import MOST_STRETCH_USED
from tiler.draft.strip.finish import Cut
from tiler.languages.words import Number
from tiler.lengths import both, percent

KEEP = "\u00a0"
"""A space at which no line is broken; it prints as a plain one."""


FROM_FOLD = " from the fold"
"""Follows the length of what is cut on fold."""

NOT_PASSED = "CHECK NOT PASSED"


MARKS = {"half": "½", "quarter": "¼"}
"""How the notches of a plain edge are called on paper."""


class Rank(IntEnum):
    """What a line of a label says, and so how large it is set."""

    NAME = 0
    CUT = 1
    SIZE = 2
    FACT = 3


class Line(NamedTuple):
    """A line of type.

    ``shorter`` says the same in fewer and fewer words, at last in none where it ends with
    an empty text.  Words that somebody gave are never shortened.
    """

    text: str
    bold: bool = False
    rank: Rank = Rank.FACT
    shorter: tuple[str, ...] = ()


@dataclass(frozen=True)
class Label:
    """What is written on a strip; its lengths hold no space at which a line is broken."""

    name: str
    size: str | None
    cut: str
    """How often, and whether on fold."""
    title: str
    cut_length: str
    cut_width: str
    finished_width: str
    widest: str
    """Up to which finished width there is a good length; empty where that is without limit, or none is."""
    sewn_length: str
    finish: str
    fabric: str
    """The fabric with its stretch; empty where none is named."""
    ratio: str
    """The share of the edge, with its length."""
    garment: str
    """How the garment is cut for the strip; empty where that is not known."""
    good: str
    """Between which sewn lengths the strip is good."""
    end_allowance: str
    """How the ends are sewn, where no line shows it."""
    notches: tuple[tuple[str, str], ...]
    """Each notch, and how far it lies from the fold or the left cut end."""
    failed: tuple[str, ...] = ()
    """The checks that are not passed, each in a few words."""

    @property
    def cut_size(self) -> str:
        """Length and width to cut, with plain spaces."""
        return f"{self.cut_length} × {self.cut_width}".replace(KEEP, " ")

    @property
    def end(self) -> str:
        """Length to cut, from the fold where there is one."""
        return self.cut_length.removesuffix(FROM_FOLD)

    @property
    def cloth(self) -> str:
        """The finish, and the fabric where one is named."""
        return f"{self.finish} · {self.fabric}" if self.fabric else self.finish

    def lines(self) -> tuple[Line, ...]:
        """Return the lines on a strip of its own."""
        return (
            *self._head(f"size{KEEP}{self.size}" if self.size else ""),
            Line(f"cut {self.cut_length} × {self.cut_width}", rank=Rank.SIZE),
            Line(self.title),
            Line(self.cloth),
            Line(f"{self.finished_width}{self.widest}", shorter=(self.finished_width, "")),
            Line(f"{self.sewn_length}, {self.ratio}", shorter=(self.sewn_length, "")),
            Line(self.good, shorter=("",)),
            *self._garment,
        )

    def lines_for(self, sizes: Sequence[str], end: str) -> tuple[Line, ...]:
        """Return the lines that hold for all sizes of a nest; ``end`` names the end seam, where there is one."""
        return (
            *self._head(f"sizes {', '.join(sizes)}"),
            Line(f"cut width {self.cut_width}, cut at the end line of your size", rank=Rank.SIZE),
            Line(self.title),
            Line(self.cloth),
            Line(self.finished_width),
            *([Line(f"{end}: {self.end_allowance}")] if end else []),
            *self._garment,
        )

    def _head(self, size: str) -> Iterator[Line]:
        yield Line(self.name, bold=True, rank=Rank.NAME)
        yield Line(f"{size} · {self.cut}" if size else self.cut, bold=True, rank=Rank.CUT)
        if self.failed:
            shorter = (f"{NOT_PASSED}: see the figures",)
            yield Line(f"{NOT_PASSED}: {', '.join(self.failed)}", bold=True, rank=Rank.SIZE, shorter=shorter)

    @property
    def _garment(self) -> tuple[Line, ...]:
        return (Line(self.garment, shorter=("",)),) if self.garment else ()


def label_of(figures: Figures, edition: Edition) -> Label:
    """Return the label of a strip; the units of the edition lead.

    Length and width are those of the cutting chart: a full length is twice the rounded half.
    """
    units, on_fold = edition.units, figures.cut is Cut.ON_FOLD
    half = figures.half_length_mm
    stretch = figures.fabric_stretch
    return Label(
        name=figures.name,
        size=figures.size,
        cut=f"CUT {figures.quantity} {figures.cut.words.upper()}",
        title=edition.title,
        cut_length=f"{_kept(both(half, units))}{FROM_FOLD}" if on_fold else _kept(both(half, units, times=2)),
        cut_width=_kept(both(figures.cut_width_mm, units, up=not figures.finish.is_band)),
        finished_width=_kept(f"finished width {both(figures.finished_width_mm, units)}"),
        widest=f", {_kept(f'good up to {both(figures.widest_mm, units, down=True)}')}" if figures.widest_mm else "",
        sewn_length=_kept(f"sewn length {both(figures.loop_mm, units)}"),
        finish=figures.finish.words,
        fabric=f"{figures.fabric}, {percent(stretch)} stretch" if figures.fabric and stretch is not None else "",
        ratio=f"{percent(figures.ratio.used)} of the {figures.edge.label}, {_kept(both(figures.edge.edge_mm, units))}",
        garment=figures.cut_words,
        good=good_lengths(figures, units, kept=True),
        end_allowance=_end_allowance(figures, units),
        notches=tuple(
            (MARKS.get(notch.name, notch.name), _kept(both(notch.at_mm, units))) for notch in figures.notches
        ),
        failed=tuple(one.short for one in figures.failed),
    )


def _end_allowance(figures: Figures, units: str) -> str:
    sew = f"stitch {_kept(both(figures.join_allowance_mm, units))} from the cut end"
    stop = figures.end.open_below
    return f"{sew}, stop {_kept(both(stop, units))} from the edge that is sewn on first" if stop else sew


def good_lengths(figures: Figures, units: str, *, kept: bool = False) -> str:
    """Say between which sewn lengths the strip is good; ``kept`` lengths are not parted at the end of a line."""
    edge, ratio = figures.edge.edge_mm, figures.ratio
    used = percent(MOST_STRETCH_USED)
    shortest = both(ratio.tightest * edge, units)
    longest = Number() if ratio.flat is None else both(ratio.flat * edge, units)
    if kept:
        shortest, longest, used = _kept(shortest), _kept(longest), _kept(used)
    if ratio.flat is None:
        return f"good from {shortest}, {used} of the stretch"
    if ratio.flat < ratio.tightest:
        return f"no good length: {used} of the stretch takes {shortest}, and only up to {longest} lies flat"
    return f"good from {shortest}, {used} of the stretch, to {longest}, longest that lies flat"


def _kept(length: str) -> Number:
    """Return a length that no line break parts."""
    return Number(length.replace(" ", KEEP))
