"""The sha256 of a file, read as it lies."""

from __future__ import annotations

from hashlib import file_digest
from pathlib import Path


def sha256_of(path: Path) -> str:
    """Return the digest of a file in hexadecimal; raises :class:`OSError`."""
    with path.open("rb") as file:
        return file_digest(file, "sha256").hexdigest()
