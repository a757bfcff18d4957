"""The strip as it is drawn: the SVG of ``tiler draft -o piece.svg`` without its heading, as a picture's address."""

from __future__ import annotations

import re
import threading
from base64 import b64encode
from dataclasses import replace

from tiler.draft.figures import Figures
from tiler.draft.spec.read import Job
from tiler.sheets.document import Document
from tiler.sheets.svg.plane import BORDER
from tiler.usecases.draft import Wishes, draw_plane

DRAWING = threading.Lock()
"""Held while something is drawn: the fonts of the drawing library belong to all at once."""

PATIENCE = 1.0
"""How long a picture waits for what else is drawn, s: answers that waited longer would take every thread."""

AS_IT_IS = Wishes()
"""Nothing is wished for."""

_PIECE = b'<g id="piece'
"""What the group of a piece begins with; that of the heading stands before all of them."""

_ROOT = re.compile(rb"<svg ([^>]*)>")


def strip_picture(job: Job, pieces: tuple[Figures, ...], wishes: Wishes = AS_IT_IS) -> str:
    """Return the drawing of all pieces; a long strip lies along it as a short one does.

    It is empty while files are made that take long.
    """
    longest = max(piece.cut_length_mm for piece in pieces)
    # beyond this the words beside a piece need no more
    roll = longest + 10 * BORDER
    if not DRAWING.acquire(timeout=PATIENCE):
        return ""
    try:
        document = draw_plane(job, pieces, wishes)
        if any(one.turned for one in document.declaration.drawn):
            document = draw_plane(job, pieces, replace(wishes, roll=roll))
    finally:
        DRAWING.release()
    return f"data:image/svg+xml;base64,{b64encode(_without_heading(document)).decode('ascii')}"


def _without_heading(document: Document) -> bytes:
    """Show of the plane what its pieces take."""
    declared = document.declaration
    boxes = [one.sheet_bounds() for one in declared.drawn]
    left, right = min(box.x0 for box in boxes), max(box.x1 for box in boxes)
    low, high = min(box.y0 for box in boxes), max(box.y1 for box in boxes)
    wide, deep = right - left + BORDER, high - low + BORDER
    at = f"{left - BORDER / 2:.2f} {declared.page_height_mm - high - BORDER / 2:.2f}"
    size = f'width="{wide:.2f}mm" height="{deep:.2f}mm" viewBox="{at} {wide:.2f} {deep:.2f}"'
    root = f'<svg xmlns="http://www.w3.org/2000/svg" {size}>'
    begin, _, rest = document.data.partition(b'<g id="heading"')
    return _ROOT.sub(root.encode("ascii"), begin + rest[rest.index(_PIECE) :], count=1)
