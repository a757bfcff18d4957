"""The boxes of a page and how a viewer shows them; mm.

ISO 32000-1, 7.7.3.3 (Table 30): the MediaBox is the sheet, the CropBox what is
shown and printed, Rotate turns the shown page clockwise, UserUnit multiplies the
unit of 1/72 in.  Boxes may name any two opposite corners (7.9.5).  Everything
else in ``tiler.reading`` counts from the lower left corner of the MediaBox as it
is shown, so a box that does not start at the origin changes no position.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import isfinite
from typing import Any

from pdfminer.pdftypes import PDFObjRef, resolve_all

from tiler.box import Box
from tiler.errors import UnreadableError

MM_PER_UNIT = 25.4 / 72
"""One default user space unit, mm (ISO 32000-1, 8.3.2.3)."""

MOST_UNITS = 14_400
"""A side of more units is beyond what viewers show (ISO 32000-1, Table C.1)."""

MOST_UNIT = 1000.0
"""A larger UserUnit is taken for damage."""


@dataclass(frozen=True)
class PageBoxes:
    """MediaBox and CropBox as written, mm with the UserUnit applied; ``rotate`` in degrees.

    ``direct`` is false when the MediaBox is written as a reference to another
    object, which some print filters do not follow.
    """

    media: Box
    crop: Box
    rotate: int
    user_unit: float
    direct: bool

    @property
    def quarters(self) -> int:
        """Clockwise quarter turns of the shown page; any other angle turns nothing."""
        return self.rotate // 90 % 4 if self.rotate % 90 == 0 else 0

    @property
    def width(self) -> float:
        """Width of the MediaBox as shown."""
        return self.media.height if self.quarters % 2 else self.media.width

    @property
    def height(self) -> float:
        """Height of the MediaBox as shown."""
        return self.media.width if self.quarters % 2 else self.media.height

    def as_shown(self) -> PageBoxes:
        """Return the boxes of a page that looks the same and asks for no turn."""
        return replace(self, media=Box(0.0, 0.0, self.width, self.height), crop=self.shown, rotate=0)

    @property
    def shown(self) -> Box:
        """What a viewer shows: CropBox within MediaBox, from the lower left corner of the shown MediaBox."""
        left, right = self.crop.x0 - self.media.x0, self.media.x1 - self.crop.x1
        below, above = self.crop.y0 - self.media.y0, self.media.y1 - self.crop.y1
        sides = [max(0.0, side) for side in (left, below, right, above)]
        # A clockwise quarter turn brings the lower side to the left.
        left, below, right, above = sides[self.quarters :] + sides[: self.quarters]
        return Box(left, below, self.width - right, self.height - above)


def page_boxes(attributes: Mapping[str, Any], number: int) -> PageBoxes:
    """Read the boxes of a page from its dictionary, inherited entries included.

    Raises :class:`UnreadableError` when a box has no size.
    """
    unit = _number(resolve_all(attributes.get("UserUnit")), 1.0)
    if not 0 < unit < MOST_UNIT:
        raise UnreadableError(f"page {number} has a UserUnit of {unit:g}, which no page can have")
    media = _box(attributes.get("MediaBox"), unit)
    if media is None or min(media.width, media.height) <= 0:
        raise UnreadableError(f"page {number} has no size; its MediaBox is missing or empty")
    if max(media.width, media.height) > MOST_UNITS * unit * MM_PER_UNIT:
        raise UnreadableError(f"page {number} is larger than 200 in, which common viewers do not show; it is not read")
    crop = _box(attributes.get("CropBox"), unit) or media
    if not crop.overlaps(media):
        crop = media
    return PageBoxes(
        media=media,
        crop=crop,
        rotate=int(_number(resolve_all(attributes.get("Rotate")), 0.0)) % 360,
        user_unit=unit,
        direct=not isinstance(attributes.get("MediaBox"), PDFObjRef),
    )


def _number(value: Any, default: float) -> float:
    if isinstance(value, int | float) and isfinite(value):
        return float(value)
    return default


def _box(value: Any, unit: float) -> Box | None:
    corners = resolve_all(value)
    if not isinstance(corners, list) or len(corners) != 4:
        return None
    if not all(isinstance(side, int | float) and isfinite(side) for side in corners):
        return None
    k = unit * MM_PER_UNIT
    xa, ya, xb, yb = (side * k for side in corners)
    return Box(min(xa, xb), min(ya, yb), max(xa, xb), max(ya, yb))
