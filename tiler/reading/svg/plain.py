"""A drawing of groups of lines and words, with the attributes of each; mm, y up, from the lower left corner.

This reads the plain part of SVG in which a drawing is written so that every program reads it
alike: groups, paths of straight lines, and texts, with presentation attributes.  What else a file holds
is named as ``strange`` and not interpreted.  The limits are those of :mod:`.markup`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from fontTools.misc.transform import Identity, Transform

from tiler.box import Point, Subpath
from tiler.errors import UnreadableError
from tiler.files import shown
from tiler.reading.svg.markup import Element, parse
from tiler.reading.svg.shapes import path
from tiler.reading.svg.view import outer_view, transform, user_length

_STROKE = ("fill", "stroke", "stroke-width", "stroke-dasharray", "stroke-miterlimit")
_TYPE = ("font-family", "font-size", "font-weight")
_PLAIN: Mapping[str, tuple[str, ...]] = {
    "svg": ("width", "height", "viewBox"),
    "title": (),
    "g": ("id", "class", "data-piece", "data-size", "data-sizes", "data-layer", *_STROKE, *_TYPE),
    "path": ("d", *_STROKE),
    "text": ("x", "y", "transform", "fill", *_TYPE),
}
"""The elements that are read, with their attributes."""

_WITHIN: Mapping[str, tuple[str, ...]] = {"svg": ("title", "g"), "g": ("g", "path", "text")}


@dataclass(frozen=True)
class PlainLine:
    """A path: polylines, of which a closed one repeats its first point, and how they are painted; mm."""

    kind: str
    subpaths: tuple[Subpath, ...]
    weight: float
    dash: tuple[float, ...]
    stroke: str
    fill: str


@dataclass(frozen=True)
class PlainWord:
    """A line of text at the left end of its base line; ``along`` and ``up`` are where it and its letters run."""

    text: str
    at: Point
    along: Point
    up: Point
    size: float
    bold: bool
    fill: str
    stroke: str


@dataclass(frozen=True)
class PlainGroup:
    """One of the outermost groups: its attributes, and all lines and words in it; a ``kind`` is a class in it."""

    attributes: Mapping[str, str]
    lines: tuple[PlainLine, ...]
    words: tuple[PlainWord, ...]


@dataclass(frozen=True)
class PlainDrawing:
    """What a file holds; ``unit`` are the lengths of one user unit across and down, mm."""

    title: str
    width: float
    height: float
    unit: Point
    groups: tuple[PlainGroup, ...]
    strange: tuple[str, ...]
    """What is not read, each once, in words such as ``<script>``."""


def read_plain(data: bytes, name: str) -> PlainDrawing:
    """Read a drawing; raises :class:`UnreadableError`."""
    root = parse(data, name)
    try:
        view = outer_view(dict(root.attributes), name)
        groups = tuple(_group(one, view.to_mm) for one in root.children if one.name == "g")
    except UnreadableError as fault:
        text = str(fault)
        raise UnreadableError(text if text.startswith(name) else f"{name}: {text}") from fault
    width, height = view.to_mm.transformVector((view.width, view.height))
    unit = (view.to_mm.transformVector((1, 0))[0], -view.to_mm.transformVector((0, 1))[1])
    title = " ".join(one.text for one in root.children if one.name == "title")
    return PlainDrawing(title, abs(width), abs(height), unit, groups, tuple(dict.fromkeys(_strange(root))))


def _strange(root: Element) -> Iterator[str]:
    """Name all that is not read: elements, attributes, and ids that are there again."""
    ids: Counter[str] = Counter()
    left = [root]
    while left:
        element = left.pop()
        for key in element.attributes:
            if key not in _PLAIN[element.name]:
                yield f"{shown(key)} of <{element.name}>"
        own = element.attributes.get("id")
        if own is not None:
            ids[own] += 1
            if ids[own] == 2:
                yield f"the id {shown(own)} again"
        yield from (f"<{shown(other)}>" for other in element.others)
        for child in element.children:
            if child.name in _WITHIN.get(element.name, ()):
                left.append(child)
            else:
                yield f"<{shown(child.name)}> in <{element.name}>"


def _group(group: Element, to_mm: Transform) -> PlainGroup:
    lines: list[PlainLine] = []
    words: list[PlainWord] = []
    left: list[tuple[Element, Mapping[str, str]]] = [(group, {})]
    while left:
        element, outer = left.pop()
        given = {**outer, **element.attributes}
        if element.name == "path":
            lines += _lines(given, to_mm)
        elif element.name == "text":
            words.append(_word(element.text, given, to_mm))
        elif element.name == "g":
            # what is inherited, and of what kind all in it is
            inner = {key: value for key, value in given.items() if key in (*_STROKE, *_TYPE, "class")}
            left += [(child, inner) for child in reversed(element.children)]
    return PlainGroup(group.attributes, tuple(lines), tuple(words))


def _lines(given: Mapping[str, str], to_mm: Transform) -> Iterator[PlainLine]:
    subpaths: list[Subpath] = []
    for segments, closes in path(given.get("d", "")):
        if not all(segment.straight for segment in segments):
            raise UnreadableError("it draws a curve where there are straight lines alone")
        points = [segments[0].start, *(segment.end for segment in segments)]
        if closes and points[-1] != points[0]:
            points.append(points[0])
        subpaths.append(tuple(to_mm.transformPoint((point.real, point.imag)) for point in points))
    across = to_mm.transformVector((1, 0))[0]
    dash = given.get("stroke-dasharray", "none")
    lengths = () if dash == "none" else tuple(_length({"dash": one}, "dash", 0.0) * across for one in dash.split(","))
    if subpaths:
        yield PlainLine(
            given.get("class", ""),
            tuple(subpaths),
            _length(given, "stroke-width", 1.0) * across,
            lengths,
            given.get("stroke", "none"),
            given.get("fill", "#000000"),
        )


def _word(text: str, given: Mapping[str, str], to_mm: Transform) -> PlainWord:
    turn = transform(given["transform"]) if "transform" in given else Identity
    place = to_mm.transform(turn)
    size = _length(given, "font-size", 0.0) * abs(to_mm.transformVector((0, 1))[1])
    return PlainWord(
        " ".join(text.split()),
        place.transformPoint((_length(given, "x", 0.0), _length(given, "y", 0.0))),
        place.transformVector((1, 0)),
        place.transformVector((0, -1)),
        size,
        given.get("font-weight") == "bold",
        given.get("fill", "#000000"),
        given.get("stroke", "none"),
    )


def _length(given: Mapping[str, str], key: str, usual: float) -> float:
    length = user_length(given.get(key), 0.0, key)
    return usual if length is None else length
