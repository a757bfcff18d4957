"""Layers of a longer file: ours beside those of the base (optional content, ISO 32000-1, 8.11.4)."""

from __future__ import annotations

from typing import Any

from pypdf.generic import ArrayObject, DictionaryObject, NameObject, TextStringObject

from tiler.catalog.trees import entry

LISTS = ("/OFF", "/AS", "/RBGroups", "/Locked")
"""Lists of a configuration (Table 101) that hold for the groups they name and for no others."""


def add_layers(root: DictionaryObject, mine: DictionaryObject | None, title: str) -> None:
    """Add our layers to those of a catalog; ``mine`` are our properties as taken over, None without layers."""
    if mine is None:
        return
    base = entry(root, "/OCProperties")
    if base is None:
        root[NameObject("/OCProperties")] = mine
        return
    before, new = _list(base, "/OCGs"), _list(mine, "/OCGs")
    base[NameObject("/OCGs")] = ArrayObject([*before, *new])
    if entry(base, "/D") is None:
        base[NameObject("/D")] = DictionaryObject()
    configuration, wanted = entry(base, "/D"), entry(mine, "/D")
    # Without an order some viewers list every layer and some none: naming only ours would hide the base's.
    order = _list(configuration, "/Order") if "/Order" in configuration else before
    shown = ArrayObject([TextStringObject(title), *(_list(wanted, "/Order") or new)])
    configuration[NameObject("/Order")] = ArrayObject([*order, shown])
    for key in LISTS:
        if _list(wanted, key):
            configuration[NameObject(key)] = ArrayObject([*_list(configuration, key), *_list(wanted, key)])
    if entry(configuration, "/BaseState") == "/OFF":
        hidden = {one.idnum for one in _list(wanted, "/OFF")}
        on = [one for one in new if one.idnum not in hidden]
        configuration[NameObject("/ON")] = ArrayObject([*_list(configuration, "/ON"), *on])


def _list(holder: Any, key: str) -> list[Any]:
    held = entry(holder, key)
    return list(held) if isinstance(held, ArrayObject) else []
