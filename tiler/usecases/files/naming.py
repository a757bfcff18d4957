"""Names of files, from titles and sizes."""

from __future__ import annotations

import re
from collections.abc import Sequence
from unicodedata import normalize

LONGEST = 60


def slug(text: str) -> str:
    """Return a text as small Latin letters, digits and dashes, as file names are safe everywhere."""
    plain = normalize("NFKD", text.casefold()).replace("⁄", "-").encode("ascii", "ignore").decode("ascii")
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:LONGEST].strip("-") or "pattern"


def size_words(sizes: Sequence[str]) -> dict[str, str]:
    """Return for each size a word for file names, no two of them alike even where letter case does not count."""
    words: dict[str, str] = {}
    for number, size in enumerate(sizes, 1):
        word = re.sub(r"[^A-Za-z0-9]+", "-", normalize("NFKD", size).encode("ascii", "ignore").decode("ascii")).strip(
            "-"
        )
        if not word or word.lower() in {other.lower() for other in words.values()}:
            word = f"{word or 'size'}-{number}"
        words[size] = word
    return words
