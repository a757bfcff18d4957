"""Drawn lines and what is measured on them: arc length, turning, corners, radius, parallels; mm, degrees.

A point of the plane is a complex number x + iy, y up.
"""

from tiler.arc.affine import Affine
from tiler.arc.bezier import Bezier, line
from tiler.arc.chain import chain
from tiler.arc.crossing import crossing
from tiler.arc.curve import FURTHEST, Bend, Corner, Curve, Segment
from tiler.arc.ellipse import EllipseArc

__all__ = [
    "FURTHEST",
    "Affine",
    "Bend",
    "Bezier",
    "Corner",
    "Curve",
    "EllipseArc",
    "Segment",
    "chain",
    "crossing",
    "line",
]
