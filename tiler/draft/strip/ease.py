"""How the strip is shared out along the edge: evenly, or less of it where the edge bends more.

Lengths are millimetres.  ``even`` gives every part its share of the seam line.
``by-curve`` gives the part i its share of E_i - W_i, the length that its finished
edge has, so that the finished edge is under the same tension everywhere.  Own
flat limit of a part: (E_i - W_i) / E_i; that of a bend with the radius r:
(r - w) / r, w being the finished width.
"""

from __future__ import annotations

from enum import StrEnum
from math import fsum

from tiler.draft.edge.numbers import Part, Tightest
from tiler.draft.edge.seam_line import EdgeSpec, Kind, MeasuredPart, SeamLine
from tiler.errors import SpecError
from tiler.sentence import Key, Place, Sentence


class Ease(StrEnum):
    """The rule by which the notches share out the strip."""

    EVEN = "even"
    BY_CURVE = "by-curve"


def usual_ease(edge: EdgeSpec) -> Ease:
    """Return the rule where none is stated: by the curve for a vee, whose arms are straight."""
    return Ease.BY_CURVE if edge.point_deg is not None and edge.kind is Kind.NECKLINE else Ease.EVEN


def eased(line: SeamLine, worn: SeamLine, loop: float, width: float, rule: Ease, where: Place) -> tuple[Part, ...]:
    """Share out the sewn length ``loop`` over the parts of ``line``.

    ``worn`` is the same line without the corners that the strip's own ends take
    up.  Raises :class:`SpecError` when a part bends so much that by-curve would leave it no strip.
    """
    whole = line.length_mm if rule is Ease.EVEN else worn.length_mm - worn.turn.change(width)
    parts = []
    for part in worn.parts:
        lengths = [leg.length_mm for leg in part.legs]
        own = lengths if rule is Ease.EVEN else [leg.length_mm - leg.turn.change(width) for leg in part.legs]
        if min(own) <= 0:
            why = Sentence(
                f'"by-curve" leaves no strip for the {part.name.replace("-", " ")}, which bends too much for this '
                "width; take a narrower strip, or write ",
                Key("ease", '"even"'),
            )
            raise SpecError(why, where.at("ease"))
        strips = tuple(loop * share / whole for share in own)
        limit = 1 - part.change(width) / part.length_mm
        parts.append(Part(part.name, part.length_mm, fsum(strips), limit, strips, part.drawn))
    return tuple(parts)


def tightest(parts: tuple[MeasuredPart, ...], width: float) -> Tightest | None:
    """Return the tightest known bend of the seam line; ``None`` for an edge that was measured with a tape."""
    bends = [(part.bend.radius_mm, part) for part in parts if part.bend]
    if not bends:
        return None
    radius, part = min(bends, key=lambda bend: bend[0])
    assert part.bend is not None
    return Tightest(part.name, radius, part.bend.along_mm / part.length_mm, 1 - width / radius, bool(part.drawn))
