"""Page labels of a longer file: those of the base go on where ours end (ISO 32000-1, 12.4.2)."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from pypdf.generic import ArrayObject, DictionaryObject, NameObject, NumberObject

from tiler.catalog.trees import leaves, resolved, whole

Range = tuple[int, DictionaryObject]
"""The page, counted from 0, from which on a label dictionary holds."""


def ranges(tree: Any) -> list[Range]:
    """Return the label ranges of a file; one without labels counts in decimals, as viewers do."""
    found = [
        (whole(start, 0), DictionaryObject(entry))
        for start, value in leaves(tree, "/Nums")
        if isinstance(entry := resolved(value), DictionaryObject)
    ]
    found.sort(key=lambda one: one[0])
    if not found or found[0][0] > 0:
        found.insert(0, (0, DictionaryObject({NameObject("/S"): NameObject("/D")})))
    return found


def inserted(base: Sequence[Range], pages: int, ours: Sequence[Range], count: int, after: int) -> DictionaryObject:
    """Return the label tree of a base of so many ``pages`` with our ``count`` pages after page ``after``."""
    merged = [one for one in base if one[0] < after]
    follows = [one for one in base if one[0] >= after]
    if after < pages and merged and not any(start == after for start, _ in follows):
        follows.insert(0, (after, _continued(*merged[-1], after)))
    merged += [(start + after, entry) for start, entry in ours]
    merged += [(start + count, entry) for start, entry in follows if start < pages]
    numbers = ArrayObject()
    for start, entry in merged:
        numbers += [NumberObject(start), entry]
    return DictionaryObject({NameObject("/Nums"): numbers})


def _continued(start: int, entry: DictionaryObject, page: int) -> DictionaryObject:
    """Return the range that goes on at a page as if nothing had come between."""
    going_on = DictionaryObject(entry)
    if "/S" in entry:
        going_on[NameObject("/St")] = NumberObject(whole(entry.get("/St"), 1) + page - start)
    return going_on
