"""Forms that are painted on many pages, read once; mm.

A piece is one form, painted on each page that shows a part of it (ISO 32000-1, 8.10).
What it paints is the same each time but for where it lies, so it is interpreted when it
comes for the first time, and moved after that.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from pdfminer.layout import LTContainer, LTCurve, LTImage

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
