"""Checksums (SHA-256) of what a page is made of: its content and all that its resources lead to.

The writer declares them, and the proof computes them again, each from the objects of its own
library.  A checksum is that of the meaning and not of the bytes in the file: streams are unpacked,
references followed, dictionaries sorted, numbers rounded, so a file that is only saved again,
packed otherwise or encrypted keeps them (ISO 32000-1, 7.3).
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256
from typing import Any

DEEPEST = 16
"""Objects within each other are followed to this depth."""

PACKING = {"Length", "Filter", "DecodeParms", "DL", "F", "FFilter", "FDecodeParms"}
"""Entries of a stream that say how its bytes are stored (Table 5)."""

APART = {"Parent", "ProcSet", "Metadata", "LastModified", "StructParent", "StructParents"}
"""Entries that lead away from what is painted, or that no reader needs any more."""


@dataclass(frozen=True)
class Unpacked:
    """A stream: its dictionary and its bytes, decoded."""

    entries: Mapping[str, Any]
    data: bytes


@dataclass(frozen=True)
class Name:
    """A name object."""

    text: str


Plain = Unpacked | Name | Mapping[str, Any] | Sequence[Any] | str | float | bool | None
"""One level of an object; what it holds is still the library's own."""


class Checksums:
    """Computes checksums and remembers those of objects that pages share."""

    def __init__(self, plain: Callable[[Any], tuple[Hashable, Callable[[], Plain]]]) -> None:
        """Take what tells of an object its number, None without one, and makes it plain when it is asked for."""
        self._plain = plain
        self._known: dict[Hashable, bytes] = {}
        self.reached_bottom = False

    def of_page(self, content: bytes, resources: Any) -> str:
        """Return the checksum of a page by its content, decoded, and its resources."""
        return sha256(content.strip() + self._of(resources, DEEPEST)).hexdigest()

    def of_whole(self, content: bytes, entries: Mapping[str, Any]) -> str | None:
        """Return the checksum of a page with whatever else it says; None where that was not followed to its end."""
        written = sha256(content.strip() + self._of(entries, DEEPEST)).hexdigest()
        return None if self.reached_bottom else written

    def _of(self, value: Any, depth: int) -> bytes:
        if not depth:
            self.reached_bottom = True
            return b"deep"
        number, made = self._plain(value)
        if number is None:
            return self._written(made(), depth)
        if number not in self._known:
            self._known[number] = self._written(made(), depth)
        return self._known[number]

    def _written(self, plain: Plain, depth: int) -> bytes:
        match plain:
            case Unpacked():
                entries = {key: value for key, value in plain.entries.items() if key not in PACKING}
                written = self._written(entries, depth) + plain.data.strip()
            case Name():
                return b"/" + plain.text.encode()
            case Mapping():
                kept = sorted(key for key, value in plain.items() if key not in APART and value is not None)
                written = b"<<" + b" ".join(b"/%s %s" % (key.encode(), self._of(plain[key], depth - 1)) for key in kept)
            case str():
                return b"(" + plain.encode() + b")"
            case bool() | None:
                return str(plain).encode()
            case int() | float():
                return b"%.4f" % (round(plain, 4) + 0.0)
            case _:
                written = b"[" + b" ".join(self._of(item, depth - 1) for item in plain)
        return sha256(written).digest()
