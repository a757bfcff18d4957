"""The steps of a folded band: pressed in half, sewn on, turned out, and over where it is a collar."""

from __future__ import annotations

from tiler.draft.strip.corner import Corner
from tiler.languages.catalogue import noted
from tiler.languages.words import say
from tiler.sheets.sewing.closing import Step, pin, pull, sewing
from tiler.sheets.sewing.finishes import FinishSteps, shared


def band_steps(page: FinishSteps) -> tuple[Step, ...]:
    """Return the steps of a folded band, from pressing it on."""
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
    wide, high, plain = (
        noted(
            "Turn the band away from the garment and the allowances into the garment. It is now {length} wide. Hover "
            "with steam, pat the seam flat and let it cool before you move it: steam draws the band in again."
        ),
        noted(
            "Turn the band up, away from the garment, and the allowances into the garment. It now stands {length} "
            "high. Hover with steam, pat the seam flat and let it cool before you move it: steam draws the band in "
            "again."
        ),
        noted(
            "Turn the band away from the garment and the allowances into the garment. Hover with steam, pat the seam "
            "flat and let it cool before you move it: steam draws the band in again."
        ),
    )
    times = page.standing.times
    turned = shared(page, lambda strip: times * strip.finished_width_mm, high if page.standing.stands else wide, plain)
    return (
        Step(
            say("Press it in half"),
            say(
                "Fold along the line “press in half”, wrong sides together, both raw edges even. Set the iron down and "
                "lift it again: pushed along, it stretches the strip."
            ),
        ),
        pin(page, both_edges=True),
        Step(
            sewing(page),
            say(lapped if page.corner is Corner.LAPPED else closed, allowance=allowance, pull=pull(page)),
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


def draw_in(page: FinishSteps) -> Step:
    """Return the step that draws elastic into the casing."""
    cuts = {strip.elastic.words(page.units) for strip in page.strips if strip.elastic}
    same, own = (
        noted(
            "Draw the elastic in with a safety pin, through the open half of the end seam ({elastic}). Sew its lapped "
            "ends with a zigzag 304, let it slip in, spread the fullness evenly, and close the opening by hand."
        ),
        noted(
            "Draw the elastic in with a safety pin, through the open half of the end seam; each size has its own "
            "length in the cutting chart and on its piece. Sew its lapped ends with a zigzag 304, let it slip in, "
            "spread the fullness evenly, and close the opening by hand."
        ),
    )
    text = say(same, elastic=cuts.pop()) if len(cuts) == 1 else say(own)
    return Step(say("Draw the elastic in"), text)


def buttonholes(page: FinishSteps) -> Step:
    """Return the step that works the buttonholes, which knits would stretch."""
    found = {strip.buttons.words(page.units) for strip in page.strips if strip.buttons}
    same, own = (
        noted(
            "{buttons}: on the side that lies on top (women's right over left, or as the pattern says), through both "
            "layers, with a strip of interfacing between them or tissue below. Sew the buttons on the other side, at "
            "the same centres."
        ),
        noted(
            "Work them where they are marked, on the side that lies on top (women's right over left, or as the pattern "
            "says), through both layers, with a strip of interfacing between them or tissue below. Sew the buttons on "
            "the other side, at the same centres."
        ),
    )
    text = say(same, buttons=found.pop()) if len(found) == 1 else say(own)
    return Step(say("Work the buttonholes"), text)


def turn_over(page: FinishSteps) -> Step:
    """Return the step that folds a collar down over itself."""
    shown, hidden = (
        noted(
            "Fold the band down to the right side, over itself and past its own seam, so that {length} shows. Do not "
            "press the fold: it rolls by itself."
        ),
        noted(
            "Fold the band down to the right side, over itself and past its own seam. Do not press the fold: it rolls "
            "by itself."
        ),
    )
    return Step(say("Turn it over"), shared(page, lambda strip: strip.finished_width_mm, shown, hidden))
