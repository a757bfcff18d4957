"""The words of a drawing, held against the declared ones: each in its group, once, in its place and upright; mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import dist

from tiler.box import Point
from tiler.declaration import Declaration
from tiler.drawn import Piece, Shared
from tiler.printed import Ink, Printed, Word
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says
from tiler.proof.tolerances import VECTOR
from tiler.reading.svg.plain import PlainGroup, PlainWord

MM_PER_POINT = 25.4 / 72
"""ISO 32000-1, 8.3.2.3."""

TYPE = 0.002
"""A type whose size differs by more is another one, mm."""

STRAIGHT = 1e-6
"""Of the directions of a line of text and of its letters, whose lengths are 1."""

AS_PRINTED: Point = (1.0, 0.0)
TURNED: Point = (0.0, 1.0)
"""Where words run on a piece that lies across the plane, and on one that is turned by +90 degrees."""

Matched = tuple[Piece | Shared | None, PlainGroup | None]
"""What is declared with its group in the file; the heading is that of nothing, and one of both may be missing."""


def compare_words(declaration: Declaration, matched: Sequence[Matched]) -> Iterator[Check]:
    """Take every declared word once in its group; what is left over, lost or turned is told."""
    forms = {form.id: form.marks for form in declaration.forms}
    unread: list[str] = []
    twisted = 0
    for number, (one, group) in enumerate(matched):
        marks = forms.get(one.id, ()) if one else declaration.printed[0] if number == 0 else ()
        left = list(group.words) if group else []
        twisted += sum(not _is_upright(word, one) for word in left)
        colour = ink_of(marks)
        for mark in marks:
            if isinstance(mark, Word):
                found = next((word for word in left if _same(word, mark, one, colour)), None)
                if found is None:
                    unread.append(mark.text)
                else:
                    left.remove(found)
        unread += [word.text for word in left]
    if twisted:
        yield Check(CheckName.TEXT, Status.FAIL, Says.WORDS_TWISTED, numbers={"count": twisted})
    if unread:
        numbers = {"count": len(unread)}
        yield Check(CheckName.WORDS, Status.FAIL, Says.WORDS_UNREAD, label=unread[0], numbers=numbers)
    if not twisted and not unread:
        yield Check(CheckName.TEXT, Status.PASS, Says.WORDS_READ)


def ink_of(marks: Sequence[Printed]) -> str:
    """Return the colour in which all marks of a form are declared, as SVG writes it."""
    inks = [mark.colour for mark in marks if isinstance(mark, Ink)]
    return f"#{''.join(f'{round(255 * share):02x}' for share in inks[0])}" if inks else "#000000"


def _same(word: PlainWord, mark: Word, one: Piece | Shared | None, colour: str) -> bool:
    at = one.on_sheet(mark.at) if one else mark.at
    return (
        word.text == " ".join(mark.text.split())
        and dist(word.at, at) <= VECTOR
        and abs(word.size - mark.size * MM_PER_POINT) <= TYPE
        and word.bold == mark.bold
        and (word.fill, word.stroke) == (colour, "none")
    )


def _is_upright(word: PlainWord, one: Piece | Shared | None) -> bool:
    """Tell whether a word runs as its piece lies, its letters a quarter turn further."""
    along = TURNED if one is not None and one.turned else AS_PRINTED
    up = (-along[1], along[0])
    return dist(word.along, along) <= STRAIGHT and dist(word.up, up) <= STRAIGHT
