"""What may go wrong in sewing and wearing, each in one sentence that says what to change.

Lengths are millimetres, shares plain numbers.  The thresholds are common
practice or ours: 60 % of the fabric's stretch taken by sewing and the longest length
that lies flat (ours, ``bounds``), 25 % stretch of the finished edge (ours), 3/16 in
finished width (common practice), 90 % recovery (common practice).  Where no length keeps
both bounds, one sentence says so in place of "too short" and "too long".
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from tiler.draft.edge.numbers import Part
from tiler.draft.edge.seam_line import Kind, SeamLine
from tiler.draft.fabric import MOST_STRETCH
from tiler.draft.spec.piece import PieceSpec
from tiler.draft.strip.bounds import MOST_STRETCH_USED, TENSION, Fit
from tiler.draft.strip.ease import Ease
from tiler.draft.strip.finish import USUAL_COVER, Cut
from tiler.draft.strip.loop import ASSUMED_STRETCH, AdvisedRatio
from tiler.draft.strip.notches import opposite
from tiler.lengths import both, parse_length, percent
from tiler.paper import IN
from tiler.sentence import Key, Phrase, Sentence

MOST_FINISHED_STRETCH = 0.25
NARROWEST = float(IN * 3 / 16)
LEAST_RECOVERY = 0.90
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


def sewing_warnings(sewn: Sewn, units: str) -> tuple[str, ...]:
    """Return what may go wrong with the strip on its edge."""
    lengths = (_too_short, _too_long, _puckers) if sewn.fit.whole.good else (_no_good_length,)
    return (
        *(text for check in lengths for text in check(sewn, units)),
        *_allowances(sewn, units),
        *_fabric(sewn),
        *_notch_layer(sewn),
    )


def _no_good_length(sewn: Sewn, units: str) -> Iterator[str]:
    found, widest, fabric = sewn.fit.whole, sewn.fit.widest_mm, sewn.piece.fabric
    name = fabric.name if fabric else f"a fabric of {percent(ASSUMED_STRETCH)} stretch"
    ways = [f"make the strip narrower, at most {both(widest, units, down=True)} finished"] if widest else []
    # no knit stretches further, so a width is the only way out
    if not ways or found.least_stretch <= MOST_STRETCH:
        ways.append(f"take a fabric with at least {percent(found.least_stretch, up=True)} stretch")
    taken = "the longest that lies flat is taken" if isinstance(sewn.piece.loop, AdvisedRatio) else "as it is"
    yield (
        f"No good length: only up to {both(sewn.longest_flat_mm, units, down=True)} lies flat, and under "
        f"{both(found.tightest_mm, units, up=True)} sewing takes over {percent(MOST_STRETCH_USED)} of the stretch of "
        f"{name} ({taken}, the strip must be stretched by {percent(sewn.strain)}): {', or '.join(ways)}."
    )


def _too_short(sewn: Sewn, units: str) -> Iterator[str]:
    fabric, strain = sewn.piece.fabric, sewn.strain
    if fabric is None or strain <= 0:
        return
    used = sewn.stretch_used
    change = (
        f"lengthen the strip to at least {both(sewn.fit.whole.tightest_mm, units, up=True)} sewn length, or take a "
        f"fabric with at least {percent(strain / MOST_STRETCH_USED, up=True)} stretch"
    )
    if used is None or used > 1:
        yield (
            f"Cannot be sewn flat: the strip must be stretched by {percent(strain)}, and {fabric.name} stretches by "
            f"only {percent(fabric.stretch)}; {change}."
        )
    elif used > MOST_STRETCH_USED + NOISE_SHARE:
        yield (
            f"Sewing takes {percent(used)} of the stretch of {fabric.name}; over {percent(MOST_STRETCH_USED)} is hard "
            f"to sew evenly: {change}."
        )


def _too_long(sewn: Sewn, units: str) -> Iterator[str]:
    over = sewn.loop_mm - sewn.longest_flat_mm
    flat = sewn.fit.whole.flat_mm is not None
    if over > NOISE and sewn.loop_mm <= sewn.finished_edge_mm + NOISE and flat:
        yield (
            f"May stand away: with a sewn length of {both(sewn.loop_mm, units)} the finished edge is under less than "
            f"{percent(TENSION)} tension; it lies flat up to {both(sewn.longest_flat_mm, units, down=True)}. Shorten "
            f"the strip by at least {both(over, units, up=True)}, or make it narrower."
        )
    elif over > NOISE:
        yield (
            f"Stands away: the sewn length of {both(sewn.loop_mm, units)} is more than the finished edge; it lies flat "
            f"up to {both(sewn.longest_flat_mm, units, down=True)}. Shorten the strip by at least "
            f"{both(over, units, up=True)}, or make it narrower."
        )
    elif sewn.strain < 0:
        yield (
            f"The strip is longer than the seam line by {both(-sewn.strain * sewn.loop_mm, units)}: hold the "
            "fullness in evenly all along."
        )


def _puckers(sewn: Sewn, units: str) -> Iterator[str]:
    # a fabric that stretches very far is advised to be sewn shorter than this
    if sewn.finished_stretch > MOST_FINISHED_STRETCH and sewn.loop_mm < sewn.fit.whole.advised_mm - NOISE:
        own = (sewn.finished_edge_mm - sewn.in_corners_mm) / (1 + MOST_FINISHED_STRETCH) + sewn.in_corners_mm
        own = min(own, sewn.fit.whole.advised_mm)
        yield (
            f"May pucker: the finished edge stays stretched by {percent(sewn.finished_stretch)}; over "
            f"{percent(MOST_FINISHED_STRETCH)} the garment gathers. If that is not wanted, lengthen the strip to at "
            f"least {both(own, units, up=True)} sewn length."
        )


def part_warnings(parts: Sequence[Part], sewn: Sewn, units: str) -> Iterator[str]:
    """Yield what may go wrong where the strip is shared out by the curve; of one ratio the whole is judged."""
    if sewn.piece.ease is Ease.EVEN or len(parts) < 2 or not sewn.fit.whole.good:
        return
    too_short = sewn.strain > MOST_STRETCH_USED * sewn.stretch + NOISE_SHARE
    too_long = sewn.loop_mm > sewn.longest_flat_mm + NOISE
    for part in parts:
        if part.strip_mm < part.tightest_mm - NOISE and not too_short and sewn.piece.fabric:
            yield _part_too_short(part, sewn)
        elif part.flat_mm is not None and part.strip_mm > part.flat_mm + NOISE and not too_long:
            yield Sentence(
                f"May stand away along the {_named(part)}: by the curve it gets {both(part.strip_mm, units)} of the "
                f"strip, and up to {both(part.flat_mm, units, down=True)} lies flat there. Shorten the strip, make it "
                "narrower, or write ",
                Key("ease", '"even"'),
                ".",
            )


def _part_too_short(part: Part, sewn: Sewn) -> Sentence:
    fabric = sewn.piece.fabric
    assert fabric is not None
    # a bend that no length suits calls for another width or fabric, whatever the strip's length is
    hopeless = part.flat_mm is not None and part.flat_mm < part.tightest_mm
    ways = "Make the strip narrower or take a stretchier fabric" if hopeless else "Lengthen the strip"
    judged = (
        f"Cannot be sewn flat along the {_named(part)}: by the curve, the strip is stretched there by "
        f"{percent(part.strain)}, and {fabric.name} stretches by only {percent(fabric.stretch)}. "
        if part.strain > fabric.stretch
        else f"Sewing takes {percent(part.strain / fabric.stretch)} of the stretch of {fabric.name} along the "
        f"{_named(part)}; over {percent(MOST_STRETCH_USED)} is hard to sew evenly. "
    )
    return Sentence(judged, ways, ", or write ", Key("ease", '"even"'), ".")


def _named(part: Part) -> str:
    return part.name.replace("-", " ")


def _allowances(sewn: Sewn, units: str) -> Iterator[str]:
    piece, sewn_at = sewn.piece, sewn.sewn_at_mm
    if sewn.finished_width_mm < NARROWEST - NOISE:
        yield (
            f"The finished width of {both(sewn.finished_width_mm, units, down=True)} is hard to sew; "
            f"{both(NARROWEST, units)} or more is easier."
        )
    garment = piece.edge.garment_allowance_mm
    # with another finish the garment gets a new cut edge, whose allowance is the strip's; a binding has none
    if garment is not None and piece.finish.is_band and piece.replaces is None and abs(garment - sewn_at) > NOISE:
        yield Sentence(
            f"The strip is sewn at {both(sewn_at, units)}, but the garment's seam allowance is {both(garment, units)}",
            ": set ",
            Key("seam-allowance"),
            f" to that of the garment, or trim or mark the garment for {both(sewn_at, units)}.",
        )
    stated = piece.seam_allowance_mm
    if not piece.finish.is_band and stated is not None and abs(stated - sewn_at) > NOISE:
        yield Sentence(
            "The ",
            Key("seam-allowance"),
            f" of {both(stated, units)} is not used: a binding is sewn at its finished width, {both(sewn_at, units)}.",
        )
    cover = USUAL_COVER[units]
    if "cover" in piece.finish.making.keys and piece.cover_mm == 0:
        yield Sentence(
            "The back fold just meets the stitching; to catch it from the right side let it pass by "
            f"{both(float(parse_length(cover, units, piece.where)), units)}: write ",
            Key("cover", f'"{cover}"'),
            ".",
        )


def _fabric(sewn: Sewn) -> Iterator[str]:
    fabric = sewn.piece.fabric
    if fabric is None and isinstance(sewn.piece.loop, AdvisedRatio):
        yield Sentence(
            f"No fabric is named, so {percent(ASSUMED_STRETCH)} stretch is assumed for the advised length; ",
            Phrase.MEASURE_FABRIC,
            ".",
        )
    if fabric and fabric.recovery is not None and fabric.recovery < LEAST_RECOVERY:
        yield (
            f"{fabric.name} recovers only {percent(fabric.recovery)} of its stretch; under {percent(LEAST_RECOVERY)} "
            "the edge grows in wear: take a fabric that recovers more, or cut the strip shorter after a trial."
        )


def _notch_layer(sewn: Sewn) -> Iterator[str]:
    piece, parts = sewn.piece, sewn.line.parts
    if piece.edge.kind is not Kind.ARMHOLE or piece.cut is not Cut.ON_FOLD or len(parts) != 2:
        return
    front, back = (part.length_mm for part in parts)
    if abs(front - back) > 1.0:
        layer = "front" if front > back else "back"
        yield Sentence(
            f"Cut on fold, the {opposite(piece.join_at)} notch belongs on one layer only: the longer half, which is "
            f"the {layer}. "
            "Mark that layer, or write ",
            Key("cut", '"full-loop"'),
            ".",
        )
