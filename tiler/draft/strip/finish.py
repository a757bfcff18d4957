"""The finishes: how wide each is cut, where it is pressed, which edges are sewn.

Lengths are millimetres.  With finished width w, band allowance s, trim allowance
e, cover c and cloth thickness t the strip is cut

- folded-band:          2 (w + s)          geometry
- double-fold-binding:  4 w + c + 2 pi t   handbook rule (tape of four times the finished width)
- french-binding:       6 w + 2 c + 5 pi t handbook rule (six times the finished width)
- raw-edge-binding:     3 w + e + 1.5 pi t geometry

The thickness terms: m layers that wrap by half a turn round n layers are longer
by pi (n + m) t / 2 along their middle.  They wrap the garment (1) and the
strip's own allowance: n = 3 with the turned-under edge, 3 and m = 2 doubled,
2 with the back edge raw.  Pressing takes some of it away: an upper bound.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import pi


class Finish(StrEnum):
    """How the strip finishes the edge."""

    FOLDED_BAND = "folded-band"
    DOUBLE_FOLD = "double-fold-binding"
    FRENCH = "french-binding"
    RAW_EDGE = "raw-edge-binding"

    @property
    def is_band(self) -> bool:
        """A band stands inside the edge; a binding wraps around it."""
        return self is Finish.FOLDED_BAND

    @property
    def words(self) -> str:
        """The finish as people read it."""
        return _WORDS[self]


class Cut(StrEnum):
    """What is drawn: half of the strip for folded fabric, or all of it."""

    ON_FOLD = "on-fold"
    FULL_LOOP = "full-loop"

    @property
    def words(self) -> str:
        """The cut as people read it."""
        return "on fold" if self is Cut.ON_FOLD else "full length"


_WORDS = {
    Finish.FOLDED_BAND: "folded band",
    Finish.DOUBLE_FOLD: "double-fold binding (turned under, 4 layers)",
    Finish.FRENCH: "french binding (doubled)",
    Finish.RAW_EDGE: "raw-edge binding",
}


@dataclass(frozen=True)
class Allowances:
    """What the cut width adds to the finished width: s, e, c and t of the module's formulas, mm."""

    seam: float = 0.0
    trim: float = 0.0
    cover: float = 0.0
    thickness: float = 0.0


@dataclass(frozen=True)
class PressLine:
    """A line to press along: its distance from the lower edge, mm, and what is done there."""

    y_mm: float
    label: str


def cut_width(finish: Finish, finished_width: float, extra: Allowances) -> float:
    """Return the cut width for a finished width, mm."""
    factor, fixed = _width_terms(finish, extra)
    return factor * finished_width + fixed


def finished_width(finish: Finish, cut: float, extra: Allowances) -> float:
    """Return the finished width of a strip that is cut ``cut`` mm wide; zero or less when nothing is left."""
    factor, fixed = _width_terms(finish, extra)
    return (cut - fixed) / factor


def press_lines(finish: Finish, width: float, extra: Allowances) -> tuple[PressLine, ...]:
    """Return the lines to press along for a finished width, mm, from the edge that is sewn first.

    A band and a french binding are pressed in half before they are sewn.  The
    two single bindings are sewn one finished width from the lower edge and
    pressed over that seam; they fold where they pass the garment's raw edge,
    half of the thickness term being used up there; the double fold is also
    turned under one finished width from its upper edge.
    """
    cut = cut_width(finish, width, extra)
    if finish in (Finish.FOLDED_BAND, Finish.FRENCH):
        return (PressLine(cut / 2, "press in half"),)
    wrap = pi * extra.thickness
    if finish is Finish.RAW_EDGE:
        return (PressLine(width, "sew, press over"), PressLine(2 * width + 0.75 * wrap, "fold over the edge"))
    return (
        PressLine(width, "sew, press over"),
        PressLine(2 * width + wrap, "fold over the edge"),
        PressLine(cut - width, "turn under"),
    )


def sewn_edges(finish: Finish) -> tuple[str, ...]:
    """Return the long edges that the first seam takes: both where the strip is doubled, else the lower one."""
    return ("lower", "upper") if finish in (Finish.FOLDED_BAND, Finish.FRENCH) else ("lower",)


def _width_terms(finish: Finish, extra: Allowances) -> tuple[int, float]:
    wrap = pi * extra.thickness
    match finish:
        case Finish.FOLDED_BAND:
            return 2, 2 * extra.seam
        case Finish.DOUBLE_FOLD:
            return 4, extra.cover + 2 * wrap
        case Finish.FRENCH:
            return 6, 2 * extra.cover + 5 * wrap
        case Finish.RAW_EDGE:
            return 3, extra.trim + 1.5 * wrap
