"""Where the fonts of the pages lie: ``fonts/`` of a checkout, ``tiler/_fonts`` where tiler is installed."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from tiler.errors import TilerError

REGULAR, BOLD = "DejaVuSans", "DejaVuSans-Bold"


@cache
def font_file(bold: bool) -> Path:
    """Return the file of a font; raises :class:`TilerError` where it is missing."""
    name = f"{BOLD if bold else REGULAR}.ttf"
    here = Path(__file__).parent
    folders = (here / "_fonts", here.parent / "fonts")
    for folder in folders:
        if (folder / name).is_file():
            return folder / name
    raise TilerError(f"the font {name} is missing from {folders[0]}; install tiler again")
