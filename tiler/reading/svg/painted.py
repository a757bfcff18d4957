"""The painted shapes of an SVG drawing, such as a logo, in mm, y up (SVG 2, W3C, chapters 9 to 11 and 13).

Plain fills and strokes are read, and what is anything else is refused, never left out: a logo is printed
as its owner drew it or not at all.  Nothing in the file is run.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import isclose, sqrt

from tiler.errors import UnreadableError
from tiler.printed import Colour, Shape
from tiler.reading.svg.markup import Element, parse
from tiler.reading.svg.read import Place, SvgCurve, Walk, curves
from tiler.reading.svg.style import PROPERTIES
from tiler.reading.svg.view import outer_view, user_length, view_box

STRAY = 0.005
"""Chords of a curve stray from it by this at most, at the size in which it is stated, mm."""

MOST_POINTS = 50_000
"""A drawing with more points is refused."""

INHERITED = ("fill", "fill-rule", "fill-opacity", "stroke", "stroke-width", "stroke-opacity", "color")
PLAIN = {
    "stroke-dasharray": ("none",),
    "stroke-linecap": ("butt",),
    "stroke-linejoin": ("miter",),
    "opacity": ("1", "1.0", "100%"),
    "fill-opacity": ("1", "1.0", "100%"),
    "stroke-opacity": ("1", "1.0", "100%"),
    "clip-path": ("none",),
    "mask": ("none",),
    "filter": ("none",),
    "mix-blend-mode": ("normal",),
}
"""What may be said of an element, where it is said at all."""

NOT_PAINTED = {
    "script": "a script; take it out",
    "foreignObject": "something of another kind; take it out",
    "image": "a picture within it; give the picture alone, as a PNG",
    "text": "words; turn them into curves",
    "animate": "something that moves; take it out",
    "animateMotion": "something that moves; take it out",
    "animateTransform": "something that moves; take it out",
    "set": "something that moves; take it out",
}

# the sixteen of HTML 4.01 with orange, as CSS 2.1 has them
NAMED = {
    "black": "000000",
    "silver": "c0c0c0",
    "gray": "808080",
    "grey": "808080",
    "white": "ffffff",
    "maroon": "800000",
    "red": "ff0000",
    "purple": "800080",
    "fuchsia": "ff00ff",
    "green": "008000",
    "lime": "00ff00",
    "olive": "808000",
    "yellow": "ffff00",
    "navy": "000080",
    "blue": "0000ff",
    "teal": "008080",
    "aqua": "00ffff",
    "orange": "ffa500",
}

_HEX = re.compile(r"#?([0-9a-f]{6}|[0-9a-f]{3})")
_RGB = re.compile(r"rgb\(\s*(\d{1,3})\s*,\s*(\d{1,3})\s*,\s*(\d{1,3})\s*\)")


@dataclass(frozen=True)
class PaintedDrawing:
    """All shapes of a file in the order of painting, and its size, mm."""

    shapes: tuple[Shape, ...]
    width: float
    height: float


@dataclass(frozen=True)
class _PaintedPlace(Place):
    """A place with the paint that is inherited there."""

    paint: tuple[tuple[str, str], ...] = ()


def read_painted(data: bytes, name: str) -> PaintedDrawing:
    """Read the painted shapes of a drawing; raises :class:`UnreadableError`."""
    root = parse(data, name)
    try:
        view = outer_view(_sized(root, name), name)
        walk = _Painted(root)
        start = _PaintedPlace(view.to_mm, view.width, view.height, paint=walk.paint(root, ()))
        for _ in walk.content(root, start):
            pass
    except UnreadableError as fault:
        text = str(fault)
        raise UnreadableError(text if text.startswith(name) else f"{name}: {text}") from fault
    width, height = view.to_mm.transformVector((view.width, view.height))
    return PaintedDrawing(tuple(walk.shapes), abs(width), abs(height))


def _sized(root: Element, name: str) -> dict[str, str]:
    """Return the attributes of a drawing with a size; how large it really is says nothing here."""
    given = dict(root.attributes)
    box = view_box(given.get("viewBox"))
    if box:
        return given | {"width": f"{box[2]}px", "height": f"{box[3]}px"}
    if not {"width", "height"} <= set(given):
        raise UnreadableError(f"{name} has neither a viewBox nor a width and a height; export it again")
    return given


class _Painted(Walk):
    """Goes through what is drawn and keeps what is painted."""

    def __init__(self, root: Element) -> None:
        super().__init__(root, (*PROPERTIES, *INHERITED, *PLAIN))
        self.shapes: list[Shape] = []
        self._points = 0
        _refuse_what_runs(root)

    def paint(self, element: Element, inherited: tuple[tuple[str, str], ...]) -> tuple[tuple[str, str], ...]:
        """Return the paint of an element; raises :class:`UnreadableError` for what is not plain."""
        for key, plain in PLAIN.items():
            other = self._styles.value(element, key)
            if other is not None and other not in (*plain, "inherit"):
                raise UnreadableError(f"its {key} is '{other[:40]}'; fill and stroke plainly, without it")
        own = ((key, self._styles.value(element, key)) for key in INHERITED)
        said = {key: value for key, value in own if value is not None and value != "inherit"}
        return tuple((dict(inherited) | said).items())

    def _place(self, element: Element, outer: Place) -> Place:
        assert isinstance(outer, _PaintedPlace)
        place = super()._place(element, outer)
        assert isinstance(place, _PaintedPlace)
        return replace(place, paint=self.paint(element, outer.paint))

    def _shape(self, element: Element, place: Place) -> Iterator[SvgCurve]:
        assert isinstance(place, _PaintedPlace)
        paint = dict(place.paint)
        outlines = []
        for curve in curves(element, place):
            points = [(point.real, point.imag) for point in curve.chords(STRAY)]
            if curve.closed and points[0] != points[-1]:
                points.append(points[0])
            outlines.append(tuple(points))
        self._points += sum(map(len, outlines))
        if self._points > MOST_POINTS:
            raise UnreadableError(f"it has more than {MOST_POINTS:,} points; make it simpler")
        if not outlines:
            return
        fill, stroke = _colour(paint.get("fill", "black"), paint), _colour(paint.get("stroke", "none"), paint)
        if fill and element.name != "line":
            # a filled outline closes, whether it was closed or not
            round_ = tuple(line if line[0] == line[-1] else (*line, line[0]) for line in outlines)
            self.shapes.append(Shape(round_, fill, paint.get("fill-rule") == "evenodd", 0.0))
        weight = self._weight(paint, place) if stroke else 0.0
        if stroke and weight:
            self.shapes.append(Shape(tuple(outlines), stroke, False, weight))
        yield from ()

    def _weight(self, paint: dict[str, str], place: Place) -> float:
        width = user_length(paint.get("stroke-width", "1"), place.width, "the stroke-width") or 0.0
        a, b, c, d = place.to_mm[:4]
        across, up = sqrt(a * a + b * b), sqrt(c * c + d * d)
        if not isclose(across, up, rel_tol=1e-3) or abs(a * c + b * d) > 1e-3 * across * up:
            raise UnreadableError("a stroke is stretched one way; turn it into an outline")
        return width * across


def _refuse_what_runs(element: Element) -> None:
    """Refuse scripts, and all that is neither a filled nor a stroked shape, wherever it stands."""
    if element.name in NOT_PAINTED:
        raise UnreadableError(f"it holds {NOT_PAINTED[element.name]}")
    for key, value in element.attributes.items():
        if key.lower().startswith("on") or "javascript:" in value.lower().replace(" ", ""):
            raise UnreadableError(f"a <{element.name}> runs a script ({key}); take it out")
    for child in element.children:
        _refuse_what_runs(child)


def _colour(said: str, paint: dict[str, str]) -> Colour | None:
    text = said.strip().lower()
    if text == "currentcolor":
        text = paint.get("color", "black").strip().lower()
    if text in ("none", "transparent"):
        return None
    digits, shares = _HEX.fullmatch(NAMED.get(text, text if text.startswith("#") else "")), _RGB.fullmatch(text)
    if digits:
        whole = digits[1] if len(digits[1]) == 6 else "".join(2 * one for one in digits[1])
        values = [int(whole[k : k + 2], 16) for k in (0, 2, 4)]
    elif shares:
        values = [min(int(one), 255) for one in shares.groups()]
    else:
        raise UnreadableError(f"the colour '{said[:40]}' is not read; write it plainly, such as #1f4e79")
    red, green, blue = (round(one / 255, 4) for one in values)
    return (red, green, blue)
