"""What can be wrong with the ink of a line or a word."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from tiler.box import Point

TEXT = "text"
"""What a fault of words is told of; those of lines are told of the tag of the line."""

Segment = tuple[Point, Point]


class InkKind(StrEnum):
    """How something written does not reach the eye."""

    HIDDEN = "hidden"
    PALE = "pale"
    HEMMED = "without contrast"
    SPARSE = "too sparse"
    DISPLACED = "displaced"


@dataclass(frozen=True)
class InkFault:
    """Something written that the eye does not get, or not there: the tag of a line or :data:`TEXT`; page mm."""

    what: str
    kind: InkKind
    segment: Segment
