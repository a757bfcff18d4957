"""What may go wrong with the length of the strip, each in one sentence that says what to change.

Lengths are millimetres, shares plain numbers.  The thresholds are ours: 60 % of the
fabric's stretch taken by sewing and the longest length that lies flat (``bounds``), 25 %
stretch of the finished edge.  Where no length keeps both bounds, one sentence says so in
place of "too short" and "too long".
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from tiler.draft.advice.finding import Check, Finding
from tiler.draft.edge.seam_line import SeamLine
from tiler.draft.fabric import MOST_STRETCH
from tiler.draft.spec.piece import PieceSpec
from tiler.draft.strip.bounds import MOST_STRETCH_USED, TENSION, Fit
from tiler.draft.strip.loop import ASSUMED_STRETCH, AdvisedRatio
from tiler.languages.words import Words, choice
from tiler.lengths import both, percent
from tiler.paper import IN
from tiler.sentence import Key

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
    name = fabric.name if fabric else Words("a fabric of {share} stretch", share=percent(ASSUMED_STRETCH))
    ways: list[str] = []
    if widest and widest >= NARROWEST - NOISE:
        ways.append(Words("make the strip narrower, at most {width} finished", width=both(widest, units, down=True)))
    # no knit stretches further, so a width is the only way out
    if not ways or found.least_stretch <= MOST_STRETCH:
        ways.append(_stretchier(found.least_stretch))
    aloud = [*ways]
    if sewn.piece.finish.is_band:
        ways.append(Words("cut it to the shape of the edge with {key}", key=Key("form", '"contour"')))
        aloud.append(Words("cut a contour band, shaped like the edge"))
    advised = isinstance(sewn.piece.loop, AdvisedRatio)
    yield Finding(
        Check.NO_GOOD_LENGTH,
        Words(
            "No good length: only up to {flat} lies flat, and under {tightest} sewing takes over {share} of the "
            "stretch of {fabric} ({taken}, the strip must be stretched by {strain})",
            flat=both(sewn.longest_flat_mm, units, down=True),
            tightest=both(found.tightest_mm, units, up=True),
            share=percent(MOST_STRETCH_USED),
            fabric=name,
            taken=Words("the longest that lies flat is taken") if advised else Words("as it is"),
            strain=percent(sewn.strain),
        ),
        choice(ways),
        ": ",
        Words("it has no good length"),
        choice(aloud),
    )


def _stretchier(share: float) -> str:
    return Words("take a fabric with at least {share} stretch", share=percent(share, up=True))


def _too_short(sewn: Sewn, units: str) -> Iterator[Finding]:
    fabric, strain = sewn.piece.fabric, sewn.strain
    if fabric is None or strain <= 0:
        return
    used = sewn.stretch_used
    longer = both(sewn.fit.whole.tightest_mm, units, up=True)
    change = choice(
        [
            Words("lengthen the strip to at least {length} sewn length", length=longer),
            _stretchier(strain / MOST_STRETCH_USED),
        ]
    )
    if used is None or used > 1:
        yield Finding(
            Check.LENGTH,
            Words(
                "Cannot be sewn flat: the strip must be stretched by {strain}, and {fabric} stretches by only {share}",
                strain=percent(strain),
                fabric=fabric.name,
                share=percent(fabric.stretch),
            ),
            change,
            "; ",
            Words("{fabric} does not stretch as far as it must", fabric=fabric.name),
        )
    elif used > MOST_STRETCH_USED + NOISE_SHARE:
        yield Finding(
            Check.LENGTH,
            Words(
                "Sewing takes {used} of the stretch of {fabric}; over {share} is hard to sew evenly",
                used=percent(used),
                fabric=fabric.name,
                share=percent(MOST_STRETCH_USED),
            ),
            change,
            ": ",
            Words("sewing takes {used} of its stretch", used=percent(used)),
        )


def _too_long(sewn: Sewn, units: str) -> Iterator[Finding]:
    over = sewn.loop_mm - sewn.longest_flat_mm
    bends = sewn.fit.whole.flat_mm is not None
    shorten = choice(
        [
            Words("Shorten the strip by at least {length}", length=both(over, units, up=True)),
            *([Words("make it narrower")] if sewn.narrower else []),
        ]
    )
    flat, own = both(sewn.longest_flat_mm, units, down=True), both(sewn.loop_mm, units)
    if over > NOISE and sewn.loop_mm <= sewn.finished_edge_mm + NOISE and bends:
        yield Finding(
            Check.LENGTH,
            Words(
                "May stand away: with a sewn length of {length} the finished edge is under less than {share} tension; "
                "it lies flat up to {flat}",
                length=own,
                share=percent(TENSION),
                flat=flat,
            ),
            shorten,
            short=Words("it may stand away"),
        )
    elif over > NOISE and bends:
        yield Finding(
            Check.LENGTH,
            Words(
                "Stands away: the sewn length of {length} is more than the finished edge; it lies flat up to {flat}",
                length=own,
                flat=flat,
            ),
            shorten,
            short=Words("it stands away"),
        )
    elif sewn.strain < 0:
        yield Finding(
            Check.REMARK,
            Words(
                "The strip is longer than the seam line by {length}",
                length=both(-sewn.strain * sewn.loop_mm, units),
            ),
            Words("hold the fullness in evenly all along"),
            ": ",
        )


def _puckers(sewn: Sewn, units: str) -> Iterator[Finding]:
    # a fabric that stretches very far is advised to be sewn shorter than this
    if sewn.finished_stretch > MOST_FINISHED_STRETCH and sewn.loop_mm < sewn.fit.whole.advised_mm - NOISE:
        own = (sewn.finished_edge_mm - sewn.in_corners_mm) / (1 + MOST_FINISHED_STRETCH) + sewn.in_corners_mm
        own = min(own, sewn.fit.whole.advised_mm)
        yield Finding(
            Check.REMARK,
            Words(
                "May pucker: the finished edge stays stretched by {strain}; over {share} the garment gathers",
                strain=percent(sewn.finished_stretch),
                share=percent(MOST_FINISHED_STRETCH),
            ),
            Words(
                "If that is not wanted, lengthen the strip to at least {length} sewn length",
                length=both(own, units, up=True),
            ),
        )
