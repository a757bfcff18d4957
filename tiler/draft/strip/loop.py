"""How long the closed strip is: the ways to the loop.

Lengths are millimetres, stretch is a share.

- advised: what the bounds of the edge and the fabric advise (``bounds``), the default.
- flat: the longest that lies flat (``bounds``).
- usual: 0.85 of the edge for a band, 0.90 for a binding: common practice, kept as it is.
- a share of the edge; the pattern's own strip and edge; a sewn length; a body to fit.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from tiler.draft.edge.seam_line import Kind
from tiler.draft.spec.table import Table
from tiler.draft.strip.bounds import TENSION, Bounds, Fit
from tiler.lengths import both, parse_percent, percent
from tiler.sentence import Key, Phrase, Sentence

ASSUMED_STRETCH = 0.5
"""Stretch that the advice takes when no fabric is named: our assumption."""

MOST_RATIO = 2.0
KEYS = ("ratio", "loop", "fits")


@dataclass(frozen=True)
class AdvisedRatio:
    """The length that edge, width and fabric advise."""


@dataclass(frozen=True)
class UsualRatio:
    """The usual share of the edge."""


@dataclass(frozen=True)
class FlatRatio:
    """The longest length that lies flat."""


@dataclass(frozen=True)
class CasingRatio:
    """As long as the edge, since elastic draws it in."""


@dataclass(frozen=True)
class StatedRatio:
    """A share of the edge, from a pattern or from experience."""

    ratio: float


@dataclass(frozen=True)
class PatternPair:
    """A pattern's own strip and the edge that it was drafted for, mm."""

    loop_mm: float
    edge_mm: float


@dataclass(frozen=True)
class StatedLoop:
    """A sewn length, mm."""

    loop_mm: float


@dataclass(frozen=True)
class FitsBody:
    """The body that the closed strip goes round, mm, and by which share of it the strip is larger."""

    body_mm: float
    larger_by: float


LoopSpec = AdvisedRatio | UsualRatio | FlatRatio | CasingRatio | StatedRatio | PatternPair | StatedLoop | FitsBody


def read_loop(table: Table, kind: Kind) -> LoopSpec:
    """Read ``ratio``, ``loop`` or ``fits`` of a piece; the advised ratio when none is given."""
    match table.only_one(*KEYS):
        case "loop":
            return StatedLoop(table.length("loop", ""))
        case "fits":
            fits = table.table("fits", ("body", "ease"), "")
            larger_by = fits.percent("ease", least=-0.5, most=0.5) if fits.has("ease") else 0.0
            return FitsBody(fits.length("body", Key("body", '"17.5 cm"')), larger_by)
        case "ratio":
            return _read_ratio(table, kind, table.raw("ratio", ""))
        case _:
            return AdvisedRatio()


def loop_length(spec: LoopSpec, found: Bounds, usual: float) -> float:
    """Return the sewn length, mm, on an edge with these bounds; ``usual`` is the finish's usual share of it."""
    match spec:
        case AdvisedRatio():
            length = found.advised_mm
        case UsualRatio():
            length = usual * found.edge_mm
        case FlatRatio():
            # a straight edge, which has none, is refused where the spec is read
            assert found.flat_mm is not None
            length = found.flat_mm
        case CasingRatio():
            length = found.edge_mm
        case StatedRatio(ratio):
            length = ratio * found.edge_mm
        case PatternPair(loop, own_edge):
            length = loop / own_edge * found.edge_mm
        case StatedLoop(loop):
            length = loop
        case FitsBody(body, larger_by):
            length = body * (1 + larger_by)
    return length


def start_length(spec: LoopSpec, found: Fit, usual: float) -> float:
    """Return the sewn length before any fitting, mm; parts with a ratio of their own keep it."""
    if found.rest is None:
        return found.stated_mm
    whole = isinstance(spec, StatedLoop | FitsBody) or not found.stated_mm
    return loop_length(spec, found.whole, usual) if whole else found.stated_mm + loop_length(spec, found.rest, usual)


def source(spec: LoopSpec, found: Fit, units: str) -> str:
    """Say in a few words where the length comes from."""
    if found.rest is None:
        return Sentence("each part of the edge: ", Phrase.STATED)
    words = _source(spec, found.whole, units)
    return Sentence(words, "; parts with a ratio of their own: ", Phrase.STATED) if found.stated_mm else words


def _source(spec: LoopSpec, found: Bounds, units: str) -> str:
    match spec:
        case AdvisedRatio():
            words = f"advised: {found.decided_by}; our model, so make a trial"
        case UsualRatio():
            words = "usual: common practice, a starting value"
        case FlatRatio():
            words = f"flat: finished edge under {percent(TENSION)} tension, our model"
        case CasingRatio():
            words = "as long as the edge, since the elastic draws it in"
        case StatedRatio():
            words = Sentence("ratio: ", Phrase.STATED)
        case PatternPair(loop, edge):
            words = f"ratio: the pattern's own, {both(loop, units)} on {both(edge, units)}"
        case StatedLoop():
            words = Sentence("loop: sewn length ", Phrase.STATED)
        case FitsBody(body, larger_by):
            words = f"fits: body {both(body, units)} with {percent(larger_by)} ease"
    return words


def _read_ratio(table: Table, kind: Kind, value: Any) -> LoopSpec:
    if isinstance(value, dict):
        pair = table.table("ratio", ("loop", "edge"), "")
        spec = PatternPair(pair.length("loop", Key("loop", '"19 in"')), pair.length("edge", Key("edge", '"22 in"')))
        if spec.loop_mm > MOST_RATIO * spec.edge_mm:
            pair.refuse("loop", "is more than twice the edge; check the two lengths")
        return spec
    word = value.strip() if isinstance(value, str) else ""
    if word == "advised":
        return AdvisedRatio()
    if word == "usual":
        return UsualRatio()
    if word == "flat":
        if kind is Kind.STRAIGHT:
            table.refuse("ratio", '"flat" means nothing on a straight edge; write ', Phrase.RATIOS)
        return FlatRatio()
    if word.isalpha():
        table.refuse("ratio", f'"{word}" is not known; write "advised", "flat", "usual" or a percentage')
    ratio = parse_percent(value, table.where.at("ratio"), most=MOST_RATIO)
    if ratio == 0:
        table.refuse("ratio", 'is zero; write for instance "85 %"')
    return StatedRatio(ratio)
