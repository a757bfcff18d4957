"""What may go wrong on a part of the edge where the parts do not share the strip evenly; mm, shares plain numbers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tiler.draft.advice.checks import NOISE, NOISE_SHARE, Sewn
from tiler.draft.advice.finding import Check, Finding
from tiler.draft.edge.numbers import Part
from tiler.draft.strip.bounds import MOST_STRETCH_USED
from tiler.draft.strip.ease import Ease
from tiler.languages.catalogue import noted
from tiler.languages.words import Words, choice
from tiler.lengths import both, percent
from tiler.sentence import Key

_TOO_LONG = (
    noted("May stand away {along}: by the curve it gets {length} of the strip, and up to {flat} lies flat there"),
    noted("May stand away {along}: it gets {length} of the strip, and up to {flat} lies flat there"),
)
_TOO_SHORT = (
    noted(
        "Cannot be sewn flat {along}: by the curve, the strip is stretched there by {strain}, and {fabric} stretches "
        "by only {share}"
    ),
    noted(
        "Cannot be sewn flat {along}: the strip is stretched there by {strain}, and {fabric} stretches by only {share}"
    ),
)
"""By the curve, and by a ratio of the part's own."""


def part_findings(parts: Sequence[Part], sewn: Sewn, units: str) -> Iterator[Finding]:
    """Yield what may go wrong where the strip is shared out by the curve; of one ratio the whole is judged."""
    own = any(part.ratio for part in parts)
    if (sewn.piece.ease is Ease.EVEN and not own) or len(parts) < 2 or not sewn.fit.whole.good:
        return
    too_short = sewn.strain > MOST_STRETCH_USED * sewn.stretch + NOISE_SHARE
    too_long = sewn.loop_mm > sewn.longest_flat_mm + NOISE
    for part in parts:
        even = _otherwise(part)
        if part.strip_mm < part.tightest_mm - NOISE and not too_short and sewn.piece.fabric:
            yield _part_too_short(part, sewn, even)
        elif part.flat_mm is not None and part.strip_mm > part.flat_mm + NOISE and not too_long:
            yield Finding(
                Check.PART,
                Words(
                    _TOO_LONG[bool(part.ratio)],
                    along=part.along,
                    length=both(part.strip_mm, units),
                    flat=both(part.flat_mm, units, down=True),
                ),
                choice([Words("Shorten the strip"), *([Words("make it narrower")] if sewn.narrower else []), even]),
                short=Words("it may stand away {along}", along=part.along),
            )


def _otherwise(part: Part) -> str:
    """Return the other way to share the strip out: by no curve, or by another ratio of the part's own."""
    if part.ratio:
        key = Key("ratio", within=("edge", "parts")) if part.listed else Key(f"{part.name}-ratio", within=("edge",))
        return Words("change its {key}", key=key)
    return Words("write {key}", key=Key("ease", '"even"'))


def _part_too_short(part: Part, sewn: Sewn, even: str) -> Finding:
    fabric = sewn.piece.fabric
    assert fabric is not None
    # a bend that no length suits calls for another width or fabric, whatever the strip's length is
    hopeless = part.flat_mm is not None and part.flat_mm < part.tightest_mm
    narrower = [Words("make the strip narrower")] if sewn.narrower else []
    along = part.along
    stretchier, longer = Words("take a stretchier fabric"), Words("lengthen the strip")
    ways = [*narrower, stretchier, even] if hopeless else [longer, even]
    if part.strain > fabric.stretch:
        return Finding(
            Check.PART,
            Words(
                _TOO_SHORT[bool(part.ratio)],
                along=along,
                strain=percent(part.strain),
                fabric=fabric.name,
                share=percent(fabric.stretch),
            ),
            choice(ways),
            "; ",
            Words("{fabric} does not stretch as far as it must {along}", fabric=fabric.name, along=along),
        )
    used = percent(part.strain / fabric.stretch)
    return Finding(
        Check.PART,
        Words(
            "Sewing takes {used} of the stretch of {fabric} {along}; over {share} is hard to sew evenly",
            used=used,
            fabric=fabric.name,
            along=along,
            share=percent(MOST_STRETCH_USED),
        ),
        choice(ways),
        ": ",
        Words("sewing takes {used} of its stretch {along}", used=used, along=along),
    )
