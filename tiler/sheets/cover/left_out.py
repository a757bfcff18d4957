"""What a label has no room for although it tells how to cut and sew: the first page says it instead."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tiler.draft.label import KEEP
from tiler.languages.words import in_each, told
from tiler.sheets.cover.notes import Note
from tiler.sheets.layout.placed import Placed
from tiler.sheets.pieces.lettering import Lettered
from tiler.sheets.typesetting import typeset


def left_out(one: Lettered, shared: Sequence[Placed], *, in_sizes: bool) -> Iterator[Note]:
    """Yield what is done at the corners, how the garment is cut and the good lengths, unless the piece says it.

    Of a garment that has to be cut otherwise than its pattern says it is told in any case: that comes first.

    A size of a nest says what all of its sizes share.  Where a piece is drawn in several sizes the good lengths of each
    would crowd out its row, and stand in the chart alone.
    """
    nested = [place.lettered for place in shared if one.piece.id in place.lettered.of]
    printed = "".join(_bare(text.text) for each in (one, *nested) for text in each.texts)
    advice = nested[0].piece.advice if nested else one.piece.advice
    spoken = [label for _, label in zip(in_each(), one.piece.labels, strict=False)]
    facts = [] if in_sizes else [tuple(label.good for label in spoken)]
    garment = tuple(label.garment for label in spoken)
    if one.piece.figures.new_cut_edge:
        yield garment
    else:
        facts.insert(0, garment)
    for words in (*(tuple(told(step) for _ in in_each()) for step in advice), *facts):
        if words[0] and _bare(words[0]) not in printed:
            yield words


def says_length(one: Lettered) -> bool:
    """Tell whether a piece, or its row in a table of sizes, says itself how long it is cut."""
    end = _bare(one.piece.label.end)
    return any(end in _bare(text.text) for text in one.texts)


def _bare(text: str) -> str:
    """Return a text as it is set, without what is lost where a line is broken."""
    return "".join(typeset(text).replace(KEEP, " ").replace("·", " ").split())
