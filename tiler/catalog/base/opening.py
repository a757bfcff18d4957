"""Opening a PDF of somebody else with the library that writes ours; its many errors meet here."""

from __future__ import annotations

import logging
from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO

from pypdf import PdfReader
from pypdf.errors import LimitReachedError

from tiler.errors import EncryptedError, TilerError, UnreadableError

# What the library logs is for its developers; a fault that matters is raised.
logging.getLogger("pypdf").setLevel(logging.CRITICAL)


@contextmanager
def reading(data: bytes) -> Iterator[PdfReader]:
    """Open a PDF; every fault of the library leaves as an error of ours."""
    try:
        reader = PdfReader(BytesIO(data))
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
