"""Forms that are painted on many pages, read once, and those that annotations print; mm.

A piece is one form, painted on each page that shows a part of it (ISO 32000-1, 8.10).
What it paints is the same each time but for where it lies, so it is interpreted when it
comes for the first time, and moved after that.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Iterable, Iterator, Mapping
from copy import copy
from dataclasses import dataclass, replace
from typing import Any

from pdfminer.layout import LTContainer, LTCurve, LTImage
from pdfminer.pdfpage import PDFPage
from pdfminer.pdftypes import PDFStream, resolve1, resolve_all
from pdfminer.psparser import PSLiteral

from tiler.box import Point
from tiler.reading.pdf.strokes import Stroke, strokes_of
from tiler.reading.pdf.text import Text, texts_of

MOST_FORMS = 64
"""So many forms are kept; of more, those that came last."""

Key = tuple[Any, ...]
"""The form's object, the linear part of its matrix, and the tag that it is painted under."""


class Repeated(LTContainer[Any]):
    """Stands where a form is painted that was read before."""

    def __init__(self, key: Key, at: Point) -> None:
        """Note which form it is, and where its origin lies, units."""
        super().__init__((0.0, 0.0, 0.0, 0.0))
        self.form_key, self.form_at = key, at


@dataclass(frozen=True)
class FormRead:
    """What a form paints: strokes and texts where it was first (``at``, units), how many paths and raster images."""

    at: Point
    strokes: tuple[Stroke, ...]
    texts: tuple[Text, ...]
    paths: int
    pictures: int


@dataclass(frozen=True)
class Painted:
    """All that a page paints, in painting order, and how many raster images."""

    strokes: tuple[Stroke, ...]
    texts: tuple[Text, ...]
    pictures: int


NOTHING_PAINTED = Painted((), (), 0)


class FormsRead:
    """The forms of a document that were read last."""

    def __init__(self) -> None:
        """Begin without any.

        ``costs`` are the objects that a form paints, and the tag that what follows it stands under.
        """
        self._forms: OrderedDict[Key, FormRead] = OrderedDict()
        self.costs: dict[Key, tuple[int, str | None]] = {}

    def knows(self, key: Key) -> bool:
        """Tell whether a form is kept."""
        return key in self._forms

    def read(self, items: Iterable[Any], k: float, layers: Mapping[str, str]) -> Painted:
        """Read what a page paints; ``k`` is mm per unit, ``layers`` those of its forms."""
        strokes: list[Stroke] = []
        texts: list[Text] = []
        paths = pictures = 0
        for part, form in _parts(items):
            if form is None:
                found = _read(part, k, layers, paths)
                strokes += found.strokes
                texts += found.texts
                paths, pictures = paths + found.paths, pictures + found.pictures
                continue
            key, at = form.form_key, form.form_at
            if not isinstance(form, Repeated):
                self._keep(key, replace(_read([form], k, layers, 0), at=at))
            known = self._forms[key]
            self._forms.move_to_end(key)
            dx, dy = (at[0] - known.at[0]) * k, (at[1] - known.at[1]) * k
            strokes += (stroke.moved(dx, dy, paths) for stroke in known.strokes)
            texts += (text.moved(dx, dy, paths) for text in known.texts)
            paths, pictures = paths + known.paths, pictures + known.pictures
        while len(self._forms) > MOST_FORMS:
            self._forms.popitem(last=False)
        return Painted(tuple(strokes), tuple(texts), pictures)

    def _keep(self, key: Key, form: FormRead) -> None:
        self._forms[key] = form


def _parts(items: Iterable[Any]) -> Iterator[tuple[list[Any], Any]]:
    """Part the items of a page at its forms."""
    loose: list[Any] = []
    for item in items:
        if hasattr(item, "form_key"):
            if loose:
                yield loose, None
                loose = []
            yield [], item
        else:
            loose.append(item)
    if loose:
        yield loose, None


