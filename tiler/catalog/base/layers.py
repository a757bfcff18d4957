"""Layers of a longer file: ours beside those of the base, or in them (optional content, ISO 32000-1, 8.11.4).

A layer of the base that is called as one of our sizes becomes the one switch for both.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain, count
from typing import Any

from pypdf.generic import ArrayObject, DictionaryObject, IndirectObject, NameObject, TextStringObject

from tiler.catalog.base.copying import Key
from tiler.catalog.trees import entry, resolved
from tiler.drawn import ALL_SIZES, LayerNames, layer_name
from tiler.languages.catalogue import ENGLISH, LANGUAGES, translated
from tiler.languages.proved import SIZE

LISTS = ("/OFF", "/AS", "/RBGroups", "/Locked")
"""Lists of a configuration (Table 101) that hold for the groups they name and for no others."""

MOST_NAMED = 6
"""So many layers are named one by one."""

TELLING = {"/CreatorInfo", "/PageElement"}
"""What a usage dictionary (Table 102) says that switches nothing."""


@dataclass(frozen=True)
class BaseLayer:
    """A layer: its name, and whether a viewer, a printer or another layer may switch it."""

    name: str
    tied: bool


def layers_of(root: DictionaryObject) -> tuple[BaseLayer, ...]:
    """Return the layers of a catalog, as they are listed."""
    properties = entry(root, "/OCProperties")
    configuration = entry(properties, "/D")
    events = (_list(one, "/OCGs") for one in _list(configuration, "/AS"))
    choices = (resolved(one) for one in _list(configuration, "/RBGroups"))
    tied = {group.idnum for group in chain(*events, *choices) if isinstance(group, IndirectObject)}
    return tuple(_layer(group, tied) for group in _groups(properties))


def _layer(group: IndirectObject, tied: Collection[int]) -> BaseLayer:
    usage, intent = entry(group, "/Usage"), entry(group, "/Intent")
    intents = {str(resolved(one)) for one in (intent if isinstance(intent, ArrayObject) else [intent or "/View"])}
    acts = isinstance(usage, DictionaryObject) and not {*usage} <= TELLING
    return BaseLayer(str(entry(group, "/Name") or ""), acts or group.idnum in tied or not intents & {"/View", "/All"})


def names_for(base: Sequence[BaseLayer], sizes: Sequence[str], own: bool) -> LayerNames:
    """Return what our layers are called in a base; ``own`` keeps all of them apart from those of the base."""
    taken, free = {one.name for one in base}, _free(base)
    names: dict[str, str] = {}
    for size in sizes:
        wanted = [] if own else _named(size, free)
        names[size] = wanted[0] if wanted else _apart(layer_name(size), taken)
        taken.add(names[size])
        free.discard(names[size])
    changed = tuple((size, name) for size, name in names.items() if name != layer_name(size))
    return LayerNames(changed, _apart(ALL_SIZES, taken))


def called_as(base: Sequence[BaseLayer], sizes: Collection[str]) -> set[str]:
    """Return the names of those layers of a base that are called as any of these sizes and are not tied."""
    tied = {one.name for one in base if one.tied}
    free = {one.name for one in base} - tied
    return {name for size in sizes for name in _named(size, free)}


def _free(base: Sequence[BaseLayer]) -> set[str]:
    """Return the names of layers that stand for themselves: each is there once, and no viewer or layer switches it."""
    there = Counter(one.name for one in base)
    return {one.name for one in base if not one.tied and there[one.name] == 1}


def _named(size: str, free: Collection[str]) -> list[str]:
    """Return the layers that are called as a size: exactly as ours is, as the size alone, or so in another language."""
    others = (translated(language, SIZE) for language in LANGUAGES if language != ENGLISH)
    words = (layer_name(size), size, *(template.replace("{size}", size) for template in others))
    alike = {word.casefold() for word in words}
    exact = [word for word in words[:2] if word in free]
    return exact or sorted(name for name in free if " ".join(name.split()).casefold() in alike)


def _apart(name: str, taken: Collection[str]) -> str:
    ways = chain((name, f"{name}, strips"), (f"{name}, strips {number}" for number in count(2)))
    return next(way for way in ways if way not in taken)


def said_of_layers(base: Sequence[BaseLayer], sizes: Sequence[str], names: LayerNames) -> tuple[list[str], list[str]]:
    """Say which layers of a base switch our sizes too, and which sizes have one of their own beside one of the base."""
    there = {one.name for one in base}
    both = [names.of(size) for size in sizes if names.of(size) in there]
    apart = [(size, names.of(size)) for size in sizes if names.of(size) not in there and _named(size, there)]
    told = ", ".join(both) if len(both) <= MOST_NAMED else f"{both[0]} to {both[-1]}"
    of_one = f"the layer {told} switches our pieces of this size as well"
    of_many = f"the layers {told} switch our pieces of these sizes as well"
    shared = [of_one if len(both) == 1 else of_many] if both else []
    if len(apart) > MOST_NAMED:
        (first, name), (last, _) = apart[0], apart[-1]
        return shared, [
            f"sizes {first} to {last} of our pieces have layers of their own beside the base's, such as {name!r}"
        ]
    return shared, [
        f"size {size} of our pieces has a layer of its own beside the base's: {name!r}" for size, name in apart
    ]


def shared_switches(root: DictionaryObject, theirs: DictionaryObject) -> Mapping[Key, IndirectObject]:
    """Return the layer of a base that stands for one of ours, which has the same name."""
    held = {str(entry(group, "/Name")): group for group in _groups(entry(root, "/OCProperties"))}
    return {
        (group.idnum, group.generation): held[name]
        for group in _groups(entry(theirs, "/OCProperties"))
        if (name := str(entry(group, "/Name"))) in held
    }


def add_layers(root: DictionaryObject, mine: DictionaryObject | None, title: str) -> None:
    """Add our layers to those of a catalog; ``mine`` are our properties as taken over, None without layers."""
    if mine is None:
        return
    base = entry(root, "/OCProperties")
    if base is None:
        root[NameObject("/OCProperties")] = mine
        return
    before = _list(base, "/OCGs")
    held = {one.idnum for one in before}
    new = [one for one in _list(mine, "/OCGs") if one.idnum not in held]
    base[NameObject("/OCGs")] = ArrayObject([*before, *new])
    if entry(base, "/D") is None:
        base[NameObject("/D")] = DictionaryObject()
    configuration, wanted = entry(base, "/D"), entry(mine, "/D")
    # Without an order some viewers list every layer and some none: naming only ours would hide the base's.
    order = _list(configuration, "/Order") if "/Order" in configuration else before
    listed = [one for one in _list(wanted, "/Order") or new if one.idnum not in held]
    shown = [ArrayObject([TextStringObject(title), *listed])] if listed else []
    configuration[NameObject("/Order")] = ArrayObject([*order, *shown])
    for key in LISTS:
        added = [one for one in _list(wanted, key) if one.idnum not in held]
        if added:
            configuration[NameObject(key)] = ArrayObject([*_list(configuration, key), *added])
    if entry(configuration, "/BaseState") == "/OFF":
        hidden = {one.idnum for one in _list(wanted, "/OFF")}
        on = [one for one in new if one.idnum not in hidden]
        configuration[NameObject("/ON")] = ArrayObject([*_list(configuration, "/ON"), *on])


def switch_off(root: DictionaryObject, names: Collection[str]) -> None:
    """Switch layers off by their names."""
    configuration = entry(root, "/OCProperties", "/D")
    hidden = [group for group in _groups(entry(root, "/OCProperties")) if str(entry(group, "/Name")) in names]
    if not hidden:
        return
    gone = {group.idnum for group in hidden}
    for key, more in (("/ON", []), ("/OFF", hidden)):
        kept = [one for one in _list(configuration, key) if one.idnum not in gone]
        if kept or more:
            configuration[NameObject(key)] = ArrayObject([*kept, *more])
        else:
            configuration.pop(key, None)


def _groups(properties: Any) -> Iterator[IndirectObject]:
    return (group for group in _list(properties, "/OCGs") if isinstance(group, IndirectObject))


def _list(holder: Any, key: str) -> list[Any]:
    held = entry(holder, key)
    return list(held) if isinstance(held, ArrayObject) else []
