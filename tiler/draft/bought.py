"""What is bought in its width and cut by its length alone, such as fold-over elastic: told, and never drawn.

As there is no piece that shows its notches, their distances are told wherever its length is.
"""

from __future__ import annotations

from collections.abc import Sequence

from tiler.draft.figures import Figures
from tiler.draft.judged import named
from tiler.draft.sections.strips import strips_of
from tiler.draft.strip.notch import Notch
from tiler.errors import SpecError
from tiler.languages.words import Number, Words, listed
from tiler.lengths import both
from tiler.sentence import Place


def bought(figures: Sequence[Figures]) -> tuple[Figures, ...]:
    """Return what is bought."""
    return tuple(one for one in figures if one.finish.is_bought)


def drawn(figures: Sequence[Figures]) -> tuple[Figures, ...]:
    """Return what is drawn: the strips, and the sections of those that are pieced.

    Raises :class:`SpecError` where there is nothing to draw.
    """
    found = strips_of([one for one in figures if not one.finish.is_bought])
    if not found:
        raise SpecError(
            "is cut by its length alone, so there is no piece to draw; tiler figures tells that length, and tiler "
            "chart prints it",
            Place(named(figures)),
        )
    return found


def told_marks(notches: Sequence[Notch], units: str, first: str) -> str:
    """Say where what is bought is marked, and which part of the edge comes ``first``; nothing without marks."""
    marks = [
        Words("{mark} {length}", mark=notch.name, length=Number(both(notch.at_mm, units).replace(" ", "\u00a0")))
        for notch in notches
    ]
    if not marks:
        return ""
    if first:
        return Words("Marks, from the left cut end ({part} first): {marks}.", part=first, marks=listed(marks))
    return Words("Marks, from the left cut end: {marks}.", marks=listed(marks))
