"""The finishes: how wide each is cut, where it is pressed, which edges are sewn, where its lines come to lie.

Lengths are millimetres.  With finished width w, band allowance s, trim allowance
e, cover c, cloth thickness t and garment thickness g the strip is cut

- folded-band:          2 (w + s)                        geometry
- double-fold-binding:  4 w + c + pi (2.5 t + 0.5 g)     handbook rule (tape of four times the finished width)
- french-binding:       6 w + 2 c + pi (6.5 t + g)       handbook rule (six times the finished width)
- raw-edge-binding:     3 w + e + pi (1.5 t + 0.5 g)     geometry
- fold-over-elastic:    2 w                              as it is bought, folded in its middle

The thickness terms follow the middle of the strip round every half turn of its
section: m layers that wrap by half a turn round n layers are longer by
pi (n + m) t / 2 along their middle.  The turns are those at the seam, at the
garment's raw edge, and of the turned-under or doubled edge on itself.  Pressing
takes some of it away.

A band and a french binding are pressed in half before they are sewn.  The two
single bindings are sewn one finished width from the lower edge and pressed over
that seam; they fold in the middle of their turn round the garment's raw edge; the
double fold is also turned under one finished width from its upper edge.  Elastic that
folds over the edge is sewn in one, and only its length is cut.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import asdict, dataclass
from enum import StrEnum
from math import pi

from tiler.languages.proved import CUT
from tiler.languages.words import Words

USUAL_BAND, USUAL_BINDING = 0.85, 0.90
"""Shares of the edge: common practice, starting values."""

USUAL_COVER = {"in": "1/8 in", "cm": "3 mm"}
"""How far the back fold passes the stitching where nothing is said, by the unit of the spec: ours."""

Profile = tuple[tuple[float, float], ...]
"""Points (y, distance), mm: at a height of the strip, from its lower edge, how far something lies from a line."""


@dataclass(frozen=True)
class Allowances:
    """What the cut width adds to the finished width: s, e, c, t and g of the module's formulas, mm."""

    seam: float = 0.0
    trim: float = 0.0
    cover: float = 0.0
    thickness: float = 0.0
    garment: float = 0.0

    def turns(self, strip: float, garment: float) -> float:
        """Return what half turns take: pi times so many thicknesses of the strip and of the garment, mm."""
        return pi * (strip * self.thickness + garment * self.garment)


@dataclass(frozen=True)
class Widths(Allowances):
    """The allowances of a strip with its finished width ``w`` and its cut width, mm."""

    w: float = 0.0
    cut: float = 0.0


@dataclass(frozen=True)
class PressLine:
    """A line to press along: its distance from the lower edge, mm, and what is done there."""

    y_mm: float
    label: str


@dataclass(frozen=True)
class Making:
    """How a strip is cut, pressed and sewn.

    It is cut ``times`` its finished width wide, and ``more`` mm.  ``press`` gives the lines
    to press along from the edge that is sewn first, ``inside`` how far inside the seam line
    the strip's lines come to lie when it is finished.
    """

    words: str
    """The finish as people read it."""
    hint: str
    """What it does, in a few words, for somebody who has to choose."""
    is_band: bool
    """A band stands inside the edge; a binding wraps around it."""
    times: int
    more: Callable[[Allowances], float]
    press: Callable[[Widths], tuple[PressLine, ...]]
    inside: Callable[[Widths], Profile]
    doubled: bool = False
    """Whether the first seam takes both long edges, or only the lower one."""
    usual_ratio: float = USUAL_BINDING
    starts_with: float = 0.10
    """Share of the fabric's stretch that the advised length starts with."""
    keys: tuple[str, ...] = ()
    """Keys of a piece that have a meaning for few finishes, this one among them."""
    bought: bool = False
    """Whether it is bought in its width, so that only its length is cut and no piece is drawn."""


