"""What may go wrong with the length of the strip, each in one sentence that says what to change.

Lengths are millimetres, shares plain numbers.  The thresholds are ours: 60 % of the
fabric's stretch taken by sewing and the longest length that lies flat (``bounds``), 25 %
stretch of the finished edge.  Where no length keeps both bounds, one sentence says so in
place of "too short" and "too long".
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from tiler.draft.advice.finding import Check, Finding
from tiler.draft.edge.numbers import Part
from tiler.draft.edge.seam_line import SeamLine
from tiler.draft.fabric import MOST_STRETCH
from tiler.draft.spec.piece import PieceSpec
from tiler.draft.strip.bounds import MOST_STRETCH_USED, TENSION, Fit
from tiler.draft.strip.ease import Ease
from tiler.draft.strip.loop import ASSUMED_STRETCH, AdvisedRatio
from tiler.lengths import both, percent
from tiler.paper import IN
from tiler.sentence import Key, Sentence, one_of

MOST_FINISHED_STRETCH = 0.25
NARROWEST = float(IN * 3 / 16)
"""A narrower finished width is hard to sew (common practice): nobody is sent below it."""

NOISE = 0.01
"""Lengths that differ by less, mm, are equal to anybody who sews."""

NOISE_SHARE = 1e-6


@dataclass(frozen=True)
class Sewn:
    """A strip on its edge, mm: the seam line, W and C of the loop's formula, and what came out.

    ``worn`` is the seam line without the corner that slanted ends take up.
    """

    piece: PieceSpec
    line: SeamLine
    worn: SeamLine
    taken_up_mm: float
    in_corners_mm: float
    loop_mm: float
    finished_width_mm: float
    sewn_at_mm: float
    fit: Fit

    @property
    def finished_edge_mm(self) -> float:
        """The finished edge of the strip, as long as it would be if corners were not mitred."""
        return self.line.length_mm - self.taken_up_mm

    @property
    def longest_flat_mm(self) -> float:
        """The longest loop that lies flat; on a straight edge that is the edge."""
        flat = self.fit.whole.flat_mm
        return self.line.length_mm if flat is None else flat

    @property
    def stretch(self) -> float:
        """The stretch of the fabric, or the one that is assumed."""
        return self.piece.fabric.stretch if self.piece.fabric else ASSUMED_STRETCH

    @property
    def strain(self) -> float:
        """By which share the strip is stretched in sewing."""
        return self.line.length_mm / self.loop_mm - 1

    @property
    def finished_stretch(self) -> float:
        """By which share the finished edge of the strip stays stretched."""
        own = self.loop_mm - self.in_corners_mm
        return (self.finished_edge_mm - self.in_corners_mm) / own - 1

    @property
    def stretch_used(self) -> float | None:
        """The share of the fabric's stretch that sewing takes; unknown without a stretch."""
        fabric = self.piece.fabric
        return max(self.strain, 0.0) / fabric.stretch if fabric and fabric.stretch else None

    @property
    def narrower(self) -> bool:
        """Whether a narrower strip is a way out: this one is not as narrow as can be sewn."""
        return self.finished_width_mm > NARROWEST + NOISE


def length_findings(sewn: Sewn, units: str) -> Iterator[Finding]:
    """Yield what may go wrong with the length of the strip on its edge."""
    checks = (_too_short, _too_long, _puckers) if sewn.fit.whole.good else (_no_good_length,)
    for check in checks:
        yield from check(sewn, units)


def _no_good_length(sewn: Sewn, units: str) -> Iterator[Finding]:
    found, widest, fabric = sewn.fit.whole, sewn.fit.widest_mm, sewn.piece.fabric
    name = fabric.name if fabric else f"a fabric of {percent(ASSUMED_STRETCH)} stretch"
    ways = []
    if widest and widest >= NARROWEST - NOISE:
        ways.append(f"make the strip narrower, at most {both(widest, units, down=True)} finished")
    # no knit stretches further, so a width is the only way out
    if not ways or found.least_stretch <= MOST_STRETCH:
        ways.append(f"take a fabric with at least {percent(found.least_stretch, up=True)} stretch")
    taken = "the longest that lies flat is taken" if isinstance(sewn.piece.loop, AdvisedRatio) else "as it is"
    yield Finding(
        Check.NO_GOOD_LENGTH,
        f"No good length: only up to {both(sewn.longest_flat_mm, units, down=True)} lies flat, and under "
        f"{both(found.tightest_mm, units, up=True)} sewing takes over {percent(MOST_STRETCH_USED)} of the stretch of "
        f"{name} ({taken}, the strip must be stretched by {percent(sewn.strain)})",
        one_of(ways),
        ": ",
        "it has no good length",
    )


