"""The ink of one rendered page: is a line there, visible, and where it is written; mm.

A line counts as visible when it is darker than the paper beside it, all along its
length.  Lines along an axis are read as whole runs of pixels; others are sampled.
The middle of the darkness across a run tells where it lies to about 0.003 mm.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import ceil, floor

from tiler.box import Box, Point
from tiler.proof.ink.faults import InkFault, InkKind, Segment
from tiler.proof.ink.pixels import Pixels
from tiler.proof.ink.runs import Pen, Run
from tiler.proof.ink.slanted import sample_line
from tiler.proof.tolerances import INK_ACROSS, LONGEST_GAP, PIXEL
from tiler.reading.pdf.strokes import Stroke

LEAST_DARKNESS = 0.25
"""A line that is written lighter than this is taken for white on white."""

AXIS = 0.02
"""A segment that strays less than this across its length runs along an axis, mm."""

SHORT = 8.0
"""Shorter runs have no room for several soundings, and one stroke that ends beside them shifts their middle, mm."""


class Ink(Pixels):
    """The pixels of a page, and what is wrong with the ink of its strokes."""

    def faults(self, stroke: Stroke, clip: Box) -> Iterator[InkFault]:
        """Yield what is wrong with the ink of a stroke inside ``clip``."""
        tag = stroke.tag or ""
        if stroke.darkness < LEAST_DARKNESS:
            yield InkFault(tag, InkKind.HIDDEN, (stroke.points[0], stroke.points[-1]))
            return
        line = stroke.flattened()
        pairs = (clip_segment(start, end, clip) for start, end in pairwise(line))
        segments = [pair for pair in pairs if pair]
        if stroke.curves:
            kind = sample_line(self, segments, stroke)
            if kind:
                yield InkFault(tag, kind, (stroke.points[0], stroke.points[-1]))
            return
        for segment in segments:
            (xa, ya), (xb, yb) = segment
            if abs(ya - yb) < AXIS or abs(xa - xb) < AXIS:
                yield from self._along_axis(segment, stroke)
                continue
            kind = sample_line(self, [segment], stroke)
            if kind:
                yield InkFault(tag, kind, segment)

    def _along_axis(self, segment: Segment, stroke: Stroke) -> Iterator[InkFault]:
        tag = stroke.tag or ""
        (xa, ya), (xb, yb) = self.pixel(segment[0]), self.pixel(segment[1])
        flat = abs(xb - xa) > abs(yb - ya)
        if flat:
            start, end, line, rows, size, scale = xa, xb, (ya + yb) / 2, self.height, self.width, self.ky
            along, across = 1, self.stride
        else:
            start, end, line, rows, size, scale = ya, yb, (xa + xb) / 2, self.width, self.height, self.kx
            along, across = self.stride, 1
        first, last = ceil(min(start, end) + 0.3), floor(max(start, end) - 0.3)
        row = floor(line)
        if last <= first:
            return
        if not 0 <= row < rows or first < 0 or last > size:
            yield InkFault(tag, InkKind.HIDDEN, segment)
            return
        run = Run(self.data, first * along + row * across, along, across, last - first, row, rows - 1 - row)
        pen = Pen(
            weight=max(1.0, stroke.weight * scale),
            gap=min(stroke.gap, LONGEST_GAP) * scale,
            darkness=stroke.darkness,
            tolerance=(PIXEL if last - first < SHORT * scale else INK_ACROSS) * scale,
        )
        for fault in run.faults(pen, line - row - 0.5):
            a, b = first + fault.start, first + fault.end
            ends = ((a, line), (b, line)) if flat else ((line, a), (line, b))
            yield InkFault(tag, fault.kind, (self.point(ends[0]), self.point(ends[1])))


def clip_segment(start: Point, end: Point, clip: Box) -> tuple[Point, Point] | None:
    """Return the part of a segment inside a box, or None (Liang and Barsky's rule)."""
    (xa, ya), (xb, yb) = start, end
    dx, dy = xb - xa, yb - ya
    if clip.x0 <= min(xa, xb) and max(xa, xb) <= clip.x1 and clip.y0 <= min(ya, yb) and max(ya, yb) <= clip.y1:
        return start, end
    low, high = 0.0, 1.0
    for step, room in ((-dx, xa - clip.x0), (dx, clip.x1 - xa), (-dy, ya - clip.y0), (dy, clip.y1 - ya)):
        if step == 0:
            if room < 0:
                return None
            continue
        share = room / step
        if step < 0:
            low = max(low, share)
        else:
            high = min(high, share)
    if low >= high:
        return None
    return (xa + low * dx, ya + low * dy), (xa + high * dx, ya + high * dy)
