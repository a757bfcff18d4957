"""Does it go over the head, the hand, the heel?

A closed strip of the sewn length L opens to L (1 + its stretch), the garment's
edge E to E (1 + the garment's stretch), and the smaller of the two decides.
Lengths are millimetres, stretch is a share.  Both thresholds are ours: passing
is tight over 80 % of a stretch, and a plain straight stitch breaks when its seam
must stretch over 25 %.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from tiler.draft.advice.finding import Check, Finding
from tiler.draft.edge.seam_line import Kind
from tiler.draft.figures import Opening
from tiler.draft.spec.piece import PieceSpec
from tiler.errors import SpecError
from tiler.languages.catalogue import noted
from tiler.languages.words import Words, choice
from tiler.lengths import both, percent
from tiler.sentence import Phrase, Sentence

TIGHT = 0.80
STRAIGHT_STITCH = 0.25

_STRIP = (
    noted("The strip opens to only {length} but must stretch over {passing}"),
    noted("the strip does not go over {passing}"),
)
_GARMENT = (
    noted("The garment's edge opens to only {length} but must stretch over {passing}"),
    noted("the garment's edge does not go over {passing}"),
)
_TIGHT_STRIP = (
    noted("Tight: going over {length} takes {used} of the strip fabric's stretch; over {share} is hard to pull on"),
    noted("Make the opening larger or the strip stretchier"),
)
_TIGHT_GARMENT = (
    noted("Tight: going over {length} takes {used} of the garment fabric's stretch; over {share} is hard to pull on"),
    noted("Make the opening larger or the garment stretchier"),
)


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


def passed(
    piece: PieceSpec, ring_mm: float, edge_mm: float, longest_flat: float, units: str
) -> tuple[Opening | None, list[Finding]]:
    """Return what goes through a piece and what was found about that; nothing where nothing must pass.

    ``ring_mm`` is its shortest ring, mm: the sewn length of a strip, the finished edge of a shaped band.
    Raises :class:`SpecError` for a piece whose stretch is not known.
    """
    must_pass, fabric, other = piece.must_pass_mm, piece.fabric, piece.garment_fabric
    if must_pass is None:
        return None, []
    if fabric is None:
        what = "band" if piece.form.shaped else "strip"
        raise SpecError(Sentence(f"needs the stretch of the {what}; ", Phrase.NAME_FABRIC), piece.where.at("opening"))
    strip, edge = Ring(ring_mm, fabric.stretch), Ring(edge_mm, fabric.stretch)
    # a straight edge lies along the greatest stretch of its cloth
    along = piece.edge.kind is Kind.STRAIGHT or piece.edge.straight_leg
    garment = Ring(edge_mm, other.stretch if along else other.round_stretch) if other else None
    found = opening_findings(must_pass, strip, garment, edge, longest_flat, units)
    return replace(opening(must_pass, strip, garment), source=piece.must_pass_source), list(found)


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
        named = Words("{name} to know whether it opens as far as the strip", name=Phrase.NAME_GARMENT_FABRIC)
        yield Finding(Check.REMARK, Words("The garment is not checked"), named, ": ")
    else:
        short += _garment_short(must_pass, garment, units)
        # what opens least is mended first
        short = short[::-1] if garment.opens_to_mm < strip.opens_to_mm else short
    yield from short
    for ring, (says, asks) in ((strip, _TIGHT_STRIP), (garment, _TIGHT_GARMENT)):
        if ring and ring.is_tight(must_pass):
            used = percent(ring.stretch_for(must_pass) / ring.stretch)
            length = both(must_pass, units, up=True)
            yield Finding(Check.REMARK, Words(says, length=length, used=used, share=percent(TIGHT)), Words(asks))
    seam = edge.stretch_for(must_pass)
    if seam > STRAIGHT_STITCH:
        yield Finding(
            Check.REMARK,
            Words(
                "No plain straight stitch: the seam must stretch by {share} when it is pulled on", share=percent(seam)
            ),
            Words("Sew it with a zigzag, an overlock or another stitch that stretches"),
        )


def _strip_short(must_pass: float, strip: Ring, edge: Ring, longest_flat: float, units: str) -> Iterator[Finding]:
    if strip.lets_through(must_pass):
        return
    needed = must_pass / (1 + strip.stretch)
    wider = edge.rest_mm * (needed / strip.rest_mm - 1)
    ways = [
        Words("widen the edge by {length} at the same ratio", length=both(wider, units, up=True)),
        Words("take a fabric with at least {share} stretch", share=percent(strip.stretch_for(must_pass), up=True)),
    ]
    if needed <= longest_flat:
        longer = both(needed - strip.rest_mm, units, up=True)
        ways.insert(0, Words("lengthen the strip by {length}", length=longer))
    yield _opens(_STRIP, strip, must_pass, ways, units)


def _garment_short(must_pass: float, garment: Ring, units: str) -> Iterator[Finding]:
    if garment.lets_through(must_pass):
        return
    wider = must_pass / (1 + garment.stretch) - garment.rest_mm
    ways = [
        Words("widen the edge by {length}", length=both(wider, units, up=True)),
        Words(
            "take a garment fabric with at least {share} stretch",
            share=percent(garment.stretch_for(must_pass), up=True),
        ),
    ]
    yield _opens(_GARMENT, garment, must_pass, ways, units)


def _opens(told: tuple[str, str], ring: Ring, must_pass: float, ways: Sequence[str], units: str) -> Finding:
    says, short = told
    passing = both(must_pass, units, up=True)
    return Finding(
        Check.OPENING,
        Words(says, length=both(ring.opens_to_mm, units, down=True), passing=passing),
        choice(ways),
        ": ",
        Words(short, passing=passing),
    )
