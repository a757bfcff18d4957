"""The rows of the table about the edge: measured in parts or whole, or described by its shape."""

from __future__ import annotations

from collections.abc import Callable

from tiler.commands.interview.question import (
    UNKNOWN,
    Answers,
    answer_is,
    by_unit,
    described,
    in_parts,
    is_band,
    kind_of,
    known_by_size,
    measured_vee,
    neckline_changed,
    turning_unknown,
    usually,
)
from tiler.commands.one_piece.option import EDGE, Value, choice, option
from tiler.draft.edge.measured import SHOULDER_SLOPE
from tiler.draft.edge.seam_line import FRONT_AND_BACK, Kind, MeasuredOn
from tiler.draft.edge.shape import Shape
from tiler.draft.spec.typed import typed_parts
from tiler.draft.strip.refinish import Had
from tiler.errors import SpecError
from tiler.lengths import parse_length
from tiler.sentence import Place

_SAMPLE_LENGTH = by_unit("20 in", "50 cm")
_ALONG = "Stand the tape on its side, so that it follows the curve. Do not pull."


def _measured(*kinds: Kind) -> Callable[[Answers], bool]:
    return lambda answers: kind_of(answers) in kinds and in_parts(answers)


def _sample_width(answers: Answers) -> str | None:
    """Return a width that goes with the arms of a measured vee: it is checked with the depth, which comes last."""
    return None if measured_vee(answers) else by_unit("7 in", "18 cm")(answers)


def _sample_depth(answers: Answers) -> str | None:
    """Return a depth; of a measured vee the one that makes its arm straight, once its width is known."""
    if not measured_vee(answers):
        return by_unit("4 in", "10 cm")(answers)
    if "neck-width" not in answers:
        return None
    half = _mm(answers, "neck-width") / 2
    arm = _mm(answers, "front-half") - _mm(answers, "end-allowance") if in_parts(answers) else half * 2**0.5
    if arm <= half:
        why = "is wider than both sides of the vee together; check it, and the half of the front"
        raise SpecError(why, Place("", ("neck-width",)))
    return f"{max(arm**2 - half**2, 1.0) ** 0.5:.4f} mm"


def _mm(answers: Answers, key: str) -> float:
    return float(parse_length(answers.get(key, "0"), answers["units"], Place("", (key,)), zero_ok=True))


def _allowance_asked(answers: Answers) -> bool:
    """Tell whether the pattern's allowance matters: where it has one, and where a band is measured on the raw edge."""
    had = answers.get("replaces")
    if had == UNKNOWN:
        return is_band(answers) and answers.get("measured-on") == MeasuredOn.CUT_EDGE
    return had in ("allowance", Had.HEM, Had.FACING, Had.FOLDED_BAND)


def _usual_allowance(answers: Answers) -> str | None:
    # a wrong guess at a hem would be trimmed off; on the raw edge nothing can be worked out without it
    if answers.get("replaces") == Had.HEM:
        return None if answers.get("measured-on") == MeasuredOn.CUT_EDGE else UNKNOWN
    return by_unit("1/4 in", "6 mm")(answers)


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
        asked=lambda answers: not in_parts(answers) and not described(answers) and answers.get("parts") != "list",
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
    option("front", (*EDGE, "front"), "armhole or leg opening, front: between its seams").asking(
        "How long is the front of the edge?",
        "Of an armhole from underarm to shoulder, of a leg from inseam to side.",
        _ALONG,
        asked=_measured(*FRONT_AND_BACK),
        sample=_SAMPLE_LENGTH,
        example="8 1/4 in, 21 cm",
    ),
    option("back", (*EDGE, "back"), "armhole or leg opening, back: between its seams").asking(
        "How long is the back of the edge?",
        "Of an armhole from underarm to shoulder, of a leg from inseam to side.",
        f"{_ALONG}\n(The word back alone takes you to the question before.)",
        asked=_measured(*FRONT_AND_BACK),
        sample=_SAMPLE_LENGTH,
        example="8 3/4 in, 22.5 cm",
    ),
    option(
        "part",
        (*EDGE, "parts"),
        "instead: a part of the edge, its name and length, and behind a comma its own turning or share, as in "
        "'22 in, 0 deg, 95 %'; the parts follow from the end seam on",
        Value.NAMED,
        repeated=True,
    ).asking(
        "Which parts does the edge have?",
        "From the end seam round to it again: a name and a length each.",
        "Measure each part between its seams. On a raglan neck that begins at CB:\n"
        "half back 7 cm; sleeve 6 cm; front 23 cm; sleeve 6 cm; half back 7 cm.\n"
        "Where it reads the same from both ends, half of it is cut on the fold.\n"
        "How far a part turns may stand behind a comma, as along a front band:\n"
        "right front 56 cm, 0 deg; back neck 18 cm, 90 deg; left front 56 cm, 0 deg;\n"
        "and so may its own share of the strip: front 23 cm, 140 deg, 95 %.",
        asked=lambda answers: answers.get("parts") == "list",
        reads=typed_parts,
        sample=by_unit("front 14 in; back 7 in", "front 36 cm; back 18 cm"),
        example="front 14 in; sleeve 2 1/2 in; back 7 in; sleeve 2 1/2 in",
    ),
    choice(
        "measured-on", (*EDGE, "measured-on"), "the line that was measured", MeasuredOn, default=MeasuredOn.SEAM_LINE
    ).asking(
        "Along which line do you measure?",
        "On a curve the stitching line and the raw edge differ in length.",
        "The seam line is the pattern's line of stitching, or the fold line of a\n"
        "hem: best to measure there. On a finished garment, or a pattern without\n"
        "seam allowances, that is the line that you see.",
        {
            MeasuredOn.SEAM_LINE: "the line of stitching, or the fold of a hem",
            MeasuredOn.CUT_EDGE: "the raw edge of the cloth",
        },
        usual=usually(MeasuredOn.SEAM_LINE),
        # the two lines beside a straight edge are equally long
        asked=lambda answers: kind_of(answers) != Kind.STRAIGHT,
    ),
    option(
        "garment-allowance", (*EDGE, "garment-allowance"), "from the cut edge to the seam line of the garment"
    ).asking(
        "How wide is the pattern's allowance at this edge?",
        "From the raw edge to the line of stitching, or to the fold line of a hem.",
        f"Your pattern says it. Write 0 where it has none, and {UNKNOWN} if you do not\n"
        "know: the garment is then cut by its seam or fold line. A band gets the\n"
        "same allowance, but not that of a hem.",
        usual=_usual_allowance,
        asked=_allowance_asked,
        sample=_usual_allowance,
        nothing=(UNKNOWN,),
        example=f"3/8 in, 1 cm, {UNKNOWN}",
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
        asked=answer_is("place", "neckline", "vee", "armhole"),
        optional=True,
    ),
    option("turning", (*EDGE, "turning"), "curve angle: how far the whole edge turns", Value.ANGLE).asking(
        "How far does the edge turn from one end to the other?",
        "In degrees: 90 is a quarter circle, 180 a half, 360 the whole way round.",
        "Think of walking along it: how far have you turned at its end? Less than\n"
        "nothing where the garment lies inside the bend, as at the rim of a hat.",
        asked=turning_unknown,
        sample=usually("0"),
        example="90, 180, 360",
    ),
    *(
        option(
            f"{part}-ratio", (*EDGE, f"{part}-ratio"), f"leg opening: the {part}'s own share of the strip", Value.SHARE
        ).asking(
            f"Which share of the {part} shall the strip have there?",
            "As a percentage; without it both parts share the strip.",
            "The front of briefs is often sewn on nearly one to one, the back tighter,\nso that it cups the seat.",
            asked=lambda answers: answers.get("place") == "leg-opening" and in_parts(answers),
            usual=usually(usual),
            optional=True,
            example=f"{usual}, 90 %",
        )
        for part, usual in (("front", "100 %"), ("back", "85 %"))
    ),
    option("point-angle", (*EDGE, "point-angle"), "vee: the inside angle of its point", Value.ANGLE).asking(
        "How wide is the angle of the point?",
        "In degrees, between the two sides of the vee: about 40 to 70 on most.",
        "On the pattern, measure between the seam line and CF with a protractor,\nand write the double.",
        asked=lambda answers: measured_vee(answers) and answers.get("point") == "angle",
        sample=usually("60"),
        example="50, 60 deg",
    ),
    option("corners", (*EDGE, "corners"), "for experts: what the edge turns at a corner", Value.ANGLE, repeated=True),
)
"""An edge as it was measured."""

