"""Layers (optional content, ISO 32000-1, 8.11): which form is on which, and which are switched off.

The same file with every layer on is made by appending a changed catalog (7.5.6,
incremental update), so that what a person has switched off can be rendered too.
"""

from __future__ import annotations

import struct
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from pdfminer.pdfdocument import PDFDocument
from pdfminer.pdftypes import PDFObjRef, PDFStream, resolve1
from pdfminer.psparser import PSLiteral
from pdfminer.utils import decode_text

from tiler.drawn import any_of
from tiler.languages.catalogue import noted

DEEPEST = 16
"""Nested values of a catalog are written out to this depth; deeper ones are references."""


TELLING = {"CreatorInfo", "PageElement"}
"""What a usage dictionary (Table 102) says that switches nothing."""


@dataclass(frozen=True)
class Layers:
    """The names of the layers, and of those that are switched off when the file is opened.

    ``conditions`` are what may switch a layer by itself, each with its name; it is empty for what
    holds for all of them.
    """

    names: tuple[str, ...] = ()
    off: frozenset[str] = frozenset()
    conditions: tuple[tuple[str, str], ...] = ()


NO_LAYERS = Layers()


def read_layers(document: PDFDocument) -> Layers:
    """Read which layers a file has."""
    properties = resolve1(document.catalog.get("OCProperties"))
    if not isinstance(properties, dict):
        return Layers()
    groups = [group for group in _list(properties.get("OCGs")) if isinstance(group, PDFObjRef)]
    configuration = resolve1(properties.get("D"))
    configuration = configuration if isinstance(configuration, dict) else {}
    on = {group.objid for group in _list(configuration.get("ON")) if isinstance(group, PDFObjRef)}
    off = {group.objid for group in _list(configuration.get("OFF")) if isinstance(group, PDFObjRef)}
    if _literal(configuration.get("BaseState")) == "OFF":
        off |= {group.objid for group in groups} - on
    names = {group.objid: layer_of(group) or "" for group in groups}
    conditions = dict.fromkeys(_conditions(groups, properties, configuration))
    return Layers(tuple(names.values()), frozenset(names[one] for one in off if one in names), tuple(conditions))


def _conditions(
    groups: Iterable[PDFObjRef], properties: Mapping[str, Any], configuration: Mapping[str, Any]
) -> Iterator[tuple[str, str]]:
    """Yield what Tables 98 to 103 let depend on the viewer, the printer or a choice of the person."""
    if _list(properties.get("Configs")):
        yield "", "another configuration of layers"
    if _literal(configuration.get("BaseState")) in ("OFF", "Unchanged"):
        yield "", "layers that are off unless they are named"
    events = {
        one.objid
        for event in _list(configuration.get("AS"))
        for one in _list(_entry(event, "OCGs"))
        if isinstance(one, PDFObjRef)
    }
    buttons = _list(configuration.get("RBGroups"))
    chosen = {one.objid for button in buttons for one in _list(button) if isinstance(one, PDFObjRef)}
    for group in groups:
        name = layer_of(group) or ""
        intents = {_literal(one) for one in _list(_entry(group, "Intent")) or [_entry(group, "Intent")]}
        usage = resolve1(_entry(group, "Usage"))
        for what, there in (
            (noted("a usage state"), (isinstance(usage, dict) and {*usage} - TELLING) or group.objid in events),
            (noted("an intent"), not intents & {"", "View", "All"}),
            (noted("a choice between layers"), group.objid in chosen),
        ):
            if there:
                yield name, what


def layer_of(group: Any) -> str | None:
    """Return the name of an optional content group, None when it is none."""
    held = resolve1(group)
    name = resolve1(held.get("Name")) if isinstance(held, dict) else None
    return decode_text(name) if isinstance(name, bytes) else None


def shown_with(content: Any) -> tuple[str, ...]:
    """Return the layers with any of which something shows: its own, or those of a plain membership (8.11.2.2)."""
    held = resolve1(content)
    if not isinstance(held, dict) or _literal(held.get("Type")) != "OCMD":
        name = layer_of(held)
        return () if name is None else (name,)
    names = [layer_of(group) for group in _list(held.get("OCGs"))]
    plain = _literal(held.get("P")) in ("", "AnyOn") and "VE" not in held and len(names) > 1
    return tuple(name for name in names if name) if plain and all(names) else ()


