"""A picture of a printed page, read as grey with the resolution that it states."""

from __future__ import annotations

import struct
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageOps, UnidentifiedImageError

from tiler.errors import NothingToMeasureError, UnreadableError
from tiler.files import open_file
from tiler.sentence import Place

Floats = NDArray[np.float64]
Grey = NDArray[np.uint8]

INCH = 25.4

FORMATS = ("PNG", "JPEG", "TIFF")

MOST_PIXELS = 80_000_000
"""A larger picture is not unpacked: A3 at 600 dots per inch has 70 million pixels."""

TOO_LARGE = (
    f"the picture has {{pixels}} pixels, and at most {MOST_PIXELS / 1e6:.0f} million are read; scan the page at 300 or "
    "600 dots per inch"
)

LEAST_PIXELS = 300
"""A picture whose shorter side has fewer shows no page well enough."""

COARSEST, FINEST = 50.0, 2500.0
"""What a scanner may state as its resolution, dots per inch: what is beyond is no resolution."""


@dataclass(frozen=True)
class Picture:
    """Grey values, 255 is white, and how many pixels make an inch across and down, where that is known."""

    grey: Grey
    dpi: tuple[float, float] | None

    @property
    def size(self) -> tuple[int, int]:
        """Its width and height in pixels."""
        return self.grey.shape[1], self.grey.shape[0]


def read_picture(path: Path, dpi: float | None = None) -> Picture:
    """Read a picture file; ``dpi`` wins over the resolution that it states.

    Raises :class:`UnreadableError` for what is no picture, is damaged or too large.
    """
    place = Place(str(path))
    with open_file(path, "picture") as file:
        try:
            with Image.open(file, formats=FORMATS) as image:
                _refuse_size(image.size, place)
                image.draft("L", image.size)
                return Picture(_grey(ImageOps.exif_transpose(image)), (dpi, dpi) if dpi else _stated(image))
        except UnidentifiedImageError:
            raise UnreadableError("is no picture in PNG, JPEG or TIFF; scan the page into one of them", place) from None
        except Image.DecompressionBombError:
            raise UnreadableError(TOO_LARGE.format(pixels="far too many"), place) from None
        except (OSError, ValueError, SyntaxError, EOFError, struct.error) as fault:
            raise UnreadableError("the picture is damaged; scan or copy it again", place) from fault


def _refuse_size(size: tuple[int, int], place: Place) -> None:
    if size[0] * size[1] > MOST_PIXELS:
        raise UnreadableError(TOO_LARGE.format(pixels=f"{size[0] * size[1] / 1e6:.0f} million"), place)
    if min(size) < LEAST_PIXELS:
        raise NothingToMeasureError(
            f"the picture has {size[0]} × {size[1]} pixels, too few to measure in; scan the page at 300 dots per inch",
            place,
        )


def _stated(image: Image.Image) -> tuple[float, float] | None:
    """Return the resolution that a picture states, as it is shown."""
    stated = image.info.get("dpi")
    try:
        across, down = (float(one) for one in stated) if stated else (0.0, 0.0)
    except (TypeError, ValueError, ZeroDivisionError):
        return None
    if not all(COARSEST <= one <= FINEST for one in (across, down)):
        return None
    # an Exif orientation of 5 to 8 turns the picture by a quarter (Exif 2.32, 4.6.4, tag 274)
    return (down, across) if image.getexif().get(274, 1) >= 5 else (across, down)


def _grey(image: Image.Image) -> Grey:
    """Return the grey of a picture in any mode; what is transparent shows white paper."""
    if image.mode.startswith(("I", "F")):
        deep = np.asarray(image, dtype=np.float32)
        return (deep * (255 / max(255.0, float(deep.max(initial=0))))).clip(0, 255).astype(np.uint8)
    if "A" in image.getbands() or "transparency" in image.info:
        image = image.convert("RGBA")
        white = Image.new("RGBA", image.size, "white")
        image = Image.alpha_composite(white, image)
    return np.asarray(image.convert("L"))
