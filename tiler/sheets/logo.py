"""A publisher's logo painted on reportlab's own surface, which pages of pieces and pages to read share; mm."""

from __future__ import annotations

from base64 import b64decode
from io import BytesIO
from typing import Any
from zlib import decompress

from reportlab.lib.utils import ImageReader

from tiler.box import Point
from tiler.printed import Logo, Picture, Shape
from tiler.sheets.paths import traced
from tiler.sheets.typesetting import MM


def paint_logo(pdf: Any, logo: Logo, corner: Point) -> None:
    """Paint a logo on reportlab's own surface, its lower left corner at a point, mm."""
    for sign in logo.at(corner):
        pdf.saveState()
        if isinstance(sign, Picture):
            pixels = b"P6 %d %d 255\n" % (sign.columns, sign.rows) + decompress(b64decode(sign.samples))
            box = sign.area
            pdf.drawImage(ImageReader(BytesIO(pixels)), box.x0 * MM, box.y0 * MM, box.width * MM, box.height * MM)
        else:
            _paint_shape(pdf, sign)
        pdf.restoreState()


def _paint_shape(pdf: Any, shape: Shape) -> None:
    pdf.setFillColorRGB(*shape.colour)
    pdf.setStrokeColorRGB(*shape.colour)
    pdf.setLineWidth(shape.weight * MM)
    pdf.setDash()
    winding = 0 if shape.even_odd else 1
    pdf.drawPath(
        traced(pdf, shape.outlines), stroke=int(shape.weight > 0), fill=int(not shape.weight), fillMode=winding
    )
