"""The rows of the table about the strip: its width and length, and what must get through it.

The usual widths of the questions are common starting values of ours.
"""

from __future__ import annotations

from tiler.commands.interview.question import (
    BODY,
    NONE,
    UNKNOWN,
    Answers,
    answer_is,
    by_unit,
    every_part_says,
    is_band,
    is_given,
    of_cloth,
    pointed,
    usually,
)
from tiler.commands.one_piece.option import PIECE, Value, choice, option
from tiler.draft.edge.seam_line import MeasuredOn
from tiler.draft.fastening.open_ends import Ends
from tiler.draft.spec.typed import named_lengths
from tiler.draft.strip.bias import CutOn
from tiler.draft.strip.corner import Corner
from tiler.draft.strip.ease import Ease
from tiler.draft.strip.elastic import ROOM
from tiler.draft.strip.finish import USUAL_COVER, Cut, Finish
from tiler.draft.strip.fittings import ChangedOn
from tiler.draft.strip.notches import JoinAt
from tiler.draft.strip.refinish import Had
from tiler.draft.strip.standing import Standing
from tiler.lengths import parse_length
from tiler.sentence import Place

BINDINGS = tuple(finish.removesuffix("-binding") for finish in Finish if not finish.is_band)

_SAMPLE_LENGTH = by_unit("20 in", "50 cm")
_DEEP = ("cuff", "waist", "hem", "leg")


def _usual_width(answers: Answers) -> str | None:
    if not is_band(answers):
        return by_unit("3/8 in", "1 cm")(answers)
    if is_given("elastic")(answers):
        width = parse_length(answers["elastic"], answers["units"], Place("", ("elastic",)))
        return f"{float(width) + ROOM:.10g} mm"
    if answers.get("sits", Standing.FLAT) != Standing.FLAT:
        return by_unit("2 1/2 in", "6 cm")(answers)
    deep = answers.get("place") in _DEEP
    return by_unit("2 in", "5 cm")(answers) if deep else by_unit("1/2 in", "1.2 cm")(answers)


_stretch_known = answer_is("pull", "pulled", "percent")


def _usual_cut(answers: Answers) -> str | None:
    lengths = [length for _, length in named_lengths(answers.get("part", ""))]
    if answers.get("cut-on") == CutOn.BIAS:
        return Cut.FULL_LOOP.value
    buttoned = is_given("buttons")(answers) and not lengths
    runs_on = [answers.get(key, NONE) for key in ("free-before", "free-after")]
    unlike = (
        buttoned
        or runs_on[0] != runs_on[1]
        or answers.get("place") in ("armhole", "leg-opening")
        or lengths != lengths[::-1]
    )
    return (Cut.FULL_LOOP if unlike else Cut.ON_FOLD).value


def _seam_asked(answers: Answers) -> bool:
    """Tell whether a band does not take its allowance from the garment's."""
    had = answers.get("replaces")
    if not is_band(answers) or had in (None, "allowance", Had.FACING, Had.FOLDED_BAND):
        return False
    return had != UNKNOWN or answers.get("measured-on") != MeasuredOn.CUT_EDGE


FINISH = choice(
    "finish", (*PIECE, "finish"), "turned under on the back, doubled, left raw there, or elastic", BINDINGS
).asking(
    "How shall the edge be finished?",
    "A band makes the garment longer there; a binding wraps its raw edge.",
    "A band is folded in half and both its raw edges are sewn on together.\n"
    "Double fold is flat but has four layers; french is sewn on doubled and\n"
    "suits thin cloth; raw edge is the thinnest, since knits do not fray. Of\n"
    "fold-over elastic you get the length to cut, and no piece.",
    {finish: finish.making.hint for finish in Finish},
    usual=usually(Finish.FOLDED_BAND.value),
    words=tuple(finish.value for finish in Finish),
)
"""Which binding; a band has only one finish, so only the question has it among its words."""

