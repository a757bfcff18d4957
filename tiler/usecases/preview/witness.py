"""Making the pictures of a stranger's file, as the process that makes them does it."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from tiler.proof.report.page_pictures import Pictures, png


def answers(requests: Iterator[dict[str, Any]], _tell: Callable[[Any], None]) -> Iterator[Any]:
    """Open the file that the first request names, and make each picture that a later one asks for."""
    with Pictures(Path(next(requests)["path"])) as pictures:
        yield {"pages": pictures.page_count, "tiles": pictures.tile_count, "panes": pictures.of_panes}
        for wanted in requests:
            picture = pictures.page(wanted["page"]) if "page" in wanted else pictures.assembled()
            yield b64encode(png(picture)).decode("ascii")
