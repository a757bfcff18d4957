"""Characters that no font of ours can print, refused before anything is drawn."""

from __future__ import annotations

from collections.abc import Sequence

from tiler.draft.edition import Edition
from tiler.draft.outline import Piece
from tiler.sheets.drawing import Drawing
from tiler.sheets.typesetting import refuse_missing_characters


def refuse_unprintable(pieces: Sequence[Piece], edition: Edition, drawing: Drawing) -> None:
    """Raise :class:`SpecError` for a character that the font lacks, with the key that holds it."""
    for where, text in (
        *edition.texts,
        ("printer", drawing.compensation.printer if drawing.compensation else None),
    ):
        refuse_missing_characters(text or "", where)
    for index, piece in enumerate(pieces):
        placed = (*piece.notch_words, *piece.press_words, *piece.end_words)
        words = (*(line.text for line in piece.lines), *piece.advice, *(word.text for word in placed))
        refuse_missing_characters("".join(words), f"pieces[{index}]")
