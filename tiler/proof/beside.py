"""What else is printed along a line: where much is, the ink of the line alone cannot be told; page mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from tiler.declaration import Box
from tiler.proof.ink import InkFault
from tiler.proof.panes import Layer
from tiler.reading.strokes import Stroke

NEAR = 1.1
"""Lines and words nearer than this change what is measured of a line."""

ENOUGH = 0.4
"""Share of a stretch along which others must be printed to excuse it."""


def disturbed(fault: InkFault, stroke: Stroke, layers: Sequence[Layer]) -> bool:
    """Tell whether other lines or words explain what seems wrong with the ink of a stretch.

    They move the middle of its darkness wherever they are near, and take away its
    contrast only from both sides.  Filled shapes explain nothing.
    """
    if fault.kind not in ("displaced", "without contrast"):
        return False
    (xa, ya), (xb, yb) = fault.segment
    flat = abs(xb - xa) >= abs(yb - ya)
    start, end = sorted((xa, xb) if flat else (ya, yb))
    low, high = sorted((ya, yb) if flat else (xa, xb))
    near = before = behind = 0.0
    for box in _others(stroke, layers):
        first, last, foot, top = (box.x0, box.x1, box.y0, box.y1) if flat else (box.y0, box.y1, box.x0, box.x1)
        shared = min(last + 0.1, end) - max(first - 0.1, start)
        if shared > 0 and foot - NEAR < high and top + NEAR > low:
            near += shared
            before += shared if foot < low - 0.05 else 0.0
            behind += shared if top > high + 0.05 else 0.0
    explained = near if fault.kind == "displaced" else min(before, behind)
    return explained >= ENOUGH * (end - start)


def _others(stroke: Stroke, layers: Sequence[Layer]) -> Iterator[Box]:
    """Give the boxes of all else that can be seen on the page."""
    for layer in layers:
        for box in _painted(stroke, layer):
            if layer.clip.overlaps(box, -NEAR):
                yield box.within(layer.clip)


def _painted(stroke: Stroke, layer: Layer) -> Iterator[Box]:
    for other in layer.strokes:
        if other is not stroke and not other.filled:
            for p, q in pairwise(other.points):
                yield Box(min(p[0], q[0]), min(p[1], q[1]), max(p[0], q[0]), max(p[1], q[1]))
    for text in layer.texts:
        yield text.box
