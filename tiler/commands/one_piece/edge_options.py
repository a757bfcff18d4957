"""The rows of the table about the edge: measured in parts or whole, or described by its shape."""

from __future__ import annotations

from collections.abc import Callable

from tiler.commands.interview.question import (
    Answers,
    answer_is,
    by_unit,
    in_parts,
    is_band,
    kind_of,
    usually,
)
from tiler.commands.one_piece.option import EDGE, Value, choice, option
from tiler.draft.edge.measured import SHOULDER_SLOPE
from tiler.draft.edge.seam_line import Kind, MeasuredOn
from tiler.draft.edge.shape import Shape

_SAMPLE_LENGTH = by_unit("20 in", "50 cm")
_ALONG = "Stand the tape on its side, so that it follows the curve. Do not pull."


def _measured(kind: Kind) -> Callable[[Answers], bool]:
    return lambda answers: kind_of(answers) == kind and in_parts(answers)


MEASURED = (
    choice(
        "kind",
        (*EDGE, "kind"),
        "which edge it is",
        Kind,
        default="neckline or armhole, from the parts that are given",
    ),
    option("edge whole", (*EDGE, "whole"), "the whole edge in one").asking(
        "How long is the whole edge?",
        "All the way round, along the edge, without any seam allowance at its ends.",
        "Lay the edge flat and relaxed. If you measured it folded in half, write\nthe double.",
        asked=lambda answers: not in_parts(answers),
        sample=_SAMPLE_LENGTH,
        example="22 in, 56 cm",
    ),
    option("front-half", (*EDGE, "front-half"), "neckline, front: from CF to the shoulder").asking(
        "How long is half of the front neckline?",
        "From the centre front to the shoulder seam, along the edge.",
        _ALONG,
        asked=_measured(Kind.NECKLINE),
        sample=_SAMPLE_LENGTH,
        example="7 1/4 in, 18.5 cm",
    ),
    option("back-half", (*EDGE, "back-half"), "neckline, back: from CB to the shoulder").asking(
        "How long is half of the back neckline?",
        "From the centre back to the shoulder seam, along the edge.",
        _ALONG,
        asked=_measured(Kind.NECKLINE),
        sample=_SAMPLE_LENGTH,
        example="3 3/4 in, 9.5 cm",
    ),
    option("front", (*EDGE, "front"), "armhole, front: from the underarm to the shoulder").asking(
        "How long is the front of the armhole?",
        "From the underarm to the shoulder seam, along the edge.",
        _ALONG,
        asked=_measured(Kind.ARMHOLE),
        sample=_SAMPLE_LENGTH,
        example="8 1/4 in, 21 cm",
    ),
    option("back", (*EDGE, "back"), "armhole, back: from the underarm to the shoulder").asking(
        "How long is the back of the armhole?",
        "From the underarm to the shoulder seam, along the edge.",
        f"{_ALONG}\n(The word back alone takes you to the question before.)",
        asked=_measured(Kind.ARMHOLE),
        sample=_SAMPLE_LENGTH,
        example="8 3/4 in, 22.5 cm",
    ),
    choice(
        "measured-on", (*EDGE, "measured-on"), "the line that was measured", MeasuredOn, default=MeasuredOn.SEAM_LINE
    ).asking(
        "Along which line did you measure?",
        "On a curve the stitching line and the raw edge differ in length.",
        "The seam line is where the strip will be stitched on: best to measure\n"
        "there. On a finished garment, or a pattern without seam allowances,\n"
        "that is the line that you see.",
        {
            MeasuredOn.SEAM_LINE: "the line of stitching",
            MeasuredOn.CUT_EDGE: "the raw edge of the cloth",
        },
        usual=usually(MeasuredOn.SEAM_LINE),
        # the two lines beside a straight edge are equally long
        asked=lambda answers: kind_of(answers) != Kind.STRAIGHT,
    ),
    option(
        "garment-allowance", (*EDGE, "garment-allowance"), "from the cut edge to the seam line of the garment"
    ).asking(
        "How wide is the garment's seam allowance at this edge?",
        "From the raw edge to the line of stitching; the band gets the same.",
        "Your pattern says it. On the raw cloth, measure from the edge inwards to\nwhere you will sew.",
        usual=by_unit("1/4 in", "6 mm"),
        asked=is_band,
    ),
    option("end-allowance", (*EDGE, "end-allowance"), "seam allowance that each part still has at its ends").asking(
        "How much seam allowance did you measure along with each part?",
        "Where shoulder or side are not sewn yet; 0 if you left it out.",
        "Measured on pattern pieces or on cut cloth, a part still runs through the\n"
        "allowance of its shoulder or side seam. What is sewn away there comes off.",
        usual=usually("0"),
        asked=in_parts,
        example="0, 3/8 in, 1 cm",
    ),
    option(
        "shoulder-slope",
        (*EDGE, "shoulder-slope"),
        "slope of the shoulder seam",
        Value.ANGLE,
        default=f"{SHOULDER_SLOPE:g} deg",
    ).asking(
        "How steep is the shoulder seam?",
        "In degrees; it says how far the edge bends. The usual 20 will mostly do.",
        "0 would be a shoulder that runs level. A few degrees more or less hardly\nchange the strip.",
        usual=usually(f"{SHOULDER_SLOPE:g}"),
        asked=answer_is("place", "neckline", "armhole"),
    ),
    option("turning", (*EDGE, "turning"), "curve angle: how far the whole edge turns", Value.ANGLE).asking(
        "How far does the edge turn from one end to the other?",
        "In degrees: 90 is a quarter circle, 180 a half, 360 the whole way round.",
        "Think of walking along it: how far have you turned at its end? Less than\n"
        "nothing where the garment lies inside the bend, as at the rim of a hat.",
        asked=answer_is("place", "curved"),
        sample=usually("0"),
        example="90, 180, 360",
    ),
    option("point-angle", (*EDGE, "point-angle"), "vee: the inside angle of its point", Value.ANGLE),
    option("corners", (*EDGE, "corners"), "for experts: what the edge turns at a corner", Value.ANGLE, repeated=True),
)
"""An edge as it was measured."""

SHAPED = (
    choice("shape", (*EDGE, "shape"), "shape of the front, instead of a measured edge", Shape),
    option("neck-width", (*EDGE, "neck-width"), "between the neck points of the shoulders; also of a measured vee"),
    option("front-depth", (*EDGE, "front-depth"), "from the neck points down to CF; also of a measured vee"),
    option("back-depth", (*EDGE, "back-depth"), "from the neck points down to CB"),
    option("lower-front", (*EDGE, "lower-front"), "change: lower the front by this"),
    option("lower-back", (*EDGE, "lower-back"), "change: lower the back by this"),
    option("widen", (*EDGE, "widen"), "change: widen each side by this"),
)
"""A neckline as a shape."""
