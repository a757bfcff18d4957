"""The rows of the table about the strip: its fabric, width and length, and what must get through it.

The usual widths of the questions are common starting values of ours.
"""

from __future__ import annotations

from tiler.commands.interview.question import (
    NONE,
    UNKNOWN,
    Answers,
    answer_is,
    by_unit,
    is_band,
    usually,
)
from tiler.commands.one_piece.option import GARMENT, PIECE, STRIP, Value, choice, option
from tiler.draft.strip.corner import Corner
from tiler.draft.strip.ease import Ease
from tiler.draft.strip.finish import USUAL_COVER, Cut, Finish
from tiler.draft.strip.fittings import ChangedOn
from tiler.draft.strip.notches import JoinAt

BINDINGS = tuple(finish.removesuffix("-binding") for finish in Finish if not finish.is_band)

_DEEP = ("cuff", "waist", "hem", "leg")


def _usual_width(answers: Answers) -> str | None:
    if not is_band(answers):
        return by_unit("3/8 in", "1 cm")(answers)
    deep = answers.get("place") in _DEEP
    return by_unit("2 in", "5 cm")(answers) if deep else by_unit("1/2 in", "1.2 cm")(answers)


FINISH = choice(
    "finish", (*PIECE, "finish"), "turned under on the back, doubled, or the back edge left raw", BINDINGS
).asking(
    "How shall the edge be finished?",
    "A band makes the garment longer there; a binding wraps its raw edge.",
    "A band is folded in half and both its raw edges are sewn on together.\n"
    "Double fold is flat but has four layers; french is sewn on doubled and\n"
    "suits thin cloth; raw edge is the thinnest, since knits do not fray.",
    {finish: finish.making.hint for finish in Finish},
    usual=usually(Finish.FOLDED_BAND.value),
    words=tuple(finish.value for finish in Finish),
)
"""Which binding; a band has only one finish, so only the question has it among its words."""

FABRIC = (
    option("stretch", (STRIP, "stretch"), "stretch of the strip's fabric: (pulled - rest) / rest", Value.SHARE).asking(
        "By how much does the strip's fabric stretch?",
        "50 % means that 4 in can be pulled to 6 in (10 cm to 15 cm).",
        "(pulled - rest) divided by rest. Write it with its sign: 50 %",
        asked=answer_is("pull", "percent"),
        sample=usually("50 %"),
        example="50 %",
    ),
    option("rest", (STRIP, "rest"), "instead of stretch: a length marked on the fabric at rest").asking(
        "How long is the piece that you marked, at rest?",
        "Between two marks, in the direction that will lie along the edge.",
        "Any length will do; a longer one gives a better reading.",
        usual=by_unit("4 in", "10 cm"),
        asked=answer_is("pull", "pulled"),
    ),
    option("pulled", (STRIP, "pulled"), "the same length, pulled as far as it goes").asking(
        "And how long is it when you pull it?",
        "As far as it goes without hurting, between the same two marks.",
        "Pull as you would when you put it on. It must not curl into a rope, nor\nlose its shape when you let go.",
        asked=answer_is("pull", "pulled"),
        sample=lambda answers: answers.get("rest"),
        example="6 in, 15 cm",
    ),
    option("lengthwise", (STRIP, "lengthwise"), "its stretch the other way, along the cloth", Value.SHARE),
    option("recovery", (STRIP, "recovery"), "how much of the stretch goes back", Value.SHARE),
    option("thickness", (STRIP, "thickness"), "thickness of the strip's fabric"),
    option("cloth-width", (STRIP, "width"), "width of the strip's fabric, to know how much to buy"),
    option("fabric", (*PIECE, "fabric"), "name of the strip's fabric on the label", Value.NAME, default="knit"),
    option("garment-stretch", (GARMENT, "stretch"), "stretch of the garment's fabric", Value.SHARE).asking(
        "By how much does the garment's own fabric stretch?",
        f"It must get through there as well; {UNKNOWN} if you have not measured it.",
        "Measured along the edge, like the strip's: (pulled - rest) divided by\nrest, such as 30 %.",
        usual=usually(UNKNOWN),
        asked=lambda answers: answers.get("must-pass", NONE) != NONE,
        example=f"30 %, {UNKNOWN}",
    ),
    option("garment-rest", (GARMENT, "rest"), "instead: a length marked on the garment's fabric"),
    option("garment-pulled", (GARMENT, "pulled"), "the same length, pulled as far as it goes"),
    option(
        "garment-lengthwise",
        (GARMENT, "lengthwise"),
        "its stretch along the cloth: a curved edge opens with the mean",
        Value.SHARE,
    ),
    option(
        "garment-fabric",
        (*PIECE, "garment-fabric"),
        "name of the garment's fabric; that of the strip where both are one",
        Value.NAME,
    ),
)
"""The fabrics of strip and garment."""

