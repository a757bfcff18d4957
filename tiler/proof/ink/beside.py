"""What else is printed along a line: where much is, the ink of the line alone cannot be told; page mm.

A page holds thousands of segments, few of them near any one line, and in nested sizes
nearly every line has neighbours.  So what is painted is kept by cells of the page.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import floor

from tiler.box import Box
from tiler.proof.ink.faults import InkFault, InkKind
from tiler.proof.seen.panes import Layer
from tiler.reading.pdf.strokes import Stroke

NEAR = 1.1
"""Lines and words nearer than this change what is measured of a line."""

ENOUGH = 0.4
"""Share of a stretch along which others must be printed to excuse it."""

CELL = 12.0
"""Side of a cell, mm."""

MOST_CELLS = 400
"""What lies over more cells is looked at every time: a file may hold lines that cross a whole roll."""

Sides = tuple[float, float, float, float]
"""Left, foot, right and top of a box."""

Printed = tuple[Stroke | None, Sides, Layer]
"""A segment of a stroke, or a line of words, the box round it, and the layer that it is on."""


class Beside:
    """All that is painted on a page, to be asked for what lies near a line."""

    def __init__(self, layers: Sequence[Layer]) -> None:
        """Note the layers; they are gone through when something is asked for."""
        self._layers = layers
        self._cells: dict[tuple[int, int], list[Printed]] | None = None
        self._wide: list[Printed] = []

    def disturbed(self, fault: InkFault, stroke: Stroke) -> bool:
        """Tell whether other lines or words explain what seems wrong with the ink of a stretch.

        They move the middle of its darkness wherever they are near, and take away its
        contrast only from both sides.  Filled shapes explain nothing.
        """
        if fault.kind not in (InkKind.DISPLACED, InkKind.HEMMED):
            return False
        (xa, ya), (xb, yb) = fault.segment
        flat = abs(xb - xa) >= abs(yb - ya)
        start, end = sorted((xa, xb) if flat else (ya, yb))
        low, high = sorted((ya, yb) if flat else (xa, xb))
        near = before = behind = 0.0
        around = Box(min(xa, xb), min(ya, yb), max(xa, xb), max(ya, yb)).grown(NEAR + 0.1)
        for x0, y0, x1, y1 in self._others(stroke, around):
            first, last, foot, top = (x0, x1, y0, y1) if flat else (y0, y1, x0, x1)
            shared = min(last + 0.1, end) - max(first - 0.1, start)
            if shared > 0 and foot - NEAR < high and top + NEAR > low:
                near += shared
                before += shared if foot < low - 0.05 else 0.0
                behind += shared if top > high + 0.05 else 0.0
        explained = near if fault.kind is InkKind.DISPLACED else min(before, behind)
        return explained >= ENOUGH * (end - start)

    def _others(self, stroke: Stroke, around: Box) -> Iterator[Sides]:
        """Yield the boxes of all else that is visible near by."""
        left, foot, right, top = around.x0, around.y0, around.x1, around.y1
        for other, (x0, y0, x1, y1), layer in self._near(around):
            if other is stroke or x0 > right or x1 < left or y0 > top or y1 < foot:
                continue
            clip = layer.clip
            a0, b0, a1, b1 = clip.x0, clip.y0, clip.x1, clip.y1
            if min(a1, x1) - max(a0, x0) > -NEAR and min(b1, y1) - max(b0, y0) > -NEAR:
                yield min(max(x0, a0), a1), min(max(y0, b0), b1), max(min(x1, a1), a0), max(min(y1, b1), b0)

    def _near(self, around: Box) -> list[Printed]:
        if self._cells is None:
            self._cells = self._sorted()
        cells = _cells((around.x0, around.y0, around.x1, around.y1))
        if cells is None:
            return [one for layer in self._layers for one in _printed(layer)]
        if len(cells) == 1:
            return self._wide + self._cells.get(cells[0], [])
        once: dict[int, Printed] = {id(one): one for cell in cells for one in self._cells.get(cell, ())}
        return self._wide + list(once.values())

    def _sorted(self) -> dict[tuple[int, int], list[Printed]]:
        cells: dict[tuple[int, int], list[Printed]] = {}
        for layer in self._layers:
            for one in _printed(layer):
                over = _cells(one[1])
                if over is None:
                    self._wide.append(one)
                    continue
                for cell in over:
                    cells.setdefault(cell, []).append(one)
        return cells


def _printed(layer: Layer) -> Iterator[Printed]:
    for stroke in layer.strokes:
        if not stroke.filled:
            for (xa, ya), (xb, yb) in pairwise(stroke.points):
                yield stroke, (min(xa, xb), min(ya, yb), max(xa, xb), max(ya, yb)), layer
    for text in layer.texts:
        box = text.box
        yield None, (box.x0, box.y0, box.x1, box.y1), layer


def _cells(sides: Sides) -> list[tuple[int, int]] | None:
    """Yield the cells that a box lies over; None when they are too many."""
    across, down = (sides[2] - sides[0]) / CELL + 2, (sides[3] - sides[1]) / CELL + 2
    if not across * down <= MOST_CELLS:
        return None
    columns = range(floor(sides[0] / CELL), floor(sides[2] / CELL) + 1)
    rows = range(floor(sides[1] / CELL), floor(sides[3] / CELL) + 1)
    return [(column, row) for column in columns for row in rows]
