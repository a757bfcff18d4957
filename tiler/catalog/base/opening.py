"""Opening a PDF of somebody else with the library that writes ours; its many errors meet here."""

from __future__ import annotations

import logging
from collections.abc import Iterator
from contextlib import contextmanager
from hashlib import sha256
from io import BufferedIOBase, BytesIO
from pathlib import Path
from typing import BinaryIO, cast

from pypdf import PdfReader
from pypdf.errors import LimitReachedError

from tiler.errors import EncryptedError, TilerError, UnreadableError
from tiler.files import open_file

# What the library logs is for its developers; a fault that matters is raised.
logging.getLogger("pypdf").setLevel(logging.CRITICAL)


Source = bytes | Path
"""A PDF: its bytes, or the file, of which no more is held in memory than is looked at."""

AT_ONCE = 2**20
"""So much of a file is looked at at once, bytes."""


def chunks(source: Source) -> Iterator[bytes]:
    """Yield the bytes of a PDF piece by piece."""
    with _opened(source) as stream:
        while chunk := stream.read(AT_ONCE):
            yield chunk


def digest(source: Source) -> bytes:
    """Return the sha256 of a PDF."""
    if isinstance(source, bytes):
        return sha256(source).digest()
    found = sha256()
    for chunk in chunks(source):
        found.update(chunk)
    return found.digest()


def _opened(source: Source) -> BufferedIOBase:
    return BytesIO(source) if isinstance(source, bytes) else open_file(source, "PDF")


@contextmanager
def reading(source: Source) -> Iterator[PdfReader]:
    """Open a PDF; every fault of the library leaves as an error of ours."""
    with _opened(source) as stream:
        yield from _read(stream)


def _read(stream: BufferedIOBase) -> Iterator[PdfReader]:
    try:
        reader = PdfReader(cast(BinaryIO, stream))
        if reader.is_encrypted:
            # An empty password opens it, but what is written would have lost its restrictions without a word.
            raise EncryptedError(
                "the base is encrypted, and joining would strip it of its restrictions; "
                "join to a copy saved without encryption"
            )
        if not reader.pages:
            raise UnreadableError("the base has no pages")
        yield reader
    except TilerError:
        raise
    except LimitReachedError as fault:
        raise UnreadableError(
            "the base holds too much to be read; save it anew without what it does not need"
        ) from fault
    except MemoryError as fault:
        raise UnreadableError("the base needs more memory than there is") from fault
    # The library raises a type of its own for every kind of damage.
    except Exception as fault:
        raise UnreadableError("the base is damaged or not a PDF; make or download it again") from fault
