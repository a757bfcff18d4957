"""What may go wrong in sewing and wearing apart from the length: widths, allowances, cloth, notches.

Lengths are millimetres, shares plain numbers.  A finished width of 3/16 in and a
recovery of 90 % are common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from tiler.draft.advice.checks import NARROWEST, NOISE, Sewn
from tiler.draft.advice.finding import Check, Finding
from tiler.draft.edge.seam_line import FRONT_AND_BACK
from tiler.draft.fastening.running_on import free_ends_of_child
from tiler.draft.strip.finish import USUAL_COVER, Cut
from tiler.draft.strip.loop import ASSUMED_STRETCH, AdvisedRatio
from tiler.draft.strip.notches import opposite
from tiler.languages.words import Words
from tiler.lengths import both, parse_length, percent
from tiler.sentence import Key, Phrase

LEAST_RECOVERY = 0.90


def making_findings(sewn: Sewn, lengthens: bool, pieced: bool, units: str) -> Iterator[Finding]:
    """Yield what is to be minded in making the strip.

    ``lengthens`` tells that it is to be lengthened already, ``pieced`` that it is cut in sections.
    """
    yield from _widths(sewn, units)
    yield from _cover(sewn, units)
    free = free_ends_of_child(sewn.piece.edge, sewn.piece.runs_on, sewn.piece.for_child)
    if free:
        yield _remark(free)
    yield from _fabric(sewn, lengthens)
    if not pieced:
        yield from _notch_layer(sewn)


def _remark(says: str, asks: str = "", joint: str = ": ") -> Finding:
    return Finding(Check.REMARK, says, asks, joint)


def _widths(sewn: Sewn, units: str) -> Iterator[Finding]:
    piece, sewn_at = sewn.piece, sewn.sewn_at_mm
    if sewn.finished_width_mm < NARROWEST - NOISE:
        yield _remark(
            Words(
                "The finished width of {width} is hard to sew; {least} or more is easier",
                width=both(sewn.finished_width_mm, units, down=True),
                least=both(NARROWEST, units),
            )
        )
    garment = piece.edge.garment_allowance_mm
    # with another finish the garment gets a new cut edge, whose allowance is the strip's; a binding has none
    if garment is not None and piece.finish.is_band and piece.replaces is None and abs(garment - sewn_at) > NOISE:
        yield _remark(
            Words(
                "The strip is sewn at {width}, but the garment's seam allowance is {garment}",
                width=both(sewn_at, units),
                garment=both(garment, units),
            ),
            Words(
                "set {key} to that of the garment, or trim or mark the garment for {width}",
                key=Key("seam-allowance"),
                width=both(sewn_at, units),
            ),
        )
    stated = piece.seam_allowance_mm
    if not piece.finish.is_band and stated is not None and abs(stated - sewn_at) > NOISE:
        says = Words("The {key} of {width} is not used", key=Key("seam-allowance"), width=both(stated, units))
        yield _remark(says, Words("a binding is sewn at its finished width, {width}", width=both(sewn_at, units)))


def _cover(sewn: Sewn, units: str) -> Iterator[Finding]:
    piece, cover = sewn.piece, USUAL_COVER[units]
    if "cover" in piece.finish.making.keys and piece.cover_mm == 0:
        yield _remark(
            Words("The back fold just meets the stitching"),
            Words(
                "to catch it from the right side let it pass by {width}: write {key}",
                width=both(float(parse_length(cover, units, piece.where)), units),
                key=Key("cover", f'"{cover}"'),
            ),
            joint="; ",
        )


def _fabric(sewn: Sewn, lengthens: bool) -> Iterator[Finding]:
    fabric = sewn.piece.fabric
    if fabric is None and isinstance(sewn.piece.loop, AdvisedRatio):
        says = Words(
            "No fabric is named, so {share} stretch is assumed for the advised length", share=percent(ASSUMED_STRETCH)
        )
        yield _remark(says, Phrase.MEASURE_FABRIC, joint="; ")
    if fabric and fabric.recovery is not None and fabric.recovery < LEAST_RECOVERY:
        other = Words("take a fabric that recovers more")
        shorter = Words("take a fabric that recovers more, or cut the strip shorter after a trial")
        yield _remark(
            Words(
                "{fabric} recovers only {share} of its stretch; under {least} the edge grows in wear",
                fabric=fabric.name,
                share=percent(fabric.recovery),
                least=percent(LEAST_RECOVERY),
            ),
            other if lengthens else shorter,
        )


def _notch_layer(sewn: Sewn) -> Iterator[Finding]:
    piece, parts = sewn.piece, sewn.line.parts
    if piece.edge.kind not in FRONT_AND_BACK or piece.cut is not Cut.ON_FOLD or len(parts) != 2 or parts[0].listed:
        return
    front, back = (part.length_mm for part in parts)
    if abs(front - back) > 1.0:
        says = Words(
            "Cut on fold, the {notch} notch belongs on one layer only: the longer half, which is the {layer}",
            notch=opposite(piece.edge.kind, piece.join_at),
            layer=Words("front") if front > back else Words("back"),
        )
        yield _remark(says, Words("Mark that layer, or write {key}", key=Key("cut", '"full-loop"')), joint=". ")