WIDTH = (
    option("width finished-width", (*PIECE, "finished-width"), "the width that shows on the right side").asking(
        "How wide shall it be when it is done?",
        "What you see on the right side; how wide to cut follows from it.",
        "A narrow strip lies flat more easily on a tight curve than a wide one.",
        usual=_usual_width,
        sample=lambda answers: _usual_width(answers) if is_given("elastic", "buttons")(answers) else "1 mm",
    ),
    option("stands", (*PIECE, "stands"), "the band stands up, as a collar; its width is its height", Value.FLAG),
    option("turned-over", (*PIECE, "turned-over"), "and is folded down over itself, as a turtleneck", Value.FLAG),
    option("cut-width", (*PIECE, "cut-width"), "instead: the width to cut"),
    option(
        "seam-allowance", (*PIECE, "seam-allowance"), "of the band's seam", default="the garment's, or 1/4 in"
    ).asking(
        "How wide shall the seam allowance of the band be?",
        "Both its raw edges get it; the garment's edge needs the same there.",
        "What you like to sew at.",
        usual=by_unit("1/4 in", "6 mm"),
        asked=_seam_asked,
    ),
    option("join-allowance", (*PIECE, "join-allowance"), "allowance of the end seam"),
    option(
        "cover",
        (*PIECE, "cover"),
        "how far the back fold passes the stitching",
        default=" or ".join(USUAL_COVER.values()),
    ).asking(
        "How far shall the fold behind pass the stitching?",
        "A little more cloth behind makes sure that the stitches catch it.",
        "With 0 the fold just meets the stitching. It takes a steady hand to\ncatch it then.",
        usual=by_unit(USUAL_COVER["in"], USUAL_COVER["cm"]),
        asked=answer_is("finish", Finish.DOUBLE_FOLD, Finish.FRENCH),
        optional=True,
    ),
    option("trim-allowance", (*PIECE, "trim-allowance"), "what is trimmed off the back edge", default="3/8 in"),
    choice(
        "cut",
        (*PIECE, "cut"),
        "half of it, for folded fabric, or all of it",
        Cut,
        default=f"{Cut.ON_FOLD}; for an armhole or a leg opening {Cut.FULL_LOOP}",
    ).asking(
        "Shall the piece be drawn for folded cloth, or in its full length?",
        "On fold needs half the paper: its end lies on the fold of the cloth.",
        "Full length is for cutting through one layer, or if you do not like to\ncut on a fold.",
        {Cut.ON_FOLD: "half of it, to lie on the fold", Cut.FULL_LOOP: "all of it"},
        usual=_usual_cut,
        asked=of_cloth,
    ),
    choice("cut-on", (*PIECE, "cut-on"), "which way of the cloth the strip lies", CutOn, default=CutOn.STRETCH).asking(
        "Is the binding of a knit, or of woven cloth cut on the bias?",
        "Woven cloth gives only on its bias, by 10 to 15 %.",
        "Its strips lie at 45 degrees to the grain and are joined diagonally. Give\nthat stretch as a percentage.",
        {CutOn.STRETCH: "along the greatest stretch of a knit", CutOn.BIAS: "on the bias of woven cloth"},
        usual=usually(CutOn.STRETCH.value),
        asked=lambda answers: (
            not is_band(answers)
            and of_cloth(answers)
            and _stretch_known(answers)
            and answers.get("corner", Corner.NONE) == Corner.NONE
            and answers.get("ends", Ends.CLOSED) == Ends.CLOSED
        ),
        optional=True,
    ),
    choice(
        "join-at",
        (*PIECE, "join-at"),
        "where the end seam lies",
        JoinAt,
        default="CB; of an armhole underarm, of a leg opening inseam",
    ),
    option(
        "quantity",
        (*PIECE, "quantity"),
        "how many are cut",
        Value.COUNT,
        default="1; for an armhole or a leg opening 2",
    ),
    choice("corner", (*PIECE, "corner"), "how the ends meet at a sharp corner", Corner, default=Corner.NONE).asking(
        "How shall the strip go round the point?",
        "Either its two ends meet there, or it runs round without a seam.",
        "A mitre is a slanted seam at CF. Lapped, one end lies on top of the other,\n"
        "which only a band can do. Running round suits a shallow vee and soft cloth.",
        {
            Corner.NONE: "it runs round",
            Corner.MITRE: "a slanted seam at the point",
            Corner.LAPPED: "one end over the other",
        },
        usual=usually(Corner.NONE),
        asked=lambda answers: pointed(answers) and of_cloth(answers),
        without=lambda answers: () if is_band(answers) else (Corner.LAPPED,),
    ),
    choice("ease", (*PIECE, "ease"), "how the strip is shared out along the edge", Ease),
    option(
        "notch",
        (*PIECE, "notches"),
        "one more notch: its name, and how far from the fold or left end",
        Value.NAMED,
        repeated=True,
    ),
    option(
        "name",
        (*PIECE, "name"),
        "name on the piece",
        Value.TEXT,
        default="Neckband, Armhole binding and the like",
    ),
)
"""How wide the strip is, how it is cut, and what stands on it."""

