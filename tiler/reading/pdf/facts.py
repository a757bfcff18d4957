"""What a PDF says of itself as a whole: header, catalog, information, attachments.

Terms and keys are those of ISO 32000-1: viewer preferences 12.2 (Table 150), page
labels 12.4.2, outline 12.3.3, language 14.9.2, extensions 7.12, embedded files
7.11.4.  Read through the reading library's own parser, without the library that
writes our files.
"""

from __future__ import annotations

import zlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import islice
from typing import Any

from pdfminer.pdfdocument import PageLabels, PDFDocument
from pdfminer.pdftypes import PDFStream, resolve1, resolve_all
from pdfminer.psparser import PSLiteral
from pdfminer.utils import decode_text

from tiler.reading.pdf.carried import of_document
from tiler.reading.pdf.layers import NO_LAYERS, Layers, read_layers

MOST_ATTACHED = 64 * 2**20
"""A longer attachment is not read, bytes."""

MOST_NODES = 10_000
"""Of a name tree or number tree so many nodes are followed: a node may be its own kid, or that of many."""


@dataclass(frozen=True)
class Facts:
    """Document-wide facts; ``preferences`` are the viewer preferences with names as plain text.

    ``extension_level`` is the level of the ADBE extensions, 0 without them; ``carried`` is what
    the file does or asks for, in words.
    """

    version: tuple[int, int]
    extension_level: int
    preferences: Mapping[str, Any]
    page_labels: tuple[str, ...]
    has_outline: bool
    title: str
    language: str
    layers: Layers = NO_LAYERS
    carried: tuple[str, ...] = ()


def read_facts(document: PDFDocument, header: bytes, pages: int) -> Facts:
    """Collect the facts; ``header`` is the beginning of the file."""
    catalog = document.catalog
    outline = resolve1(catalog.get("Outlines"))
    return Facts(
        version=_version(header, catalog),
        extension_level=_extension_level(catalog),
        preferences=_preferences(catalog),
        page_labels=_page_labels(document, pages),
        has_outline=isinstance(outline, dict) and "First" in outline,
        title=_title(document),
        language=_text(resolve1(catalog.get("Lang"))),
        layers=read_layers(document),
        carried=of_document(catalog),
    )


def attached(document: PDFDocument, pages: Iterable[Mapping[str, Any]], name: str) -> tuple[bytes, ...]:
    """Return what is attached under a name, whichever way, each content once.

    One longer than :data:`MOST_ATTACHED` counts as empty.
    """
    names = resolve1(document.catalog.get("Names"))
    tree = resolve1(names.get("EmbeddedFiles")) if isinstance(names, dict) else None
    found: dict[bytes, None] = {}
    for key, value in (*_leaves(tree), *_associated(document.catalog, pages)):
        specification = resolve1(value)
        if not isinstance(specification, dict):
            continue
        known = {_text(key), *(_text(resolve1(specification.get(entry))) for entry in ("F", "UF"))}
        files = resolve1(specification.get("EF"))
        if name in known and isinstance(files, dict):
            streams = [resolve1(file) for file in files.values()]
            found |= dict.fromkeys(_bounded(stream) for stream in streams if isinstance(stream, PDFStream))
    return tuple(found)


def _leaves(tree: Any, leaf: str = "Names") -> Iterator[tuple[Any, Any]]:
    """Yield the pairs of a tree in order (7.9.6, 7.9.7); each node is followed once."""
    waiting: list[Any] = [tree]
    # a node is held as long as its number says which it is
    known: dict[int, Any] = {}
    while waiting and len(known) < MOST_NODES:
        node = resolve1(waiting.pop())
        if not isinstance(node, dict) or id(node) in known:
            continue
        known[id(node)] = node
        pairs, kids = resolve1(node.get(leaf)), resolve1(node.get("Kids"))
        if isinstance(pairs, list):
            yield from zip(pairs[::2], pairs[1::2], strict=False)
        if isinstance(kids, list):
            waiting += kids[::-1]


def _associated(catalog: Mapping[str, Any], pages: Iterable[Mapping[str, Any]]) -> Iterator[tuple[Any, Any]]:
    """Yield the files of catalog and pages (ISO 32000-2, 14.13), and those of annotations (12.5.6.15)."""
    for holder in (catalog, *pages):
        files = resolve1(holder.get("AF"))
        yield from (("", file) for file in (files if isinstance(files, list) else ()))
        notes = resolve1(holder.get("Annots"))
        for note in notes if isinstance(notes, list) else ():
            held = resolve1(note)
            if isinstance(held, dict) and "FS" in held:
                yield "", held["FS"]


def _bounded(stream: PDFStream) -> bytes:
    filters = [_text(name) for name, _ in stream.get_filters()]
    if filters == ["FlateDecode"] and stream.decipher is None and stream.rawdata is not None:
        inflate = zlib.decompressobj()
        data = inflate.decompress(stream.rawdata, MOST_ATTACHED)
        return b"" if inflate.unconsumed_tail else data
    data = stream.get_data()
    return data if len(data) <= MOST_ATTACHED else b""


def _version(header: bytes, catalog: Mapping[str, Any]) -> tuple[int, int]:
    start = header.find(b"%PDF-")
    found = [header[start + 5 : start + 8].decode("ascii", "replace")] if start >= 0 else []
    # 7.2.2: the catalog's Version wins when it is later than the header's.
    found.append(_text(resolve1(catalog.get("Version"))))
    versions = []
    for text in found:
        major, _, minor = text.partition(".")
        if major.isdecimal() and minor.isdecimal():
            versions.append((int(major), int(minor)))
    return max(versions, default=(0, 0))


def _extension_level(catalog: Mapping[str, Any]) -> int:
    extensions = resolve_all(catalog.get("Extensions"))
    level = extensions.get("ADBE", {}).get("ExtensionLevel", 0) if isinstance(extensions, dict) else 0
    return level if isinstance(level, int) else 0


def _preferences(catalog: Mapping[str, Any]) -> dict[str, Any]:
    tree = resolve_all(catalog.get("ViewerPreferences"))
    if not isinstance(tree, dict):
        return {}
    return {str(key): _plain(value) for key, value in tree.items()}


def _plain(value: Any) -> Any:
    if isinstance(value, PSLiteral):
        return _text(value)
    if isinstance(value, list):
        return [_plain(item) for item in value]
    return value


def _page_labels(document: PDFDocument, pages: int) -> tuple[str, ...]:
    tree = document.catalog.get("PageLabels")
    if tree is None:
        return ()
    flat = [part for pair in _leaves(tree, "Nums") for part in pair]
    return tuple(islice(PageLabels({"Nums": flat}).labels, pages))


def _title(document: PDFDocument) -> str:
    for information in document.info:
        title = _text(resolve1(information.get("Title")))
        if title:
            return title
    return ""


def _text(value: Any) -> str:
    if isinstance(value, PSLiteral):
        value = value.name
    if isinstance(value, bytes):
        return decode_text(value)
    return value if isinstance(value, str) else ""
