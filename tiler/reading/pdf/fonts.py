"""Fonts that a page names without carrying them (ISO 32000-1, 9.9 and 9.8)."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from pdfminer.pdftypes import PDFObjRef, PDFStream, resolve1
from pdfminer.psparser import PSLiteral

PROGRAMS = ("FontFile", "FontFile2", "FontFile3")
DEEPEST_FORM = 16
"""Forms nested deeper than this are not looked into."""


class FontCensus:
    """Remembers what has been looked at, since pages share their fonts and forms."""

    def __init__(self) -> None:
        """Start with nothing seen."""
        self._seen: dict[int, tuple[str, ...]] = {}

    def missing(self, resources: Any, depth: int = DEEPEST_FORM) -> tuple[str, ...]:
        """Return the names of the fonts in these resources, forms included, that are not embedded."""
        tree = resolve1(resources)
        if not isinstance(tree, dict) or not depth:
            return ()
        names: list[str] = []
        for font in _values(tree.get("Font")):
            names += self._once(font, _unembedded)
        for form in _values(tree.get("XObject")):
            names += self._once(form, lambda found: self._in_form(found, depth - 1))
        return tuple(dict.fromkeys(names))

    def _in_form(self, form: Any, depth: int) -> tuple[str, ...]:
        return self.missing(form.get("Resources"), depth) if isinstance(form, PDFStream) else ()

    def _once(self, item: Any, look: Any) -> tuple[str, ...]:
        if not isinstance(item, PDFObjRef):
            return tuple(look(item))
        if item.objid not in self._seen:
            self._seen[item.objid] = ()
            self._seen[item.objid] = tuple(look(resolve1(item)))
        return self._seen[item.objid]


def _values(tree: Any) -> Iterator[Any]:
    found = resolve1(tree)
    yield from found.values() if isinstance(found, dict) else ()


def _unembedded(font: Any) -> tuple[str, ...]:
    if not isinstance(font, dict) or _name(font.get("Subtype")) == "Type3":
        return ()
    descendants = resolve1(font.get("DescendantFonts"))
    holder = resolve1(descendants[0]) if isinstance(descendants, list) and descendants else font
    descriptor = resolve1(holder.get("FontDescriptor")) if isinstance(holder, dict) else None
    if isinstance(descriptor, dict) and any(program in descriptor for program in PROGRAMS):
        return ()
    return (_name(font.get("BaseFont")) or "a font without a name",)


def _name(value: Any) -> str:
    found = resolve1(value)
    return str(found.name) if isinstance(found, PSLiteral) else ""