def _too_short(sewn: Sewn, units: str) -> Iterator[Finding]:
    fabric, strain = sewn.piece.fabric, sewn.strain
    if fabric is None or strain <= 0:
        return
    used = sewn.stretch_used
    change = (
        f"lengthen the strip to at least {both(sewn.fit.whole.tightest_mm, units, up=True)} sewn length, or take a "
        f"fabric with at least {percent(strain / MOST_STRETCH_USED, up=True)} stretch"
    )
    if used is None or used > 1:
        yield Finding(
            Check.LENGTH,
            f"Cannot be sewn flat: the strip must be stretched by {percent(strain)}, and {fabric.name} stretches by "
            f"only {percent(fabric.stretch)}",
            change,
            "; ",
            f"{fabric.name} does not stretch as far as it must",
        )
    elif used > MOST_STRETCH_USED + NOISE_SHARE:
        yield Finding(
            Check.LENGTH,
            f"Sewing takes {percent(used)} of the stretch of {fabric.name}; over {percent(MOST_STRETCH_USED)} is hard "
            "to sew evenly",
            change,
            ": ",
            f"sewing takes {percent(used)} of its stretch",
        )


def _too_long(sewn: Sewn, units: str) -> Iterator[Finding]:
    over = sewn.loop_mm - sewn.longest_flat_mm
    bends = sewn.fit.whole.flat_mm is not None
    shorten = one_of(
        [
            f"Shorten the strip by at least {both(over, units, up=True)}",
            *(["make it narrower"] if sewn.narrower else []),
        ]
    )
    flat = f"it lies flat up to {both(sewn.longest_flat_mm, units, down=True)}"
    if over > NOISE and sewn.loop_mm <= sewn.finished_edge_mm + NOISE and bends:
        yield Finding(
            Check.LENGTH,
            f"May stand away: with a sewn length of {both(sewn.loop_mm, units)} the finished edge is under less than "
            f"{percent(TENSION)} tension; {flat}",
            shorten,
            short="it may stand away",
        )
    elif over > NOISE and bends:
        yield Finding(
            Check.LENGTH,
            f"Stands away: the sewn length of {both(sewn.loop_mm, units)} is more than the finished edge; {flat}",
            shorten,
            short="it stands away",
        )
    elif sewn.strain < 0:
        yield Finding(
            Check.REMARK,
            f"The strip is longer than the seam line by {both(-sewn.strain * sewn.loop_mm, units)}",
            "hold the fullness in evenly all along",
            ": ",
        )


def _puckers(sewn: Sewn, units: str) -> Iterator[Finding]:
    # a fabric that stretches very far is advised to be sewn shorter than this
    if sewn.finished_stretch > MOST_FINISHED_STRETCH and sewn.loop_mm < sewn.fit.whole.advised_mm - NOISE:
        own = (sewn.finished_edge_mm - sewn.in_corners_mm) / (1 + MOST_FINISHED_STRETCH) + sewn.in_corners_mm
        own = min(own, sewn.fit.whole.advised_mm)
        yield Finding(
            Check.REMARK,
            f"May pucker: the finished edge stays stretched by {percent(sewn.finished_stretch)}; over "
            f"{percent(MOST_FINISHED_STRETCH)} the garment gathers",
            f"If that is not wanted, lengthen the strip to at least {both(own, units, up=True)} sewn length",
        )


def part_findings(parts: Sequence[Part], sewn: Sewn, units: str) -> Iterator[Finding]:
    """Yield what may go wrong where the strip is shared out by the curve; of one ratio the whole is judged."""
    if sewn.piece.ease is Ease.EVEN or len(parts) < 2 or not sewn.fit.whole.good:
        return
    too_short = sewn.strain > MOST_STRETCH_USED * sewn.stretch + NOISE_SHARE
    too_long = sewn.loop_mm > sewn.longest_flat_mm + NOISE
    even = Sentence("write ", Key("ease", '"even"'))
    for part in parts:
        if part.strip_mm < part.tightest_mm - NOISE and not too_short and sewn.piece.fabric:
            yield _part_too_short(part, sewn, even)
        elif part.flat_mm is not None and part.strip_mm > part.flat_mm + NOISE and not too_long:
            yield Finding(
                Check.PART,
                f"May stand away along the {part.words}: by the curve it gets {both(part.strip_mm, units)} of the "
                f"strip, and up to {both(part.flat_mm, units, down=True)} lies flat there",
                one_of(["Shorten the strip", *(["make it narrower"] if sewn.narrower else []), even]),
                short=f"it may stand away along the {part.words}",
            )


def _part_too_short(part: Part, sewn: Sewn, even: str) -> Finding:
    fabric = sewn.piece.fabric
    assert fabric is not None
    # a bend that no length suits calls for another width or fabric, whatever the strip's length is
    hopeless = part.flat_mm is not None and part.flat_mm < part.tightest_mm
    stretchier = ["make the strip narrower"] if sewn.narrower else []
    ways = [*stretchier, "take a stretchier fabric", even] if hopeless else ["lengthen the strip", even]
    if part.strain > fabric.stretch:
        return Finding(
            Check.PART,
            f"Cannot be sewn flat along the {part.words}: by the curve, the strip is stretched there by "
            f"{percent(part.strain)}, and {fabric.name} stretches by only {percent(fabric.stretch)}",
            one_of(ways),
            "; ",
            f"{fabric.name} does not stretch as far as it must along the {part.words}",
        )
    used = percent(part.strain / fabric.stretch)
    return Finding(
        Check.PART,
        f"Sewing takes {used} of the stretch of {fabric.name} along the {part.words}; over "
        f"{percent(MOST_STRETCH_USED)} is hard to sew evenly",
        one_of(ways),
        ": ",
        f"sewing takes {used} of its stretch along the {part.words}",
    )
