"""A contour band on its instruction page: two layers, seamed at their finished edge and sewn on unstretched."""

from __future__ import annotations

from tiler.box import Point
from tiler.draft.fastening.open_ends import Ends
from tiler.draft.strip.finish import Finish
from tiler.languages.catalogue import noted
from tiler.languages.words import say
from tiler.sheets.sewing.closing import Step
from tiler.sheets.sewing.finishes import FinishSteps, shared
from tiler.sheets.sewing.section import Label, Layer, Run, Section
from tiler.sheets.sewing.strip import BAND_SEAM, BESIDE, TOUCH, WIDTH, P, garment_layer, layers, ring, strip_layer

SHAPED_RULE = noted("The band is as long as the edge: stretch neither.")


def shaped_steps(page: FinishSteps) -> tuple[Step, ...]:
    """Return the steps up to the seam; turning it out and topstitching are those of any band."""
    from_ends, at_line = noted("{length} from the ends"), noted("at the end seam's line")
    where = shared(
        page,
        # what an open band has beyond its own ends says nothing of joins
        lambda strip: strip.seam_allowance_mm if strip.is_open else strip.join_allowance_mm,
        from_ends,
        at_line,
    )
    along = shared(
        page,
        lambda strip: strip.seam_allowance_mm,
        noted("{length} from its edge"),
        noted("at the line that is drawn along it"),
    )
    allowance = shared(page, lambda strip: strip.seam_allowance_mm, "{length}", noted("one seam allowance"))
    alike, mirrored = (
        noted(
            "Lay the end seams right sides together, mark to mark, and sew {where}: lockstitch 301 or chainstitch "
            "401. Press them open. Do so with the outside and with the inside: they are two bands alike."
        ),
        noted(
            "Lay the end seams right sides together, mark to mark, and sew {where}: lockstitch 301 or chainstitch "
            "401. Press them open. Do so with the outside and with the inside: one band is the mirror image of the "
            "other."
        ),
    )
    joined = (Step(say("Join the pieces"), say(mirrored if page.mirrored else alike, where=where)),)
    return (
        *(joined if page.joined else ()),
        Step(
            say("Sew the layers together"),
            say(
                "Lay both layers right sides together, seam to seam, and sew along the finished edge, {along}. Trim "
                "the allowances to different widths, and clip them up to the stitching where the edge bends.",
                along=along,
            )
            + (" " + say("A piece that is folded there has no such seam: press it in half.") if page.folded else "")
            + _ends(page, shared(page, lambda strip: strip.join_allowance_mm, from_ends, at_line)),
        ),
        Step(
            say("Turn it and press"),
            say(
                "Turn the band right side out, roll the seam a thread's breadth to the inside and press along it. "
                "Baste both raw edges together, even: from here on it is one."
            ),
        ),
        Step(
            say("Pin it to the garment"),
            say(
                "Lay the band on the right side of the garment, both raw edges on the garment's raw edge. Pin every "
                "end seam to its seam of the garment, and every notch to its place; both bend alike once they are "
                "sewn, so clip the garment's allowance where it will not lie along."
            )
            + (" " + say("Pin both ends to those of the edge.") if page.is_open and not page.runs_on else ""),
        ),
        Step(
            say("Sew it on"),
            say(
                "Band uppermost, sew {allowance} from the raw edges: overlock 514 or 504, or a narrow zigzag 304. Keep "
                "band and edge even from notch to notch; pull neither.",
                allowance=allowance,
            ),
        ),
    )


def _ends(page: FinishSteps, where: str) -> str:
    """Say what is done at the ends of a band that is no ring while its layers are sewn together."""
    if not page.is_open:
        return ""
    turned = page.ends_are is Ends.TURNED
    said = [say("Sew across both ends too, {where}.", where=where) if turned else say("Leave both ends open.")]
    if page.runs_on:
        said.append(say("Sew along each free length too, up to the notch where it leaves the edge."))
    return "".join(f" {one}" for one in said)


def shaped_sections(joined: bool = True) -> tuple[Section, ...]:
    """Return the sections of these steps, with the one of pieces that are joined."""
    s, w = BAND_SEAM, WIDTH[Finish.FOLDED_BAND]
    flat = Section(
        (strip_layer(Run(-26.0, 0.0).to(s)), strip_layer(Run(s, P).to(-26.0))),
        needle=0.0,
        labels=(
            Label(noted("right sides meet"), (-16.0, P / 2), -16.0),
            Label(noted("finished edge"), (s, 0.0), s + 4.0, above=False),
        ),
    )
    turned, seam = _layers(0.0)
    laid, laid_seam = _layers(P)
    on_garment = (garment_layer(s), *laid)
    return (
        *((ring(),) if joined else ()),
        flat,
        Section(
            turned,
            seams=(seam,),
            labels=(
                Label(noted("press"), (-w, 3 * P + TOUCH), -w - 6.0, press=True),
                Label(noted("raw edges"), (s, 0.0), s, above=False),
            ),
        ),
        Section(
            on_garment,
            pin=(-2.0, 2.0),
            seams=(laid_seam,),
            labels=(
                Label(noted("right sides meet"), (-10.0, P / 2), -20.0, above=False),
                Label(noted("raw edges even"), (s, P / 2), s + 5.0),
            ),
        ),
        Section(
            on_garment,
            needle=0.0,
            seams=(laid_seam,),
            labels=(Label(layers(1, 2), None, BESIDE, above=False),),
        ),
    )


def _layers(low: float) -> tuple[tuple[Layer, Layer], tuple[Point, ...]]:
    """Return both layers of a turned band from a level on, and where they are sewn at the finished edge."""
    s, w = BAND_SEAM, WIDTH[Finish.FOLDED_BAND]
    inside = -w + s - 1.0
    lower = strip_layer(Run(s, low).to(-w).fold(low + P).to(inside))
    upper = strip_layer(Run(inside, low + 2 * P).to(-w).fold(low + 3 * P).to(s))
    return (lower, upper), ((-w + 0.3, low + P), (-w + 0.3, low + 2 * P))
