"""The arrow that lies along the greatest stretch of the cloth; piece mm."""

from __future__ import annotations

from tiler.box import Point
from tiler.declaration import Tag
from tiler.draft.outline import ARROW_HEAD
from tiler.drawn import Part


def arrow(start: Point, length: float) -> Part:
    """Return the arrow of greatest stretch: a line along the strip with a head at both ends."""
    x, y = start
    end = x + length
    head = ARROW_HEAD
    return Part(
        Tag.STRETCH_ARROW,
        (
            ((x, y), (end, y)),
            ((x + head, y - head / 2), (x, y), (x + head, y + head / 2)),
            ((end - head, y - head / 2), (end, y), (end - head, y + head / 2)),
        ),
    )
