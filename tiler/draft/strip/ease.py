"""How the strip is shared out along the edge: evenly, or less of it where the edge bends more.

Lengths are millimetres.  ``even`` gives every part the same ratio.  ``by-curve`` gives
each part its own advised length, or its own flat one where the strip is flat
(``bounds``), all of them scaled so that they make up the sewn length; the legs between
a part's sharp corners share it in the same way.  Own flat limit of a part: (E_i - W_i) / E_i.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum
from math import fsum

from tiler.draft.edge.numbers import Part
from tiler.draft.edge.seam_line import EdgeSpec, MeasuredPart, SeamLine
from tiler.draft.strip.bounds import Bounds, Fit
from tiler.errors import SpecError
from tiler.sentence import Key, Place, Sentence

LEAST_SHARP = 20.0
"""A corner that turns by more, degrees, parts the edge into stretches that bend unlike each other."""


class Ease(StrEnum):
    """The rule by which the notches share out the strip."""

    EVEN = "even"
    BY_CURVE = "by-curve"


def usual_ease(edge: EdgeSpec) -> Ease:
    """Return the rule where none is stated: by the curve where the edge has a sharp corner away from the shoulders."""
    corners = (corner for part in edge.parts for corner in part.own_corners_deg)
    sharp = any(corner > LEAST_SHARP for corner in corners)
    return Ease.BY_CURVE if sharp and len(edge.parts) > 1 else Ease.EVEN


def eased(
    line: SeamLine, worn: SeamLine, loop: float, width: float, rule: Ease, fit: Fit, flat: bool, where: Place
) -> tuple[Part, ...]:
    """Share out the sewn length ``loop`` over the parts of ``line``, by their ``flat`` lengths or their advised ones.

    ``worn`` is the same line without the corners that the strip's own ends take
    up.  Raises :class:`SpecError` when a part bends so much that by-curve would leave it no strip.
    """
    times = line.length_mm / fsum(part.length_mm for part in line.parts)
    own = [one.edge_mm if rule is Ease.EVEN else _own(one, flat) for one in fit.parts]
    strips = _shared(line.parts, own, loop, times)
    parts = []
    for part, rest, strip, found, legs in zip(line.parts, worn.parts, strips, fit.parts, fit.legs, strict=True):
        if strip <= 0:
            why = Sentence(
                f'"by-curve" leaves no strip for the {part.words}, which bends too much for this '
                "width; take a narrower strip, or write ",
                Key("ease", '"even"'),
            )
            raise SpecError(why, where.at("ease"))
        within = [_own(leg, flat) for leg in legs]
        if rule is Ease.EVEN or min(within) <= 0:
            within = [leg.edge_mm for leg in legs]
        of_legs = tuple(strip * leg / fsum(within) for leg in within)
        limit = 1 - rest.change(width) / part.length_mm
        parts.append(
            Part(
                part.name,
                part.length_mm,
                strip,
                limit,
                found.tightest_mm,
                found.flat_mm,
                of_legs,
                part.drawn,
                part.listed,
                part.ratio,
            )
        )
    return tuple(parts)


def _shared(parts: Sequence[MeasuredPart], own: Sequence[float], loop: float, times: float) -> list[float]:
    """Share out the loop by what is each part's own; what has a ratio of its own keeps that, if not all have."""
    stated = [part.ratio * part.length_mm if part.ratio else 0.0 for part in parts]
    if all(stated):
        return [loop * one / fsum(stated) for one in stated]
    free = [0.0 if one else share for one, share in zip(stated, own, strict=True)]
    rest = loop - fsum(stated)
    return [one or rest * share / (times * fsum(free)) for one, share in zip(stated, free, strict=True)]


def _own(found: Bounds, flat: bool) -> float:
    return found.flat_mm if flat and found.flat_mm is not None else found.advised_mm
