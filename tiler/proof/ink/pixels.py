"""The pixels of one rendered page, addressed in millimetres."""

from __future__ import annotations

from tiler.box import Box, Point


class Pixels:
    """The grey pixels of a page, 255 is white; addressed in mm from the lower left corner of the page."""

    def __init__(self, data: bytes, stride: int, width: int, height: int, shown: Box) -> None:
        """Keep the pixels, rows from the top, of the part ``shown`` of a page."""
        self.data, self.stride, self.width, self.height = data, stride, width, height
        self.shown = shown
        self.kx, self.ky = width / shown.width, height / shown.height

    def pixel(self, point: Point) -> Point:
        """Return the place of a point in pixels, y down from the top."""
        return ((point[0] - self.shown.x0) * self.kx, (self.shown.y1 - point[1]) * self.ky)

    def point(self, pixel: Point) -> Point:
        """Return the point of the page that lies at a place in pixels, mm."""
        return pixel[0] / self.kx + self.shown.x0, self.shown.y1 - pixel[1] / self.ky
