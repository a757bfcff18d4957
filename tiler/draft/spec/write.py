"""A spec written as text: TOML 1.0 of tables, lists, texts and numbers, each key with a comment beside it.

A sub-table stands under a heading of its own, so that its keys can have comments; a
list of tables, such as notches, stands in line.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_COMMENT_AT = 36
"""Where comments begin, so that they stand below each other."""

Comments = Mapping[tuple[str, ...], str]
"""Comments by place: ``("pieces", "edge", "whole")``; of a named fabric ``("fabrics", "rib", "stretch")``."""


def spec_text(tables: Mapping[str, Any], comments: Comments, heading: str) -> str:
    """Write ``tables`` so that reading the text gives them again.

    ``heading`` stands above as comments, one a line.
    """
    lines = [f"# {line}" for line in heading.splitlines()]
    lines += _table(tables, (), comments)
    return "\n".join(lines) + "\n"


def _table(table: Mapping[str, Any], place: tuple[str, ...], comments: Comments) -> Iterator[str]:
    """Give the plain keys first: what follows a heading belongs to that heading."""
    below = {key: value for key, value in table.items() if _has_heading(key, value, place)}
    for key, value in table.items():
        if key not in below:
            yield _commented(f"{_key(key)} = {_value(value)}", comments.get((*place, key)))
    for key, value in below.items():
        inner = (*place, key)
        if isinstance(value, list):
            for item in value:
                yield from ("", f"[[{_heading(inner)}]]", *_table(item, inner, comments))
        elif any(not isinstance(one, dict) for one in value.values()):
            yield from ("", f"[{_heading(inner)}]", *_table(value, inner, comments))
        else:
            yield from _table(value, inner, comments)


def _has_heading(key: str, value: Any, place: tuple[str, ...]) -> bool:
    return isinstance(value, dict) or (isinstance(value, list) and not place and key == "pieces")


def _commented(line: str, comment: str | None) -> str:
    return line if comment is None else f"{line:<{_COMMENT_AT - 2}}  # {comment}"


def _heading(place: tuple[str, ...]) -> str:
    return ".".join(_key(key) for key in place)


def _key(key: str) -> str:
    return key if _BARE_KEY.fullmatch(key) else _text(key)


def _value(value: Any) -> str:
    match value:
        case str():
            return _text(value)
        case list():
            return f"[{', '.join(_value(item) for item in value)}]"
        case dict():
            return f"{{ {', '.join(f'{_key(key)} = {_value(item)}' for key, item in value.items())} }}"
        case _:
            return str(value)


def _text(text: str) -> str:
    """Write a basic string: quotes, backslashes and control characters are escaped (TOML 1.0, String)."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return '"' + re.sub(r"[\x00-\x1f\x7f]", lambda sign: f"\\u{ord(sign[0]):04x}", escaped) + '"'