def layers_of_forms(resources: Any) -> dict[str, str]:
    """Return the layer of each form that these resources name, forms in forms too, by the name of the form.

    A form that shows with any of several layers is on that of :func:`any_of` their names.

    A name that stands for forms on several layers, or on one and on none, is on none.
    """
    named: dict[str, set[str]] = {}
    waiting = [(resources, 0)]
    seen: set[int] = set()
    for holder, depth in waiting:
        held = resolve1(holder)
        forms = resolve1(held.get("XObject")) if isinstance(held, dict) else None
        for name, reference in (forms if isinstance(forms, dict) else {}).items():
            form = resolve1(reference)
            if not isinstance(form, PDFStream):
                continue
            named.setdefault(str(name), set()).add(any_of(shown_with(form.attrs.get("OC"))))
            if isinstance(reference, PDFObjRef) and reference.objid not in seen and depth < DEEPEST:
                seen.add(reference.objid)
                waiting.append((form.attrs.get("Resources"), depth + 1))
    return {name: layers.pop() for name, layers in named.items() if len(layers) == 1 and "" not in layers}


def with_all_layers_on(data: bytes, document: PDFDocument) -> bytes:
    """Return the file with every layer switched on; what a layer is meant for (print or screen) stays."""
    trailers = [xref.get_trailer() for xref in document.xrefs]
    root = next((one["Root"] for one in trailers if "Root" in one), None)
    properties = resolve1(document.catalog.get("OCProperties"))
    start = data.rfind(b"startxref")
    if not isinstance(root, PDFObjRef) or not isinstance(properties, dict) or start < 0:
        return data
    before = int(data[start + 9 :].split(maxsplit=1)[0])
    configuration = resolve1(properties.get("D"))
    kept = {key: value for key, value in (configuration or {}).items() if key not in ("OFF", "ON", "BaseState")}
    catalog = dict(document.catalog)
    catalog["OCProperties"] = {**properties, "D": kept}
    size = max(int(one.get("Size", 0)) for one in trailers)
    body = b"\n%d 0 obj\n%s\nendobj\n" % (root.objid, _written(catalog))
    at = len(data) + 1
    trailer: dict[str, Any] = {"Root": root, "Prev": before}
    if data[before : before + 4] == b"xref":
        trailer["Size"] = size
        table = b"xref\n%d 1\n%010d 00000 n \ntrailer\n%s\n" % (root.objid, at, _written(trailer))
    else:
        table = _stream(trailer, root.objid, at, size, len(data) + len(body))
    return data + body + table + b"startxref\n%d\n%%%%EOF\n" % (len(data) + len(body))


def _stream(trailer: Mapping[str, Any], number: int, at: int, size: int, own: int) -> bytes:
    """Write a cross-reference stream (7.5.8) for the changed object and for itself."""
    rows = struct.pack(">BIH", 1, at, 0) + struct.pack(">BIH", 1, own, 0)
    entries = {
        **trailer,
        "Type": PSLiteral("XRef"),
        "Size": size + 1,
        "W": [1, 4, 2],
        "Index": [number, 1, size, 1],
        "Length": len(rows),
    }
    return b"%d 0 obj\n%s\nstream\n%s\nendstream\nendobj\n" % (size, _written(entries), rows)


def _written(value: Any, depth: int = DEEPEST) -> bytes:
    """Write a value as PDF syntax (7.3)."""
    written = b"null"
    if isinstance(value, PDFObjRef):
        written = b"%d 0 R" % value.objid
    elif isinstance(value, bool):
        written = b"true" if value else b"false"
    elif isinstance(value, PSLiteral):
        name = value.name if isinstance(value.name, bytes) else str(value.name).encode()
        written = b"/" + b"".join(bytes([c]) if chr(c).isalnum() and c < 128 else b"#%02x" % c for c in name)
    elif isinstance(value, int):
        written = b"%d" % value
    elif isinstance(value, float):
        written = f"{value:f}".encode()
    elif isinstance(value, bytes):
        written = b"<" + value.hex().encode() + b">"
    elif isinstance(value, list) and depth:
        written = b"[" + b" ".join(_written(one, depth - 1) for one in value) + b"]"
    elif isinstance(value, dict) and depth:
        pairs = (_written(PSLiteral(str(key))) + b" " + _written(one, depth - 1) for key, one in value.items())
        written = b"<<" + b" ".join(pairs) + b">>"
    return written


def _entry(holder: Any, key: str) -> Any:
    held = resolve1(holder)
    return held.get(key) if isinstance(held, dict) else None


def _list(value: Any) -> list[Any]:
    held = resolve1(value)
    return held if isinstance(held, list) else []


def _literal(value: Any) -> str:
    held = resolve1(value)
    return str(held.name) if isinstance(held, PSLiteral) else ""