SHAPED = (
    choice("shape", (*EDGE, "shape"), "shape of the front, instead of a measured edge", Shape).asking(
        "Which shape does the front have?",
        "The back is taken for a scoop in any case.",
        "A scoop is round; a square goes straight down and straight across.",
        {Shape.SCOOP: "round", Shape.VEE: "straight to a point", Shape.SQUARE: "straight down and across"},
        usual=usually(Shape.SCOOP),
        sample=usually(Shape.SCOOP),
        asked=lambda answers: described(answers) and answers.get("place") == "neckline",
    ),
    option(
        "neck-width", (*EDGE, "neck-width"), "between the neck points of the shoulders; also of a measured vee"
    ).asking(
        "How wide is the neckline at the shoulders?",
        "Straight across, from one neck point to the other.",
        "A neck point is where the shoulder seam meets the neckline, on the line\n"
        "that you measure along. On half a pattern, write the double.",
        asked=known_by_size,
        sample=_sample_width,
        example="7 in, 18 cm",
    ),
    option("front-depth", (*EDGE, "front-depth"), "from the neck points down to CF; also of a measured vee").asking(
        "How deep is the front?",
        "Straight down, from the height of the neck points to the centre front.",
        "Lay a ruler across both neck points, and measure from there down the\ncentre front.",
        asked=known_by_size,
        sample=_sample_depth,
        example="3 1/2 in, 9 cm",
    ),
    option("back-depth", (*EDGE, "back-depth"), "from the neck points down to CB").asking(
        "How deep is the back?",
        "Straight down, from the height of the neck points to the centre back.",
        "As in front: lay a ruler across both neck points.",
        asked=described,
        sample=by_unit("1 in", "2.5 cm"),
        example="1 in, 2.5 cm",
    ),
    option("lower-front", (*EDGE, "lower-front"), "change: lower the front by this").asking(
        "By how much shall the front be lowered?",
        "At the centre front; less than nothing raises it.",
        "Depths count from the neck points: where those move down a sloping\nshoulder, CF and CB go with them.",
        usual=usually("0"),
        asked=neckline_changed,
        example="1 in, 2 cm, -1 cm",
    ),
    option("lower-back", (*EDGE, "lower-back"), "change: lower the back by this").asking(
        "By how much shall the back be lowered?",
        "At the centre back; less than nothing raises it.",
        "As in front.",
        usual=usually("0"),
        asked=neckline_changed,
        example="1/2 in, 1 cm",
    ),
    option("widen", (*EDGE, "widen"), "change: widen each side by this").asking(
        "By how much shall each side be widened?",
        "At each neck point, level; less than nothing makes the neckline narrower.",
        "The whole neckline is wider by twice this.",
        usual=usually("0"),
        asked=neckline_changed,
        example="1/2 in, 1 cm",
    ),
)
"""A neckline as a shape."""
