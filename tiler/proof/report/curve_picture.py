"""A picture of numbered curves, so that a person finds the one that is meant.

The longest curves are thick, numbered ones coloured, the rest pale; every number stands
on a plate of its own, in its curve's colour, where it hides as little as can be.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import accumulate, islice, pairwise
from math import hypot

from PIL import Image, ImageDraw, ImageFont

from tiler.box import Box
from tiler.curves import Curve

LONGEST = 12
"""So many curves are drawn thick, and named in the list at the side."""

MOST_NUMBERED = 60
"""So many curves get a number, the longest first, and as many that bend; more would hide each other."""

BENT = 10.0
"""Lines that turn by fewer degrees do not bend."""

SIDE = (1600, 3200)
"""Least and greatest longer side of the drawing, pixels."""

FINE = 4.0
"""Pixels per mm where both sides allow it."""

FINER = 2
"""The picture is drawn this much larger and then reduced, so that lines are smooth."""

LEGEND = 250
"""Width of the list at the side, pixels."""

CELL = 6
"""Lines are remembered by squares of this size, pixels."""

COLOURS = ("#c1121f", "#0353a4", "#2a7f3e", "#8a3ffc", "#b35900", "#00798c")
PALE = "#9a9a9a"

SHARES = (0.5, 0.35, 0.65, 0.2, 0.8, 0.08, 0.92)
REACHES = (1.0, 1.9, 3.2, 5.0)


Backdrop = Image.Image
"""A picture of a page, shown pale behind its curves."""


@dataclass(frozen=True)
class NumberedCurve:
    """A curve to be drawn with its number, and its length when that is corrected."""

    number: int
    curve: Curve
    length_mm: float


@dataclass
class _Plan:
    """Places on the picture: how mm become pixels, which squares hold lines, where numbers stand."""

    area: Box
    scale: float
    lines: dict[tuple[int, int], int] = field(default_factory=dict)
    plates: list[tuple[float, float, float, float]] = field(default_factory=list)

    @property
    def size(self) -> tuple[int, int]:
        return max(1, round(self.area.width * self.scale)), max(1, round(self.area.height * self.scale))

    def pixel(self, point: complex) -> tuple[float, float]:
        return (point.real - self.area.x0) * self.scale, (self.area.y1 - point.imag) * self.scale

    def remember(self, line: Sequence[tuple[float, float]]) -> None:
        for (xa, ya), (xb, yb) in pairwise(line):
            steps = min(2000, int(hypot(xb - xa, yb - ya) / CELL) + 1)
            for k in range(steps + 1):
                cell = (int((xa + (xb - xa) * k / steps) // CELL), int((ya + (yb - ya) * k / steps) // CELL))
                self.lines[cell] = self.lines.get(cell, 0) + 1

    def hidden(self, plate: tuple[float, float, float, float]) -> int:
        left, top, right, foot = (int(side // CELL) for side in plate)
        return sum(self.lines.get((x, y), 0) > 0 for x in range(left, right + 1) for y in range(top, foot + 1))

    def free(self, plate: tuple[float, float, float, float]) -> bool:
        left, top, right, foot = plate
        width, height = self.size
        if left < 0 or top < 0 or right > width or foot > height:
            return False
        return all(right < a or c < left or foot < b or d < top for a, b, c, d in self.plates)


def curve_picture(curves: Sequence[NumberedCurve], area: Box, backdrop: Backdrop | None = None) -> Image.Image:
    """Draw curves, the longest first in ``curves``, that lie in ``area`` (mm).

    ``backdrop`` is a picture of that area, shown pale behind them.
    """
    longer = max(area.width, area.height)
    plan = _Plan(area, min(max(SIDE[0] / longer, FINE), SIDE[1] / longer))
    width, height = plan.size
    sheet = Image.new("RGB", (width * FINER, height * FINER), "white")
    if backdrop is not None:
        pale = Image.blend(backdrop.resize(sheet.size), Image.new("RGB", sheet.size, "white"), 0.72)
        sheet.paste(pale)
    pen = ImageDraw.Draw(sheet)
    lines = [[plan.pixel(point) for point in one.curve.chords(0.2 / plan.scale)] for one in curves]
    numbered = _numbered(curves)
    for rank in sorted(range(len(curves)), key=lambda rank: (rank in numbered, -rank)):
        plan.remember(lines[rank])
        thick = 4 if rank < LONGEST else 2 if rank in numbered else 1
        large = [(x * FINER, y * FINER) for x, y in lines[rank]]
        pen.line(large, fill=numbered.get(rank, PALE), width=thick * FINER, joint="curve")
    picture = sheet.resize(plan.size, Image.Resampling.LANCZOS)
    ink = ImageDraw.Draw(picture)
    for rank, colour in numbered.items():
        _label(ink, plan, str(curves[rank].number), lines[rank], colour, rank < LONGEST)
    return _with_list(picture, curves, len(plan.plates))


def _numbered(curves: Sequence[NumberedCurve]) -> dict[int, str]:
    """Return the ranks of the curves that get a number, each with its colour."""
    bent = (rank for rank, one in enumerate(curves) if abs(one.curve.turning_deg) > BENT)
    ranks = sorted({*range(min(MOST_NUMBERED, len(curves))), *islice(bent, MOST_NUMBERED)})
    return {rank: COLOURS[place % len(COLOURS)] for place, rank in enumerate(ranks)}


def _font(size: float) -> ImageFont.FreeTypeFont | ImageFont.ImageFont:
    return ImageFont.load_default(size)


def _label(
    ink: ImageDraw.ImageDraw, plan: _Plan, text: str, line: list[tuple[float, float]], colour: str, thick: bool
) -> None:
    font = _font(26 if thick else 17)
    box = ink.textbbox((0, 0), text, font=font)
    wide, high = box[2] - box[0] + 10, box[3] - box[1] + 8
    best: tuple[int, tuple[float, float], tuple[float, float, float, float]] | None = None
    for place, anchor, plate in _places(line, wide, high):
        if plan.free(plate):
            cost = 3 * plan.hidden(plate) + place
            if best is None or cost < best[0]:
                best = (cost, anchor, plate)
    if best is None:
        return
    _, anchor, plate = best
    plan.plates.append(plate)
    middle = ((plate[0] + plate[2]) / 2, (plate[1] + plate[3]) / 2)
    if hypot(middle[0] - anchor[0], middle[1] - anchor[1]) > high:
        ink.line([anchor, middle], fill=colour, width=1)
        ink.ellipse((anchor[0] - 3, anchor[1] - 3, anchor[0] + 3, anchor[1] + 3), fill=colour)
    ink.rounded_rectangle(plate, radius=5, fill=colour if thick else "white", outline=colour)
    ink.text(middle, text, font=font, fill="white" if thick else "black", anchor="mm")


def _places(
    line: list[tuple[float, float]], wide: float, high: float
) -> Iterator[tuple[int, tuple[float, float], tuple[float, float, float, float]]]:
    """Yield places for a plate, the likeliest first: on the line's sides, then further off."""
    runs = [0.0, *accumulate(hypot(xb - xa, yb - ya) for (xa, ya), (xb, yb) in pairwise(line))]
    order = 0
    for reach in REACHES:
        for share in SHARES:
            index = next((k for k in range(1, len(runs)) if runs[k] >= share * runs[-1]), len(runs) - 1)
            (xa, ya), (xb, yb) = line[index - 1], line[index]
            span = runs[index] - runs[index - 1] or 1.0
            part = (share * runs[-1] - runs[index - 1]) / span
            x, y = xa + (xb - xa) * part, ya + (yb - ya) * part
            across = ((ya - yb) / span, (xb - xa) / span)
            off = reach * (abs(across[0]) * wide / 2 + abs(across[1]) * high / 2 + 6)
            for side in (1, -1):
                cx, cy = x + side * across[0] * off, y + side * across[1] * off
                yield order, (x, y), (cx - wide / 2, cy - high / 2, cx + wide / 2, cy + high / 2)
                order += 1


