"""Where the edge bends too much for a strip that is cut straight; mm.

Over a stretch of edge of the length a = max(6 w, 8 cm), or all of a shorter edge, a strip of
the finished width w lies flat up to 1 - w turn / a of it.  turn is the net smooth turning there,
radians, and 2 tan(phi / 2) for each corner of phi that the strip runs round.  Cloth gives, so the
strip stands away only where its own ratio there is more than 0.06 above that.  The stretches
run across folds, shoulders and the end seam of a closed edge.  All of it is a model of ours.

A drawn part may run either way, so both ways are tried and the milder one is believed.  An edge
that was measured with a tape has no places: only what is drawn or described is looked at.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from math import fsum, radians, tan
from typing import NamedTuple

from tiler.draft.advice.finding import Check, Finding
from tiler.draft.edge.numbers import Bend, Part
from tiler.draft.edge.part_words import curve_words
from tiler.draft.edge.path import Path
from tiler.draft.edge.seam_line import EdgeSpec, Kind, MeasuredPart, SeamLine
from tiler.draft.spec.piece import PieceSpec
from tiler.draft.strip.corner import Corner
from tiler.languages.words import Number, Words, choice
from tiler.lengths import both, percent
from tiler.sentence import Key

LEAST_REACH = 80.0
WIDTHS = 6.0
SHOULDER = Words("the shoulder")
UNDERARM = Words("the underarm")
CF, CB = Words("CF"), Words("CB")
GIVES = 0.06
"""How far above its flat limit a strip may be over such a stretch, a share: cloth gives."""

MOST_OVER = 2 * GIVES
"""From here on no pressing helps and the check is not passed; below, a trial tells."""

AT = 5.0
"""What is nearer to a seam or a centre is said to lie there, mm."""


@dataclass(frozen=True)
class _Way:
    """A part as it is met along the edge, its strip, and what comes behind it: the joint, and its corner, degrees.

    ``backward`` tells that it is run against the direction in which it was stated.
    """

    part: Part
    path: Path
    backward: bool
    joint: str
    corner_deg: float

    @property
    def length(self) -> float:
        return fsum(step.length_mm for step in self.path)


@dataclass(frozen=True)
class _Run:
    """Parts that follow each other; a run that is not closed begins at the joint ``first``."""

    ways: tuple[_Way, ...]
    closed: bool
    first: str

    @property
    def length(self) -> float:
        return fsum(way.length for way in self.ways)


class _Node(NamedTuple):
    """A point of a run: its place, and from the start up to it the turn, the strip, and turn times place."""

    at: float
    turn: float = 0.0
    strip: float = 0.0
    bent: float = 0.0
    moment: float = 0.0


def worst_bend(
    edge: EdgeSpec, line: SeamLine, parts: Sequence[Part], width: float, mitred: bool, units: str
) -> Bend | None:
    """Return the stretch where the strip stands furthest above its flat limit; ``None`` where no part has a path."""
    reach = min(max(WIDTHS * width, LEAST_REACH), line.length_mm)
    flips = [(False, True) if part.path and part.drawn else (False,) for part in line.parts]
    found = []
    for flip in product(*flips):
        runs = _runs(edge.kind, line.parts, parts, mitred, flip)
        bends = [bend for run in runs if (bend := _sharpest(run, reach, width, units))]
        found += [max(bends, key=lambda bend: bend.over_limit)] if bends else []
    return min(found, key=lambda bend: bend.over_limit) if found else None


def bend_findings(bend: Bend | None, narrower: bool, by_curve: bool, mitre: bool, units: str) -> Iterator[Finding]:
    """Yield the worst place where it matters; ``narrower``, ``by_curve`` and ``mitre`` tell which ways out are open."""
    if bend is None or bend.over_limit <= GIVES:
        return
    limit = Words("lies flat nowhere")
    if bend.flat_limit > 0:
        limit = Words("lies flat up to {share} of it", share=percent(bend.flat_limit, down=True))
    ways = [
        *([Words("make the strip narrower")] if narrower else []),
        *([Words("write {key}", key=Key("ease", '"by-curve"'))] if by_curve else []),
        *([Words("mitre the point with {key}", key=Key("corner", '"mitre"'))] if mitre else []),
        Words("cut a contour band, shaped like the edge"),
    ]
    yield Finding(
        Check.BEND if bend.over_limit > MOST_OVER else Check.REMARK,
        Words(
            "Bends too much {place}: over {length} of the edge the strip {limit}, and it has {share} there",
            place=bend.place,
            length=both(bend.over_mm, units),
            limit=limit,
            share=percent(bend.ratio),
        ),
        choice(ways),
        "; ",
        Words("it stands away in a bend"),
    )


def mitrable(piece: PieceSpec) -> bool:
    """Tell whether the edge has a point that could be mitred, and is not."""
    return piece.corner is Corner.NONE and piece.edge.point_deg is not None


def _runs(
    kind: Kind, measured: Sequence[MeasuredPart], parts: Sequence[Part], mitred: bool, flip: Sequence[bool]
) -> Iterator[_Run]:
    """Yield the parts that have a path, in the order in which they are met."""
    fore: tuple[_Way, ...]
    aft: tuple[_Way, ...]

    def way(index: int, backward: bool, joint: str, corner: float) -> _Way:
        path, turned = measured[index].path, backward != flip[index]
        return _Way(parts[index], tuple(reversed(path)) if turned else path, turned, joint, corner)

    if not any(part.path for part in measured):
        return
    if len(parts) == 1:
        if measured[0].path:
            yield _Run((way(0, False, "", measured[0].start_deg),), measured[0].closed, "")
        return
    front, back = measured
    point = 0.0 if mitred else front.start_deg
    if kind is Kind.NECKLINE:
        fore = (way(0, True, CF, point), way(0, False, SHOULDER, front.end_deg))
        aft = (way(1, True, CB, back.start_deg), way(1, False, SHOULDER, back.end_deg))
        ends = SHOULDER, SHOULDER
    else:
        fore = (way(0, False, SHOULDER, front.end_deg),)
        aft = (way(1, True, UNDERARM, back.start_deg),)
        ends = UNDERARM, SHOULDER
    if front.path and back.path:
        yield _Run((*fore, *aft), True, ends[0])
    elif front.path:
        yield _Run(fore, False, ends[0])
    elif back.path:
        yield _Run(aft, False, ends[1])


def _sharpest(run: _Run, reach: float, width: float, units: str) -> Bend | None:
    """Return the stretch of the length ``reach`` where the strip stands furthest above its limit."""
    length = run.length
    if not run.closed and length < reach - 1e-6:
        return None
    nodes = _nodes(run, laps=2 if run.closed else 1)
    places = [node.at for node in nodes]
    last = nodes[-1].at - reach

    def after(at: float) -> _Node:
        return _between(nodes, bisect_left(places, at), at)

    def before(at: float) -> _Node:
        return _between(nodes, bisect_right(places, at), at)

    # what is sought is linear between these starts, so it is greatest at one of them
    starts = {start for at in places for start in (at, at - reach) if 0 <= start <= last + 1e-9}
    best: tuple[float, _Node, _Node] | None = None
    for start in sorted(starts):
        begin, end = after(start), before(start + reach)
        over = end.strip - begin.strip - reach + width * (end.turn - begin.turn)
        if best is None or over > best[0] + 1e-9:
            best = over, begin, end
    if best is None:
        return None
    _, begin, end = best
    bent = end.bent - begin.bent
    centre = (end.moment - begin.moment) / bent if bent > 1e-9 else (begin.at + end.at) / 2
    limit = 1 - width * (end.turn - begin.turn) / reach
    return Bend(_place(run, centre % length, units), reach, limit, (end.strip - begin.strip) / reach)


def _nodes(run: _Run, laps: int) -> list[_Node]:
    nodes = [_Node(0.0)]
    for way in run.ways * laps:
        legs: dict[int, float] = {}
        for step in way.path:
            legs[step.leg] = legs.get(step.leg, 0.0) + step.length_mm
        for step in way.path:
            strip = way.part.legs_mm[step.leg] * step.length_mm / legs[step.leg] if step.length_mm else 0.0
            nodes.append(_further(nodes[-1], step.length_mm, step.smooth + _corner(step.corner_deg), strip))
        nodes.append(_further(nodes[-1], 0.0, _corner(way.corner_deg), 0.0))
    return nodes if run.closed else nodes[:-1]


def _corner(angle_deg: float) -> float:
    """Return what a corner takes up as if it were an angle, radians."""
    return 2 * tan(radians(angle_deg) / 2)


def _further(node: _Node, length: float, turn: float, strip: float) -> _Node:
    middle, bent = node.at + length / 2, abs(turn)
    return _Node(node.at + length, node.turn + turn, node.strip + strip, node.bent + bent, node.moment + bent * middle)


def _between(nodes: Sequence[_Node], index: int, at: float) -> _Node:
    """Return the point at ``at``, which lies before the node of this index."""
    if index == 0 or index == len(nodes):
        return nodes[min(index, len(nodes) - 1)]
    low, high = nodes[index - 1], nodes[index]
    share = (at - low.at) / (high.at - low.at) if high.at > low.at else 0.0
    return _Node._make(a + share * (b - a) for a, b in zip(low, high, strict=True))


def _place(run: _Run, at: float, units: str) -> str:
    start = 0.0
    before = run.ways[-1].joint if run.closed else run.first
    for way in run.ways:
        along = at - start
        if along <= way.length + 1e-9:
            break
        start, before = start + way.length, way.joint
    if way.part.drawn:
        share = 1 - along / way.length if way.backward else along / way.length
        along_it = Number(f"{share * 100:.0f} %")
        return Words("{share} {along}", share=along_it, along=curve_words(way.part.name))
    distance, near = min((along, before), (way.length - along, way.joint))
    if distance < AT:
        return Words("at {place}", place=near)
    first, then = sorted((before, way.joint), key=lambda name: name != CF)
    apart = both(distance, units)
    return Words("between {first} and {then}, {length} from {near}", first=first, then=then, length=apart, near=near)
