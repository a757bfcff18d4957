"""Accents composed with their letters (Unicode, normalization form C), at the door.

Keyboards and systems write "ö" as one sign or as two, and people see the same word.  Names of
files are left as they are: a path is bytes.
"""

from __future__ import annotations

from collections.abc import Collection
from typing import Any
from unicodedata import normalize


def composed(text: str) -> str:
    """Return a text with every accent composed with its letter, where there is a sign for both."""
    return normalize("NFC", text)


class TwiceError(ValueError):
    """A key stands twice, its accents written in two ways; ``args`` are the keys on the way to it."""


def composed_tree(tree: Any, paths: Collection[str] = ()) -> Any:
    """Return tables, lists and texts with all accents composed, but for what stands under one of the keys ``paths``.

    Raises :class:`TwiceError`.
    """
    if isinstance(tree, str):
        return composed(tree)
    if isinstance(tree, list):
        return [composed_tree(one, paths) for one in tree]
    if not isinstance(tree, dict):
        return tree
    table: dict[str, Any] = {}
    for key, value in tree.items():
        name = composed(key)
        if name in table:
            raise TwiceError(name)
        try:
            table[name] = value if key in paths and isinstance(value, str) else composed_tree(value, paths)
        except TwiceError as fault:
            raise TwiceError(name, *fault.args) from None
    return table
