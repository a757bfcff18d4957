"""Doubts about the numbers themselves: what is possible, and more often a slip of the pen or the tape.

Lengths are millimetres, shares plain numbers, angles degrees.  Every limit is ours, set
wide around what ordinary garments have: nobody is refused, all are asked to look again.
"""

from __future__ import annotations

from collections.abc import Iterator

from tiler.draft.advice.checks import Sewn
from tiler.draft.advice.finding import Check, Finding
from tiler.draft.edge.seam_line import Kind
from tiler.draft.fastening.open_ends import Ends
from tiler.draft.strip.elastic import cut_elastic
from tiler.languages.catalogue import noted
from tiler.languages.words import Words
from tiler.lengths import both, percent
from tiler.paper import IN
from tiler.sentence import Key

SHORTEST_NECKLINE, LONGEST_NECKLINE = float(12 * IN), float(32 * IN)
MOST_UNLIKE = 3.0
FLATTEST_SHOULDER, STEEPEST_SHOULDER = 5.0, 40.0
LEAST_STRETCH, MOST_STRETCH = 0.05, 2.0
LEAST_RATIO, MOST_RATIO = 0.6, 1.1
WIDEST = 1 / 8
"""A neckline's strip is at most this share of it wide: a quarter of the half neckline."""

LEAST_ELASTIC = 0.6

_SLOPES = {Kind.NECKLINE: (360.0, -4.0), Kind.ARMHOLE: (180.0, 2.0)}
"""How far such an edge turns, degrees, and by how much more for each degree of the shoulder's slope (Gauss-Bonnet)."""

NOISE = 1e-6


def number_findings(sewn: Sewn, units: str) -> Iterator[Finding]:
    """Yield what to look at again: edge, shoulder, fabrics, width and ratio."""
    yield from _neckline(sewn, units)
    yield from _parts(sewn, units)
    yield from _turning(sewn)
    yield from _line(sewn, units)
    yield from _fabrics(sewn)
    yield from _elastic(sewn)
    ratio = sewn.loop_mm / sewn.line.length_mm
    if ratio < LEAST_RATIO - NOISE or ratio > MOST_RATIO + NOISE:
        if ratio < 1:
            says = Words(
                "The strip has {share} of the edge, less than {usual}", share=percent(ratio), usual=percent(LEAST_RATIO)
            )
        else:
            says = Words(
                "The strip has {share} of the edge, more than {usual}", share=percent(ratio), usual=percent(MOST_RATIO)
            )
        yield _doubt(says, Words("check the length, and that strip and edge are both whole or both halves"))


def _doubt(says: str, asks: str) -> Finding:
    return Finding(Check.NUMBER, says, asks, ": ")


def _neckline(sewn: Sewn, units: str) -> Iterator[Finding]:
    edge, length = sewn.piece.edge, sewn.line.length_mm
    if edge.kind is not Kind.NECKLINE:
        return
    in_halves, check = len(edge.parts) == 2 and not edge.listed and edge.outline is None, Words("check the measures")
    if length > LONGEST_NECKLINE + NOISE:
        wholes = Words("check the measures and that wholes were not given as halves")
        longest = both(LONGEST_NECKLINE, units)
        says = Words("The neckline is {length} round, more than {usual}", length=both(length, units), usual=longest)
        yield _doubt(says, wholes if in_halves else check)
    elif length < SHORTEST_NECKLINE - NOISE:
        halves = Words("check the measures and that halves were not given as wholes")
        shortest = both(SHORTEST_NECKLINE, units)
        says = Words("The neckline is {length} round, less than {usual}", length=both(length, units), usual=shortest)
        yield _doubt(says, halves if in_halves else check)
    # a band that stands up may be as high as anybody likes
    if not sewn.piece.standing.stands and sewn.finished_width_mm > WIDEST * length + NOISE:
        yield _doubt(
            Words(
                "The finished width of {width} is over a quarter of the half neckline, {length}",
                width=both(sewn.finished_width_mm, units),
                length=both(length / 2, units),
            ),
            Words("check both"),
        )
    slope = edge.slope_deg
    if slope is not None and not FLATTEST_SHOULDER - NOISE <= slope <= STEEPEST_SHOULDER + NOISE:
        yield _slope(slope)


def _slope(slope: float) -> Finding:
    flat, steep = (
        noted("The {key} of {slope:g}° is flatter than shoulders are"),
        noted("The {key} of {slope:g}° is steeper than shoulders are"),
    )
    return _doubt(
        Words(flat if slope < FLATTEST_SHOULDER else steep, key=Key("shoulder-slope"), slope=slope),
        Words(
            "ordinary ones have {least:g}° to {most:g}°, so check it", least=FLATTEST_SHOULDER, most=STEEPEST_SHOULDER
        ),
    )


