"""A table of the spec, read key by key.

Every value of a spec passes through here once: the kind of the value, unknown
and missing keys are judged at this door, and each fault knows the file and
the key.  Lengths leave as float millimetres.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from difflib import get_close_matches
from enum import StrEnum
from typing import Any, NoReturn, TypeVar

from tiler.errors import SpecError
from tiler.lengths import parse_angle, parse_length, parse_percent
from tiler.sentence import Key, Place, Sentence, SizeKey

Word = TypeVar("Word", bound=StrEnum)

LONGEST_TEXT = 200
"""A title or a name of more characters fits on no piece."""

_KINDS = {
    dict: "a table",
    list: "a list",
    str: "a text",
    bool: "true or false",
    int: "a number",
    float: "a number",
}


@dataclass(frozen=True)
class AtSize:
    """The size that a piece is read for, and all sizes of the spec."""

    size: str
    sizes: tuple[str, ...]


def _line(value: Any, where: Place, hint: str) -> str:
    """Return a text of one line, or raise :class:`SpecError`."""
    why: tuple[str, ...] = ()
    if not isinstance(value, str):
        why = (f"must be a text in quotes, not {kind_of(value)}",)
    elif not value.strip():
        why = ("is empty; write ", hint)
    elif len(value) > LONGEST_TEXT:
        why = (f"has {len(value)} characters; at most {LONGEST_TEXT} fit",)
    elif not value.isprintable():
        why = ("has a line break or another character that does not print; write one plain line",)
    if why:
        raise SpecError(Sentence(*why), where)
    return str(value).strip()


class Table:
    """One table of the spec with its place, its unit for bare numbers, and the keys that it may have.

    In a piece that is read ``at`` a size, a length, an angle or a share may be a table
    with one value for each size of the spec.  Raises :class:`SpecError` when a key is unknown.
    """

    def __init__(self, data: Any, where: Place, units: str, keys: Iterable[str], at_size: AtSize | None = None) -> None:
        """Take ``data`` as the table that stands at ``where``."""
        if not isinstance(data, dict):
            raise SpecError(f"must be a table, not {kind_of(data)}", where)
        self._data = data
        self.where = where
        self.units = units
        self._at_size = at_size
        known = tuple(keys)
        for key in data:
            if key not in known:
                self.refuse(key, f"is not a known key; {nearest(key, known)}")

    def has(self, key: str) -> bool:
        """Tell whether the key is given."""
        return key in self._data

    def raw(self, key: str, hint: str) -> Any:
        """Return the value as it stands; ``hint`` shows how to write a missing one."""
        if key not in self._data:
            self.refuse(key, "is missing; write ", hint)
        return self._data[key]

    def refuse(self, key: str, *why: str) -> NoReturn:
        """Raise :class:`SpecError` about one key; ``why`` is text and the keys that it names."""
        raise SpecError(Sentence(*why), self.where.at(key))

    def only_one(self, *keys: str) -> str | None:
        """Return the one of ``keys`` that is present, or nothing; two of them contradict each other."""
        given = [key for key in keys if key in self._data]
        if len(given) > 1:
            self.refuse(given[1], "contradicts ", Key(given[0]), "; give only one of them")
        return given[0] if given else None

    def table(self, key: str, keys: Iterable[str], hint: str) -> Table:
        """Return the table under ``key``."""
        return Table(self.raw(key, hint), self.where.at(key), self.units, keys, self._at_size)

    def tables(self, key: str, keys: Iterable[str], hint: str) -> tuple[Table, ...]:
        """Return the list of tables under ``key``."""
        value = self.raw(key, hint)
        if not isinstance(value, list):
            self.refuse(key, f"must be a list of tables, not {kind_of(value)}; write ", hint)
        known = tuple(keys)
        return tuple(
            Table(item, self.where.at(key, i), self.units, known, self._at_size) for i, item in enumerate(value)
        )

    def for_size(self, at_size: AtSize, keys: Iterable[str]) -> Table:
        """Return this table as it is read for one size."""
        return Table(self._data, self.where, self.units, keys, at_size)

    def by_size(self, key: str, hint: str, own_keys: Iterable[str] = ()) -> tuple[Any, Place]:
        """Return a value and its place, out of a table with one value for each size where there is one.

        A table that has one of ``own_keys`` is itself the value.  Raises :class:`SpecError`
        for a size that is missing or unknown, and for such a table where there are no sizes.
        """
        value = self.raw(key, hint)
        if not isinstance(value, dict) or any(own in value for own in own_keys):
            return value, self.where.at(key)
        if self._at_size is None:
            self.refuse(
                key,
                "is a table, and one value belongs here; a value for each size is for pieces, in a spec with "
                'sizes = ["XS", "S", "M"] at its top',
            )
        sizes = self._at_size.sizes
        own = Table(value, self.where.at(key), self.units, value)
        for size in value:
            if size not in sizes:
                own.refuse(size, f"is not one of the sizes; {nearest(size, sizes)}")
        for size in sizes:
            if size not in value:
                own.refuse(size, f"is missing; give a value for each of {', '.join(sizes)}")
        return value[self._at_size.size], own.where.at(SizeKey(self._at_size.size))

    def named(self, key: str) -> dict[str, Any]:
        """Return the tables under ``key`` by their names, unread."""
        value = self._data.get(key, {})
        if not isinstance(value, dict):
            self.refuse(key, f"must be a table, not {kind_of(value)}")
        return value

    def text(self, key: str, hint: str) -> str:
        """Return a text of one line."""
        return _line(self.raw(key, hint), self.where.at(key), hint)

    def optional_text(self, key: str, hint: str) -> str | None:
        """Return a text of one line, or nothing; a TOML date counts as its text."""
        value = self._data.get(key)
        if isinstance(value, date) and not isinstance(value, datetime):
            return value.isoformat()
        return self.text(key, hint) if key in self._data else None

    def texts(self, key: str, most: int) -> tuple[str, ...]:
        """Return a list of texts of one line, none when the key is absent."""
        value = self._data.get(key, [])
        hint = f'{key} = ["one", "two"]'
        if not isinstance(value, list):
            self.refuse(key, f"must be a list of texts, not {kind_of(value)}; write {hint}")
        if len(value) > most:
            self.refuse(key, f"are {len(value)}; at most {most} fit")
        return tuple(_line(item, self.where.at(key, index), '"a text"') for index, item in enumerate(value))

    def word(
        self, key: str, words: type[Word], default: Word | None = None, also: Mapping[str, str] | None = None
    ) -> Word:
        """Return one of a few fixed words; ``also`` holds other spellings."""
        hint = " or ".join(f'"{word}"' for word in words)
        if key not in self._data and default is not None:
            return default
        value = self.text(key, hint)
        try:
            return words((also or {}).get(value, value))
        except ValueError:
            self.refuse(key, f'"{value}" is not known; {nearest(value, tuple(words))}')

    def flag(self, key: str) -> bool:
        """Tell whether the key is true; false when the key is absent."""
        value = self._data.get(key, False)
        if not isinstance(value, bool):
            self.refuse(key, f"must be true or false, not {kind_of(value)}")
        return value

    def count(self, key: str, default: int, most: int) -> int:
        """Return a whole number from 1 to ``most``."""
        value = self._data.get(key, default)
        if isinstance(value, bool) or not isinstance(value, int):
            self.refuse(key, f"must be a whole number, not {kind_of(value)}")
        if not 1 <= value <= most:
            self.refuse(key, f"must be a whole number from 1 to {most}")
        return int(value)

    def length(self, key: str, hint: str, *, zero_ok: bool = False) -> float:
        """Return a length, mm."""
        value, where = self.by_size(key, hint)
        return float(parse_length(value, self.units, where, zero_ok=zero_ok))

    def optional_length(self, key: str, *, zero_ok: bool = False) -> float | None:
        """Return a length, mm, or nothing."""
        return self.length(key, "", zero_ok=zero_ok) if key in self._data else None

    def signed_length(self, key: str, default: float) -> float:
        """Return a length that may be zero or negative, mm."""
        if key not in self._data:
            return default
        value, where = self.by_size(key, "")
        return float(parse_length(value, self.units, where, zero_ok=True, negative_ok=True))

    def angle(self, key: str, least: float, most: float) -> float:
        """Return an angle, degrees."""
        value, where = self.by_size(key, '"20 deg"')
        return parse_angle(value, where, least=least, most=most)

    def angles(self, key: str, least: float, most: float) -> tuple[float, ...]:
        """Return a list of angles, degrees; none when the key is absent."""
        if key not in self._data:
            return ()
        value, where = self.by_size(key, "[90]")
        if not isinstance(value, list):
            raise SpecError(f"must be a list of angles, not {kind_of(value)}; write [90]", where)
        return tuple(parse_angle(item, where.at(i), least=least, most=most) for i, item in enumerate(value))

    def percent(self, key: str, *, least: float = 0.0, most: float) -> float:
        """Return a share, 1 for 100 %."""
        value, where = self.by_size(key, '"60 %"')
        return parse_percent(value, where, least=least, most=most)


def nearest(word: str, known: Iterable[str]) -> str:
    """Say which known word is meant, or list all of them."""
    words = tuple(str(item) for item in known)
    close = get_close_matches(word[:60], words, 1)
    return f"did you mean {close[0]}?" if close else f"known are {', '.join(words) or 'none'}"


def kind_of(value: Any) -> str:
    """Name the kind of a TOML value in plain words."""
    return _KINDS.get(type(value), "a date or a time")
