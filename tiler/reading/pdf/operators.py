"""The operators of a content stream that is written plainly, in one pass.

The reading library takes a stream apart character by character, which is most of the
time that reading takes.  Nearly all streams hold only numbers, names, strings, arrays
and operators (ISO 32000-1, 7.8.2); those are taken apart here by one expression.  A
stream that holds anything else (inline images, dictionaries, comments, odd strings) is
left to the library whole, so that there is one answer only to what it means.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import Any, NamedTuple

from pdfminer.psparser import LIT

LONGEST = 2**20
"""Longer streams are left to the library, which holds one object at a time, bytes."""

ESCAPES = {b"n": b"\n", b"r": b"\r", b"t": b"\t", b"b": b"\b", b"f": b"\f", b"(": b"(", b")": b")", b"\\": b"\\"}
"""ISO 32000-1, Table 3."""

ELSEWHERE = {b"BI", b"ID", b"EI", b"true", b"false", b"null"}
"""Words that begin or are an object of another kind."""

_END = rb"(?=[\0\t\n\f\r /\[\]()<]|\Z)"
_TOKEN = re.compile(
    rb"[\0\t\n\f\r ]*(?:"
    rb"([+-]?[0-9]{1,20})" + _END + rb"|"
    rb"([+-]?(?:[0-9]+\.[0-9]*|\.[0-9]+))" + _END + rb"|"
    rb"([A-Za-z'\"]+[*01]?)" + _END + rb"|"
    rb"\(([^()\\\r]*)\)|"
    rb"/([A-Za-z0-9+_.\-]+)" + _END + rb"|"
    rb"(\[)|(\])|"
    rb"\(((?:[^()\\\r]|\\(?:[nrtbf()\\]|[0-3][0-7]{2}|[0-7]{1,2}(?![0-7])))*)\)|"
    rb"<((?:[0-9A-Fa-f]{2})*)>|"
    rb"(\Z))"
)
_NO_NUMBERS = re.compile(rb"\\.|%[^\r\n]*|/[^\0\t\n\f\r /\[\]()<>{}%]*|<[0-9A-Fa-f\s]*>")
_BRACKETS = re.compile(rb"\([^()]*\)|\[[^\[\]()]*\]")
_ODD_NUMBER = re.compile(rb"[+-][+-]|[0-9.][+-]|\.[0-9]*\.")
_ESCAPE = re.compile(rb"\\([nrtbf()\\]|[0-3][0-7]{2}|[0-7]{1,2})")
_INTEGER, _REAL, _WORD, _STRING, _NAME, _OPEN, _CLOSE, _ESCAPED, _HEX, _OVER = range(1, 11)


class Operator(NamedTuple):
    """An operator as written; what stands before it are its operands."""

    name: bytes


def plain_objects(streams: Sequence[bytes]) -> list[Any] | None:
    """Return the objects of a page's streams, with :class:`Operator` for operators.

    None where a stream is long or holds what is not plain.
    """
    objects: list[Any] = []
    for data in streams:
        if len(data) > LONGEST or not _gather(data, objects):
            return None
    return objects


def has_odd_numbers(data: bytes) -> bool:
    """Tell whether a stream that is not plain writes a number with two signs or points, or a sign within (7.3.3).

    Arrays are left out, where numbers are gaps; so are streams with pictures.
    """
    if b"ID" in data:
        return False
    left = _NO_NUMBERS.sub(b" ", data)
    while (shorter := _BRACKETS.sub(b" ", left)) != left:
        left = shorter
    return _ODD_NUMBER.search(left) is not None


def _gather(data: bytes, objects: list[Any]) -> bool:
    into = objects
    position, length, match, made = 0, len(data), _TOKEN.match, _MADE
    while position < length:
        found = match(data, position)
        if found is None or (kind := found.lastindex) is None:
            return False
        position = found.end()
        if kind in made:
            into.append(made[kind](found[kind]))
        elif kind == _WORD:
            if into is not objects or found[kind] in ELSEWHERE:
                return False
            objects.append(_operator(found[kind]))
        elif kind != _OVER:
            if (kind == _OPEN) != (into is objects):
                return False
            if kind == _CLOSE:
                objects.append(into)
            into = [] if kind == _OPEN else objects
    return into is objects


@lru_cache(2**8)
def _operator(written: bytes) -> Operator:
    """Return an operator, of which a page has few kinds and thousands."""
    return Operator(written)


def _name(written: bytes) -> Any:
    return LIT(written.decode("ascii"))


def _unescape(written: bytes) -> bytes:
    return _ESCAPE.sub(_meant, written)


def _meant(found: re.Match[bytes]) -> bytes:
    escaped = found[1]
    return ESCAPES[escaped] if escaped in ESCAPES else bytes((int(escaped, 8),))


def _from_hexadecimal(written: bytes) -> bytes:
    return bytes.fromhex(written.decode("ascii"))


_MADE: dict[int, Callable[[bytes], Any]] = {
    _INTEGER: int,
    _REAL: float,
    _STRING: bytes,
    _ESCAPED: _unescape,
    _NAME: _name,
    _HEX: _from_hexadecimal,
}
