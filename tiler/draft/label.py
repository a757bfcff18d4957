"""The label of a strip: what it says, line by line."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import IntEnum
from typing import NamedTuple

from tiler.draft.edition import Edition
from tiler.draft.fastening.open_ends import END_ALLOWANCES, STAYS_RAW
from tiler.draft.figures import Figures
from tiler.draft.strip.bounds import MOST_STRETCH_USED
from tiler.draft.strip.finish import Cut
from tiler.draft.strip.standing import HEIGHT
from tiler.draft.views import told_views
from tiler.languages.catalogue import noted
from tiler.languages.proved import CUT, CUT_SIZE, CUT_WIDTH, FINISHED_WIDTH, FROM_FOLD, SIZE, SIZES
from tiler.languages.words import Number, Words, say, told
from tiler.lengths import both, percent
from tiler.sentence import span

KEEP = "\u00a0"
"""A space at which no line is broken; it prints as a plain one."""

BETWEEN_LANGUAGES = " / "

NOT_PASSED, TOLD_THERE = noted("CHECK NOT PASSED: {checks}"), noted("see page 1 or the cutting chart")

AT_THE_END = noted("stitch {length} from the cut end")

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
    an empty text.  Words that somebody gave are never shortened.  Of a text in several
    languages ``alone`` is that in the leading one.
    """

    text: str
    bold: bool = False
    rank: Rank = Rank.FACT
    shorter: tuple[str, ...] = ()
    alone: str = ""

    @property
    def in_one(self) -> Line:
        """The same in the leading language alone."""
        return self._replace(text=self.alone, alone="") if self.alone else self


@dataclass(frozen=True)
class Label:
    """What is written on a strip, in one language; its lengths hold no space at which a line is broken."""

    name: str
    size: str | None
    view: str
    """To which views of the garment it belongs; empty where to all."""
    cut: str
    """How often, and whether on fold."""
    title: str
    end: str
    """Length to cut, from the fold where there is one."""
    cut_length: str
    """The same, with the words that a half is told by."""
    cut_width: str
    finished_width: str
    widest: str
    """The same, and up to which there is a good length where that is not without limit, and one is."""
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
    units: str = "in"
    elastic: str = ""
    """How the elastic in it is cut, where there is some."""
    buttons: str = ""
    """How many buttonholes it has."""
    runs_on: str = ""
    """How far it runs on beyond its edge."""
    bias: str = ""
    """What cloth a strip takes that is cut on the bias."""
    failed: tuple[str, ...] = ()
    """The checks that are not passed, each in a few words."""

    @property
    def cut_size(self) -> str:
        """Length and width to cut, with plain spaces."""
        return f"{self.cut_length} × {self.cut_width}".replace(KEEP, " ")

    @property
    def cloth(self) -> str:
        """The finish, and the fabric where one is named."""
        return f"{self.finish} · {self.fabric}" if self.fabric else self.finish

    def lines(self) -> tuple[Line, ...]:
        """Return the lines on a strip of its own."""
        return (
            *self._head(_kept(say(SIZE, size=self.size)) if self.size else ""),
            Line(say(CUT_SIZE, length=self.cut_length, width=self.cut_width), rank=Rank.SIZE),
            Line(self.title),
            Line(self.cloth),
            Line(self.widest, shorter=(self.finished_width, "")),
            *self._more,
            Line(f"{self.sewn_length}, {self.ratio}", shorter=(self.sewn_length, "")),
            *((Line(self.good, shorter=("",)),) if self.good else ()),
            *self._garment,
        )

    def lines_for(self, sizes: Sequence[str], end: str, wide: bool = True) -> tuple[Line, ...]:
        """Return the lines that hold for all sizes of a nest; ``end`` names the end seam, where there is one.

        Of pieces that are not ``wide`` alike each size says itself how it is cut.
        """
        run = span(sizes[0], sizes[-1])
        width = say("{width}, cut at the end line of your size", width=self._width)
        return (
            *self._head(say(SIZES, sizes=", ".join(sizes)), *([say(SIZES, sizes=run)] if len(sizes) > 2 else [])),
            *([Line(width, rank=Rank.SIZE)] if wide else []),
            Line(self.title),
            Line(self.cloth),
            Line(self.finished_width),
            *self._more,
            *([Line(say("{about}: {text}", about=end, text=self.end_allowance))] if end else []),
            *self._garment,
        )

    @property
    def _more(self) -> Iterator[Line]:
        return (Line(text) for text in (self.elastic, self.buttons, self.runs_on, self.bias) if text)

    def _head(self, *sizes: str) -> Iterator[Line]:
        yield Line(self.name, bold=True, rank=Rank.NAME)
        size, *shorter = (" · ".join(part for part in (self.view, size, self.cut) if part) for size in sizes)
        yield Line(size, bold=True, rank=Rank.CUT, shorter=tuple(shorter))
        if self.failed:
            text = say(NOT_PASSED, checks=", ".join(self.failed))
            yield Line(text, bold=True, rank=Rank.SIZE, shorter=(say(NOT_PASSED, checks=say(TOLD_THERE)),))

    @property
    def _width(self) -> str:
        return say(CUT_WIDTH, width=self.cut_width)

    @property
    def _garment(self) -> tuple[Line, ...]:
        return (Line(self.garment, shorter=("",)),) if self.garment else ()


