"""A picture of a page from its file: of a scanner, or a PDF whose page is one picture."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np

from tiler.errors import EncryptedError, NothingToMeasureError, UnreadableError
from tiler.files import open_file
from tiler.proof.ink.rendering import Rendering
from tiler.proof.scan.pixels.picture import INCH, Picture, read_picture
from tiler.sentence import Place

COVERED = 0.6
"""A page of which pictures cover less is drawn, and not the picture of a page."""

MOST_PAGES = 20
"""So far the page that is a picture is looked for."""

LEAST_DOTS, MOST_DOTS = 100, 600
"""Between these a page is rendered, dots per inch: its own pixels say where."""


@dataclass(frozen=True)
class Source:
    """The picture of a page, and which page of how many it is."""

    picture: Picture
    page: int = 1
    pages: int = 1


def read_source(path: Path, dpi: float | None = None) -> Source:
    """Read the picture of a page from a picture file or a PDF; ``dpi`` wins over what the file states.

    Raises :class:`UnreadableError`, :class:`EncryptedError`, and :class:`NothingToMeasureError` for a drawn PDF.
    """
    with open_file(path, "picture") as file:
        begins = file.read(1024)
    return _page_of(path, dpi) if b"%PDF-" in begins else Source(read_picture(path, dpi))


def _page_of(path: Path, dpi: float | None) -> Source:
    try:
        with Rendering(path) as rendering:
            for number in range(1, min(rendering.page_count, MOST_PAGES) + 1):
                shown = rendering.pictures(number)
                if sum(share for share, _ in shown) >= COVERED:
                    own = max(shown)[1]
                    grey = np.asarray(rendering.grey(number, round(min(max(own, LEAST_DOTS), MOST_DOTS))))
                    inches = (side / INCH for side in rendering.size(number))
                    across, down = (one / inch for one, inch in zip(grey.shape[::-1], inches, strict=True))
                    stated = dpi / own if dpi else 1.0
                    picture = Picture(grey, (across * stated, down * stated))
                    return Source(picture, number, rendering.page_count)
    except UnreadableError as fault:
        if "password" in str(fault.__cause__).lower():
            raise EncryptedError("needs a password; save it without one", Place(str(path))) from fault
        raise UnreadableError(str(fault), Place(str(path))) from fault
    raise NothingToMeasureError(
        "no page of the PDF is a scanned picture: it is drawn, and is measured line by line without --scan",
        Place(str(path)),
    )
