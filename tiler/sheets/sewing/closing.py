"""What is said of every strip on an instruction page: how it is closed, pinned and pulled."""

from __future__ import annotations

from dataclasses import dataclass

from tiler.draft.fastening.open_ends import Ends
from tiler.draft.strip.corner import Corner
from tiler.languages.catalogue import noted
from tiler.languages.words import say
from tiler.lengths import both
from tiler.sheets.sewing.finishes import FinishSteps, shared


@dataclass(frozen=True)
class Step:
    """What is done, in short and in full."""

    name: str
    text: str


def pull(page: FinishSteps) -> str:
    """Say how far the strip is pulled."""
    if page.even:
        return say("keep strip and edge even from notch to notch")
    pairs = {(both(one.loop_mm, page.units), both(one.edge.edge_mm, page.units)) for one in page.strips}
    if len(pairs) == 1 and not page.unequal:
        ((loop, edge),) = pairs
        return say("stretch {loop} of strip to {edge} of edge, notch to notch", loop=loop, edge=edge)
    return say("stretch the strip from notch to notch until it is as long as the edge")


def pull_strip_only(page: FinishSteps) -> str:
    """Say how far the strip is pulled, and that the garment is not."""
    return pull(page) if page.even else say("{pull}, never the garment", pull=pull(page))


def sewing(page: FinishSteps) -> str:
    """Name the step that sews the strip on."""
    return say("Sew it on") if page.even else say("Sew, stretching the strip only")


def at(page: FinishSteps, name: str, placed: str) -> str:
    """Say the name of a step, with the place of the end seam where all strips have the same."""
    places = {strip.join_place for strip in page.strips}
    place = places.pop() if len(places) == 1 else ""
    return say(placed, place=place) if place else say(name)


def ends_first(page: FinishSteps) -> tuple[Step, ...]:
    """Return the step that comes before all others: the ring is closed, or the ends of an open strip turned in."""
    if not page.is_open:
        return (close(page),)
    if page.runs_on:
        return (_free_lengths(page),)
    if page.ends_are is not Ends.TURNED:
        return ()
    band, binding = (
        noted(
            "Fold the strip lengthwise, right sides together, and sew each end {length} from its raw edge: lockstitch "
            "301. Trim the corner at the fold and turn the ends out."
        ),
        noted("Press {length} of each end to the wrong side; it lies inside when the strip is wrapped."),
    )
    lengths = {both(strip.join_allowance_mm, page.units) for strip in page.strips}
    length = lengths.pop() if len(lengths) == 1 else say("the end allowance")
    return (Step(say("Turn in the ends"), say(band if page.finish.is_band else binding, length=length)),)


def _free_lengths(page: FinishSteps) -> Step:
    band, binding = (
        noted(
            "Fold each free length lengthwise, right sides together, and sew across its end and along it up to the "
            "notch where it leaves the edge: lockstitch 301 or narrow zigzag 304, at the seam line. Turn it out."
        ),
        noted(
            "Beyond the notch where it leaves the edge, press the strip as it lies on the edge, its ends inside; these "
            "lengths are stitched closed when the back is caught."
        ),
    )
    return Step(say("Sew the free lengths"), say(band if page.finish.is_band else binding))


def close(page: FinishSteps) -> Step:
    """Return the step that closes the ring."""
    plain, pivoted = (
        noted(
            "Lay the ends right sides together, the strip not twisted, and sew {where}: lockstitch 301 or chainstitch "
            "401. Press the seam open."
        ),
        noted(
            "Lay the ends right sides together, the strip not twisted, and sew {where}: lockstitch 301 or chainstitch "
            "401. Stop and pivot at the fold, and clip there. Press the seam open."
        ),
    )
    if page.on_bias:
        plain = noted(
            "Join strips, and last the ring, diagonally: right sides together at a right angle, the slanted ends even, "
            "and sew {where}, so that the seam runs along the grain: lockstitch 301. Press the seam open and cut off "
            "the tips."
        )
    where = shared(
        page, lambda strip: strip.join_allowance_mm, noted("{length} from the ends"), noted("at the end seam's line")
    )
    return Step(
        at(page, noted("Close the strip"), noted("Close the strip ({place})")),
        say(pivoted if page.corner is Corner.MITRE else plain, where=where) + _left_open(page) + _joins_first(page),
    )


def _left_open(page: FinishSteps) -> str:
    """Say of casings that their end seam stays open for the elastic."""
    if not page.casing:
        return ""
    return " " + say("Leave it open on the inner half, from the fold line to the allowance: the elastic goes in there.")


def _joins_first(page: FinishSteps) -> str:
    """Say of strips in sections that their joins come first."""
    if not any(strip.sections for strip in page.strips):
        return ""
    return " " + say(
        "A strip in sections: join these first, mark to mark and in the same way; the last join closes it."
    )


def lap(page: FinishSteps) -> Step:
    """Return the step that laps two ends at a corner."""
    return Step(
        at(page, noted("Lap the ends"), noted("Lap the ends ({place})")),
        say(
            "Lay one end over the other at the clip: on women's clothes the wearer's right over the left, or as the "
            "pattern says. Bring each slanted end into the seam of the other arm and sew it there, lockstitch 301, up "
            "to the clip."
        ),
    )


def pin(page: FinishSteps, both_edges: bool) -> Step:
    """Return the step that pins the strip to the garment."""
    what = say("both raw edges of the strip") if both_edges else say("the edge that is sewn first")
    lapped, closed = (
        noted(
            "Lay the strip on the right side of the garment, {what} on the garment's raw edge. Pin every notch to its "
            "place; both ends hang free beyond the clip. Between the pins the strip is shorter than the edge, and the "
            "garment lies slack."
        ),
        noted(
            "Lay the strip on the right side of the garment, {what} on the garment's raw edge. Pin the end seam and "
            "every notch to its place. Between the pins the strip is shorter than the edge, and the garment lies slack."
        ),
    )
    alike = noted(
        "Lay the strip on the right side of the garment, {what} on the garment's raw edge. Pin the end seam and "
        "every notch to its place; strip and edge are alike in length."
    )
    open_ended = noted(
        "Lay the strip on the right side of the garment, {what} on the garment's raw edge. Pin both ends and every "
        "notch to their places; where the strip is shorter than the edge, the garment lies slack."
    )
    open_alike = noted(
        "Lay the strip on the right side of the garment, {what} on the garment's raw edge. Pin both ends and every "
        "notch to their places; strip and edge are alike in length."
    )
    running_on = noted(
        "Lay the strip on the right side of the garment, {what} on the garment's raw edge. Pin every notch to its "
        "place, where it leaves the edge at the edge's ends; its free lengths hang beyond."
    )
    text = (
        running_on
        if page.runs_on
        else open_alike
        if page.is_open and page.even
        else open_ended
        if page.is_open
        else alike
        if page.even
        else lapped
        if page.corner is Corner.LAPPED
        else closed
    )
    return Step(say("Pin it to the garment"), say(text, what=what))
