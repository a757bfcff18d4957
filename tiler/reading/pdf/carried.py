"""What a page carries besides what it paints, and what its print depends on that no reader of lines sees.

ISO 32000-1: annotations 12.5, additional actions 12.6.3, private data 14.5, separations 14.11.4 and 8.6.6,
graphics states 8.4.5 (Table 58), groups 11.6.6, reference forms 8.10.4, alternate images
8.9.5.4, OPI 14.11.7, optional content 8.11.  What other readers may show otherwise is named
here whether or not it shows today.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from pdfminer.pdftypes import PDFObjRef, PDFStream, resolve1
from pdfminer.psparser import PSLiteral

from tiler.languages.catalogue import noted
from tiler.reading.pdf.layers import shown_with

DEEPEST = 16
"""Forms nested deeper than this are not looked into."""

PAGE_ENTRIES = {
    "AA": noted("actions of a page"),
    "PieceInfo": noted("private data of another program"),
    "SeparationInfo": noted("separations"),
}

STATES: Mapping[str, tuple[str, frozenset[Any]]] = {
    "BM": (noted("a blend mode"), frozenset({"Normal", "Compatible"})),
    "SMask": (noted("a soft mask"), frozenset({"None"})),
    "OP": (noted("overprint"), frozenset({False})),
    "op": (noted("overprint"), frozenset({False})),
    "TR": (noted("a transfer function"), frozenset({"Identity"})),
    "TR2": (noted("a transfer function"), frozenset({"Identity", "Default"})),
    "HT": (noted("a halftone"), frozenset({"Default"})),
    "HTO": (noted("a halftone"), frozenset()),
    "BG": (noted("black generation"), frozenset()),
    "BG2": (noted("black generation"), frozenset({"Default"})),
    "UCR": (noted("undercolour removal"), frozenset()),
    "UCR2": (noted("undercolour removal"), frozenset({"Default"})),
    "Font": (noted("a font in a graphics state"), frozenset()),
}
"""Entries of a graphics state by which readers or printers may differ, and the values that change nothing."""


@dataclass(frozen=True)
class Carried:
    """What a page carries that needs saying, in words, and the layers that something on it is on."""

    things: tuple[str, ...] = ()
    layers: tuple[str, ...] = ()


NOTHING_CARRIED = Carried()

Found = tuple[bool, str]
"""A thing in words, or (True) the name of a layer."""


class CarriedCensus:
    """Remembers what has been looked at, since pages share their resources and forms."""

    def __init__(self) -> None:
        """Start with nothing seen."""
        self._seen: dict[int, tuple[Found, ...]] = {}

    def of_page(self, attributes: Mapping[str, Any]) -> Carried:
        """Look at a page by its dictionary, inherited entries included."""
        found = dict.fromkeys(
            [*_of_page(attributes), *self._once(attributes.get("Resources"), self._resources, DEEPEST)]
        )
        return Carried(tuple(what for layer, what in found if not layer), tuple(what for layer, what in found if layer))

    def _once(self, item: Any, look: Any, depth: int) -> tuple[Found, ...]:
        if not depth:
            return ()
        if not isinstance(item, PDFObjRef):
            return tuple(look(item, depth))
        if item.objid not in self._seen:
            self._seen[item.objid] = ()
            self._seen[item.objid] = tuple(look(resolve1(item), depth))
        return self._seen[item.objid]

    def _resources(self, resources: Any, depth: int) -> Iterator[Found]:
        held = resolve1(resources)
        if not isinstance(held, dict):
            return
        for state in _values(held.get("ExtGState")):
            yield from self._once(state, _state, depth)
        for group in _values(held.get("Properties")):
            yield from self._once(group, _membership, depth)
        for name, space in _pairs(held.get("ColorSpace")):
            spaces = _list(space)
            if name.startswith("Default"):
                yield False, noted("a default space of colours")
            elif spaces and _plain(spaces[0]) in ("Separation", "DeviceN"):
                yield False, noted("separations")
        for kind in ("XObject", "Pattern", "Font"):
            for painted in _values(held.get(kind)):
                yield from self._once(painted, self._painted, depth - 1)

    def _painted(self, painted: Any, depth: int) -> Iterator[Found]:
        """Look at a form, a picture, a pattern or a font; only what has resources of its own is looked into."""
        attributes = painted.attrs if isinstance(painted, PDFStream) else painted
        if not isinstance(attributes, dict):
            return
        if "OC" in attributes:
            yield from self._once(attributes["OC"], _membership, depth)
        for key, what in (
            ("OPI", "OPI"),
            ("Alternates", noted("an alternate picture")),
            ("Ref", noted("a page of another file")),
        ):
            if key in attributes:
                yield False, what
        if _plain(attributes.get("Subtype")) == "PS":
            yield False, noted("PostScript")
        if "ExtGState" in attributes:
            yield from self._once(attributes["ExtGState"], _state, depth)
        yield from _group(attributes)
        yield from self._once(attributes.get("Resources"), self._resources, depth)


def of_document(catalog: Mapping[str, Any]) -> tuple[str, ...]:
    """Return in words what a file does or asks for when it is opened or printed, by its catalog (7.7.2)."""
    form, opened, names = (resolve1(catalog.get(key)) for key in ("AcroForm", "OpenAction", "Names"))
    found = []
    # fields that are shown on no page, of a pattern whose pages were taken out, print nothing
    if isinstance(form, dict) and resolve1(form.get("XFA")):
        found.append(noted("a form that makes pages of its own"))
    # a place to go to may be written as an action as well (12.6.4.2)
    if isinstance(opened, dict) and (_plain(opened.get("S")) != "GoTo" or "Next" in opened):
        found.append(noted("an action when it is opened"))
    if resolve1(catalog.get("Collection")):
        found.append(noted("a portfolio"))
    if resolve1(catalog.get("AA")):
        found.append(noted("actions of the file"))
    if isinstance(names, dict) and resolve1(names.get("JavaScript")):
        found.append(noted("scripts"))
    return tuple(found)


def _of_page(attributes: Mapping[str, Any]) -> Iterator[Found]:
    for annotation in _list(attributes.get("Annots")):
        held = resolve1(annotation)
        kind = _plain(held.get("Subtype")) if isinstance(held, dict) else ""
        yield False, noted("a form field") if kind == "Widget" else noted("an annotation")
    for key, what in PAGE_ENTRIES.items():
        if resolve1(attributes.get(key)):
            yield False, what
    yield from _group(attributes)


def _group(attributes: Mapping[str, Any]) -> Iterator[Found]:
    group = resolve1(attributes.get("Group"))
    if isinstance(group, dict) and resolve1(group.get("K")) is True:
        yield False, noted("a knockout group")


def _state(state: Any, depth: int) -> Iterator[Found]:  # noqa: ARG001 - as all that look
    held = resolve1(state)
    for key, (what, harmless) in STATES.items() if isinstance(held, dict) else ():
        if key in held:
            value = _plain(held[key])
            if not isinstance(value, str | bool) or value not in harmless:
                yield False, what


def _membership(group: Any, depth: int) -> Iterator[Found]:  # noqa: ARG001 - as all that look
    held = resolve1(group)
    kind = _plain(held.get("Type")) if isinstance(held, dict) else ""
    names = shown_with(held)
    if kind == "OCG":
        yield True, names[0] if names else ""
    elif names:
        yield from ((True, name) for name in names)
    elif kind:
        yield False, noted("a membership of layers")


def _plain(value: Any) -> Any:
    held = resolve1(value)
    return str(held.name) if isinstance(held, PSLiteral) else held


def _pairs(tree: Any) -> Iterator[tuple[str, Any]]:
    held = resolve1(tree)
    yield from held.items() if isinstance(held, dict) else ()


def _values(tree: Any) -> Iterator[Any]:
    return (value for _, value in _pairs(tree))


def _list(value: Any) -> list[Any]:
    held = resolve1(value)
    return held if isinstance(held, list) else []
