"""Destinations within a file: where links, outline, names and the opening action lead (ISO 32000-1, 12.3.2)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from pypdf.generic import ArrayObject, DictionaryObject, IndirectObject, NumberObject

from tiler.catalog.trees import entry, leaves, outline_entries, resolved


def named_targets(root: DictionaryObject) -> Iterator[tuple[Any, Any]]:
    """Yield the named destinations (12.3.2.3): those of the name tree, then those of the older dictionary."""
    yield from leaves(entry(root, "/Names", "/Dests"), "/Names")
    older = entry(root, "/Dests")
    if isinstance(older, DictionaryObject):
        yield from older.items()


def targets(root: DictionaryObject, notes: list[DictionaryObject]) -> Iterator[ArrayObject]:
    """Yield every destination within the file (12.3.2.2) that can be reached from catalog, outline and annotations."""
    holders = [*notes, *outline_entries(entry(root, "/Outlines"))]
    actions = [action for holder in holders for action in (entry(holder, "/A"), entry(holder, "/PA"))]
    first = entry(root, "/OpenAction")
    candidates = [first, *(entry(holder, "/Dest") for holder in holders)]
    candidates += [entry(action, "/D") for action in (first, *actions) if entry(action, "/S") == "/GoTo"]
    for _, value in named_targets(root):
        candidates.append(entry(value, "/D") or resolved(value))
    seen: set[int] = set()
    for one in candidates:
        if isinstance(one, ArrayObject) and one and id(one) not in seen:
            seen.add(id(one))
            yield one


def move_numbered(root: DictionaryObject, pages: Sequence[IndirectObject], after: int, count: int) -> None:
    """Let destinations that count pages instead of naming them lead to the same pages as before."""
    notes = [resolved(note) for page in pages for note in entry(page, "/Annots") or ()]
    for target in targets(root, notes):
        if isinstance(target[0], NumberObject) and target[0] >= after:
            target[0] = NumberObject(target[0] + count)
