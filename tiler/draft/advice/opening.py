"""Does it go over the head, the hand, the heel?

A closed strip of the sewn length L opens to L (1 + its stretch), the garment's
edge E to E (1 + the garment's stretch), and the smaller of the two decides.
Lengths are millimetres, stretch is a share.  Both thresholds are ours: passing
is tight over 80 % of a stretch, and a plain straight stitch breaks when its seam
must stretch over 25 %.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from tiler.draft.advice.finding import Check, Finding
from tiler.draft.figures import Opening
from tiler.lengths import both, percent
from tiler.sentence import Phrase, Sentence

TIGHT = 0.80
STRAIGHT_STITCH = 0.25


@dataclass(frozen=True)
class Ring:
    """A ring that has to open, strip or garment: its length at rest, mm, and its stretch."""

    rest_mm: float
    stretch: float

    @property
    def opens_to_mm(self) -> float:
        """Length when fully stretched, mm."""
        return self.rest_mm * (1 + self.stretch)

    def stretch_for(self, passing: float) -> float:
        """Return the stretch that lets ``passing`` mm through."""
        return passing / self.rest_mm - 1

    def lets_through(self, passing: float) -> bool:
        """Tell whether ``passing`` mm goes through; a nanometre is float noise."""
        return self.opens_to_mm >= passing - 1e-6

    def is_tight(self, passing: float) -> bool:
        """Tell whether passing takes most of the stretch."""
        return self.lets_through(passing) and self.stretch_for(passing) > TIGHT * self.stretch


def opening(must_pass: float, strip: Ring, garment: Ring | None) -> Opening:
    """Return whether ``must_pass`` mm goes through, how far the ring opens, and what limits it."""
    if garment is not None and garment.opens_to_mm < strip.opens_to_mm:
        return Opening(garment.opens_to_mm, must_pass, garment.lets_through(must_pass), "garment")
    return Opening(strip.opens_to_mm, must_pass, strip.lets_through(must_pass), "strip")


def opening_findings(
    must_pass: float, strip: Ring, garment: Ring | None, edge: Ring, longest_flat: float, units: str
) -> Iterator[Finding]:
    """Yield what to change so that ``must_pass`` mm goes through.

    ``edge`` is the seam line with the strip's stretch, ``longest_flat`` the
    longest loop that lies flat, mm.
    """
    short = [*_strip_short(must_pass, strip, edge, longest_flat, units)]
    if garment is None:
        named = (Phrase.NAME_GARMENT_FABRIC, " to know whether it opens as far as the strip")
        yield Finding(Check.REMARK, "The garment is not checked", Sentence(*named), ": ")
    else:
        short += _garment_short(must_pass, garment, units)
        # what opens least is mended first
        short = short[::-1] if garment.opens_to_mm < strip.opens_to_mm else short
    yield from short
    for word, ring in (("strip", strip), ("garment", garment)):
        if ring and ring.is_tight(must_pass):
            share = ring.stretch_for(must_pass) / ring.stretch
            yield Finding(
                Check.REMARK,
                f"Tight: going over {both(must_pass, units, up=True)} takes {percent(share)} of the {word} fabric's "
                f"stretch; over {percent(TIGHT)} is hard to pull on",
                f"Make the opening larger or the {word} stretchier",
            )
    seam = edge.stretch_for(must_pass)
    if seam > STRAIGHT_STITCH:
        yield Finding(
            Check.REMARK,
            f"No plain straight stitch: the seam must stretch by {percent(seam)} when it is pulled on",
            "Sew it with a zigzag, an overlock or another stitch that stretches",
        )


def _strip_short(must_pass: float, strip: Ring, edge: Ring, longest_flat: float, units: str) -> Iterator[Finding]:
    if strip.lets_through(must_pass):
        return
    needed = must_pass / (1 + strip.stretch)
    wider = edge.rest_mm * (needed / strip.rest_mm - 1)
    ways = [
        f"widen the edge by {both(wider, units, up=True)} at the same ratio",
        f"take a fabric with at least {percent(strip.stretch_for(must_pass), up=True)} stretch",
    ]
    if needed <= longest_flat:
        ways.insert(0, f"lengthen the strip by {both(needed - strip.rest_mm, units, up=True)}")
    yield _opens("The strip", strip, must_pass, ways, units)


def _garment_short(must_pass: float, garment: Ring, units: str) -> Iterator[Finding]:
    if garment.lets_through(must_pass):
        return
    wider = must_pass / (1 + garment.stretch) - garment.rest_mm
    ways = [
        f"widen the edge by {both(wider, units, up=True)}",
        f"take a garment fabric with at least {percent(garment.stretch_for(must_pass), up=True)} stretch",
    ]
    yield _opens("The garment's edge", garment, must_pass, ways, units)


def _opens(what: str, ring: Ring, must_pass: float, ways: list[str], units: str) -> Finding:
    return Finding(
        Check.OPENING,
        f"{what} opens to only {both(ring.opens_to_mm, units, down=True)} "
        f"but must stretch over {both(must_pass, units, up=True)}",
        f"{', '.join(ways[:-1])}, or {ways[-1]}",
        ": ",
        f"{what[0].lower()}{what[1:]} does not go over {both(must_pass, units, up=True)}",
    )
