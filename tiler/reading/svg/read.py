"""The curves of an SVG drawing in mm, y up, from the lower left corner of the drawing (SVG 2, W3C).

Every subpath that is drawn is a curve, in the order of the file.  What is hidden, or
only defined for use elsewhere, is not drawn; words, pictures and the marks at line
ends are not curves.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import hypot, sqrt

from fontTools.misc.transform import Transform

from tiler.curves import Affine, Curve
from tiler.errors import UnreadableError
from tiler.reading.svg.markup import Element, parse
from tiler.reading.svg.shapes import Subpath, ellipse, path, polyline, rectangle, straight
from tiler.reading.svg.style import PROPERTIES, StyleSheet, style_sheet
from tiler.reading.svg.view import fitted, outer_view, transform, user_length, view_box

GROUPS = ("g", "svg", "a", "switch")
SHAPES = ("path", "line", "polyline", "polygon", "circle", "ellipse", "rect")

MOST_DRAWN = 200_000
"""A drawing that draws more elements, repeated ones counted each time, is refused."""

DEEPEST_USE = 64
"""Elements that are drawn through more levels than this are refused: they may call themselves."""


@dataclass(frozen=True)
class SvgCurve:
    """A curve with the id of its element, and the ids of the groups that it stands in."""

    curve: Curve
    id: str | None
    groups: tuple[str, ...]


@dataclass(frozen=True)
class SvgDrawing:
    """All curves of a file in order; ``in_px`` says that its size is stated in px."""

    curves: tuple[SvgCurve, ...]
    in_px: bool
    width_mm: float
    height_mm: float


@dataclass(frozen=True)
class Place:
    """Where an element stands: the map to mm, the size of the viewport, the groups around it."""

    to_mm: Transform
    width: float
    height: float
    visible: bool = True
    groups: tuple[str, ...] = ()
    depth: int = 0


def read_svg(data: bytes, name: str) -> SvgDrawing:
    """Read the curves of a drawing; raises :class:`UnreadableError`."""
    root = parse(data, name)
    try:
        view = outer_view(dict(root.attributes), name)
        curves = tuple(Walk(root).content(root, Place(view.to_mm, view.width, view.height)))
    except UnreadableError as fault:
        text = str(fault)
        raise UnreadableError(text if text.startswith(name) else f"{name}: {text}") from fault
    width, height = view.to_mm.transformVector((view.width, view.height))
    return SvgDrawing(curves, view.in_px, abs(width), abs(height))


class Walk:
    """Goes through what is drawn, in order."""

    def __init__(self, root: Element, properties: Sequence[str] = PROPERTIES) -> None:
        """Index a drawing; of its style sheets only some ``properties`` are kept."""
        self._styles: StyleSheet = style_sheet(root, properties)
        self._by_id: dict[str, Element] = {}
        self._index(root)
        self._drawn = 0

    def _index(self, element: Element) -> None:
        if "id" in element.attributes:
            self._by_id.setdefault(element.attributes["id"], element)
        for child in element.children:
            self._index(child)

    def content(self, element: Element, place: Place) -> Iterator[SvgCurve]:
        """Yield the curves of what stands in an element."""
        for child in element.children:
            yield from self._element(child, place)

    def _element(self, element: Element, outer: Place) -> Iterator[SvgCurve]:
        self._drawn += 1
        if self._drawn > MOST_DRAWN or outer.depth > DEEPEST_USE:
            raise UnreadableError("it repeats too much, or calls itself; export the edge alone")
        if element.name not in (*GROUPS, *SHAPES, "use") or self._styles.value(element, "display") == "none":
            return
        place = self._place(element, outer)
        if element.name in SHAPES:
            if place.visible:
                yield from self._shape(element, place)
            return
        own = (element.attributes["id"],) if "id" in element.attributes else ()
        inner = replace(place, groups=place.groups + own, depth=place.depth + 1)
        if element.name == "use":
            yield from self._used(element, inner)
        else:
            yield from self.content(element, _nested(element, inner) if element.name == "svg" else inner)

    def _place(self, element: Element, outer: Place) -> Place:
        shown = self._styles.value(element, "visibility")
        visible = outer.visible if shown in (None, "inherit") else shown == "visible"
        text = element.attributes.get("transform")
        if self._styles.moved_by_css(element) or (text and "transform-origin" in element.attributes):
            raise UnreadableError("it moves things by CSS, which is not read; export it with plain transforms")
        to_mm = outer.to_mm.transform(transform(text)) if text else outer.to_mm
        return replace(outer, to_mm=to_mm, visible=visible)

    def _used(self, element: Element, place: Place) -> Iterator[SvgCurve]:
        target = self._by_id.get(element.attributes.get("href", "").strip().removeprefix("#"))
        if target is None:
            return
        x = user_length(element.attributes.get("x"), place.width, "x of a use") or 0.0
        y = user_length(element.attributes.get("y"), place.height, "y of a use") or 0.0
        moved = replace(place, to_mm=place.to_mm.translate(x, y))
        if target.name in ("symbol", "svg"):
            if self._styles.value(target, "display") == "none":
                return
            sizes = {key: element.attributes[key] for key in ("width", "height") if key in element.attributes}
            framed = Element(target.name, {**target.attributes, **sizes})
            yield from self.content(target, _nested(framed, self._place(target, moved)))
        else:
            yield from self._element(target, moved)

    def _shape(self, element: Element, place: Place) -> Iterator[SvgCurve]:
        for curve in curves(element, place):
            yield SvgCurve(curve, element.attributes.get("id"), place.groups)


def _nested(element: Element, place: Place) -> Place:
    """Enter an inner viewport."""
    given = element.attributes
    x = user_length(given.get("x"), place.width, "x of an inner svg") or 0.0
    y = user_length(given.get("y"), place.height, "y of an inner svg") or 0.0
    width = user_length(given.get("width"), place.width, "width of an inner svg")
    height = user_length(given.get("height"), place.height, "height of an inner svg")
    width, height = place.width if width is None else width, place.height if height is None else height
    to_mm = place.to_mm.translate(x, y)
    box = view_box(given.get("viewBox"))
    if box:
        to_mm = to_mm.transform(fitted(box, width, height, given.get("preserveAspectRatio", "")))
        width, height = box[2], box[3]
    return replace(place, to_mm=to_mm, width=width, height=height)


def curves(element: Element, place: Place) -> Iterator[Curve]:
    """Yield the lines of a shape in mm; raises :class:`UnreadableError` where they lead too far."""
    to_mm = Affine(*place.to_mm)
    for segments, closed in _subpaths(element, place):
        drawn = [segment.mapped(to_mm) for segment in segments]
        if not Curve.sane(drawn):
            raise UnreadableError("it draws further than 10 km; check its numbers")
        yield Curve.through(drawn, closed=closed)


def _subpaths(element: Element, place: Place) -> list[Subpath]:
    """Return the lines of a shape in user units, and whether each closes."""
    given = element.attributes
    wholes = {
        "width": place.width,
        "height": place.height,
        "diagonal": hypot(place.width, place.height) / sqrt(2),
    }

    def measure(key: str, of: str) -> float:
        return user_length(given.get(key), wholes[of], f"{key} of a {element.name}") or 0.0

    match element.name:
        case "path":
            return path(given.get("d", ""))
        case "line":
            return straight(measure)
        case "polyline" | "polygon":
            return polyline(given.get("points", ""), closed=element.name == "polygon")
        case "circle":
            radius = measure("r", "diagonal")
            return ellipse(complex(measure("cx", "width"), measure("cy", "height")), radius, radius)
    # a radius that is left out is as large as the other one
    rx = user_length(given.get("rx"), place.width, f"rx of a {element.name}")
    ry = user_length(given.get("ry"), place.height, f"ry of a {element.name}")
    rx, ry = (rx if rx is not None else ry) or 0.0, (ry if ry is not None else rx) or 0.0
    if element.name == "ellipse":
        return ellipse(complex(measure("cx", "width"), measure("cy", "height")), rx, ry)
    corner = complex(measure("x", "width"), measure("y", "height"))
    return rectangle(corner, measure("width", "width"), measure("height", "height"), rx, ry)
