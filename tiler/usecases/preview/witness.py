"""Making the pictures of a stranger's file, as the process that makes them does it."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Callable, Iterator
from io import BytesIO
from pathlib import Path
from typing import Any

from tiler.proof.ink.rendering import DOTS_PER_INCH
from tiler.proof.report.page_pictures import Pictures


def answers(requests: Iterator[dict[str, Any]], _tell: Callable[[Any], None]) -> Iterator[Any]:
    """Open the file that the first request names, and make each picture that a later one asks for."""
    with Pictures(Path(next(requests)["path"])) as pictures:
        yield {"pages": pictures.page_count, "tiles": pictures.tile_count}
        for wanted in requests:
            picture = pictures.page(wanted["page"]) if "page" in wanted else pictures.assembled()
            data = BytesIO()
            picture.save(data, "PNG", dpi=(DOTS_PER_INCH, DOTS_PER_INCH))
            yield b64encode(data.getvalue()).decode("ascii")
