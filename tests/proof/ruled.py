"""Rulers on the glass beside a print: their graduation drawn by PDFium under any map, on clear plastic, steel or dark."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from math import cos, radians, sin

import numpy as np
from numpy.typing import NDArray

from tests.proof.scanned import INCH, laid
from tests.reading.files import pdf

POINT = 72 / INCH
HIGH = 28.0
"""How wide a ruler is, mm."""


@dataclass(frozen=True)
class OnGlass:
    """A ruler whose left upper corner lies so far from the upper left of the picture, mm, turned clockwise by degrees.

    ``unit`` is mm or in, along one edge; ``both`` shows the other unit along the other edge. ``hidden`` is what a
    paper lies over: from where on, and how far, mm along it.
    """

    at: tuple[float, float]
    turn: float = 0.0
    unit: str = "mm"
    long: float = 160.0
    body: str = "clear"
    weight: float = 0.15
    both: bool = False
    hidden: tuple[float, float] | None = None
    finer: bool = False
    """Whether half millimetres, or 1/32 in, are there as well."""
    even: bool = False
    """Whether all strokes are alike."""

    def on(self, clean: NDArray[np.uint8], per_mm: tuple[float, float]) -> NDArray[np.uint8]:
        """Return a picture with the ruler on it, of which so many pixels make 1 mm."""
        return with_ruler(clean, self, per_mm)


def lengths(unit: str, count: int, finer: bool) -> list[tuple[float, float]]:
    """Return where each stroke of a graduation stands, and how long it is, mm: common practice."""
    strokes: list[tuple[float, float]] = []
    if unit == "mm":
        for number in range(count + 1):
            strokes.append((float(number), 6.0 if number % 10 == 0 else 4.5 if number % 5 == 0 else 3.0))
            if finer and number < count:
                strokes.append((number + 0.5, 2.0))
        return strokes
    for number in range(count + 1):
        long = next(high for step, high in ((16, 8.0), (8, 6.0), (4, 4.8), (2, 3.8), (1, 2.8)) if number % step == 0)
        strokes.append((number * INCH / 16, long))
        if finer and number < count:
            strokes.append(((number + 0.5) * INCH / 16, 1.8))
    return strokes


@cache
def ruler_page(unit: str, long: float, weight: float, both: bool, finer: bool, even: bool) -> bytes:
    """Return a page with the graduation alone, black on nothing, its upper left corner that of the ruler."""
    other = "in" if unit == "mm" else "mm"
    drawn = [f"{weight * POINT:.4f} w"]
    for kind, upside in ((unit, False), (other, True)) if both else ((unit, False),):
        step, every = (1.0, 10) if kind == "mm" else (INCH / 16, 16)
        count = int((long - 8) / step)
        for at, rank in lengths(kind, count, finer):
            high = 3.0 if even else rank
            # a stroke, since PDFium fills rectangles to whole pixels
            x, y = (at + 4) * POINT, (0.2 if upside else HIGH - 0.2 - high) * POINT
            drawn.append(f"{x:.4f} {y:.4f} m {x:.4f} {y + high * POINT:.4f} l S")
        for number in range(1, count // every + 1):
            x, y = (number * every * step + 4 - 1.2) * POINT, (8.5 if upside else HIGH - 11.0) * POINT
            drawn.append(f"BT /F1 9 Tf {x:.3f} {y:.3f} Td ({number}) Tj ET")
    return pdf("\n".join(drawn), media=(0, 0, long * POINT, HIGH * POINT))


def with_ruler(clean: NDArray[np.uint8], ruler: OnGlass, per_mm: tuple[float, float]) -> NDArray[np.uint8]:
    """Lay a ruler on a picture of which so many pixels make 1 mm of what lies on the glass."""
    angle, (sx, sy) = radians(ruler.turn), per_mm
    high, wide = clean.shape
    c, s = cos(angle) / POINT, sin(angle) / POINT
    matrix = (c * sx, s * sy, -s * sx, c * sy, ruler.at[0] * sx, ruler.at[1] * sy)
    page = ruler_page(ruler.unit, ruler.long, ruler.weight, ruler.both, ruler.finer, ruler.even)
    marks = laid(page, matrix, (wide, high)).astype(np.float32) / 255
    x, y = np.meshgrid((np.arange(wide) + 0.5) / sx - ruler.at[0], (np.arange(high) + 0.5) / sy - ruler.at[1])
    u, v = x * cos(angle) + y * sin(angle), y * cos(angle) - x * sin(angle)
    inside = np.minimum(np.minimum(u, ruler.long - u), np.minimum(v, HIGH - v)) * min(per_mm)
    cover = np.clip(inside + 0.5, 0, 1).astype(np.float32)
    under = clean.astype(np.float32)
    if ruler.body == "clear":
        rim = 1 - 0.25 * np.exp(-((inside / (0.3 * min(per_mm))) ** 2))
        shown = under * (0.93 + 0.07 * (1 - cover)) * rim * (0.15 + 0.85 * marks)
    else:
        chance = np.random.default_rng(int(ruler.long))
        if ruler.body == "steel":
            # brushed along its length: stripes of unlike grey
            stripes = chance.normal(0, 6, 400)[np.clip((v * 8).astype(int), 0, 399)]
            face, ink = 150 + stripes + 12 * np.sin(u / 40), 35.0
        elif ruler.body == "wood":
            face, ink = 185 + 8 * np.sin(v * 2 + np.sin(u / 30)), 50.0
        else:
            face, ink = np.full_like(under, 40.0), 215.0
        shown = under * (1 - cover) + cover * (face * marks + ink * (1 - marks))
    if ruler.hidden:
        over = (u > ruler.hidden[0]) & (u < ruler.hidden[0] + ruler.hidden[1]) & (v > -3) & (v < HIGH * 0.7)
        shown = np.where(over, 238.0, shown)
    return np.clip(shown, 0, 255).astype(np.uint8)
