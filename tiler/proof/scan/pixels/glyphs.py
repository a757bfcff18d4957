"""Single signs in a picture, told by their shapes: figures and letters as fonts draw them.

A sign is cut out, brought to one size and compared with the same of each font by the mean square of what differs
(template matching: Duda and Hart, *Pattern Classification and Scene Analysis*, 1973, from memory); its proportions and
its place on the line count as well, since size parts c from C and place parts a quote from a comma. What is not
much nearer to one sign than to another may be either.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

from tiler.fonts import font_file
from tiler.proof.ink.rendering import Rendering
from tiler.proof.scan.pixels.picture import Floats

SIGNS = "0123456789abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ\"”'.,/×:-()&%=+"

ALIKE = {"C": "c", "O": "0", "S": "s", "V": "v", "W": "w", "X": "x", "Z": "z", "”": '"', "×": "x", "|": "l"}
"""Signs that differ by size alone, or are read as one."""

WIDE, HIGH = 16, 24
"""All are brought to so many pixels."""

OF_SHAPE, OF_HEIGHT, OF_PLACE = 0.12, 0.5, 0.5
"""What a difference of proportions, of height and of place on the line counts beside that of the picture."""

NEAR, CLEAR = 0.15, 0.035
"""A sign is no other than one that it is as near to as this; it may be any that is further by no more."""

DRAWN = 64
"""Fonts are drawn at this size, pixels."""

STANDARD = ("Helvetica", "Helvetica-Bold", "Times-Roman", "Times-Bold", "Times-Italic", "Courier", "Courier-Bold")
"""Of the fonts that every reader of PDF has (ISO 32000-1, 9.6.2.2) these are drawn."""

CELL, ACROSS, DOTS = 112, 10, 144
"""Each of their signs stands in a cell of so many pixels, so many side by side, at so many dots to the inch."""

SLANT = 0.2
"""So far upright fonts are slanted as well, as a share of the height."""


Place = tuple[float, float, float, float]
"""Left, upper, right and lower side, down the page."""


@dataclass(frozen=True)
class Sign:
    """A sign of a line: its picture, 1 is ink, and its place."""

    ink: Floats
    box: Place

    @property
    def height(self) -> float:
        """Its height."""
        return self.box[3] - self.box[1]


@dataclass(frozen=True)
class _Known:
    """All signs of all fonts: the sign, its picture with the sum of its squares, its proportions, height and foot."""

    signs: NDArray[np.str_]
    pictures: Floats
    squares: Floats
    shapes: Floats
    places: Floats


def likely(line: Sequence[Sign]) -> list[str]:
    """Return for each sign of a line which it may be, the likeliest first; an empty text where it is like none."""
    tallest = max(line, key=lambda sign: sign.height)
    return [_likely(sign, tallest) for sign in line]


def _likely(sign: Sign, tallest: Sign) -> str:
    known = _known()
    ink = _brought(sign.ink)
    # not by @, whose threads cost more than they save
    off = (known.squares + (ink**2).sum() - 2 * np.einsum("ij,j->i", known.pictures, ink)) / len(ink)
    shape = np.log((sign.box[2] - sign.box[0]) / sign.height)
    place = np.array([sign.height, tallest.box[3] - sign.box[3]]) / tallest.height
    off = off + OF_SHAPE * (known.shapes - shape) ** 2
    off = off + OF_HEIGHT * (known.places[:, 0] - place[0]) ** 2 + OF_PLACE * (known.places[:, 1] - place[1]) ** 2
    nearest = np.argsort(off)
    near = nearest[off[nearest] < min(NEAR, float(off[nearest[0]])) + CLEAR]
    return "".join(dict.fromkeys(known.signs[near].tolist())) if off[nearest[0]] < NEAR else ""


def _brought(ink: Floats) -> Floats:
    """Return a picture of one size, as one row."""
    image = Image.fromarray((255 * np.clip(ink, 0, 1)).astype(np.uint8))
    return np.asarray(image.resize((WIDE, HIGH), Image.Resampling.BOX), dtype=np.float32).ravel() / 255


@cache
def _known() -> _Known:
    signs, pictures, shapes, places = [], [], [], []
    for drawn in _drawn():
        two = _cut(drawn["2"])
        high = two.height
        for sign, picture in drawn.items():
            for slant in (0.0, SLANT):
                one = _cut(_slanted(picture, slant))
                signs.append(ALIKE.get(sign, sign))
                pictures.append(_brought(one.ink))
                shapes.append(np.log((one.box[2] - one.box[0]) / one.height))
                places.append((one.height / high, (two.box[3] - one.box[3]) / high))
    rows = np.array(pictures)
    return _Known(np.array(signs), rows, (rows**2).sum(axis=1), np.array(shapes), np.array(places))


def _drawn() -> list[dict[str, Floats]]:
    """Return the pictures of all signs, a dictionary a font, each on one line."""
    fonts = [ImageFont.truetype(str(font_file(bold)), DRAWN) for bold in (False, True)]
    fonts.append(ImageFont.load_default(DRAWN))  # type: ignore[arg-type]
    found = []
    for font in fonts:
        of_font = {}
        for sign in SIGNS:
            image = Image.new("L", (2 * DRAWN, 2 * DRAWN), 0)
            ImageDraw.Draw(image).text((DRAWN // 2, DRAWN // 4), sign, fill=255, font=font)
            of_font[sign] = np.asarray(image, dtype=np.float64) / 255
        found.append(of_font)
    with Rendering(_written()) as rendering:
        for number in range(1, len(STANDARD) + 1):
            grey = np.asarray(rendering.grey(number, DOTS), dtype=np.float64)
            rows = grey[::-1].reshape(-1, CELL, ACROSS, CELL).transpose(0, 2, 1, 3).reshape(-1, CELL, CELL)
            found.append({sign: 1 - cell[::-1] / 255 for sign, cell in zip(SIGNS, rows, strict=False)})
    return found


def _written() -> bytes:
    """Return a PDF with a page for each standard font: all signs on a grid from the lower left corner."""
    side = CELL * 72 / DOTS
    down = -(-len(SIGNS) // ACROSS)
    parts = ["1 0 obj <</Type /Catalog /Pages 2 0 R>> endobj"]
    kids = []
    for number, name in enumerate(STANDARD):
        page = 3 + 2 * number
        kids.append(f"{page} 0 R")
        lines = [
            f"BT /F {0.5 * side:.3f} Tf {(index % ACROSS + 0.2) * side:.3f} {(index // ACROSS + 0.3) * side:.3f} Td "
            f"<{sign.encode('cp1252').hex()}> Tj ET"
            for index, sign in enumerate(SIGNS)
        ]
        content = "\n".join(lines)
        font = f"<</Type /Font /Subtype /Type1 /BaseFont /{name} /Encoding /WinAnsiEncoding>>"
        parts.append(
            f"{page} 0 obj <</Type /Page /Parent 2 0 R /MediaBox [0 0 {ACROSS * side:.3f} {down * side:.3f}] "
            f"/Resources <</Font <</F {font}>>>> /Contents {page + 1} 0 R>> endobj"
        )
        parts.append(f"{page + 1} 0 obj <</Length {len(content)}>> stream\n{content}\nendstream endobj")
    parts.insert(1, f"2 0 obj <</Type /Pages /Count {len(STANDARD)} /Kids [{' '.join(kids)}]>> endobj")
    return ("%PDF-1.4\n" + "\n".join(parts) + "\ntrailer <</Root 1 0 R>>\n%%EOF").encode("ascii")


def _slanted(picture: Floats, slant: float) -> Floats:
    if not slant:
        return picture
    high, wide = picture.shape
    image = Image.fromarray((255 * picture).astype(np.uint8))
    moved = image.transform(
        (wide, high), Image.Transform.AFFINE, (1, slant, -slant * high / 2, 0, 1, 0), Image.Resampling.BILINEAR
    )
    return np.asarray(moved, dtype=np.float64) / 255


def _cut(picture: Floats) -> Sign:
    rows, columns = np.flatnonzero(picture.max(axis=1) > 0.5), np.flatnonzero(picture.max(axis=0) > 0.5)
    upper, lower, left, right = rows[0], rows[-1] + 1, columns[0], columns[-1] + 1
    return Sign(picture[upper:lower, left:right], (float(left), float(upper), float(right), float(lower)))
