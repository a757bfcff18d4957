"""A publisher's logo: an SVG stays vectors, a PNG becomes samples; scaled to the room that pages have for one, mm."""

from __future__ import annotations

import zlib
from base64 import b64encode
from dataclasses import replace
from io import BytesIO
from math import ceil
from struct import unpack

from PIL import Image

from tiler.box import Box, Subpath
from tiler.errors import UnreadableError
from tiler.printed import Logo, Picture
from tiler.reading.svg.painted import read_painted

MOST_WIDE, MOST_HIGH = 45.0, 14.0
"""A logo is printed as large as it can be within this, mm."""

FINEST, COARSEST = 300, 150
"""Samples to the inch: more are brought down to the first, fewer than the second make a picture smaller."""

LARGEST_FILE = 8 * 2**20
MOST_SAMPLES = 4_000_000
"""A PNG with more bytes or samples is refused: a logo needs neither."""

PNG = b"\x89PNG\r\n\x1a\n"


def read_logo(data: bytes, name: str) -> Logo:
    """Read a logo; raises :class:`UnreadableError` for what is none, runs a script or is not plainly painted."""
    if len(data) > LARGEST_FILE:
        raise UnreadableError(f"{name} is larger than {LARGEST_FILE // 2**20} MB; give a smaller picture")
    if data.startswith(PNG):
        return _picture(data, name)
    if b"<" not in data[:4096] or b"svg" not in data[:65536]:
        raise UnreadableError(f"{name} is neither an SVG nor a PNG; export the logo as one of these")
    return _shapes(data, name)


def _shapes(data: bytes, name: str) -> Logo:
    drawing = read_painted(data, name)
    shapes = [shape for shape in drawing.shapes if shape.outlines]
    if not shapes:
        raise UnreadableError(f"{name} paints nothing; export the logo with filled shapes")
    boxes = [
        Box.around([point for line in shape.outlines for point in line]).grown(shape.weight / 2) for shape in shapes
    ]
    # what shows of it, not its page, which often has wide margins or is smaller than what is drawn
    whole = Box.enclosing(boxes)
    if min(whole.width, whole.height) <= 0:
        raise UnreadableError(f"{name} has no area; export the logo with filled shapes")
    scale = min(MOST_WIDE / whole.width, MOST_HIGH / whole.height)

    def scaled(line: Subpath) -> Subpath:
        points = [(round((x - whole.x0) * scale, 4), round((y - whole.y0) * scale, 4)) for x, y in line]
        kept = [point for k, point in enumerate(points) if not k or point != points[k - 1]]
        return tuple(kept)

    signs = tuple(
        replace(
            shape,
            outlines=tuple(line for line in map(scaled, shape.outlines) if len(line) > 1),
            weight=round(shape.weight * scale, 4),
        )
        for shape in shapes
    )
    return Logo(whole.width * scale, whole.height * scale, tuple(sign for sign in signs if sign.outlines))


def _picture(data: bytes, name: str) -> Logo:
    try:
        columns, rows = unpack(">II", data[16:24])
        if not 0 < columns * rows <= MOST_SAMPLES:
            raise UnreadableError(f"{name} has {columns} by {rows} pixels; bring it to 2,000 by 2,000 at most")
        with Image.open(BytesIO(data), formats=("PNG",)) as opened:
            seen = opened.convert("RGBA")
    except UnreadableError:
        raise
    except Exception as fault:
        raise UnreadableError(f"{name} is damaged and cannot be read as a PNG; export the logo again") from fault
    white = Image.new("RGBA", seen.size, "white")
    plain = Image.alpha_composite(white, seen).convert("RGB")
    width = min(MOST_WIDE, MOST_HIGH * columns / rows, columns / COARSEST * 25.4)
    height = width * rows / columns
    most = ceil(width / 25.4 * FINEST), ceil(height / 25.4 * FINEST)
    if columns > most[0]:
        plain = plain.resize(most, Image.Resampling.LANCZOS)
    samples = b64encode(zlib.compress(plain.tobytes(), 9)).decode("ascii")
    return Logo(width, height, (Picture(Box(0.0, 0.0, width, height), *plain.size, samples),))
