"""The range bar: from the tightest to the longest good length, with the advised one and the strip's own on it."""

from __future__ import annotations

from dataclasses import dataclass
from math import isclose
from typing import NamedTuple

from tiler.draft.figures import Figures
from tiler.draft.label import good_lengths
from tiler.lengths import both

ROOM = 0.06
"""White beyond the outermost mark, as a share of the bar."""

NARROW = 0.3
"""Nearer to an end than this a text begins or ends at its mark."""

SHORT = {"tightest": "tightest", "longest": "longest", "advised": "advised", "own": "this strip"}


class Tick(NamedTuple):
    """A mark on the bar: what it is, its words, its length, where it stands in % of the bar, and how its text lies.

    ``short`` is what there is room for beside the mark.
    """

    kind: str
    words: str
    length: str
    at: str
    anchor: str
    short: str


@dataclass(frozen=True)
class RangeBar:
    """The bar of one strip: from where to where a length is good, in % of the bar, and the marks on it."""

    begin: str
    wide: str
    is_good: bool
    ticks: tuple[Tick, ...]
    words: str


def range_bar(figures: Figures, units: str) -> RangeBar | None:
    """Return the bar of a strip; of one that needs not lie flat its edge itself is the upper end.

    A band that is cut to the shape of its edge has one length only.
    """
    if figures.contour_mm is not None:
        return None
    edge, ratio = figures.edge.edge_mm, figures.ratio
    longest = 1.0 if ratio.flat is None else ratio.flat
    as_advised = isclose(ratio.used, ratio.advised, rel_tol=1e-6)
    lengths = {
        "tightest": ("tightest", ratio.tightest),
        "longest": ("as long as the edge" if ratio.flat is None else "longest that lies flat", longest),
        "advised": ("advised", ratio.advised),
        "own": ("this strip, as advised" if as_advised else "this strip", ratio.used),
    }
    if as_advised:
        del lengths["advised"]
    low, high = min(share for _, share in lengths.values()), max(share for _, share in lengths.values())
    room = max(high - low, 0.01) * ROOM
    low, high = low - room, high + room

    def at(share: float) -> float:
        return (share - low) / (high - low)

    ticks = tuple(
        Tick(kind, words, both(share * edge, units), _percent(at(share)), _anchor(at(share)), SHORT[kind])
        for kind, (words, share) in lengths.items()
    )
    first, last = sorted((at(ratio.tightest), at(longest)))
    told = "; ".join(f"{tick.words} {tick.length}" for tick in ticks[2:])
    return RangeBar(
        _percent(first),
        _percent(last - first),
        ratio.tightest <= longest,
        ticks,
        f"{good_lengths(figures, units)}; {told}",
    )


def _percent(share: float) -> str:
    return f"{100 * share:.2f}%"


def _anchor(at: float) -> str:
    return "start" if at < NARROW else "end" if at > 1 - NARROW else "middle"
