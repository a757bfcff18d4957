"""A spec as a part of an address: its text packed into letters that an address may hold (RFC 1950, RFC 4648 § 5)."""

from __future__ import annotations

import zlib
from base64 import urlsafe_b64decode, urlsafe_b64encode

from tiler.draft.spec.toml import LARGEST_SPEC
from tiler.errors import SpecError
from tiler.sentence import Place

LONGEST = 60_000
"""A longer address is not sent by every browser."""

_LOST = "this address holds no whole spec; choose the file again"


def packed(text: str) -> str:
    """Return a text as letters of an address; raises :class:`SpecError` for one that is too long for any."""
    letters = urlsafe_b64encode(zlib.compress(text.encode("utf-8"), 9)).decode("ascii").rstrip("=")
    if len(letters) > LONGEST:
        raise SpecError(
            "is too long to go on with in a browser; draft it with tiler draft, or make several specs of it",
            Place("--spec"),
        )
    return letters


def unpacked(letters: str) -> str:
    """Return the text again; raises :class:`SpecError` for letters that hold none."""
    place = Place("--spec")
    if len(letters) > LONGEST:
        raise SpecError(_LOST, place)
    try:
        reader = zlib.decompressobj()
        raw = reader.decompress(urlsafe_b64decode(letters + "=" * (-len(letters) % 4)), LARGEST_SPEC)
        if not reader.eof:
            raise SpecError(_LOST, place)
        return raw.decode("utf-8")
    except (ValueError, zlib.error):
        raise SpecError(_LOST, place) from None