class Finish(StrEnum):
    """How the strip finishes the edge: its word in a spec, and its :class:`Making`."""

    making: Making

    def __new__(cls, word: str, *making: Making) -> Finish:
        """Make a member that is its word; who asks for one by its word gives no making."""
        member = str.__new__(cls, word)
        member._value_ = word
        (member.making,) = making
        return member

    FOLDED_BAND = (
        "folded-band",
        Making(
            words=Words("folded band"),
            hint="folded in half, stands inside the edge",
            is_band=True,
            times=2,
            more=lambda extra: 2 * extra.seam,
            press=lambda strip: (PressLine(strip.cut / 2, Words("press in half")),),
            inside=lambda strip: ((0.0, -strip.seam), (strip.cut / 2, strip.w), (strip.cut, -strip.seam)),
            doubled=True,
            usual_ratio=USUAL_BAND,
            starts_with=0.25,
        ),
    )
    DOUBLE_FOLD = (
        "double-fold-binding",
        Making(
            words=Words("double-fold binding (turned under, 4 layers)"),
            hint="wraps the edge, turned under behind",
            is_band=False,
            times=4,
            more=lambda extra: extra.cover + extra.turns(2.5, 0.5),
            press=lambda strip: (
                PressLine(strip.w, Words("sew, press over")),
                PressLine(2 * strip.w + strip.turns(1.25, 0.25), Words("fold over the edge")),
                PressLine(strip.cut - strip.w, Words("turn under")),
            ),
            inside=lambda strip: (
                (0.0, 0.0),
                (strip.w, 0.0),
                (2 * strip.w + strip.turns(1.25, 0.25), strip.w),
                (strip.cut - strip.w, -strip.cover),
                (strip.cut, strip.w - strip.cover),
            ),
            keys=("cover",),
        ),
    )
    FRENCH = (
        "french-binding",
        Making(
            words=Words("french binding (doubled)"),
            hint="wraps the edge, of doubled cloth",
            is_band=False,
            times=6,
            more=lambda extra: 2 * extra.cover + extra.turns(6.5, 1.0),
            press=lambda strip: (PressLine(strip.cut / 2, Words("press in half")),),
            inside=lambda strip: _mirrored(
                (0.0, 0.0),
                (strip.w, 0.0),
                (2 * strip.w + strip.turns(1.625, 0.25), strip.w),
                (strip.cut / 2, -strip.cover),
            ),
            doubled=True,
            keys=("cover",),
        ),
    )
    RAW_EDGE = (
        "raw-edge-binding",
        Making(
            words=Words("raw-edge binding"),
            hint="wraps the edge, left raw behind",
            is_band=False,
            times=3,
            more=lambda extra: extra.trim + extra.turns(1.5, 0.5),
            press=lambda strip: (
                PressLine(strip.w, Words("sew, press over")),
                PressLine(2 * strip.w + strip.turns(1.0, 0.25), Words("fold over the edge")),
            ),
            inside=lambda strip: (
                (0.0, 0.0),
                (strip.w, 0.0),
                (2 * strip.w + strip.turns(1.0, 0.25), strip.w),
                (strip.cut, -strip.trim),
            ),
            keys=("trim-allowance",),
        ),
    )
    FOLD_OVER = (
        "fold-over-elastic",
        Making(
            words=Words("fold-over elastic"),
            hint="bought by its length, folded over the edge",
            is_band=False,
            times=2,
            more=lambda _: 0.0,
            press=lambda _: (),
            inside=lambda strip: ((0.0, 0.0), (strip.w, strip.w), (strip.cut, 0.0)),
            bought=True,
        ),
    )

    @property
    def is_band(self) -> bool:
        """A band stands inside the edge; a binding wraps around it."""
        return self.making.is_band

    @property
    def is_bought(self) -> bool:
        """It is bought in its width: only its length is cut, and no piece is drawn."""
        return self.making.bought

    @property
    def rounds_up(self) -> bool:
        """Whether its cut width is rounded up: a binding is cut rather too wide; what is bought has its width."""
        return not (self.is_band or self.is_bought)

    @property
    def words(self) -> str:
        """The finish as people read it."""
        return self.making.words


class Cut(StrEnum):
    """What is drawn: half of the strip for folded fabric, or all of it."""

    ON_FOLD = "on-fold"
    FULL_LOOP = "full-loop"

    @property
    def words(self) -> str:
        """The cut as people read it."""
        return "on fold" if self is Cut.ON_FOLD else "full length"

    def counted(self, count: int) -> Words:
        """Say how often a strip is cut, and how: ``cut 2 on fold``."""
        return Words(CUT[self.value], count=count)


def cut_width(finish: Finish, finished_width: float, extra: Allowances) -> float:
    """Return the cut width for a finished width, mm."""
    return finish.making.times * finished_width + finish.making.more(extra)


def finished_width(finish: Finish, cut: float, extra: Allowances) -> float:
    """Return the finished width of a strip that is cut ``cut`` mm wide; zero or less when nothing is left."""
    return (cut - finish.making.more(extra)) / finish.making.times


def press_lines(finish: Finish, width: float, extra: Allowances) -> tuple[PressLine, ...]:
    """Return the lines to press along for a finished width, mm, from the edge that is sewn first."""
    return finish.making.press(_widths(finish, width, extra))


def lies_inside(finish: Finish, width: float, extra: Allowances) -> Profile:
    """Return how far inside the seam line the lines of a strip of this finished width, mm, come to lie."""
    return finish.making.inside(_widths(finish, width, extra))


def sewn_edges(finish: Finish) -> tuple[str, ...]:
    """Return the long edges that the first seam takes: both where the strip is doubled, else the lower one."""
    return ("lower", "upper") if finish.making.doubled else ("lower",)


def _widths(finish: Finish, width: float, extra: Allowances) -> Widths:
    cut = cut_width(finish, width, extra)
    return Widths(**asdict(extra), w=width, cut=cut)


def _mirrored(*half: tuple[float, float]) -> Profile:
    """Return the profile of a doubled strip from that of its lower half, up to the fold."""
    middle = half[-1][0]
    return (*half, *((2 * middle - y, inside) for y, inside in reversed(half[:-1])))
