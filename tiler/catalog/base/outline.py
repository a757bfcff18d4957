"""The outline of a longer file: one entry of ours behind those of the base (ISO 32000-1, 12.3.3)."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

from pypdf import PdfWriter
from pypdf.generic import (
    ArrayObject,
    DictionaryObject,
    IndirectObject,
    NameObject,
    NumberObject,
    TextStringObject,
)

from tiler.catalog.base.copying import Copier
from tiler.catalog.trees import entry, outline_level, whole


def add_outline(writer: PdfWriter, ours: DictionaryObject, title: str, copier: Copier) -> None:
    """Add our outline, closed, below one entry that leads to our first page."""
    root = writer.root_object
    outline = entry(root, "/Outlines")
    if not isinstance(outline, DictionaryObject):
        outline = DictionaryObject({NameObject("/Type"): NameObject("/Outlines")})
    root[NameObject("/Outlines")] = _reference(writer, outline)
    level = list(outline_level(outline))
    group = DictionaryObject(
        {
            NameObject("/Title"): TextStringObject(title),
            NameObject("/Dest"): ArrayObject([copier.pages[0], NameObject("/Fit")]),
        }
    )
    reference = writer._add_object(group)
    _hang(writer, group, reference, entry(ours, "/Outlines"), copier)
    group[NameObject("/Parent")] = _reference(writer, outline)
    if level:
        group[NameObject("/Prev")] = _reference(writer, level[-1])
        level[-1][NameObject("/Next")] = reference
    else:
        outline[NameObject("/First")] = reference
    outline[NameObject("/Last")] = reference
    outline[NameObject("/Count")] = NumberObject(abs(whole(outline.get("/Count"), len(level))) + 1)


def _reference(writer: PdfWriter, holder: DictionaryObject) -> IndirectObject:
    return getattr(holder, "indirect_reference", None) or writer._add_object(holder)


def _hang(writer: PdfWriter, parent: DictionaryObject, reference: IndirectObject, source: Any, copier: Copier) -> None:
    """Copy the entries below ``source`` to hang below ``parent``, closed."""
    copies = []
    for item in outline_level(source):
        copy = DictionaryObject({NameObject("/Title"): TextStringObject(str(entry(item, "/Title")))})
        target = entry(item, "/Dest") or entry(item, "/A", "/D")
        copy[NameObject("/Dest")] = copier.copy(target)
        copy[NameObject("/Parent")] = reference
        own = writer._add_object(copy)
        _hang(writer, copy, own, item, copier)
        copies.append((copy, own))
    for (earlier, before), (later, after) in pairwise(copies):
        earlier[NameObject("/Next")], later[NameObject("/Prev")] = after, before
    if copies:
        parent[NameObject("/First")], parent[NameObject("/Last")] = copies[0][1], copies[-1][1]
        parent[NameObject("/Count")] = NumberObject(-len(copies))
