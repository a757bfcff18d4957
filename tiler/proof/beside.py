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
    around = Box(min(xa, xb), min(ya, yb), max(xa, xb), max(ya, yb)).grown(NEAR + 0.1)
    for box in _others(stroke, layers, around):
        first, last, foot, top = (box.x0, box.x1, box.y0, box.y1) if flat else (box.y0, box.y1, box.x0, box.x1)
        shared = min(last + 0.1, end) - max(first - 0.1, start)
        if shared > 0 and foot - NEAR < high and top + NEAR > low:
            near += shared
            before += shared if foot < low - 0.05 else 0.0
            behind += shared if top > high + 0.05 else 0.0
    explained = near if fault.kind == "displaced" else min(before, behind)
    return explained >= ENOUGH * (end - start)


def _others(stroke: Stroke, layers: Sequence[Layer], around: Box) -> Iterator[Box]:
    """Give the boxes of all else that can be seen near by."""
    for layer in layers:
        for box in _painted(stroke, layer, around):
            if layer.clip.overlaps(box, -NEAR):
                yield box.within(layer.clip)


def _painted(stroke: Stroke, layer: Layer, around: Box) -> Iterator[Box]:
    left, foot, right, top = around.x0, around.y0, around.x1, around.y1
    for other in layer.strokes:
        if other is not stroke and not other.filled:
            # a page holds thousands of segments, and few of them are near
            for (xa, ya), (xb, yb) in pairwise(other.points):
                if (xa > right and xb > right) or (xa < left and xb < left):
                    continue
                if (ya > top and yb > top) or (ya < foot and yb < foot):
                    continue
                yield Box(min(xa, xb), min(ya, yb), max(xa, xb), max(ya, yb))
    for text in layer.texts:
        if text.box.overlaps(around):
            yield text.box
