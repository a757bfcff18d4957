"""The record of a drawing written as SVG: groups, paths and texts with attributes alone (SVG 1.1, W3C).

The plane of the record has y upwards, the drawing downwards.  Ids are valid XML names (XML 1.0,
production 5), each there once, made from the names of pieces and sizes.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from xml.sax.saxutils import escape, quoteattr

from tiler.box import Point
from tiler.declaration import PIECE_TAGS, Declaration, Tag
from tiler.drawn import Piece, Shared
from tiler.printed import Ink, Line, Printed, Word, closed

MM_PER_POINT = 25.4 / 72

FAMILY = "DejaVu Sans, Verdana, Arial, sans-serif"
"""The first one is the type that places are measured in; the others are no wider, or about as wide."""

LEADERS, WORDS = "Leaders", "Words"
"""The groups of what is in no part: lines that lead to words, and all words."""

KINDS = (*PIECE_TAGS, Tag.TEST_SQUARE)

LONGEST_NAME = 40
"""Signs of a name that go into an id."""

_UNNAMED = re.compile(
    "[^-0-9A-Za-z\u00c0-\u00d6\u00d8-\u00f6\u00f8-\u02ff\u0370-\u037d\u037f-\u1fff\u3001-\ud7ff"
    "\uf900-\ufdcf\U00010000-\U000effff]+"
)
"""What stands in no id: of the signs that may be in an XML name those that are letters, digits and dashes are kept."""


def svg(declaration: Declaration) -> bytes:
    """Return the bytes of the drawing that a record declares."""
    return "".join(f"{line}\n" for line in _document(declaration)).encode("utf-8")


def _document(declaration: Declaration) -> Iterator[str]:
    width, height = _number(declaration.page_width_mm), _number(declaration.page_height_mm)
    yield '<?xml version="1.0" encoding="UTF-8"?>'
    yield (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}">'
    )
    yield f"<title>{escape(declaration.title)}</title>"
    down = _Down(declaration.page_height_mm)
    ids = _Ids()
    yield from _group("heading", {}, declaration.printed[0], down, None)
    forms = {form.id: form for form in declaration.forms}
    sizes = {piece.id: piece.size for piece in declaration.pieces}
    for one in declaration.drawn:
        names = {"data-piece": one.name}
        if isinstance(one, Piece):
            own = [] if one.size is None else [one.size]
            if one.size is not None:
                names["data-size"] = one.size
        else:
            own = [size for piece in one.pieces if (size := sizes[piece]) is not None]
            names |= {"data-sizes": ", ".join(own), "data-layer": one.layer}
        yield from _group(ids.of(one.name, *own), names, forms[one.id].marks, down, one)
    yield "</svg>"


class _Ids:
    """Makes ids from names, each of them once."""

    def __init__(self) -> None:
        self._given: Counter[str] = Counter()

    def of(self, *names: str) -> str:
        words = (_UNNAMED.sub("-", name).strip("-")[:LONGEST_NAME].strip("-") for name in names)
        # what begins with a letter of ours begins as a name may
        plain = "-".join(("piece", *filter(None, words)))
        self._given[plain] += 1
        count = self._given[plain]
        # a dot is in no other id
        return plain if count == 1 else f"{plain}.{count}"


class _Down:
    """Carries points of the record, y up, to the drawing, y down, as they are written."""

    def __init__(self, height: float) -> None:
        self._height = height

    def point(self, point: Point) -> str:
        return f"{_number(point[0])} {_number(self._height - point[1])}"

    def pair(self, point: Point) -> tuple[str, str]:
        return _number(point[0]), _number(self._height - point[1])


def _group(
    id: str, names: dict[str, str], marks: Sequence[Printed], down: _Down, one: Piece | Shared | None
) -> Iterator[str]:
    """Yield a group with its lines, kind by kind, and its words."""
    colour = next((_hex(mark) for mark in marks if isinstance(mark, Ink)), "#000000")
    lines = [mark for mark in marks if isinstance(mark, Line)]
    words = [mark for mark in marks if isinstance(mark, Word)]
    yield f"<g {_attributes({'id': id, **names})}>"
    for kind in (*KINDS, ""):
        kin = [line for line in lines if line.tag == kind]
        if not kin:
            continue
        called = kind or LEADERS
        style = {"fill": "none", "stroke": colour, "stroke-miterlimit": "10"}
        yield f"<g {_attributes({'id': f'{id}.{called}', 'class': called, **style})}>"
        yield from (_path(line, down, one) for line in kin)
        yield "</g>"
    if words:
        style = {"fill": colour, "font-family": FAMILY}
        yield f"<g {_attributes({'id': f'{id}.{WORDS}', 'class': WORDS, **style})}>"
        yield from (_text(word, down, one) for word in words)
        yield "</g>"
    yield "</g>"


def _path(line: Line, down: _Down, one: Piece | Shared | None) -> str:
    parts = []
    for points in line.lines:
        placed = [down.point(one.on_sheet(point) if one else point) for point in points]
        ends = closed(points)
        parts.append(f"M{' L'.join(placed[:-1] if ends else placed)}{' Z' if ends else ''}")
    given = {"d": " ".join(parts), "stroke-width": _number(line.weight)}
    if line.dash:
        given["stroke-dasharray"] = ",".join(map(_number, line.dash))
    return f"<path {_attributes(given)}/>"


def _text(word: Word, down: _Down, one: Piece | Shared | None) -> str:
    x, y = down.pair(one.on_sheet(word.at) if one else word.at)
    given = {"x": x, "y": y, "font-size": _number(word.size * MM_PER_POINT)}
    if word.bold:
        given["font-weight"] = "bold"
    if one is not None and one.turned:
        given["transform"] = f"rotate(-90 {x} {y})"
    return f"<text {_attributes(given)}>{escape(word.text)}</text>"


def _attributes(given: dict[str, str]) -> str:
    return " ".join(f"{key}={quoteattr(value)}" for key, value in given.items())


def _hex(ink: Ink) -> str:
    return "#" + "".join(f"{round(share * 255):02x}" for share in ink.colour)


def _number(value: float) -> str:
    """Write a number to 0.0001."""
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
