"""What an instruction page says step by step for each finish.

Stitch types are numbered by ISO 4915.  A figure of the strip stands in the
sentence where all strips of the page share it; otherwise plain words do.
"""

from __future__ import annotations

from tiler.draft.strip.corner import Corner
from tiler.draft.strip.finish import Finish
from tiler.draft.strip.standing import Standing
from tiler.languages.catalogue import noted
from tiler.languages.words import say
from tiler.sheets.sewing.band_steps import band_steps, buttonholes, draw_in, turn_over
from tiler.sheets.sewing.closing import Step, ends_first, lap, pin, pull_strip_only, sewing
from tiler.sheets.sewing.finishes import FinishSteps, shared
from tiler.sheets.sewing.shaped import SHAPED_RULE, shaped_steps

STITCHES = noted(
    "Stitches by ISO 4915: 301 lockstitch (plain straight), 304 zigzag, 401 chainstitch, 406 two-needle coverstitch, "
    "504 and 514 overlock."
)

GOLDEN_RULE = noted("Stretch the strip to the edge. Never stretch the garment's edge: it would stay wavy.")

EVEN_RULE = noted("The strip is as long as the edge: stretch neither.")

CASING_RULE = noted("The strip is as long as the edge: stretch neither. The elastic draws both in.")


def rule(page: FinishSteps) -> str:
    """Say what is to be stretched, before all steps."""
    if page.shaped:
        return say(SHAPED_RULE)
    if page.even:
        return say(CASING_RULE if page.casing else EVEN_RULE)
    return say(GOLDEN_RULE)


def steps(page: FinishSteps) -> tuple[Step, ...]:
    """Return the steps of a finish in the order of work, one for every section of it."""
    begin = ends_first(page)
    match page.finish:
        case Finish.FOLDED_BAND:
            return _band(page, begin)
        case Finish.DOUBLE_FOLD:
            return (*begin, _turn_under(page), *_bound(page), _catch_fold(page))
        case Finish.FRENCH:
            return (*begin, _press_in_half(), *_bound(page), _catch_fold(page))
        case Finish.RAW_EDGE:
            return (*begin, *_bound(page), *_catch_raw(page))
        case Finish.FOLD_OVER:
            return (*begin, *_folded_over(page))


def _band(page: FinishSteps, begin: tuple[Step, ...]) -> tuple[Step, ...]:
    if page.shaped:
        return (*shaped_steps(page), *band_steps(page)[-2:])
    if page.corner is Corner.LAPPED:
        *work, topstitch = band_steps(page)
        return (*work, lap(page), topstitch)
    last = [
        *([draw_in(page)] if page.casing else []),
        *([buttonholes(page)] if page.buttoned else []),
        *([turn_over(page)] if page.standing is Standing.OVER else []),
    ]
    return (*begin, *band_steps(page), *last)


def _width(page: FinishSteps) -> str:
    return shared(page, lambda strip: strip.finished_width_mm, "{length}", noted("one finished width"))


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
            "zigzag 304, chainstitch 401, or lockstitch 301 with a short stitch and stretch thread; {pull}."
        ),
        noted(
            "Strip uppermost, sew {width} from the raw edges, through 3 layers: narrow zigzag 304, chainstitch 401, or "
            "lockstitch 301 with a short stitch and stretch thread; {pull}."
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
        pin(page, both_edges=doubled),
        Step(
            sewing(page),
            say(sewn_doubled if doubled else sewn, width=_width(page), pull=pull_strip_only(page)),
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


def _folded_over(page: FinishSteps) -> tuple[Step, ...]:
    return (
        Step(
            say("Fold it over the edge"),
            say(
                "Lay the garment's raw edge into the fold of the elastic, as much of it on the right side as on the "
                "wrong side. Pin its marks to their places, through all layers."
            ),
        ),
        Step(
            say("Sew all layers in one"),
            say(
                "From the right side, near the edge of the elastic, so that both its halves are caught: a wide zigzag "
                "304 or coverstitch 406; {pull}.",
                pull=pull_strip_only(page),
            ),
        ),
    )