WIDTH = (
    option("width finished-width", (*PIECE, "finished-width"), "the width that shows on the right side").asking(
        "How wide shall it be when it is done?",
        "What you see on the right side; how wide to cut follows from it.",
        "A narrow strip lies flat more easily on a tight curve than a wide one.",
        usual=_usual_width,
        sample=usually("1 mm"),
    ),
    option("cut-width", (*PIECE, "cut-width"), "instead: the width to cut"),
    option("seam-allowance", (*PIECE, "seam-allowance"), "of the band's seam", default="the garment's, or 1/4 in"),
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
    ),
    option("trim-allowance", (*PIECE, "trim-allowance"), "what is trimmed off the back edge", default="3/8 in"),
    choice(
        "cut",
        (*PIECE, "cut"),
        "half of it, for folded fabric, or all of it",
        Cut,
        default=f"{Cut.ON_FOLD}; for an armhole {Cut.FULL_LOOP}",
    ).asking(
        "Shall the piece be drawn for folded cloth, or in its full length?",
        "On fold needs half the paper: its end lies on the fold of the cloth.",
        "Full length is for cutting through one layer, or if you do not like to\ncut on a fold.",
        {Cut.ON_FOLD: "half of it, to lie on the fold", Cut.FULL_LOOP: "all of it"},
        usual=lambda answers: (Cut.FULL_LOOP if answers.get("place") == "armhole" else Cut.ON_FOLD).value,
    ),
    choice("join-at", (*PIECE, "join-at"), "where the end seam lies", JoinAt, default="CB; of an armhole underarm"),
    option("quantity", (*PIECE, "quantity"), "how many are cut", Value.COUNT, default="1; for an armhole 2"),
    choice("corner", (*PIECE, "corner"), "how the ends meet at a sharp corner", Corner, default=Corner.NONE),
    choice("ease", (*PIECE, "ease"), "how the strip is shared out along the edge", Ease),
    option(
        "notch",
        (*PIECE, "notches"),
        "one more notch: its name, and how far from the fold or left end",
        Value.NOTCH,
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
        "How long shall the strip be against the edge?",
        "advised: from edge, width and stretch; or a percentage of your own.",
        "flat is the longest that, by our model, lies flat on a bent edge; usual is\n"
        "85 % for a band and 90 % for a binding. If your pattern says something,\n"
        "trust it. Sew a trial on scrap in any case.",
        usual=usually("advised"),
        example="advised, flat, usual, 88 %",
    ),
    option("ratio-loop", (*PIECE, "ratio", "loop"), "instead: the pattern's own strip, without end seams"),
    option("ratio-edge", (*PIECE, "ratio", "edge"), "and the edge that this strip was made for"),
    option("loop", (*PIECE, "loop"), "instead of a ratio: the sewn length itself"),
    option("body", (*PIECE, "fits", "body"), "instead of a ratio: the body that the strip goes round"),
    option("body-ease", (*PIECE, "fits", "ease"), "by how much it is larger than the body", Value.SHARE, default="0 %"),
    option("shorten", (*PIECE, "trials", 0, "shorten"), "after a fitting: shorten the strip by this"),
    option("lengthen", (*PIECE, "trials", 0, "lengthen"), "after a fitting: lengthen the strip by this"),
    choice("on", (*PIECE, "trials", 0, "on"), "where the change was measured: fold counts twice", ChangedOn),
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
        asked=answer_is("pull", "pulled", "percent"),
        example="head, 24 months; hand, woman; 22 1/2 in",
    ),
)
"""What must get through."""
