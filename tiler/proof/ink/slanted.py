"""Lines that run along no axis, and the chords of curves: sounded point by point."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil, hypot

from tiler.box import Point
from tiler.proof.ink.faults import InkKind
from tiler.proof.ink.pixels import Pixels
from tiler.proof.ink.runs import LIGHT
from tiler.proof.tolerances import LONGEST_GAP, PIXEL
from tiler.reading.pdf.strokes import Stroke

STEP = 2.0
"""Pixels from one sounding to the next."""

LONG = 5.0
"""Segments from here on are also checked for their place, mm."""

MOST_HEMMED = 4
"""Soundings in a row that may lie between other lines."""


def sample_line(ink: Pixels, segments: Sequence[tuple[Point, Point]], stroke: Stroke) -> InkKind | None:
    """Judge the ink of one segment, or of all chords of a curve: None, or what is wrong with it."""
    level = 255 - int(0.25 * stroke.darkness * 255)
    aside = ceil(max(1.0, stroke.weight * ink.kx) / 2 + 1.9)
    allowed = (min(stroke.gap, LONGEST_GAP) * ink.kx + 2.0) / STEP if stroke.gap else 0
    missed = hemmed = hemmed_in_all = count = 0
    for x, y, ux, uy in _soundings(ink, segments):
        core = min(_at(ink, x - off * uy, y + off * ux) for off in (-0.7, 0.0, 0.7))
        missed = missed + 1 if core > level else 0
        beside = max(_at(ink, x - aside * uy, y + aside * ux), _at(ink, x + aside * uy, y - aside * ux))
        hemmed = hemmed + 1 if beside < LIGHT else 0
        hemmed_in_all += beside < LIGHT
        count += 1
        if missed > allowed:
            return InkKind.HIDDEN
        if hemmed > MOST_HEMMED:
            return InkKind.HEMMED
    if hemmed_in_all == count > 1:
        return InkKind.HEMMED
    if len(segments) == 1 and not stroke.gap and abs(_middle(ink, segments[0])) > PIXEL * ink.kx:
        return InkKind.DISPLACED
    return None


def _soundings(ink: Pixels, segments: Sequence[tuple[Point, Point]]) -> Iterator[tuple[float, float, float, float]]:
    """Yield points along the segments with their directions, pixels."""
    for start, end in segments:
        (xa, ya), (xb, yb) = ink.pixel(start), ink.pixel(end)
        length = hypot(xb - xa, yb - ya)
        if length < 1.0:
            continue
        ux, uy = (xb - xa) / length, (yb - ya) / length
        count = max(1, int((length - 1.0) / STEP))
        for index in range(count):
            along = (index + 0.5) * length / count
            yield xa + along * ux, ya + along * uy, ux, uy


def _at(ink: Pixels, x: float, y: float) -> int:
    column, row = int(x), int(y)
    if 0 <= column < ink.width and 0 <= row < ink.height:
        return ink.data[row * ink.stride + column]
    return 255


def _middle(ink: Pixels, segment: tuple[Point, Point]) -> float:
    """Return how far the middle of the darkness lies beside a long segment, pixels; 0 for a short one."""
    (xa, ya), (xb, yb) = ink.pixel(segment[0]), ink.pixel(segment[1])
    length = hypot(xb - xa, yb - ya)
    if length < LONG * ink.kx:
        return 0.0
    ux, uy = (xb - xa) / length, (yb - ya) / length
    total = moment = 0.0
    for sounding in range(1, 16):
        along = sounding * length / 16
        x, y = xa + along * ux, ya + along * uy
        for quarter in range(-8, 9):
            off = quarter / 4
            dark = 255 - _at(ink, x - off * uy, y + off * ux)
            total += dark
            moment += off * dark
    return moment / total if total else 0.0
