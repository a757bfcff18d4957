"""What a label has no room for although it tells how to cut and sew: the first page says it instead."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tiler.draft.label import KEEP
from tiler.languages.words import told
from tiler.sheets.layout.placed import Placed
from tiler.sheets.pieces.lettering import Lettered


def left_out(one: Lettered, shared: Sequence[Placed], *, in_sizes: bool) -> Iterator[str]:
    """Yield what is done at the corners, how the garment is cut and the good lengths, unless the piece says it.

    A size of a nest says what all of its sizes share.  Where a piece is drawn in several sizes the good lengths of each
    would crowd out its row, and stand in the chart alone.
    """
    nested = [place.lettered for place in shared if one.piece.id in place.lettered.of]
    printed = "".join(_bare(text.text) for each in (one, *nested) for text in each.texts)
    advice = nested[0].piece.advice if nested else one.piece.advice
    label = one.piece.label
    for words in (*map(told, advice), label.garment, *([] if in_sizes else [label.good])):
        if words and _bare(words) not in printed:
            yield words


def _bare(text: str) -> str:
    """Return a text without what is lost where a line is broken."""
    return "".join(text.replace(KEEP, " ").replace("·", " ").split())
