"""A section on the page: outlines, hatching, needle, seams, pin and words; page mm.

Everything is told apart in black and white: the right side of a cloth is the
heavy line, its wrong side the light one, the strip is hatched, the garment
plain, a raw edge frays.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from math import cos, hypot, pi, sin

from tiler.box import Box, Point, Subpath
from tiler.languages.catalogue import noted
from tiler.languages.words import say
from tiler.sheets.canvas import Canvas
from tiler.sheets.pieces.rows import ASCENT, DESCENT
from tiler.sheets.sewing.section import THICK, Cloth, Label, Layer, Run, Section, frays, hatching
from tiler.sheets.style import CASING, HAIR, HEAVY, MEDIUM
from tiler.sheets.typesetting import text_width

RIGHT_SIDE, WRONG_SIDE, HATCH, LEADER = HEAVY, HAIR, HAIR, HAIR
NEEDLE, THREAD, PIN = MEDIUM, HEAVY, MEDIUM
NEEDLE_DASH = (1.4, 0.8)
SCALE = 1.5
"""A millimetre of a section on the page; words and weights of lines are not scaled."""

WORDS_CLEAR = 2.6
"""From the layers to the words above or below them, mm."""

NEEDLE_OVER = 2.4
"""How far the needle's line reaches over the layers, mm."""

KEY_WIDTH = 13.0
_SWATCH = Run(0.0, 0.0).to(KEY_WIDTH / SCALE).path()
KEY_HEIGHT = 6.0
"""Of a row of the key."""

Draw = Callable[[Canvas, Point], None]


@dataclass(frozen=True)
class _Entry:
    """What a line means: its name, how it is drawn, how ``wide`` that is, and the white ``after`` its name; mm."""

    name: str
    draw: Draw
    wide: float
    after: float


def _cloth(layer: Layer) -> Draw:
    return lambda canvas, at: draw_layers(canvas, [layer], (at[0], at[1] + 0.9))


def _line(weight: float, dash: Sequence[float] = ()) -> Draw:
    return lambda canvas, at: canvas.stroke([((at[0], at[1] + 1.0), (at[0] + 8.0, at[1] + 1.0))], weight, dash)


def _thread(canvas: Canvas, at: Point) -> None:
    _seam(canvas, ((0.0, 0.0), (4.0 / SCALE, 0.0)), (at[0], at[1] + 1.0))


KEY = (
    _Entry(noted("strip"), _cloth(Layer(Cloth.STRIP, _SWATCH, (False, False))), KEY_WIDTH + 2.0, 4.0),
    _Entry(noted("garment"), _cloth(Layer(Cloth.GARMENT, _SWATCH, (False, False))), KEY_WIDTH + 2.0, 4.0),
    _Entry(noted("raw edge"), _cloth(Layer(Cloth.GARMENT, _SWATCH, (False, True))), KEY_WIDTH + 2.0, 4.0),
    _Entry(noted("right side"), _line(RIGHT_SIDE), 10.0, 4.0),
    _Entry(noted("wrong side"), _line(WRONG_SIDE), 10.0, 4.0),
    _Entry(noted("needle"), _line(NEEDLE, NEEDLE_DASH), 10.0, 4.0),
    _Entry(noted("sewn"), _thread, 7.5, 4.0),
)


def bounds(section: Section) -> Box:
    """Return the place that a section takes on the page, with all that belongs to it."""
    stack = _stack(section)
    needle = SCALE * NEEDLE_OVER if section.needle is not None or section.pin else 0.0
    top, bottom = stack.y1 + needle, stack.y0 - needle
    if any(label.above for label in section.labels):
        top = stack.y1 + WORDS_CLEAR + ASCENT + DESCENT
    if any(not label.above for label in section.labels):
        bottom = stack.y0 - WORDS_CLEAR - ASCENT - DESCENT
    spans = [(stack.x0, stack.x1), *(_span(label) for label in section.labels)]
    return Box(min(x0 for x0, _ in spans), bottom, max(x1 for _, x1 in spans), top)


def draw_section(canvas: Canvas, section: Section, at: Point) -> None:
    """Draw a section with its origin at a point of the page."""
    draw_layers(canvas, section.layers, at)
    for seam in section.seams:
        _seam(canvas, seam, at)
    if section.needle is not None:
        _needle(canvas, section, section.needle, at)
    if section.pin:
        _pin(canvas, section, section.pin, at)
    for label in section.labels:
        _label(canvas, section, label, at)


def draw_layers(canvas: Canvas, layers: Iterable[Layer], at: Point) -> None:
    """Draw cloth: a heavy and a light line, hatching on the strip, threads at raw edges."""
    layers = list(layers)
    canvas.stroke(_moved((layer.side(THICK / 2) for layer in layers), at), RIGHT_SIDE)
    canvas.stroke(_moved((layer.side(-THICK / 2) for layer in layers), at), WRONG_SIDE)
    strokes = [stroke for layer in layers if layer.cloth is Cloth.STRIP for stroke in hatching(layer)]
    if strokes:
        canvas.stroke(_moved(strokes, at), HATCH)
    threads = [stroke for layer in layers for stroke in frays(layer)]
    if threads:
        canvas.stroke(_moved(threads, at), WRONG_SIDE)


