"""Frozen records as JSON: written, and read back strictly, key for key and kind for kind."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import MISSING, fields, is_dataclass
from enum import StrEnum
from functools import cache, partial
from types import NoneType, UnionType
from typing import Any, TypeVar, get_args, get_origin, get_type_hints

LONGEST = 1e6
"""No length in a record reaches a kilometre, mm."""

LEFT_OUT = "left out"
"""In the metadata of a key: it is left out of the text where it is empty."""

T = TypeVar("T")


class RecordError(Exception):
    """The text is not that of the record."""


def tree_of(value: Any) -> Any:
    """Return a record as JSON knows it: tables, lists and plain values, lengths to 0.0001 mm."""
    if isinstance(value, float):
        return round(value, 4) + 0.0
    if isinstance(value, tuple):
        # nearly all of a declaration are points
        return [round(item, 4) + 0.0 if type(item) is float else tree_of(item) for item in value]
    if is_dataclass(value):
        names = [name for name in _hints(type(value)) if name not in _silent(type(value)) or getattr(value, name)]  # type: ignore[arg-type]
        return {name: tree_of(getattr(value, name)) for name in names}
    return value


def record_of(kind: type[T], tree: Any) -> T:
    """Read a record of a kind; raises :class:`RecordError` for other keys, kinds or lengths."""
    if not isinstance(tree, Mapping):
        raise RecordError(f"{kind.__name__} is not a table")
    hints = _hints(kind)  # type: ignore[arg-type]
    if not _required(kind) <= set(tree) <= set(hints):  # type: ignore[arg-type]
        raise RecordError(f"{kind.__name__} has other keys than {', '.join(sorted(hints))}")
    return kind(**{name: _reader(hint)(tree[name]) for name, hint in hints.items() if name in tree})


@cache
def _hints(kind: type[Any]) -> dict[str, Any]:
    return get_type_hints(kind)


@cache
def _silent(kind: type[Any]) -> set[str]:
    """Name the keys that are not written where there is nothing to say."""
    return {one.name for one in fields(kind) if LEFT_OUT in one.metadata}


@cache
def _required(kind: type[Any]) -> set[str]:
    """Name the keys without a default: what was declared before a key was thought of is still read."""
    return {one.name for one in fields(kind) if one.default is MISSING}


def _of_keys(kinds: Sequence[Any], tree: Any) -> Any:
    """Return the kind of record that has these keys; kinds that stand for one another differ in those they require."""
    keys = set(tree) if isinstance(tree, Mapping) else set()
    for kind in kinds:
        if _required(kind) <= keys <= set(_hints(kind)):
            return kind
    raise RecordError("a record of no known kind")


@cache
def _reader(hint: Any) -> Callable[[Any], Any]:
    """Return what reads a value of a kind; a file holds thousands of numbers, and few kinds."""
    origin, inner = get_origin(hint), get_args(hint)
    if origin is UnionType:
        kinds = [kind for kind in inner if kind is not NoneType]
        one = _reader(kinds[0])
        if len(kinds) > 1:
            return lambda tree: record_of(_of_keys(kinds, tree), tree)
        return lambda tree: None if tree is None else one(tree)
    if origin is tuple:
        return _many(inner[0]) if inner[-1] is Ellipsis else _some(inner)
    if is_dataclass(hint):
        return partial(record_of, hint)  # type: ignore[arg-type]
    return _length if hint is float else lambda tree: _plain(hint, tree)


def _many(hint: Any) -> Callable[[Any], tuple[Any, ...]]:
    one = _reader(hint)
    return lambda tree: tuple(map(one, _listed(tree, None)))


def _some(hints: Sequence[Any]) -> Callable[[Any], tuple[Any, ...]]:
    readers = [_reader(hint) for hint in hints]
    return lambda tree: tuple([read(part) for read, part in zip(readers, _listed(tree, len(readers)), strict=True)])


def _listed(tree: Any, count: int | None) -> list[Any]:
    if not isinstance(tree, list) or (count is not None and len(tree) != count):
        raise RecordError("a list is missing, or has not as many values as it must")
    return tree


def _length(tree: Any) -> float:
    if isinstance(tree, bool) or not isinstance(tree, int | float):
        raise RecordError(f"{tree!r} is not a number")
    if not abs(tree) < LONGEST:
        raise RecordError(f"{tree} mm is no length of a pattern")
    return float(tree)


def _plain(kind: Any, tree: Any) -> Any:
    if issubclass(kind, StrEnum):
        if tree not in list(kind):
            raise RecordError(f"{tree!r} is none of {', '.join(kind)}")
        return kind(tree)
    if not isinstance(tree, kind) or isinstance(tree, bool) is not (kind is bool):
        raise RecordError(f"{tree!r} is not of the kind {kind.__name__}")
    return tree
