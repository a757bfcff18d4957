"""Doubts about the numbers themselves: what is possible, and more often a slip of the pen or the tape.

Lengths are millimetres, shares plain numbers, angles degrees.  Every limit is ours, set
wide around what ordinary garments have: nobody is refused, all are asked to look again.
"""

from __future__ import annotations

from collections.abc import Iterator

from tiler.draft.advice.checks import Sewn
from tiler.draft.advice.finding import Check, Finding
from tiler.draft.edge.seam_line import Kind
from tiler.lengths import both, percent
from tiler.paper import IN
from tiler.sentence import Key, Sentence

SHORTEST_NECKLINE, LONGEST_NECKLINE = float(12 * IN), float(32 * IN)
MOST_UNLIKE = 3.0
FLATTEST_SHOULDER, STEEPEST_SHOULDER = 5.0, 40.0
LEAST_STRETCH, MOST_STRETCH = 0.05, 2.0
LEAST_RATIO, MOST_RATIO = 0.6, 1.1
WIDEST = 1 / 8
"""A neckline's strip is at most this share of it wide: a quarter of the half neckline."""

NOISE = 1e-6


def number_findings(sewn: Sewn, units: str) -> Iterator[Finding]:
    """Yield what to look at again: edge, shoulder, fabrics, width and ratio."""
    yield from _neckline(sewn, units)
    yield from _parts(sewn, units)
    yield from _line(sewn, units)
    yield from _fabrics(sewn)
    ratio = sewn.loop_mm / sewn.line.length_mm
    if ratio < LEAST_RATIO - NOISE or ratio > MOST_RATIO + NOISE:
        less = ratio < 1
        yield _doubt(
            f"The strip has {percent(ratio)} of the edge, {'less' if less else 'more'} than "
            f"{percent(LEAST_RATIO if less else MOST_RATIO)}",
            "check the length, and that strip and edge are both whole or both halves",
        )


def _doubt(says: str, *asks: str) -> Finding:
    return Finding(Check.NUMBER, says, Sentence(*asks), ": ")


def _neckline(sewn: Sewn, units: str) -> Iterator[Finding]:
    edge, length = sewn.piece.edge, sewn.line.length_mm
    if edge.kind is not Kind.NECKLINE:
        return
    halves = " and that halves were not given as wholes" if len(edge.parts) == 2 and edge.outline is None else ""
    wholes = " and that wholes were not given as halves" if halves else ""
    if length > LONGEST_NECKLINE + NOISE:
        yield _doubt(
            f"The neckline is {both(length, units)} round, more than {both(LONGEST_NECKLINE, units)}",
            f"check the measures{wholes}",
        )
    elif length < SHORTEST_NECKLINE - NOISE:
        yield _doubt(
            f"The neckline is {both(length, units)} round, less than {both(SHORTEST_NECKLINE, units)}",
            f"check the measures{halves}",
        )
    if sewn.finished_width_mm > WIDEST * length + NOISE:
        yield _doubt(
            f"The finished width of {both(sewn.finished_width_mm, units)} is over a quarter of the half neckline, "
            f"{both(length / 2, units)}",
            "check both",
        )
    slope = edge.slope_deg
    if slope is not None and not FLATTEST_SHOULDER - NOISE <= slope <= STEEPEST_SHOULDER + NOISE:
        yield _slope(slope)


def _slope(slope: float) -> Finding:
    return _doubt(
        Sentence(
            "The ",
            Key("shoulder-slope"),
            f" of {slope:g}° is {'flatter' if slope < FLATTEST_SHOULDER else 'steeper'} than shoulders are",
        ),
        f"ordinary ones have {FLATTEST_SHOULDER:g}° to {STEEPEST_SHOULDER:g}°, so check it",
    )


def _parts(sewn: Sewn, units: str) -> Iterator[Finding]:
    parts = sewn.line.parts
    if len(parts) != 2:
        return
    front, back = parts
    names = front.words, back.words
    longer, shorter = (names, names[::-1])[front.length_mm < back.length_mm]
    most, least = sorted((front.length_mm, back.length_mm), reverse=True)
    if most > MOST_UNLIKE * least + NOISE:
        yield _doubt(
            f"The {longer} of {both(most, units)} is over {MOST_UNLIKE:g} times the {shorter} of {both(least, units)}",
            "check both",
        )
    elif sewn.piece.edge.kind is Kind.NECKLINE and front.length_mm < back.length_mm - 1.0:
        yield _doubt(
            f"The {names[0]} of {both(least, units)} is shorter than the {names[1]} of {both(most, units)}",
            "check that they are not exchanged",
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
            f"The edge is taken for the seam line, though the garment has a seam allowance of {both(allowance, units)}",
            "if the cut edge was measured, write ",
            Key("measured-on", '"cut-edge"', ("edge",)),
        )


def _fabrics(sewn: Sewn) -> Iterator[Finding]:
    piece = sewn.piece
    fabrics = [piece.fabric] + ([piece.garment_fabric] if piece.garment_fabric != piece.fabric else [])
    for fabric in fabrics:
        if fabric is None or LEAST_STRETCH - NOISE <= fabric.stretch <= MOST_STRETCH + NOISE:
            continue
        less = fabric.stretch < LEAST_STRETCH
        yield _doubt(
            f"{fabric.name} stretches by {percent(fabric.stretch)}, {'less' if less else 'more'} than "
            f"{percent(LEAST_STRETCH if less else MOST_STRETCH)}",
            "stretch is what 10 gains when it is pulled, so 10 pulled to 15 is 50 %",
        )