def _with_list(picture: Image.Image, curves: Sequence[NumberedCurve], numbered: int) -> Image.Image:
    """Put the list of the longest curves beside the drawing."""
    whole = Image.new("RGB", (picture.width + LEGEND, max(picture.height, 110 + 34 * LONGEST)), "white")
    whole.paste(picture, (0, 0))
    ink = ImageDraw.Draw(whole)
    ink.line([(picture.width, 0), (picture.width, whole.height)], fill="#bbbbbb")
    ink.text((picture.width + 16, 16), "longest curves", font=_font(22), fill="black")
    for rank, one in enumerate(curves[:LONGEST]):
        y = 66 + 34 * rank
        plate = (picture.width + 16, y - 14, picture.width + 86, y + 14)
        ink.rounded_rectangle(plate, radius=5, fill=COLOURS[rank % len(COLOURS)])
        ink.text((picture.width + 51, y), str(one.number), font=_font(20), fill="white", anchor="mm")
        length = f"{one.length_mm / 10:.1f} cm, {one.length_mm / 25.4:.1f} in"
        ink.text((picture.width + 96, y), length, font=_font(17), fill="black", anchor="lm")
    if numbered < len(curves):
        words = f"{numbered} of {len(curves)} have a number;\nsee --least and --page"
        ink.text((picture.width + 16, 66 + 34 * LONGEST), words, font=_font(17), fill="black")
    return whole
