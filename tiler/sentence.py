"""Sentences that know what they speak of: a place in a spec, and keys that they name.

The engine speaks of a spec: ``pieces[0].edge.front-half: is missing; write whole = "24 cm"``.
Whoever gave options or answers is told the same in their words, so a sentence keeps its
keys as records, and nobody has to find them in the text.  Each is a ``str`` in the words
of a spec; what is joined by ``+`` or put into an f-string is text and nothing else.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Self

from tiler.languages.catalogue import noted

_LONGEST_KEY = 40
"""A key of more characters is cut short in a message."""


class SizeKey(str):
    """The key for one size in a table that has a value for each size."""


@dataclass(frozen=True)
class Place:
    """Where something stands: a file or an option, the keys and indexes in it, and the size that it is read for.

    ``source`` is empty where the file is not known, ``path`` where an option is meant.
    """

    source: str
    path: tuple[str | int, ...] = ()
    size: str | None = None

    def __str__(self) -> str:
        """Write the place without its size: ``crew.toml: pieces[0].edge.front-half``."""
        path = ""
        for key in self.path:
            path += f"[{key}]" if isinstance(key, int) else f".{_shown(key)}" if path else _shown(key)
        return ": ".join(part for part in (self.source, path) if part)

    def at(self, *keys: str | int) -> Place:
        """Return the place that these keys lead to from here."""
        return replace(self, path=(*self.path, *keys))

    def at_size(self, size: str | None) -> Place:
        """Return the place as it is read for one size; one that leads through a key of that size says so already."""
        return self if any(isinstance(key, SizeKey) for key in self.path) else replace(self, size=size)


class Key(str):
    """A key that a sentence names, and what to write there: ``whole`` or ``whole = "24 cm"``.

    ``within`` leads to its table from the one that the sentence is about; ``..`` is the table around.
    """

    name: str
    value: str
    within: tuple[str, ...]

    def __new__(cls, name: str, value: str = "", within: tuple[str, ...] = ()) -> Key:
        """Take the key, its value as TOML, and the keys on the way to it."""
        key = super().__new__(cls, f"{name} = {value}" if value else name)
        key.name, key.value, key.within = name, value, within
        return key


class Phrase(StrEnum):
    """A turn that speaks of the tables of a spec; who has none is told the same in another one."""

    NAME_FABRIC = "name its fabric"
    NAME_GARMENT_FABRIC = noted("name its garment-fabric")
    MEASURE_FABRIC = noted("measure the fabric and name it")
    CLOTH_WIDTH = "name its fabric and state its width"
    STATED = "stated in the spec"
    RATIOS = '"advised", "usual", a percentage, or fits'


class Sentence(str):
    """A text that keeps its parts: plain texts, keys and phrases."""

    given: tuple[str, ...]
    parts: tuple[str, ...]

    def __new__(cls, *parts: str) -> Self:
        """Join the parts as they are ``given``; a sentence among them gives its own."""
        sentence = super().__new__(cls, "".join(parts))
        sentence.given = parts
        sentence.parts = tuple(own for part in parts for own in (part.parts if isinstance(part, Sentence) else (part,)))
        return sentence


def names_key(text: str) -> bool:
    """Tell whether a text names a key, or speaks of the tables of a spec."""
    return any(isinstance(part, Key | Phrase) for part in Sentence(text).parts)


def worded(text: str, word: Callable[[Key | Phrase], str]) -> str:
    """Return the text with every key and phrase in the words that ``word`` gives."""
    parts = Sentence(text).parts
    return "".join(word(part) if isinstance(part, Key | Phrase) else part for part in parts)


def joined(between: str, parts: Iterable[str]) -> Sentence:
    """Return the parts with ``between`` between each two: ``front-half and back-half``."""
    separated = [piece for part in parts for piece in (between, part)]
    return Sentence(*separated[1:])


def span(first: str, last: str) -> str:
    """Write from where to where something runs: ``2–5``, and ``2`` for one alone."""
    return first if first == last else f"{first}–{last}"


def counted(number: int, noun: str) -> str:
    """Write how many there are: ``1 page``, ``2 pages``."""
    return f"{number} {noun}" + ("" if number == 1 else "s")


def _shown(key: str) -> str:
    shown = key if key.isprintable() else ascii(key)
    return shown if len(shown) <= _LONGEST_KEY else f"{shown[: _LONGEST_KEY - 3]}..."