def label_of(figures: Figures, edition: Edition) -> Label:
    """Return the label of a strip in the language of the document; the units of the edition lead.

    Length and width are those of the cutting chart: a full length is twice the rounded half.
    """
    units, on_fold = edition.units, figures.cut is Cut.ON_FOLD
    half = figures.half_length_mm
    length = _kept(both(half, units, times=1 if on_fold else 2))
    stretch = figures.fabric_stretch
    finished = _kept(
        say(HEIGHT if figures.standing.stands else FINISHED_WIDTH, width=both(figures.finished_width_mm, units))
    )
    good_to = (
        _kept(say("good up to {width}", width=both(figures.widest_mm, units, down=True))) if figures.widest_mm else ""
    )
    return Label(
        name=figures.name,
        size=figures.size,
        view=_kept(told(told_views(figures.views))),
        cut=say(CUT[figures.cut.value], count=figures.quantity).upper(),
        title=edition.title,
        end=told(length),
        cut_length=say(FROM_FOLD, length=length) if on_fold else told(length),
        cut_width=told(_kept(both(figures.cut_width_mm, units, up=figures.finish.rounds_up))),
        finished_width=finished,
        widest=f"{finished}, {good_to}" if good_to else finished,
        sewn_length=_kept(say("sewn length {length}", length=both(figures.loop_mm, units))),
        finish=told(figures.finish_words),
        fabric=(
            say("{fabric}, {share} stretch", fabric=figures.fabric, share=percent(stretch))
            if figures.fabric and stretch is not None
            else ""
        ),
        ratio=say(
            "{share} of the {edge}, {length}",
            share=percent(figures.ratio.used),
            edge=figures.edge.label,
            length=_kept(both(figures.edge.edge_mm, units)),
        ),
        garment=told(figures.cut_words),
        # what is free is as long as it is to be, and what is cut to shape as long as its edge
        good=""
        if figures.contour_mm is not None or (figures.section and figures.section.free)
        else told(good_lengths(figures, units, kept=True)),
        end_allowance=_end_allowance(figures, units),
        notches=tuple(
            (told(MARKS.get(notch.name, notch.name)), told(_kept(both(notch.at_mm, units))))
            for notch in figures.notches
        ),
        units=units,
        bias=told(figures.bias.words(units)) if figures.bias else "",
        runs_on=told(figures.runs_on.words(units)) if figures.runs_on.there else "",
        buttons=told(figures.buttons.words(units, kept=True)) if figures.buttons else "",
        elastic=told(figures.elastic.words(units, kept=True)) if figures.elastic else "",
        failed=tuple(told(one.short) for one in figures.failed),
    )


def in_languages(each: Sequence[Sequence[Line]]) -> tuple[Line, ...]:
    """Return the lines of a label in its languages, those of one fact in one line; without room the first alone."""
    found = []
    for first, *others in zip(*each, strict=True):
        texts = dict.fromkeys((first.text, *(line.text for line in others)))
        found.append(first._replace(text=BETWEEN_LANGUAGES.join(texts), alone=first.text) if len(texts) > 1 else first)
    return tuple(found)


def _end_allowance(figures: Figures, units: str) -> str:
    sew, stop = _kept(both(figures.join_allowance_mm, units)), figures.end.open_below
    if figures.is_open:
        return _open_ends(figures, units)
    if not stop:
        return say(AT_THE_END, length=sew)
    return say(
        "stitch {length} from the cut end, stop {stop} from the edge that is sewn on first",
        length=sew,
        stop=_kept(both(stop, units)),
    )


def _open_ends(figures: Figures, units: str) -> str:
    """Say it of the ends of an open strip, or of a section of one, which has joins too."""
    names: Sequence[str] = figures.section.ends if figures.section else [figures.ends.words]
    found = []
    for name, end in zip(names, (figures.left_end, figures.end)[-len(names) :], strict=True):
        own = END_ALLOWANCES[figures.ends] if end.allowance_along else STAYS_RAW
        template = own if name == figures.ends.words else AT_THE_END
        found.append(say(template, length=_kept(both(end.allowance_along, units))))
    if len(set(found)) == 1:
        return found[0]
    return say("on the left {left}, on the right {right}", left=found[0], right=found[1])


def good_lengths(figures: Figures, units: str, *, kept: bool = False) -> Words:
    """Say between which sewn lengths the strip is good; ``kept`` lengths are not parted at the end of a line."""
    edge, ratio = figures.edge.edge_mm, figures.ratio
    used: str = percent(MOST_STRETCH_USED)
    shortest: str = both(ratio.tightest * edge, units)
    longest: str = Number() if ratio.flat is None else both(ratio.flat * edge, units)
    if kept:
        shortest, longest, used = _kept(shortest), _kept(longest), _kept(used)
    if ratio.flat is None:
        return Words("good from {shortest}, {used} of the stretch", shortest=shortest, used=used)
    if ratio.flat < ratio.tightest:
        return Words(
            "no good length: {used} of the stretch takes {shortest}, and only up to {longest} lies flat",
            used=used,
            shortest=shortest,
            longest=longest,
        )
    return Words(
        "good from {shortest}, {used} of the stretch, to {longest}, longest that lies flat",
        shortest=shortest,
        used=used,
        longest=longest,
    )


def _kept(text: str) -> str:
    """Return a text that no line break parts; a length stays a number."""
    kept = text.replace(" ", KEEP)
    return Number(kept) if isinstance(text, Number) else kept