def _read(items: Iterable[Any], k: float, layers: Mapping[str, str], paths: int) -> FormRead:
    held = list(items)
    strokes = tuple(strokes_of(held, k, layers, paths))
    texts = tuple(texts_of(held, k, paths))
    return FormRead((0.0, 0.0), strokes, texts, _paths(held), sum(1 for _ in _images(held)))


def _paths(items: Iterable[Any]) -> int:
    return sum(1 if isinstance(one, LTCurve) else _paths(one) if isinstance(one, LTContainer) else 0 for one in items)


def _images(items: Iterable[Any]) -> Iterator[LTImage]:
    for item in items:
        if isinstance(item, LTImage):
            yield item
        elif isinstance(item, LTContainer):
            yield from _images(item)


HIDDEN, PRINTS = 2, 4
"""Flags of an annotation (ISO 32000-1, Table 165)."""

MOST_STUCK_ON = 200
"""Of more annotations the rest is not read."""

STRAIGHT = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


def with_appearances(page: PDFPage) -> PDFPage | None:
    """Return a page whose content is what its annotations print; None when they print nothing.

    ISO 32000-1, 12.5.5: the box of an appearance, carried by its matrix, is fitted into the rectangle of its
    annotation.
    """
    forms: dict[str, Any] = {}
    content = []
    found = resolve1(page.attrs.get("Annots"))
    for annotation in list(found)[:MOST_STUCK_ON] if isinstance(found, list) else []:
        for form, (a, b, c, d, e, f) in _appearance(resolve1(annotation)):
            name = f"Stuck{len(forms)}"
            forms[name] = form
            content.append(f"q {a:.9f} {b:.9f} {c:.9f} {d:.9f} {e:.9f} {f:.9f} cm /{name} Do Q")
    if not forms:
        return None
    instead = copy(page)
    instead.resources = {"XObject": forms}
    stream = PDFStream({}, ("\n".join(content) + "\n").encode("ascii"))
    # the library passes over a stream without a number; no object of a file has this one
    stream.set_objid(-1, 0)
    instead.contents = [stream]
    return instead


def _appearance(annotation: Any) -> Iterator[tuple[PDFStream, tuple[float, ...]]]:
    """Yield the appearance of an annotation that prints, with the matrix that puts it in its place."""
    flags = annotation.get("F", 0) if isinstance(annotation, dict) else 0
    if not isinstance(flags, int) or not flags & PRINTS or flags & HIDDEN or annotation.get("OC"):
        return
    looks = resolve1(annotation.get("AP"))
    form = resolve1(looks.get("N")) if isinstance(looks, dict) else None
    if isinstance(form, dict):
        state = resolve1(annotation.get("AS"))
        form = resolve1(form.get(state.name)) if isinstance(state, PSLiteral) else None
    if not isinstance(form, PDFStream) or form.objid is None:
        return
    rect, box = _four(annotation.get("Rect")), _four(form.get("BBox"))
    matrix = resolve_all(form.get("Matrix")) or STRAIGHT
    if rect is None or box is None or len(matrix) != 6:
        return
    a, b, c, d, e, f = matrix
    corners = [(a * x + c * y + e, b * x + d * y + f) for x in (box[0], box[2]) for y in (box[1], box[3])]
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    wide, high = max(xs) - min(xs), max(ys) - min(ys)
    if min(wide, high) <= 0:
        return
    kx, ky = (rect[2] - rect[0]) / wide, (rect[3] - rect[1]) / high
    yield form, (kx, 0.0, 0.0, ky, rect[0] - kx * min(xs), rect[1] - ky * min(ys))


def _four(value: Any) -> tuple[float, float, float, float] | None:
    sides = resolve_all(value)
    if not isinstance(sides, list) or len(sides) != 4 or not all(isinstance(side, int | float) for side in sides):
        return None
    xa, ya, xb, yb = map(float, sides)
    return min(xa, xb), min(ya, yb), max(xa, xb), max(ya, yb)
