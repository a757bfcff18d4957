"""A contour band on its instruction page: two layers, seamed at their finished edge and sewn on unstretched."""

from __future__ import annotations

from tiler.box import Point
from tiler.draft.strip.finish import Finish
from tiler.languages.catalogue import noted
from tiler.languages.words import say
from tiler.sheets.sewing.closing import Step
from tiler.sheets.sewing.finishes import FinishSteps, shared
from tiler.sheets.sewing.section import Label, Layer, Run, Section
from tiler.sheets.sewing.strip import BAND_SEAM, BESIDE, TOUCH, WIDTH, P, garment_layer, layers, ring, strip_layer

EVEN_RULE = noted("The band is as long as the edge: stretch neither.")


def shaped_steps(page: FinishSteps) -> tuple[Step, ...]:
    """Return the steps up to the seam; turning it out and topstitching are those of any band."""
    where = shared(
        page, lambda strip: strip.join_allowance_mm, noted("{length} from the ends"), noted("at the end seam's line")
    )
    along = shared(
        page,
        lambda strip: strip.seam_allowance_mm,
        noted("{length} from its edge"),
        noted("at the line that is drawn along it"),
    )
    allowance = shared(page, lambda strip: strip.seam_allowance_mm, "{length}", noted("one seam allowance"))
    return (
        Step(
            say("Join the pieces"),
            say(
                "Lay the end seams right sides together, mark to mark, and sew {where}: lockstitch 301 or chainstitch "
                "401. Press them open. Do so with the outside and with the inside: they are two bands alike.",
                where=where,
            ),
        ),
        Step(
            say("Sew the layers together"),
            say(
                "Lay both layers right sides together, seam to seam, and sew along the finished edge, {along}. Trim "
                "the allowances to different widths, and clip them up to the stitching where the edge bends. A piece "
                "that is folded there has no such seam: press it in half.",
                along=along,
            ),
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
            ),
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


def shaped_sections() -> tuple[Section, ...]:
    """Return the sections of these steps."""
    s, w = BAND_SEAM, WIDTH[Finish.FOLDED_BAND]
    together = ring()
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
        together,
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
