"""What a way to draw has to know; lengths mm from the lower left corner, type in points, grey 0 is black."""

from __future__ import annotations

WIDE, HIGH = 210.0, 297.0
PT = 72 / 25.4


class Canvas:
    """A page of A4."""

    def rect(self, x: float, y: float, w: float, h: float, weight: float, grey: float = 0.0) -> None:
        raise NotImplementedError

    def fill(self, x: float, y: float, w: float, h: float, grey: float) -> None:
        raise NotImplementedError

    def line(self, x1: float, y1: float, x2: float, y2: float, weight: float) -> None:
        raise NotImplementedError

    def circle(self, x: float, y: float, r: float, weight: float) -> None:
        raise NotImplementedError

    def text(self, x: float, y: float, words: str, size: float = 10) -> None:
        raise NotImplementedError

    def saved(self) -> bytes:
        raise NotImplementedError
