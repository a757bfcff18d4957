"""What an instruction page says step by step for each finish.

Stitch types are numbered by ISO 4915.  A figure of the strip stands in the
sentence where all strips of the page share it; otherwise plain words do.
"""

from __future__ import annotations

from dataclasses import dataclass

from tiler.draft.strip.corner import Corner
from tiler.draft.strip.finish import Finish
from tiler.languages.catalogue import noted
from tiler.languages.words import say
from tiler.lengths import both
from tiler.sheets.sewing.finishes import FinishSteps, shared

STITCHES = noted(
    "Stitches by ISO 4915: 301 lockstitch (plain straight), 304 zigzag, 401 chainstitch, 406 two-needle coverstitch, "
    "504 and 514 overlock."
)

GOLDEN_RULE = noted("Stretch the strip to the edge. Never stretch the garment's edge: it would stay wavy.")


@dataclass(frozen=True)
class Step:
    """What is done, in short and in full."""

    name: str
    text: str


def steps(page: FinishSteps) -> tuple[Step, ...]:
    """Return the steps of a finish in the order of work, one for every section of it."""
    close = _close(page)
    match page.finish:
        case Finish.FOLDED_BAND if page.corner is Corner.LAPPED:
            *work, topstitch = _folded_band(page)
            return (*work, _lap(page), topstitch)
        case Finish.FOLDED_BAND:
            return (close, *_folded_band(page))
        case Finish.DOUBLE_FOLD:
            return (close, _turn_under(page), *_bound(page), _catch_fold(page))
        case Finish.FRENCH:
            return (close, _press_in_half(), *_bound(page), _catch_fold(page))
        case Finish.RAW_EDGE:
            return (close, *_bound(page), *_catch_raw(page))


def _width(page: FinishSteps) -> str:
    return shared(page, lambda strip: strip.finished_width_mm, "{length}", noted("one finished width"))


def _pull(page: FinishSteps) -> str:
    pairs = {(both(one.loop_mm, page.units), both(one.edge.edge_mm, page.units)) for one in page.strips}
    if len(pairs) == 1:
        ((loop, edge),) = pairs
        return say("stretch {loop} of strip to {edge} of edge, notch to notch", loop=loop, edge=edge)
    return say("stretch the strip from notch to notch until it is as long as the edge")


def _at(page: FinishSteps, name: str, placed: str) -> str:
    """Say the name of a step, with the place of the end seam where all strips have the same."""
    places = {strip.join_place for strip in page.strips}
    place = places.pop() if len(places) == 1 else ""
    return say(placed, place=place) if place else say(name)


def _close(page: FinishSteps) -> Step:
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
    where = shared(
        page, lambda strip: strip.join_allowance_mm, noted("{length} from the ends"), noted("at the end seam's line")
    )
    return Step(
        _at(page, noted("Close the strip"), noted("Close the strip ({place})")),
        say(pivoted if page.corner is Corner.MITRE else plain, where=where) + _joins_first(page),
    )


def _joins_first(page: FinishSteps) -> str:
    """Say of strips in sections that their joins come first."""
    if not any(strip.sections for strip in page.strips):
        return ""
    return " " + say(
        "A strip in sections: join these first, mark to mark and in the same way; the last join closes it."
    )


def _lap(page: FinishSteps) -> Step:
    return Step(
        _at(page, noted("Lap the ends"), noted("Lap the ends ({place})")),
        say(
            "Lay one end over the other at the clip: on women's clothes the wearer's right over the left, or as the "
            "pattern says. Bring each slanted end into the seam of the other arm and sew it there, lockstitch 301, up "
            "to the clip."
        ),
    )


def _pin(page: FinishSteps, both_edges: bool) -> Step:
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
    return Step(say("Pin it to the garment"), say(lapped if page.corner is Corner.LAPPED else closed, what=what))


def _folded_band(page: FinishSteps) -> tuple[Step, ...]:
    lapped, closed = (
        noted(
            "Strip uppermost, sew {allowance} from the raw edges, each arm up to the clip: overlock 514 or 504, or a "
            "narrow zigzag 304. From pin to pin, {pull}. Guide the garment's edge flat under the foot; never pull it."
        ),
        noted(
            "Strip uppermost, sew {allowance} from the raw edges: overlock 514 or 504, or a narrow zigzag 304. From "
            "pin to pin, {pull}. Guide the garment's edge flat under the foot; never pull it."
        ),
    )
    allowance = shared(page, lambda strip: strip.seam_allowance_mm, "{length}", noted("one seam allowance"))
    turned = shared(
        page,
        lambda strip: strip.finished_width_mm,
        noted(
            "Turn the band away from the garment and the allowances into the garment. It is now {length} wide. Hover "
            "with steam, pat the seam flat and let it cool before you move it: steam draws the band in again."
        ),
        noted(
            "Turn the band away from the garment and the allowances into the garment. Hover with steam, pat the seam "
            "flat and let it cool before you move it: steam draws the band in again."
        ),
    )
    return (
        Step(
            say("Press it in half"),
            say(
                "Fold along the line “press in half”, wrong sides together, both raw edges even. Set the iron down and "
                "lift it again: pushed along, it stretches the strip."
            ),
        ),
        _pin(page, both_edges=True),
        Step(
            say("Sew, stretching the strip only"),
            say(lapped if page.corner is Corner.LAPPED else closed, allowance=allowance, pull=_pull(page)),
        ),
        Step(say("Turn it out and press"), turned),
        Step(
            say("Topstitch, if you like"),
            say(
                "From the right side, on the garment close to the seam, through the allowances and not through the "
                "band: coverstitch 406, a twin needle or a narrow zigzag 304. Do not stretch anything here."
            ),
        ),
    )


