"""Name trees, number trees and outlines of a PDF, walked without trust in their shape.

ISO 32000-1: name trees 7.9.6, number trees 7.9.7, outline 12.3.3.  All three are
linked lists or trees that a damaged file can bend into a circle.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from pypdf.generic import ArrayObject, DictionaryObject, IndirectObject, NullObject, NumberObject

DEEPEST = 40
"""Trees with more levels are not followed."""


def resolved(value: Any) -> Any:
    """Follow a reference to its object."""
    return value.get_object() if isinstance(value, IndirectObject) else value


def entry(holder: Any, *keys: str) -> Any:
    """Return what lies under nested keys, references followed; None when a level is missing or null."""
    for key in keys:
        holder = resolved(holder)
        if not isinstance(holder, DictionaryObject):
            return None
        holder = holder.get(key)
    held = resolved(holder)
    return None if isinstance(held, NullObject) else held


def whole(value: Any, otherwise: int) -> int:
    """Return a whole number; what is none counts as left out."""
    number = resolved(value)
    return int(number) if isinstance(number, NumberObject) else otherwise


def leaves(tree: Any, key: str) -> Iterator[tuple[Any, Any]]:
    """Yield the pairs of a name tree (``key`` is /Names) or a number tree (/Nums), values not resolved."""
    return _leaves(tree, key, DEEPEST, set())


def _leaves(tree: Any, key: str, depth: int, seen: set[int]) -> Iterator[tuple[Any, Any]]:
    tree = resolved(tree)
    if not isinstance(tree, DictionaryObject) or not depth or id(tree) in seen:
        return
    seen.add(id(tree))
    pairs = entry(tree, key)
    if isinstance(pairs, ArrayObject):
        yield from zip(pairs[::2], pairs[1::2], strict=False)
    for kid in _kids(tree):
        yield from _leaves(kid, key, depth - 1, seen)


def _kids(holder: Any) -> ArrayObject:
    kids = entry(holder, "/Kids")
    return kids if isinstance(kids, ArrayObject) else ArrayObject()


def outline_level(parent: Any, seen: set[int] | None = None) -> Iterator[DictionaryObject]:
    """Yield the entries right below an outline entry or the outline's root, in their order."""
    seen = set() if seen is None else seen
    item = entry(parent, "/First")
    while isinstance(item, DictionaryObject) and id(item) not in seen:
        seen.add(id(item))
        yield item
        item = entry(item, "/Next")


def outline_entries(outline: Any) -> Iterator[DictionaryObject]:
    """Yield all entries of an outline, those below the others included."""
    seen: set[int] = set()
    waiting = list(outline_level(outline, seen))
    while waiting:
        item = waiting.pop()
        yield item
        waiting += outline_level(item, seen)


def form_fields(form: Any) -> list[tuple[DictionaryObject, str]]:
    """Return the fields of a form (12.7.3) with the kind that each has or inherits; widgets are not fields."""
    return list(_fields(entry(form, "/Fields"), "", DEEPEST, set()))


def _fields(kids: Any, kind: str, depth: int, seen: set[int]) -> Iterator[tuple[DictionaryObject, str]]:
    for kid in kids if isinstance(kids, ArrayObject) and depth else ():
        field = resolved(kid)
        if not isinstance(field, DictionaryObject) or "/T" not in field or id(field) in seen:
            continue
        seen.add(id(field))
        own = str(entry(field, "/FT") or kind)
        below = list(_fields(_kids(field), own, depth - 1, seen))
        yield from below or [(field, own)]
