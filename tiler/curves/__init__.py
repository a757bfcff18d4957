"""Drawn lines and what is measured on them: arc length, turning, corners, parallels; mm, degrees.

A point of the plane is a complex number x + iy, y up.
"""

from tiler.curves.affine import Affine
from tiler.curves.bezier import Bezier, line
from tiler.curves.chain import chain
from tiler.curves.crossing import crossing
from tiler.curves.curve import FURTHEST, Corner, Curve, Segment
from tiler.curves.ellipse import EllipseArc

__all__ = [
    "FURTHEST",
    "Affine",
    "Bezier",
    "Corner",
    "Curve",
    "EllipseArc",
    "Segment",
    "chain",
    "crossing",
    "line",
]