def _parts(sewn: Sewn, units: str) -> Iterator[Finding]:
    parts = sewn.line.parts
    if len(parts) != 2 or sewn.piece.edge.listed:
        return
    front, back = parts
    names = front.words, back.words
    longer, shorter = (names, names[::-1])[front.length_mm < back.length_mm]
    most, least = sorted((front.length_mm, back.length_mm), reverse=True)
    if most > MOST_UNLIKE * least + NOISE:
        yield _doubt(
            Words(
                "The {longer} of {most} is over {times:g} times the {shorter} of {least}",
                longer=longer,
                most=both(most, units),
                times=MOST_UNLIKE,
                shorter=shorter,
                least=both(least, units),
            ),
            Words("check both"),
        )
    elif sewn.piece.edge.kind is Kind.NECKLINE and front.length_mm < back.length_mm - 1.0:
        yield _doubt(
            Words(
                "The {front} of {least} is shorter than the {back} of {most}",
                front=names[0],
                least=both(least, units),
                back=names[1],
                most=both(most, units),
            ),
            Words("check that they are not exchanged"),
        )


def _turning(sewn: Sewn) -> Iterator[Finding]:
    """Yield that the parts of a ring do not sum up to what one round a body turns by, whatever its shape."""
    edge, turn = sewn.piece.edge, sewn.piece.edge.turn.total_deg
    if not edge.listed or edge.kind not in _SLOPES or sewn.piece.ends is not Ends.CLOSED:
        return
    about, per_slope = _SLOPES[edge.kind]
    least, most = sorted(about + per_slope * slope for slope in (FLATTEST_SHOULDER, STEEPEST_SHOULDER))
    if not least - NOISE <= turn <= most + NOISE:
        yield _doubt(
            Words(
                "The parts turn by {turn:.0f}° in all, and such an edge by {least:g}° to {most:g}°",
                turn=turn,
                least=least,
                most=most,
            ),
            Words("check their angles"),
        )


def _line(sewn: Sewn, units: str) -> Iterator[Finding]:
    piece = sewn.piece
    edge = piece.edge
    allowance = edge.garment_allowance_mm
    # beside a straight edge both lines are equally long
    if edge.kind is Kind.STRAIGHT:
        return
    # a binding is told what to do with an allowance, and so is a strip that replaces another finish
    if edge.line_assumed and allowance and piece.finish.is_band and piece.replaces is None:
        yield _doubt(
            Words(
                "The edge is taken for the seam line, though the garment has a seam allowance of {width}",
                width=both(allowance, units),
            ),
            Words(
                "if the cut edge was measured, write {key}",
                key=Key("measured-on", '"cut-edge"', ("edge",)),
            ),
        )


def _elastic(sewn: Sewn) -> Iterator[Finding]:
    elastic = cut_elastic(sewn.piece.elastic, sewn.line.length_mm)
    if elastic is None:
        return
    share, check = elastic.closed_mm / sewn.line.length_mm, Words("check both")
    if share > 1 - NOISE:
        yield _doubt(Words("The elastic has {share} of the edge and does not draw it in", share=percent(share)), check)
    elif share < LEAST_ELASTIC - NOISE:
        usual = percent(LEAST_ELASTIC)
        says = Words("The elastic has {share} of the edge, less than {usual}", share=percent(share), usual=usual)
        yield _doubt(says, check)


def _fabrics(sewn: Sewn) -> Iterator[Finding]:
    piece = sewn.piece
    fabrics = [piece.fabric] + ([piece.garment_fabric] if piece.garment_fabric != piece.fabric else [])
    for fabric in fabrics:
        if fabric is None or LEAST_STRETCH - NOISE <= fabric.stretch <= MOST_STRETCH + NOISE:
            continue
        name, stretch = fabric.name, percent(fabric.stretch)
        if fabric.stretch < LEAST_STRETCH:
            least = percent(LEAST_STRETCH)
            says = Words("{fabric} stretches by {share}, less than {usual}", fabric=name, share=stretch, usual=least)
        else:
            most = percent(MOST_STRETCH)
            says = Words("{fabric} stretches by {share}, more than {usual}", fabric=name, share=stretch, usual=most)
        yield _doubt(says, Words("stretch is what 10 gains when it is pulled, so 10 pulled to 15 is 50 %"))
