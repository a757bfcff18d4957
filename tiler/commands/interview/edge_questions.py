"""What ``tiler start`` asks about the garment: which edge, its finish, and how it was measured."""

from __future__ import annotations

from collections.abc import Callable

from tiler.commands.interview.question import (
    Answers,
    Choice,
    Question,
    answer_is,
    by_unit,
    in_parts,
    is_band,
    kind_of,
    usually,
)
from tiler.draft.strip.finish import Finish

SAMPLE_LENGTH = by_unit("20 in", "50 cm")


def _measured(kind: str, parts: bool) -> Callable[[Answers], bool]:
    return lambda answers: kind_of(answers) == kind and in_parts(answers) == parts


EDGE_QUESTIONS = (
    Question(
        "units",
        "Do you measure in inches or in centimetres?",
        "Your unit stands first in all figures; the other one stands beside it.",
        "A number without a unit, such as 7 1/4, is taken in this unit.\n"
        "You can still write the other one wherever you like: 18 cm, 7 1/4 in.",
        choices=(Choice("in", "inches"), Choice("cm", "centimetres")),
        usual=usually("in"),
    ),
    Question(
        "place",
        "Which edge gets the strip?",
        "It says how the edge is measured, and how it bends.",
        "A leg opening or a hem that bends clearly is a curved edge. A neckline\n"
        "with one sharp point, a vee, needs more than is asked here: see the README.",
        choices=(
            Choice("neckline", "round the neck"),
            Choice("armhole", "armhole without a sleeve"),
            Choice("cuff", "end of a sleeve"),
            Choice("waist", "waist of a skirt or trousers"),
            Choice("hem", "lower edge of a top or skirt"),
            Choice("leg", "end of a leg"),
            Choice("straight", "another straight edge"),
            Choice("curved", "another curved edge"),
        ),
        usual=usually("neckline"),
    ),
    Question(
        "finish",
        "How shall the edge be finished?",
        "A band makes the garment longer there; a binding wraps its raw edge.",
        "A band is folded in half and both its raw edges are sewn on together.\n"
        "Double fold is flat but has four layers; french is sewn on doubled and\n"
        "suits thin cloth; raw edge is the thinnest, since knits do not fray.",
        choices=(
            Choice(Finish.FOLDED_BAND.value, "folded in half, stands inside the edge"),
            Choice(Finish.DOUBLE_FOLD.value, "wraps the edge, turned under behind"),
            Choice(Finish.FRENCH.value, "wraps the edge, of doubled cloth"),
            Choice(Finish.RAW_EDGE.value, "wraps the edge, left raw behind"),
        ),
        usual=usually(Finish.FOLDED_BAND.value),
    ),
    Question(
        "parts",
        "Did you measure front and back, or the whole edge in one?",
        "In parts is better: the strip then gets its marks for the shoulder.",
        "A neckline in parts: half of the front and half of the back, each from\n"
        "the centre to the shoulder. An armhole in parts: front and back, each\n"
        "from the underarm to the shoulder.",
        choices=(Choice("parts", "front and back"), Choice("whole", "all the way round, in one")),
        usual=usually("parts"),
        asked=answer_is("place", "neckline", "armhole"),
    ),
    Question(
        "front-half",
        "How long is half of the front neckline?",
        "From the centre front to the shoulder seam, along the edge.",
        "Stand the tape on its side, so that it follows the curve. Do not pull.",
        asked=_measured("neckline", True),
        sample=SAMPLE_LENGTH,
        example="7 1/4 in, 18.5 cm",
    ),
    Question(
        "back-half",
        "How long is half of the back neckline?",
        "From the centre back to the shoulder seam, along the edge.",
        "Stand the tape on its side, so that it follows the curve. Do not pull.",
        asked=_measured("neckline", True),
        sample=SAMPLE_LENGTH,
        example="3 3/4 in, 9.5 cm",
    ),
    Question(
        "front",
        "How long is the front of the armhole?",
        "From the underarm to the shoulder seam, along the edge.",
        "Stand the tape on its side, so that it follows the curve. Do not pull.",
        asked=_measured("armhole", True),
        sample=SAMPLE_LENGTH,
        example="8 1/4 in, 21 cm",
    ),
    Question(
        "back",
        "How long is the back of the armhole?",
        "From the underarm to the shoulder seam, along the edge.",
        "Stand the tape on its side, so that it follows the curve. Do not pull.\n"
        "(The word back alone takes you to the question before.)",
        asked=_measured("armhole", True),
        sample=SAMPLE_LENGTH,
        example="8 3/4 in, 22.5 cm",
    ),
    Question(
        "edge",
        "How long is the whole edge?",
        "All the way round, along the edge, without any seam allowance at its ends.",
        "Lay the edge flat and relaxed. If you measured it folded in half, write\nthe double.",
        asked=lambda answers: not in_parts(answers),
        sample=SAMPLE_LENGTH,
        example="22 in, 56 cm",
    ),
    Question(
        "measured-on",
        "Along which line did you measure?",
        "On a curve the stitching line and the raw edge differ in length.",
        "The seam line is where the strip will be stitched on: best to measure\n"
        "there. On a finished garment, or a pattern without seam allowances,\n"
        "that is the line that you see.",
        choices=(
            Choice("seam-line", "the line of stitching"),
            Choice("cut-edge", "the raw edge of the cloth"),
        ),
        usual=usually("seam-line"),
        # the two lines beside a straight edge are equally long
        asked=lambda answers: kind_of(answers) != "straight",
    ),
    Question(
        "garment-allowance",
        "How wide is the garment's seam allowance at this edge?",
        "From the raw edge to the line of stitching; the band gets the same.",
        "Your pattern says it. On the raw cloth, measure from the edge inwards to\nwhere you will sew.",
        usual=by_unit("1/4 in", "6 mm"),
        asked=is_band,
    ),
    Question(
        "end-allowance",
        "How much seam allowance did you measure along with each part?",
        "Where shoulder or side are not sewn yet; 0 if you left it out.",
        "Measured on pattern pieces or on cut cloth, a part still runs through the\n"
        "allowance of its shoulder or side seam. What is sewn away there comes off.",
        usual=usually("0"),
        asked=in_parts,
        example="0, 3/8 in, 1 cm",
    ),
    Question(
        "shoulder-slope",
        "How steep is the shoulder seam?",
        "In degrees; it says how far the edge bends. The usual 20 will mostly do.",
        "0 would be a shoulder that runs level. A few degrees more or less hardly\nchange the strip.",
        usual=usually("20"),
        asked=answer_is("place", "neckline", "armhole"),
    ),
    Question(
        "turning",
        "How far does the edge turn from one end to the other?",
        "In degrees: 90 is a quarter circle, 180 a half, 360 the whole way round.",
        "Think of walking along it: how far have you turned at its end? Less than\n"
        "nothing where the garment lies inside the bend, as at the rim of a hat.",
        asked=answer_is("place", "curved"),
        sample=usually("0"),
        example="90, 180, 360",
    ),
)
"""These questions, in the order in which they are asked."""
