"""A spec written as text: each key with a comment beside it, comments below each other.

A sub-table stands under a heading of its own, so that its keys can have comments; a
list of tables, such as notches, stands in line.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from typing import Any

import tomlkit
from tomlkit.container import Container
from tomlkit.items import Item, Table

from tiler.errors import SpecError
from tiler.sentence import Place

_COMMENT_AT = 36
"""The column where comments begin."""

Comments = Mapping[tuple[str, ...], str]
"""Comments by place: ``("pieces", "edge", "whole")``; of a named fabric ``("fabrics", "rib", "stretch")``."""


def spec_text(tables: Mapping[str, Any], comments: Comments, heading: str) -> str:
    """Return ``tables`` as TOML that reads as them again; ``heading`` stands above as comments, one a line."""
    document = tomlkit.document()
    for line in heading.splitlines():
        document.add(tomlkit.comment(line))
    _fill(document, tables, (), comments)
    return tomlkit.dumps(document)


def _fill(into: Container | Table, table: Mapping[str, Any], place: tuple[str, ...], comments: Comments) -> None:
    """Put the plain keys first: what follows a heading belongs to that heading."""
    below = {key: value for key, value in table.items() if _has_heading(key, value, place)}
    for key, value in table.items():
        if key not in below:
            into.add(key, _commented(key, _in_line(value), comments.get((*place, key))))
    for key, value in below.items():
        if isinstance(value, list):
            into.add(key, tomlkit.aot())
            for item in value:
                into[key].append(made := _table(item, (*place, key), comments))
                made.trivia.indent = "\n"
        else:
            into.add(key, _table(value, (*place, key), comments))


def _table(table: Mapping[str, Any], place: tuple[str, ...], comments: Comments) -> Table:
    made = tomlkit.table(is_super_table=bool(table) and all(isinstance(value, dict) for value in table.values()))
    _fill(made, table, place, comments)
    return made


def _has_heading(key: str, value: Any, place: tuple[str, ...]) -> bool:
    return isinstance(value, dict) or (isinstance(value, list) and not place and key == "pieces")


def _commented(key: str, item: Item, comment: str | None) -> Item:
    if comment is not None:
        item.comment(comment)
        width = len(tomlkit.dumps({key: 0})) - len("0\n") + len(item.as_string())
        item.trivia.comment_ws = " " * max(2, _COMMENT_AT - width)
    return item


def _in_line(value: Any) -> Item:
    if isinstance(value, list):
        row = tomlkit.array()
        row.extend(_in_line(item) for item in value)
        return row
    if isinstance(value, dict):
        table = tomlkit.inline_table()
        table.update({key: _in_line(item) for key, item in value.items()})
        return table
    item: Item = tomlkit.item(value)
    return item


def changed_text(text: str, changes: Mapping[tuple[str | int, ...], Any]) -> str:
    """Return a spec with other values at some of its places, and all the rest of it as it was written.

    Raises :class:`SpecError` where a value cannot be changed without harm to what stands around it.
    """
    wanted = tomllib.loads(text)
    document = tomlkit.parse(text)
    for place, value in changes.items():
        for tree in (wanted, document):
            here: Any = tree
            for key in place[:-1]:
                here = here[key]
            here[place[-1]] = value
    written = tomlkit.dumps(document)
    if tomllib.loads(written) != wanted:
        raise SpecError("cannot be changed here; change it in the file", Place("", next(iter(changes))))
    return written
