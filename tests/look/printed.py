"""What a page shows: its lines of type and its strokes, with the part that a page frame leaves of each; mm, y down.

Read through MuPDF, which the project does not use.  Whatever is painted before a page
frame belongs to the pieces and is clipped by it; that is the order of the drawing
(DEVELOPERS.md) and of every file that the proof lets pass.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise
from typing import Any, NamedTuple

import pymupdf

MM = 25.4 / 72
ASCENT, LOW_ASCENT, DESCENT, LOW_DESCENT = 0.76, 0.56, 0.24, 0.02
"""Of DejaVu Sans above and below the base line, with letters that reach so far and without, shares of the size."""

DEEP, FLAT = set("gjpqyQ,;()[]{}|/_ç₀₁₂₃₄₅₆₇₈₉"), set("acegmnopqrsuvwxyz,.;·–- \u00a0")


Line = tuple[float, float, float, float]
"""From x, y to x, y."""


class Area(NamedTuple):
    """An upright rectangle, y down."""

    x0: float
    y0: float
    x1: float
    y1: float

    def meets(self, other: Area, by: float = 0.0) -> bool:
        ax0, ay0, ax1, ay1 = self
        bx0, by0, bx1, by1 = other
        if ax1 - bx0 <= by or bx1 - ax0 <= by:
            return False
        return min(ax1, bx1) - max(ax0, bx0) > by and min(ay1, by1) - max(ay0, by0) > by

    def cut(self, other: Area) -> Area:
        return Area(max(self.x0, other.x0), max(self.y0, other.y0), min(self.x1, other.x1), min(self.y1, other.y1))

    def grown(self, by: float) -> Area:
        return Area(self.x0 - by, self.y0 - by, self.x1 + by, self.y1 + by)

    def holds(self, other: Area, by: float = 0.0) -> bool:
        return (
            other.x0 >= self.x0 - by
            and other.y0 >= self.y0 - by
            and other.x1 <= self.x1 + by
            and other.y1 <= self.y1 + by
        )


@dataclass(frozen=True)
class Words:
    """A line of type: size in points, its place, and what of that is shown."""

    text: str
    size: float
    grey: float
    place: Area
    shown: Area
    of_piece: bool

    @property
    def whole(self) -> bool:
        return self.place == self.shown


@dataclass(frozen=True)
class Stroke:
    """A painted path as straight pieces, each shown in full or cut; ``weight`` in mm."""

    weight: float
    grey: float
    pieces: tuple[Line, ...]
    clip: Area | None
    is_frame: bool = False


@dataclass(frozen=True)
class Printed:
    """One page."""

    number: int
    size: Area
    words: tuple[Words, ...]
    strokes: tuple[Stroke, ...]
    fills: tuple[tuple[float, Area], ...]


def printed(data: bytes, frames: Sequence[tuple[int, Area]] = ()) -> Iterator[Printed]:
    """Read all pages; ``frames`` are the declared page frames by page number."""
    with pymupdf.open(stream=data, filetype="pdf") as pdf:
        for number, page in enumerate(pdf, 1):
            own = [frame for at, frame in frames if at == number]
            yield _page(number, page, own)


def _page(number: int, page: Any, frames: Sequence[Area]) -> Printed:
    size = Area(*(side * MM for side in page.rect))
    drawings = page.get_cdrawings()
    ends = [
        (one["seqno"], frame)
        for one in drawings
        for frame in frames
        if one["type"] == "s" and _near(_area(one["rect"]), frame)
    ]

    def clip(order: int) -> Area | None:
        return next((frame for at, frame in ends if at > order), None)

    words = [
        line
        for span in page.get_texttrace()
        for chars in _lines(span)
        if (line := _words({**span, "chars": chars}, clip(span["seqno"])))
    ]
    strokes, fills = [], []
    for one in drawings:
        if one["type"] in ("f", "fs"):
            fills.append((one["fill"][0], _area(one["rect"])))
        if one["type"] in ("s", "fs"):
            order = one["seqno"]
            is_frame = any(order == at for at, _ in ends)
            strokes.append(
                Stroke(one["width"] * MM, one["color"][0], tuple(_straight(one["items"])), clip(order), is_frame)
            )
    return Printed(number, size, tuple(words), tuple(strokes), tuple(fills))


def _near(one: Area, two: Area) -> bool:
    return all(abs(a - b) < 0.02 for a, b in zip(one, two, strict=True))


def _area(rect: Sequence[float]) -> Area:
    return Area(*(side * MM for side in rect))


def _lines(span: dict[str, Any]) -> Iterator[list[Any]]:
    """Give the characters of a span line by line: the lines of a paragraph stand in one text object."""
    across = 1 if abs(span["dir"][0]) > 0.9 else 0
    for _, chars in groupby(span["chars"], lambda char: round(char[2][across], 2)):
        yield list(chars)


def _words(span: dict[str, Any], clip: Area | None) -> Words | None:
    chars = [char for char in span["chars"] if not chr(char[0]).isspace()]
    if not chars:
        return None
    boxes = [char[3] for char in chars]
    x0, y0 = min(box[0] for box in boxes), min(box[1] for box in boxes)
    x1, y1 = max(box[2] for box in boxes), max(box[3] for box in boxes)
    size, (x, y) = span["size"], chars[0][2]
    letters = {chr(char[0]) for char in chars}
    rise = (LOW_ASCENT if letters <= FLAT else ASCENT) * size
    drop = (DESCENT if letters & DEEP else LOW_DESCENT) * size
    if abs(span["dir"][0]) > 0.9:
        y0, y1 = y - rise, y + drop
    elif span["dir"][1] < 0:
        # reads upwards: ascenders point to the left
        x0, x1 = x - rise, x + drop
    else:
        x0, x1 = x - drop, x + rise
    place = _area((x0, y0, x1, y1))
    shown = place.cut(clip) if clip else place
    if shown.x1 <= shown.x0 or shown.y1 <= shown.y0:
        return None
    text = "".join(chr(char[0]) for char in span["chars"])
    return Words(text, size, span["color"][0], place, shown, clip is not None)


def _straight(items: Sequence[Any]) -> Iterator[Line]:
    for kind, *points in items:
        if kind == "re":
            x0, y0, x1, y1 = points[0]
            corners = [(x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0)]
        elif kind == "qu":
            a, b, c, d = points[0]
            corners = [a, b, d, c, a]
        elif kind == "c":
            corners = [_bezier(points, k / 8) for k in range(9)]
        else:
            corners = points
        for (xa, ya), (xb, yb) in pairwise(corners):
            yield (xa * MM, ya * MM, xb * MM, yb * MM)


def _bezier(points: Sequence[tuple[float, float]], t: float) -> tuple[float, float]:
    shares = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
    x, y = (sum(share * point[axis] for share, point in zip(shares, points, strict=True)) for axis in (0, 1))
    return (x, y)
