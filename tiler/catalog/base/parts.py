"""Document parts of a base (ISO 32000-2, 14.12): ours belong to the part of the page that they follow."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from pypdf.generic import DictionaryObject, IndirectObject, NameObject

from tiler.catalog.trees import entry, resolved


def take_in(before: Sequence[IndirectObject], ours: Sequence[IndirectObject], after: int) -> None:
    """Put our pages into the part that the page before them, or in front the first page, belongs to.

    ``before`` are the pages of the base; of a base without parts nothing changes.
    """
    beside = before[after - 1] if after else before[0]
    held = resolved(beside).get("/DPart")
    part = resolved(held)
    if not isinstance(part, DictionaryObject):
        return
    for page in ours:
        resolved(page)[NameObject("/DPart")] = held
    start, end = part.get("/Start"), part.get("/End")
    if after == 0 and _is(start, beside):
        if end is None:
            part[NameObject("/End")] = beside
        part[NameObject("/Start")] = ours[0]
    elif after and _is(end if end is not None else start, beside):
        part[NameObject("/End")] = ours[-1]


def has_parts(root: DictionaryObject) -> bool:
    """Tell whether a catalog has document parts."""
    return isinstance(entry(root, "/DPartRoot"), DictionaryObject)


def _is(value: Any, page: IndirectObject) -> bool:
    return isinstance(value, IndirectObject) and value.idnum == page.idnum
