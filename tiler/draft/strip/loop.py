"""How long the closed strip is: the ways to the loop, and the longest that lies flat.

Lengths are millimetres, stretch is a share.  E is the edge on its seam line; W
is what the strip must take up in its length because its finished edge runs one
finished width inside the seam line (``tiler.turn``); C is the same at corners
where mitred or lapped ends take it up.

- usual: 0.85 of the edge for a band, 0.90 for a binding: common practice, a
  starting value.
- flat: (E - W - C) / (1 + tau) + C with tau = 0.02 + 0.04 x stretch.  Our own
  model: the strip lies flat when its finished edge is under a slight tension tau,
  which was chosen so that both usual ratios come out of it.
- flat limit: (E - W) / E.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from tiler.draft.edge.seam_line import Kind
from tiler.draft.spec.table import Table
from tiler.lengths import both, parse_percent, percent
from tiler.sentence import Key, Phrase, Sentence

ASSUMED_STRETCH = 0.5
"""Stretch that the flat model takes when no fabric is named: our assumption."""

MOST_RATIO = 2.0
KEYS = ("ratio", "loop", "fits")


@dataclass(frozen=True)
class UsualRatio:
    """The usual share of the edge."""


@dataclass(frozen=True)
class FlatRatio:
    """The length whose finished edge lies flat."""


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


LoopSpec = UsualRatio | FlatRatio | StatedRatio | PatternPair | StatedLoop | FitsBody


def read_loop(table: Table, kind: Kind) -> LoopSpec:
    """Read ``ratio``, ``loop`` or ``fits`` of a piece; the usual ratio when none is given."""
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
            return UsualRatio()


def tension(stretch: float) -> float:
    """Return the slight tension under which a finished edge lies flat, a share: our own model."""
    return 0.02 + 0.04 * stretch


def flat_loop(edge: float, taken_up: float, in_corners: float, stretch: float) -> float:
    """Return the sewn length that lies flat, mm, for E, W and C of the module's formula."""
    return (edge - taken_up - in_corners) / (1 + tension(stretch)) + in_corners


def flat_limit(edge: float, taken_up: float) -> float:
    """Return the longest share of the edge that lies flat."""
    return (edge - taken_up) / edge


def loop_length(spec: LoopSpec, edge: float, usual: float, flat: float) -> float:
    """Return the sewn length, mm, on an edge of ``edge`` mm; ``flat`` is the flat length."""
    match spec:
        case UsualRatio():
            return usual * edge
        case FlatRatio():
            return flat
        case StatedRatio(ratio):
            return ratio * edge
        case PatternPair(loop, own_edge):
            return loop / own_edge * edge
        case StatedLoop(loop):
            return loop
        case FitsBody(body, larger_by):
            return body * (1 + larger_by)


def source(spec: LoopSpec, stretch: float, units: str) -> str:
    """Say in a few words where the length comes from."""
    match spec:
        case UsualRatio():
            return "usual: common practice, a starting value"
        case FlatRatio():
            return f"flat: finished edge under {percent(tension(stretch))} tension, our model"
        case StatedRatio():
            return Sentence("ratio: ", Phrase.STATED)
        case PatternPair(loop, edge):
            return f"ratio: the pattern's own, {both(loop, units)} on {both(edge, units)}"
        case StatedLoop():
            return Sentence("loop: sewn length ", Phrase.STATED)
        case FitsBody(body, larger_by):
            return f"fits: body {both(body, units)} with {percent(larger_by)} ease"


def _read_ratio(table: Table, kind: Kind, value: Any) -> LoopSpec:
    if isinstance(value, dict):
        pair = table.table("ratio", ("loop", "edge"), "")
        spec = PatternPair(pair.length("loop", Key("loop", '"19 in"')), pair.length("edge", Key("edge", '"22 in"')))
        if spec.loop_mm > MOST_RATIO * spec.edge_mm:
            pair.refuse("loop", "is more than twice the edge; check the two lengths")
        return spec
    word = value.strip() if isinstance(value, str) else ""
    if word == "usual":
        return UsualRatio()
    if word == "flat":
        if kind is Kind.STRAIGHT:
            table.refuse("ratio", '"flat" means nothing on a straight edge; write ', Phrase.RATIOS)
        return FlatRatio()
    if word.isalpha():
        table.refuse("ratio", f'"{word}" is not known; write "usual", "flat" or a percentage')
    ratio = parse_percent(value, table.where.at("ratio"), most=MOST_RATIO)
    if ratio == 0:
        table.refuse("ratio", 'is zero; write for instance "85 %"')
    return StatedRatio(ratio)
