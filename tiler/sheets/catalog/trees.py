"""Name trees, number trees and outlines of a PDF, walked without trust in their shape.

ISO 32000-1: name trees 7.9.6, number trees 7.9.7, outline 12.3.3.  All three are
linked lists or trees that a damaged file can bend into a circle.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from pypdf.generic import ArrayObject, DictionaryObject, IndirectObject

DEEPEST = 40
"""Trees with more levels are not followed."""

MOST_ITEMS = 100_000
"""Of a longer outline level the rest is not read; no hand-made one comes near."""


def resolved(value: Any) -> Any:
    """Follow a reference to its object."""
    return value.get_object() if isinstance(value, IndirectObject) else value


def entry(holder: Any, *keys: str) -> Any:
    """Give what lies under nested keys, references followed; None when a level is missing."""
    for key in keys:
        holder = resolved(holder)
        if not isinstance(holder, DictionaryObject):
            return None
        holder = holder.get(key)
    return resolved(holder)


def leaves(tree: Any, key: str, depth: int = DEEPEST) -> Iterator[tuple[Any, Any]]:
    """Give the pairs of a name tree (``key`` is /Names) or a number tree (/Nums), values not resolved."""
    tree = resolved(tree)
    if not isinstance(tree, DictionaryObject) or not depth:
        return
    pairs = entry(tree, key)
    if isinstance(pairs, ArrayObject):
        yield from zip(pairs[::2], pairs[1::2], strict=False)
    kids = entry(tree, "/Kids")
    if isinstance(kids, ArrayObject):
        for kid in kids:
            yield from leaves(kid, key, depth - 1)


def outline_level(parent: Any) -> Iterator[DictionaryObject]:
    """Give the entries right below an outline entry or the outline's root, in their order."""
    item = entry(parent, "/First")
    seen: set[int] = set()
    while isinstance(item, DictionaryObject) and id(item) not in seen and len(seen) < MOST_ITEMS:
        seen.add(id(item))
        yield item
        item = entry(item, "/Next")


def outline_entries(parent: Any, depth: int = DEEPEST) -> Iterator[DictionaryObject]:
    """Give all entries of an outline, those below the others included."""
    if depth:
        for item in outline_level(parent):
            yield item
            yield from outline_entries(item, depth - 1)


def fields(kids: Any, kind: str = "", depth: int = DEEPEST) -> Iterator[tuple[DictionaryObject, str]]:
    """Give the form fields (12.7.3) below an array with the kind that each has or inherits; widgets are no fields."""
    kids = resolved(kids)
    if not isinstance(kids, ArrayObject) or not depth:
        return
    for kid in kids:
        field = resolved(kid)
        if not isinstance(field, DictionaryObject):
            continue
        own = str(entry(field, "/FT") or kind)
        below = [one for one in fields(entry(field, "/Kids"), own, depth - 1) if "/T" in one[0]]
        if below:
            yield from below
        elif "/T" in field:
            yield field, own
