"""The drawings of the guide: how to measure an edge and a fabric, how to hold a ruler, how to lay two pages together.

Each is a page of its own, mm, in the line weights of the pattern pages.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import cos, pi, radians, sin, tan

from tiler.box import Box, Point
from tiler.sheets.canvas import Canvas
from tiler.sheets.style import FINE, HAIR, HEAVY, LABEL, LEADING, MEDIUM, SHADE

SEAM_DASH = (2.4, 1.2)
ALLOWANCE = 5.0
SLOPE = radians(20.0)


def _words(canvas: Canvas, at: Point, *lines: str, align: str = "left") -> None:
    for index, line in enumerate(lines):
        canvas.text((at[0], at[1] - index * LEADING), line, align=align)


def _leader(canvas: Canvas, start: Point, end: Point) -> None:
    canvas.stroke([(start, end)], HAIR)
    canvas.dot(end, 0.6, filled=True)


def _arrows(canvas: Canvas, start: Point, end: Point) -> None:
    """Draw a level line with a head at both ends."""
    canvas.stroke([(start, end)], HAIR)
    for (x, y), way in ((start, 1.0), (end, -1.0)):
        canvas.fill([((x, y), (x + 2.2 * way, y + 0.8), (x + 2.2 * way, y - 0.8))])


def _ruler(canvas: Canvas, left: float, top: float, centimetres: int) -> None:
    """Draw a ruler in true centimetres whose first mark stands at ``left``; before it a ruler has some blank."""
    canvas.outline(Box(left - 4.0, top - 11.0, left + 10.0 * centimetres + 4.0, top), FINE)
    for millimetre in range(10 * centimetres + 1):
        high = 5.0 if millimetre % 10 == 0 else 3.5 if millimetre % 5 == 0 else 2.0
        canvas.stroke([((left + millimetre, top), (left + millimetre, top - high))], HAIR)
    for number in range(centimetres + 1):
        canvas.text((left + 10.0 * number, top - 8.6), str(number), align="centre")


def _half(canvas: Canvas, fold: float, deep: float, names: tuple[str, str], wide: float = 32.0) -> None:
    """Draw half a front or back at the neck, on its fold at ``fold``, and the seam line that is measured."""
    neck = 70.0

    def arc(more: float) -> list[Point]:
        steps = [index * pi / 96 for index in range(49)]
        return [(fold + (wide + more) * sin(step), neck - (deep + more) * cos(step)) for step in steps]

    tip = (fold + wide, neck)
    end = (fold + 62.0, neck - 30.0 * tan(SLOPE))
    lower = ALLOWANCE / cos(SLOPE)
    cut, seam = arc(0.0), arc(ALLOWANCE)
    # the seam line ends where it meets the shoulder seam
    seam = [(x, y) for x, y in seam if y <= neck - lower - max(x - tip[0], 0.0) * tan(SLOPE)]
    canvas.stroke([(*cut, end, (end[0], 12.0))], HEAVY)
    canvas.stroke([((fold, 12.0), cut[0])], FINE, (9.0, 1.5, 2.0, 1.5))
    canvas.stroke([seam], HEAVY, SEAM_DASH)
    canvas.stroke([((tip[0], tip[1] - lower), (end[0], end[1] - lower))], FINE, SEAM_DASH)
    for at in (seam[0], seam[-1]):
        canvas.dot(at, 1.1, filled=True)
    canvas.text((fold + 2.0, 14.0), names[0])
    canvas.text((fold + 22.0, 20.0), names[1], LABEL, bold=True)


def measuring(canvas: Canvas) -> None:
    """Draw where the halves of a neckline are measured."""
    canvas.begin_page(166.0, 84.0)
    _half(canvas, 6.0, 40.0, ("CF, on fold", "front half"))
    _half(canvas, 86.0, 14.0, ("CB, on fold", "back half"))
    _words(canvas, (8.0, 78.0), "cut edge")
    _leader(canvas, (14.0, 77.0), (6.0 + 32.0 * sin(1.05), 70.0 - 40.0 * cos(1.05)))
    _words(canvas, (46.0, 80.0), "seam line: measure it from dot to dot,", "the tape standing on its side")
    _leader(canvas, (48.0, 75.0), (6.0 + 37.0 * sin(0.85), 70.0 - 45.0 * cos(0.85)))
    _words(canvas, (122.0, 80.0), "shoulder seam; beyond it", "lies the end allowance")
    _leader(canvas, (138.0, 75.0), (135.0, 70.0 - 17.0 * tan(SLOPE) - ALLOWANCE / cos(SLOPE)))
    canvas.end_page()


def stretch(canvas: Canvas) -> None:
    """Draw a strip of fabric at rest and pulled, on a ruler."""
    canvas.begin_page(164.0, 56.0)
    for left, top, shown, held in ((10.0, 44.0, 10, "at rest: 10 cm"), (10.0, 16.0, 14, "pulled: 14 cm")):
        canvas.shade(Box(left - 6.0, top, left + 10.0 * shown + 6.0, top + 8.0), SHADE)
        canvas.outline(Box(left - 6.0, top, left + 10.0 * shown + 6.0, top + 8.0), FINE)
        for x in (left, left + 10.0 * shown):
            canvas.stroke([((x, top), (x, top + 8.0))], HEAVY)
        canvas.text((left + 5.0 * shown, top + 2.8), held, align="centre")
        _ruler(canvas, left, top - 0.6, 14)
    canvas.text((120.0, 46.4), "(14 − 10) ÷ 10 =")
    canvas.text((146.0, 46.4), "40 %", LABEL, bold=True)
    canvas.end_page()


def ruler(canvas: Canvas) -> None:
    """Draw a ruler held to a test square."""
    canvas.begin_page(142.0, 78.0)
    left, foot = 18.0, 22.0
    canvas.outline(Box(left, foot, left + 50.0, foot + 50.0), FINE)
    canvas.text((left + 25.0, foot + 26.0), "5 cm × 5 cm", LABEL, bold=True, align="centre")
    canvas.text((left + 25.0, foot + 20.0), "test square", align="centre")
    _ruler(canvas, left - 10.0, foot - 0.4, 8)
    for x in (left, left + 50.0):
        # clear of the figures on the ruler
        canvas.stroke([((x, foot - 14.0), (x, foot - 9.8)), ((x, foot - 6.0), (x, foot + 3.0))], HAIR)
    _arrows(canvas, (left, foot - 13.5), (left + 50.0, foot - 13.5))
    _words(canvas, (left + 25.0, foot - 18.5), "6 − 1 = 5 cm", align="centre")
    _words(canvas, (80.0, 66.0), "Start at a mark, here 1 cm,", "not at the end of the ruler.")
    _words(canvas, (80.0, 52.0), "Read from the middle of one line", "to the middle of the other.")
    _words(canvas, (80.0, 38.0), "Read across, then down: they differ", "when a printer pulls the paper.")
    canvas.end_page()


def taping(canvas: Canvas) -> None:
    """Draw two pages before and after they are laid together."""
    canvas.begin_page(158.0, 76.0)
    page, frame = (34.0, 52.0), 3.0
    for left, code, trimmed in ((4.0, "A1", False), (44.0, "A2", True)):
        _page(canvas, left, page, frame, code, trimmed)
    _words(canvas, (4.0, 69.0), "1  A2 loses its white on the left,", "    along the thin frame")
    # the overlap is as wide as from frame to mark, twice
    first, second = 94.0, 94.0 + page[0] - 2 * frame - 6.0
    _page(canvas, first, page, frame, "A1", False)
    canvas.shade(Box(second + frame, 12.0 - 4.0, second + page[0], 12.0 + page[1] - 4.0), 1.0)
    _page(canvas, second, page, frame, "A2", True, cut=True)
    _words(canvas, (94.0, 69.0), "2  laid over A1: mark on mark,", "    then taped")
    canvas.end_page()


def _page(
    canvas: Canvas, left: float, size: tuple[float, float], frame: float, code: str, trimmed: bool, cut: bool = False
) -> None:
    foot, (wide, high) = 8.0, size
    inner = Box(left + frame, foot + frame, left + wide - frame, foot + high - frame)
    start = inner.x0 if cut else left
    canvas.outline(Box(start, foot, left + wide, foot + high), FINE)
    canvas.outline(inner, HAIR)
    if trimmed and not cut:
        canvas.stroke([((inner.x0, foot - 4.0), (inner.x0, foot + high + 3.0))], MEDIUM, SEAM_DASH)
    for y in (inner.y0 + 7.0, inner.y1 - 7.0):
        canvas.register_mark((inner.x0 + 3.0 if trimmed else inner.x1 - 3.0, y), 4.0)
    canvas.text((left + wide / 2 + (2.0 if cut else 0.0), foot + 8.0), code, LABEL, bold=True, align="centre")
    ends = (inner.x0, inner.x1 - 9.0) if trimmed else (inner.x0 + 5.0, inner.x1)
    for y in (foot + 20.0, foot + 32.0):
        canvas.stroke([((ends[0], y), (ends[1], y))], HEAVY)
    side = ends[1] if trimmed else ends[0]
    canvas.stroke([((side, foot + 20.0), (side, foot + 32.0))], HEAVY)


def drawings() -> Iterator[tuple[str, Callable[[Canvas], None]]]:
    """Give the name of each picture and what draws it."""
    yield from (("measuring.png", measuring), ("stretch.png", stretch), ("ruler.png", ruler), ("taping.png", taping))
