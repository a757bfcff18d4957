"""What ``tiler start`` asks about the strip: its fabric, width, length, what must get through it, and the paper.

The usual widths are common starting values of ours.
"""

from __future__ import annotations

from tiler.commands.interview.question import (
    NONE,
    UNKNOWN,
    Answers,
    Choice,
    Question,
    answer_is,
    by_unit,
    is_band,
    usually,
)
from tiler.draft.strip.finish import Finish

_DEEP = ("cuff", "waist", "hem", "leg")


def _usual_width(answers: Answers) -> str | None:
    if not is_band(answers):
        return by_unit("3/8 in", "1 cm")(answers)
    deep = answers.get("place") in _DEEP
    return by_unit("2 in", "5 cm")(answers) if deep else by_unit("1/2 in", "1.2 cm")(answers)


def _usual_title(answers: Answers) -> str | None:
    place = answers.get("place", "")
    edge = {"leg": "leg opening", "straight": "straight edge", "curved": "curved edge"}.get(place, place)
    article = "an" if edge[:1] in "aeiou" else "a"
    return f"{'Band' if is_band(answers) else 'Binding'} for {article} {edge}"


STRIP_QUESTIONS = (
    Question(
        "pull",
        "What do you know of how far the strip's fabric stretches?",
        "It decides how well the strip lies flat, and what the edge goes over.",
        "Mark 4 in (10 cm) along the direction that will lie along the edge, pull\n"
        "as far as it goes without hurting, and measure again between the marks.",
        choices=(
            Choice("pulled", "I measured a piece, at rest and pulled"),
            Choice("percent", "I know it as a percentage"),
            Choice(UNKNOWN, "nothing yet"),
        ),
        usual=usually("pulled"),
    ),
    Question(
        "rest",
        "How long is the piece that you marked, at rest?",
        "Between two marks, in the direction that will lie along the edge.",
        "Any length will do; a longer one gives a better reading.",
        usual=by_unit("4 in", "10 cm"),
        asked=answer_is("pull", "pulled"),
    ),
    Question(
        "pulled",
        "And how long is it when you pull it?",
        "As far as it goes without hurting, between the same two marks.",
        "Pull as you would when you put it on. It must not curl into a rope, nor\nlose its shape when you let go.",
        asked=answer_is("pull", "pulled"),
        sample=lambda answers: answers.get("rest"),
        example="6 in, 15 cm",
    ),
    Question(
        "stretch",
        "By how much does the strip's fabric stretch?",
        "50 % means that 4 in can be pulled to 6 in (10 cm to 15 cm).",
        "(pulled - rest) divided by rest. Write it with its sign: 50 %",
        asked=answer_is("pull", "percent"),
        sample=usually("50 %"),
        example="50 %",
    ),
    Question(
        "width",
        "How wide shall it be when it is done?",
        "What you see on the right side; how wide to cut follows from it.",
        "A narrow strip lies flat more easily on a tight curve than a wide one.",
        usual=_usual_width,
        sample=usually("1 mm"),
    ),
    Question(
        "cover",
        "How far shall the fold behind pass the stitching?",
        "A little more cloth behind makes sure that the stitches catch it.",
        "With 0 the fold just meets the stitching. It takes a steady hand to\ncatch it then.",
        usual=by_unit("1/8 in", "3 mm"),
        asked=answer_is("finish", Finish.DOUBLE_FOLD.value, Finish.FRENCH.value),
    ),
    Question(
        "ratio",
        "How long shall the strip be against the edge?",
        "usual: 85 % for a band, 90 % for a binding; or a percentage of your own.",
        "On a bent edge you can also write flat: the strip then gets the length at\n"
        "which, by our model, its finished edge lies flat. If your pattern says\n"
        "something, trust it. Sew a trial on scrap in any case.",
        usual=usually("usual"),
        example="usual, flat, 88 %",
    ),
    Question(
        "cut",
        "Shall the piece be drawn for folded cloth, or in its full length?",
        "On fold needs half the paper: its end lies on the fold of the cloth.",
        "Full length is for cutting through one layer, or if you do not like to\ncut on a fold.",
        choices=(Choice("on-fold", "half of it, to lie on the fold"), Choice("full-loop", "all of it")),
        usual=usually("on-fold"),
    ),
    Question(
        "must-pass",
        "What must get through the closed edge?",
        "A length round the head, hand or heel, or whose it is; none: no matter.",
        "Write a length, 22 1/2 in, or whose: head, 24 months (up to 60 months);\n"
        "head, woman; head, man; hand, woman; heel, man. It is a help with the\n"
        "fit and no safety check.",
        usual=usually(NONE),
        asked=answer_is("pull", "pulled", "percent"),
        example="head, 24 months; hand, woman; 22 1/2 in",
    ),
    Question(
        "garment-stretch",
        "By how much does the garment's own fabric stretch?",
        f"It must get through there as well; {UNKNOWN} if you have not measured it.",
        "Measured along the edge, like the strip's: (pulled - rest) divided by\nrest, such as 30 %.",
        usual=usually(UNKNOWN),
        asked=lambda answers: answers.get("must-pass", NONE) != NONE,
        example=f"30 %, {UNKNOWN}",
    ),
    Question(
        "title",
        "What shall stand above on every page?",
        "So that you find the right pages again: the garment, for whom, the size.",
        "One line of your own words.",
        usual=_usual_title,
    ),
    Question(
        "paper",
        "Which paper do you print on?",
        "All pages are made for it; print them at 100 %.",
        "letter-a4 prints true on both papers. One sheet is a single page, as\nlarge as needed, for a copy shop.",
        choices=(
            Choice("letter", "8 1/2 x 11 in"),
            Choice("a4", "210 x 297 mm"),
            Choice("letter-a4", "fits on either of these two"),
            Choice("legal", "8 1/2 x 14 in"),
            Choice("tabloid", "11 x 17 in"),
            Choice("a3", "297 x 420 mm"),
            Choice("one-sheet", "one page, as large as needed"),
        ),
        usual=by_unit("letter", "a4"),
    ),
)
"""These questions, in the order in which they are asked."""
