"""The checksums of our pages, from the objects that are about to be written."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from typing import Any

from pypdf import PdfWriter
from pypdf.generic import (
    ArrayObject,
    BooleanObject,
    ByteStringObject,
    DictionaryObject,
    FloatObject,
    IndirectObject,
    NameObject,
    NumberObject,
    StreamObject,
    TextStringObject,
)

from tiler.catalog.trees import entry, resolved
from tiler.checksums import Checksums, Name, Plain, Unpacked


def page_checksums(writer: PdfWriter) -> tuple[str, ...]:
    """Return the checksum of every page."""
    checksums = Checksums(_plain)
    return tuple(
        checksums.of_page(resolved(page.raw_get("/Contents")).get_data(), entry(page, "/Resources"))
        for page in writer.pages
    )


def _plain(value: Any) -> tuple[Hashable, Callable[[], Plain]]:
    number = value.idnum if isinstance(value, IndirectObject) else None
    return number, lambda: _made(resolved(value))


def _made(held: Any) -> Plain:
    made: Plain = None
    match held:
        case StreamObject():
            made = Unpacked(_entries(held), held.get_data())
        case DictionaryObject():
            made = _entries(held)
        case ArrayObject():
            made = list(held)
        case NameObject():
            made = Name(held[1:])
        case BooleanObject():
            made = bool(held)
        case NumberObject() | FloatObject():
            made = float(held)
        case TextStringObject():
            made = str(held)
        case ByteStringObject():
            made = held.decode("latin-1")
    return made


def _entries(held: DictionaryObject) -> dict[str, Any]:
    return {key[1:]: held.raw_get(key) for key in held}
