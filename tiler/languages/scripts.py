"""Scripts that are set letter by letter, as all that is printed here is, and those that are not.

Letters of some scripts join, change their order or stand on each other (Unicode Standard, chapters 9, 12, 13 and 16:
Middle Eastern, South and Southeast Asian scripts).  A font may have their signs, and set one by one they still
do not make a word.
"""

from __future__ import annotations

from functools import lru_cache
from unicodedata import bidirectional, name

_SHAPED = (
    "ARABIC",
    "BALINESE",
    "BENGALI",
    "DEVANAGARI",
    "GUJARATI",
    "GURMUKHI",
    "HEBREW",
    "JAVANESE",
    "KANNADA",
    "KHMER",
    "LAO",
    "MALAYALAM",
    "MONGOLIAN",
    "MYANMAR",
    "NKO",
    "ORIYA",
    "SINHALA",
    "SYRIAC",
    "TAMIL",
    "TELUGU",
    "THAANA",
    "THAI",
    "TIBETAN",
)
"""The first words of the names of their signs."""

_TO_LEFT = ("R", "AL", "AN", "RLE", "RLO", "RLI")
"""Classes of signs that run from right to left, or make others do so (Unicode Standard Annex 9, table 4)."""


@lru_cache(2**12)
def is_shaped(character: str) -> bool:
    """Tell whether a sign belongs to a script that cannot be set letter by letter from left to right."""
    return bidirectional(character) in _TO_LEFT or name(character, "").partition(" ")[0] in _SHAPED