def _turn_under(page: FinishSteps) -> Step:
    return Step(
        say("Press one edge under"),
        say(
            "Along the line “turn under”, press {width} of the edge that is not sewn first to the wrong side. Leave "
            "the other press lines: they are pressed as they are sewn. Set the iron down and lift it, do not push.",
            width=_width(page),
        ),
    )


def _press_in_half() -> Step:
    return Step(
        say("Press it in half"),
        say(
            "Fold along the line “press in half”, wrong sides together, both raw edges even; from here on it is one, "
            "two layers thick. Set the iron down and lift it, do not push."
        ),
    )


def _bound(page: FinishSteps) -> tuple[Step, ...]:
    """Return the steps that all bindings share, from the first pin to the wrapped edge."""
    doubled = page.finish is Finish.FRENCH
    sewn, sewn_doubled = (
        noted(
            "Strip uppermost, sew on the line “sew, press over”, {width} from the raw edges, through 2 layers: narrow "
            "zigzag 304, chainstitch 401, or lockstitch 301 with a short stitch and stretch thread; {pull}, never the "
            "garment."
        ),
        noted(
            "Strip uppermost, sew {width} from the raw edges, through 3 layers: narrow zigzag 304, chainstitch 401, or "
            "lockstitch 301 with a short stitch and stretch thread; {pull}, never the garment."
        ),
    )
    pressed, pressed_doubled = (
        noted(
            "Turn the strip up over the seam and press it towards the raw edges. Do not trim them: they fill the "
            "binding and give it its width."
        ),
        noted(
            "Turn the doubled strip up over the seam and press it towards the raw edges. Do not trim them: they fill "
            "the binding and give it its width."
        ),
    )
    return (
        _pin(page, both_edges=doubled),
        Step(
            say("Sew, stretching the strip only"),
            say(sewn_doubled if doubled else sewn, width=_width(page), pull=_pull(page)),
        ),
        Step(say("Press over the seam"), say(pressed_doubled if doubled else pressed)),
        Step(say("Fold over the edge"), _wrap_words(page)),
    )


def _wrap_words(page: FinishSteps) -> str:
    if page.finish is Finish.RAW_EDGE:
        back = say("Its raw edge lies flat on the wrong side, past the first seam.")
    elif page.in_ditch:
        back = shared(
            page,
            lambda strip: strip.cover_mm,
            noted("Its fold lies on the wrong side and passes the first seam by {length}."),
            noted("Its fold lies on the wrong side and passes the first seam by the cover."),
        )
    elif any(strip.cover_mm for strip in page.strips):
        back = say("Its fold meets the first seam on the wrong side, or passes it by the cover.")
    else:
        back = say("Its fold just meets the first seam on the wrong side.")
    plain, lined = (
        noted(
            "Wrap the strip firmly round the raw edges to the back. {back} Press lightly and pin from the right side. "
            "Do not stretch strip or garment now."
        ),
        noted(
            "Wrap the strip firmly round the raw edges to the back: they reach the line “fold over the edge”. {back} "
            "Press lightly and pin from the right side. Do not stretch strip or garment now."
        ),
    )
    return say(plain if page.finish is Finish.FRENCH else lined, back=back)


def _catch_fold(page: FinishSteps) -> Step:
    if page.in_ditch:
        return Step(
            say("Catch the back in the ditch"),
            say(
                "From the right side, stitch on the garment right beside the binding, so that the thread sinks into "
                "the seam and holds the back fold: lockstitch 301, short stitch, stretch thread, or chainstitch 401. "
                "Press."
            ),
        )
    return Step(
        say("Catch the back fold"),
        say(
            "From the right side, stitch on the binding, a thread's breadth from its inner fold, through all layers, "
            "so that the back fold is held: narrow zigzag 304, chainstitch 401, coverstitch 406 or a twin needle. "
            "Press."
        ),
    )


def _catch_raw(page: FinishSteps) -> tuple[Step, ...]:
    trimmed = shared(
        page,
        lambda strip: strip.finished_width_mm,
        noted(
            "Trim the raw back edge along the stitching with small scissors, held flat so that they cannot bite into "
            "the garment; leave a little beyond the thread. Press. The binding shows {length} wide."
        ),
        noted(
            "Trim the raw back edge along the stitching with small scissors, held flat so that they cannot bite into "
            "the garment; leave a little beyond the thread. Press."
        ),
    )
    return (
        Step(
            say("Stitch in the ditch"),
            say(
                "From the right side, stitch on the garment right beside the binding, so that the thread sinks into "
                "the seam: lockstitch 301 with a short stitch and stretch thread, or chainstitch 401, which gives more."
            ),
        ),
        Step(say("Trim the back"), trimmed),
    )
