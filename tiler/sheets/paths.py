"""Polylines as a path on reportlab's own surface; mm."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from tiler.box import Subpath
from tiler.printed import closed
from tiler.sheets.typesetting import MM


def traced(pdf: Any, subpaths: Sequence[Subpath]) -> Any:
    """Return a path of all of them; one that ends where it began is closed."""
    path = pdf.beginPath()
    for points in subpaths:
        path.moveTo(points[0][0] * MM, points[0][1] * MM)
        for x, y in points[1:-1] if closed(points) else points[1:]:
            path.lineTo(x * MM, y * MM)
        if closed(points):
            path.close()
    return path
