"""What a publisher says of a job, as it stands on every page."""

from __future__ import annotations

from collections.abc import Sequence

from tiler.draft.edition import Edition
from tiler.draft.outline import Piece
from tiler.sheets.canvas import refuse_missing_characters


def facts_line(*parts: str | None) -> str:
    """Give the parts that are there as one line."""
    return " · ".join(part for part in parts if part)


def refuse_unprintable(pieces: Sequence[Piece], edition: Edition) -> None:
    """Raise :class:`SpecError` for a character that the font lacks, with the key that holds it."""
    for where, text in (
        ("title", edition.title),
        ("version", edition.version),
        ("date", edition.date),
        ("copyright", edition.copyright),
    ):
        refuse_missing_characters(text or "", where)
    for index, piece in enumerate(pieces):
        placed = (*piece.notch_words, *piece.press_words, *piece.end_words, *piece.seam_words)
        words = (*piece.facts, *piece.advice, *(word.text for word in placed))
        refuse_missing_characters("".join(words), f"pieces[{index}]")
