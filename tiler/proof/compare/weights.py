"""How heavy the lines of a page are, held against those that are declared; mm.

The engine that renders the pages draws every thin line at least a pixel wide, so a lighter one is not
seen there that a printer may lose.  What is written is read here: each stroke must have the weight of a
declared line of its part.
"""

from __future__ import annotations

from collections.abc import Sequence

from tiler.box import Box, Point
from tiler.declaration import Declaration
from tiler.printed import Line, Shape
from tiler.proof.ink.where import laid_on, marks_on
from tiler.proof.tolerances import VECTOR
from tiler.reading.pdf.strokes import Stroke


def odd_weights(declaration: Declaration, number: int, moved: Point, strokes: Sequence[Stroke]) -> list[Stroke]:
    """Return the strokes of a page that are heavier or lighter than every declared line of their part.

    ``moved`` is the place of the page, mm; lines of others beside all that is declared are none of ours.
    """
    known: dict[str, set[float]] = {}
    # lines are read as heavy as their first axis makes them, which lies down the page in a turned piece
    factors = (declaration.factor_across, declaration.factor_down)
    for line, _ in laid_on(declaration, number):
        if isinstance(line, Line | Shape):
            tag = line.tag if isinstance(line, Line) else ""
            known.setdefault(tag, set()).update(line.weight * factor for factor in factors)
    everything = {weight for weights in known.values() for weight in weights}
    pairs = {(stroke.tag or "", stroke.weight) for stroke in strokes if stroke.stroked}
    odd = {
        (tag, weight)
        for tag, weight in pairs
        if all(abs(weight - other) > VECTOR for other in known.get(tag, everything))
    }
    found = [stroke for stroke in strokes if stroke.stroked and (stroke.tag or "", stroke.weight) in odd]
    if not found:
        return []
    ours = Box.enclosing(mark.box for mark in marks_on(declaration, number, moved)).grown(VECTOR)
    return [stroke for stroke in found if stroke.tag or ours.holds(stroke.box)]
