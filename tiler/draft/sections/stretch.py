"""What a stretch between two garment seams is called, by the parts of the edge that it covers."""

from __future__ import annotations

from collections.abc import Sequence

from tiler.draft.sections.names import FREE, as_words
from tiler.draft.sections.plan import NOISE, Span
from tiler.draft.sections.ring import HALF, Ring
from tiler.languages.words import Words
from tiler.sentence import joined


def part_of(ring: Ring, span: Span, either: bool) -> str:
    """Return what a stretch between two garment seams is called: "front", "front and left back"; all round nothing."""
    if abs(span.whole[1].at - span.whole[0].at - ring.loop) < NOISE:
        return ""
    sides: dict[str, list[str]] = {}
    for arc, _ in ring.arcs_between(span.whole[0].at, span.whole[1].at):
        sides.setdefault(arc.part, []).append(arc.side)
    free = [FREE] if sides.pop(FREE, None) else []
    single = {part: one[0] for part, one in sides.items() if len(one) == 1 and one[0]}
    if len(single) == 2:
        side = next(iter(single.values()))
        half = "half" if either else f"{side} half"
        return _and([*free, as_words(half)]) if free else half
    whole = [part for part in sides if part not in single]
    names = [*free, *whole, *(_one_side(part, side, either) for part, side in single.items())]
    if len(names) > 1 and any(isinstance(name, Words) for name in names):
        return _and(names)
    return names[0] if len(names) == 1 else " and ".join(names)


def _one_side(part: str, side: str, either: bool) -> str:
    """Name what lies on one side of a part: the wearer's, or whichever half of it."""
    if side == HALF:
        return Words("half of {part}", part=part)
    return part if either else f"{side} {part}"


def _and(names: Sequence[str]) -> str:
    if len(names) < 2:
        return names[0]
    named = [as_words(name) for name in names]
    return Words("{most} and {last}", most=joined(", ", named[:-1]), last=named[-1])
