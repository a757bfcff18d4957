"""The checksum of a page as it is read, to hold against the one that was declared when it was drafted."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping
from typing import Any

from pdfminer.pdftypes import PDFObjRef, PDFStream, resolve1
from pdfminer.psparser import PSLiteral
from pdfminer.utils import decode_text

from tiler.checksums import Checksums, Name, Plain, Unpacked


def checksums() -> Checksums:
    """Return what computes the checksums of a document and remembers what its pages share."""
    return Checksums(_plain)


def content_of(attributes: Mapping[str, Any]) -> bytes:
    """Return the content of a page, decoded; its streams follow each other as readers put them together (7.8.2)."""
    held = resolve1(attributes.get("Contents"))
    streams = [resolve1(one) for one in held] if isinstance(held, list) else [held]
    return b"\n".join(stream.get_data() for stream in streams if isinstance(stream, PDFStream))


def _plain(value: Any) -> tuple[Hashable, Callable[[], Plain]]:
    number = value.objid if isinstance(value, PDFObjRef) else None
    return number, lambda: _made(resolve1(value))


def _made(held: Any) -> Plain:
    match held:
        case PDFStream():
            return Unpacked(held.attrs, held.get_data())
        case PSLiteral():
            return Name(held.name if isinstance(held.name, str) else held.name.decode("latin-1"))
        case bytes():
            return decode_text(held)
        case dict() | list() | bool() | int() | float() | str():
            return held
    return None