def draw_key(canvas: Canvas, left: float, foot: float, width: float) -> None:
    """Draw what the lines of the sections mean, in as few rows as have room, the last at ``foot``."""
    rows = _key_rows(width)
    for number, row in enumerate(reversed(rows)):
        x, y = left, foot + number * KEY_HEIGHT
        for entry in row:
            entry.draw(canvas, (x, y))
            canvas.text((x + entry.wide, y), say(entry.name))
            x += entry.wide + text_width(say(entry.name)) + entry.after


def key_height(width: float) -> float:
    """Return how high the key is in this width, mm."""
    return KEY_HEIGHT * len(_key_rows(width))


def _key_rows(width: float) -> list[list[_Entry]]:
    rows: list[list[_Entry]] = [[]]
    reached = 0.0
    for entry in KEY:
        own = entry.wide + text_width(say(entry.name))
        if rows[-1] and reached + own > width:
            rows.append([])
            reached = 0.0
        rows[-1].append(entry)
        reached += own + entry.after
    return rows


def _stack(section: Section) -> Box:
    stack = section.stack
    return Box(*(SCALE * side for side in (stack.x0, stack.y0, stack.x1, stack.y1)))


def _span(label: Label) -> tuple[float, float]:
    width, x = text_width(label.text, bold=label.press), SCALE * label.x
    if label.tip is None:
        return (x, x + width)
    return (x - width / 2, x + width / 2)


def _moved(lines: Iterable[Sequence[Point]], at: Point) -> list[Subpath]:
    """Lay lines of a section on the page."""
    return [tuple((SCALE * x + at[0], SCALE * y + at[1]) for x, y in line) for line in lines]


def _seam(canvas: Canvas, seam: Subpath, at: Point) -> None:
    """Draw a thread through the layers: a line that reaches out of both ends, with a knot in every layer."""
    (x0, y0), (x1, y1) = seam[0], seam[-1]
    length = hypot(x1 - x0, y1 - y0)
    ux, uy = 0.8 * (x1 - x0) / length, 0.8 * (y1 - y0) / length
    line = ((x0 - ux, y0 - uy), *seam, (x1 + ux, y1 + uy))
    canvas.clear(_moved([line], at), THREAD + CASING)
    canvas.stroke(_moved([line], at), THREAD)
    canvas.fill(_moved([_dot(point, 0.55) for point in (line[0], line[-1])], at))


def _needle(canvas: Canvas, section: Section, x: float, at: Point) -> None:
    crossed = section.levels(x)
    top, bottom = max(crossed) + THICK / 2 + NEEDLE_OVER, min(crossed) - THICK / 2 - NEEDLE_OVER + 0.6
    line = _moved([((x, top), (x, bottom + 1.2))], at)
    canvas.clear(line, NEEDLE + CASING)
    canvas.stroke(line, NEEDLE, NEEDLE_DASH)
    canvas.fill(_moved([((x - 0.6, bottom + 1.4), (x + 0.6, bottom + 1.4), (x, bottom))], at))


def _pin(canvas: Canvas, section: Section, pin: tuple[float, float], at: Point) -> None:
    """Draw a pin that goes slantwise through all layers, head at the right."""
    x0, x1 = pin
    near = section.levels((x0 + x1) / 2)
    high, low = max(near) + THICK / 2 + 1.6, min(near) - THICK / 2 - 1.2
    canvas.stroke(_moved([((x0 - 1.0, low), (x1 + 1.0, high))], at), PIN)
    canvas.fill(_moved([_dot((x1 + 1.0, high), 0.8)], at))


def _label(canvas: Canvas, section: Section, label: Label, at: Point) -> None:
    stack, x = _stack(section), at[0] + SCALE * label.x
    if label.above:
        base, end = stack.y1 + WORDS_CLEAR + DESCENT, stack.y1 + WORDS_CLEAR - 0.4
    else:
        base, end = stack.y0 - WORDS_CLEAR - ASCENT, stack.y0 - WORDS_CLEAR + 0.4
    if label.tip is None:
        canvas.text((x, at[1] + base), label.text)
        return
    low, high = _span(label)
    start = (min(max(SCALE * label.tip[0], low + 2.0), high - 2.0) / SCALE, end / SCALE)
    canvas.stroke(_moved([(start, label.tip)], at), LEADER)
    canvas.fill(_moved([_arrowhead(start, label.tip) if label.press else _dot(label.tip, 0.35)], at))
    canvas.text((x, at[1] + base), label.text, bold=label.press, align="centre")


def _dot(at: Point, radius: float) -> Subpath:
    return tuple((at[0] + radius * cos(2 * pi * k / 12), at[1] + radius * sin(2 * pi * k / 12)) for k in range(12))


def _arrowhead(start: Point, tip: Point) -> Subpath:
    length = hypot(tip[0] - start[0], tip[1] - start[1])
    ux, uy = 1.6 * (tip[0] - start[0]) / length, 1.6 * (tip[1] - start[1]) / length
    back = (tip[0] - ux, tip[1] - uy)
    return (tip, (back[0] - 0.4 * uy, back[1] + 0.4 * ux), (back[0] + 0.4 * uy, back[1] - 0.4 * ux))
