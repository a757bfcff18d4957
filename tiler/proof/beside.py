"""What else is printed along a line: where much is, the ink of the line alone cannot be told; page mm."""

from __future__ import annotations

from itertools import pairwise

from tiler.declaration import Box
from tiler.proof.ink import InkFault
from tiler.reading.document import PageRead
from tiler.reading.strokes import Stroke

NEAR = 1.1
"""Lines and words nearer than this change what is measured of a line."""

ENOUGH = 0.4
"""Share of a stretch along which others must be printed to excuse it."""


def disturbed(fault: InkFault, stroke: Stroke, page: PageRead) -> bool:
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
    for box in _others(stroke, page):
        first, last, foot, top = (box.x0, box.x1, box.y0, box.y1) if flat else (box.y0, box.y1, box.x0, box.x1)
        shared = min(last + 0.1, end) - max(first - 0.1, start)
        if shared > 0 and foot - NEAR < high and top + NEAR > low:
            near += shared
            before += shared if foot < low - 0.05 else 0.0
            behind += shared if top > high + 0.05 else 0.0
    explained = near if fault.kind == "displaced" else min(before, behind)
    return explained >= ENOUGH * (end - start)


def _others(stroke: Stroke, page: PageRead) -> list[Box]:
    boxes = [
        Box(min(p[0], q[0]), min(p[1], q[1]), max(p[0], q[0]), max(p[1], q[1]))
        for other in page.strokes
        if other is not stroke and not other.filled
        for p, q in pairwise(other.points)
    ]
    return boxes + [text.box for text in page.texts]
