"""The curves of a PDF page: every painted subpath, with its true Bézier segments; mm, y up.

Nothing is joined here: what a drawing program wrote as three paths is three curves.
Places count from the lower left corner of the page as it is shown.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise

from tiler.curves import FURTHEST, Bezier, Curve, Segment, line
from tiler.errors import UnreadableError
from tiler.reading.pdf.strokes import Stroke


def curves_of(strokes: Iterable[Stroke]) -> Iterator[Curve]:
    """Yield the curve of every stroke, in painting order; one that never moves has no length.

    Raises :class:`UnreadableError` for coordinates beyond all measure.
    """
    for stroke in strokes:
        curve = Curve.through(_segments(stroke))
        box = curve.bounds
        if max(-box.x0, -box.y0, box.x1, box.y1) > FURTHEST:
            raise UnreadableError("the file draws further than 10 km; make or download it again")
        yield curve


def _segments(stroke: Stroke) -> Iterator[Segment]:
    points = [complex(x, y) for x, y in stroke.points]
    if stroke.closed and len(points) == 3 and not stroke.curves:
        # a line that is closed runs back over itself; it is drawn once
        points.pop()
    if len(points) == 1:
        yield line(points[0], points[0])
    if not stroke.curves:
        yield from (Bezier(ends) for ends in pairwise(points))
        return
    controls = dict(stroke.curves)
    for index in range(1, len(points)):
        if index in controls:
            first, second = controls[index]
            yield Bezier((points[index - 1], complex(*first), complex(*second), points[index]))
        else:
            yield line(points[index - 1], points[index])