LENGTH = (
    option(
        "ratio", (*PIECE, "ratio"), "advised, flat, usual, or a share of the edge", Value.RATIO, default="advised"
    ).asking(
        "How long shall the strip be?",
        "advised, flat, usual, body, a percentage of the edge, or a sewn length.",
        "advised comes from edge, width and stretch. flat is the longest that, by\n"
        "our model, lies flat on a bent edge; usual is 85 % of the edge for a band\n"
        "and 90 % for a binding; body fits a wrist, a waist or a leg. If your\n"
        "pattern says something, trust it. Sew a trial on scrap in any case.",
        # elastic draws a casing in, which is as long as its edge itself
        usual=lambda answers: "100 %" if is_given("elastic")(answers) else "advised",
        asked=lambda answers: (
            not {"front-ratio", "back-ratio"} <= answers.keys() and not every_part_says("ratio", answers)
        ),
        also=("advised", "flat", "usual", BODY),
        nothing=(BODY,),
        example="advised, 88 %, 18 1/2 in, 47 cm",
    ),
    option("ratio-loop", (*PIECE, "ratio", "loop"), "instead: the pattern's own strip, without end seams"),
    option("ratio-edge", (*PIECE, "ratio", "edge"), "and the edge that this strip was made for"),
    option("loop", (*PIECE, "loop"), "instead of a ratio: the sewn length itself"),
    option("body", (*PIECE, "fits", "body"), "instead of a ratio: the body that the strip goes round").asking(
        "How much is the body round that the strip fits?",
        "Measured where the strip will sit, without pulling the tape.",
        "A wrist for a cuff, a waist for a waistband, an ankle for a leg.",
        asked=answer_is("ratio", BODY),
        sample=_SAMPLE_LENGTH,
        example="7 in, 17.5 cm",
    ),
    option(
        "body-ease", (*PIECE, "fits", "ease"), "by how much it is larger than the body", Value.SHARE, default="0 %"
    ).asking(
        "By how much shall the strip be larger than the body?",
        "0 fits it exactly; less than nothing holds on by being stretched.",
        "5 % is comfortable at a wrist; -10 % holds up a waist.",
        usual=usually("0 %"),
        asked=answer_is("ratio", BODY),
        example="5 %, -10 %",
    ),
    option("shorten", (*PIECE, "trials", 0, "shorten"), "after a fitting: shorten the strip by this").asking(
        "By how much shall the strip be shorter, after a fitting?",
        f"What you pinned away when you tried it on; {NONE} leaves it as it is.",
        "Pin it on the body, and measure what is pinned away.",
        usual=usually(NONE),
        asked=lambda answers: not is_given("lengthen")(answers),
        optional=True,
        nothing=(NONE,),
        example=f"3/16 in, 5 mm, {NONE}",
    ),
    option("lengthen", (*PIECE, "trials", 0, "lengthen"), "after a fitting: lengthen the strip by this").asking(
        "By how much shall the strip be longer, after a fitting?",
        f"What it lacked when you tried it on; {NONE} leaves it as it is.",
        "Measure how far the edge gathers or pulls.",
        usual=usually(NONE),
        asked=lambda answers: not is_given("shorten")(answers),
        optional=True,
        nothing=(NONE,),
        example=f"3/16 in, 5 mm, {NONE}",
    ),
    choice("on", (*PIECE, "trials", 0, "on"), "where the change was measured: fold counts twice", ChangedOn).asking(
        "Where did you measure that change?",
        "On the strip folded in two it counts twice, since both layers change.",
        "On the whole loop it counts once.",
        {ChangedOn.FOLD: "on the strip folded in two", ChangedOn.LOOP: "on the whole loop"},
        usual=usually(ChangedOn.FOLD),
        asked=is_given("shorten", "lengthen"),
        sample=usually(ChangedOn.FOLD),
    ),
)
"""How long the strip is, and what a fitting changes."""

OPENING = (
    option(
        "must-pass",
        (*PIECE, "opening", "must-pass"),
        "what the edge must go over: a length, or 'head, 24 months', 'head, woman', 'hand, man'",
        Value.MEASURE,
    ).asking(
        "What must get through the closed edge?",
        "A length round the head, hand or heel, or whose it is; none: no matter.",
        "Write a length, 22 1/2 in, or whose: head, 24 months (up to 60 months);\n"
        "head, woman; head, man; hand, woman; heel, man. It is a help with the\n"
        "fit and no safety check.",
        usual=usually(NONE),
        asked=lambda answers: _stretch_known(answers) and answers.get("ends", Ends.CLOSED) == Ends.CLOSED,
        nothing=(NONE,),
        example="head, 24 months; hand, woman; 22 1/2 in",
    ),
)
"""What must get through."""
