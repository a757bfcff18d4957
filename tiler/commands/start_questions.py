"""What ``tiler start`` asks: every question with its explanation, its usual answer, and when it is asked.

A question that stands for an option of ``tiler band`` or ``tiler binding`` has that
option's name as its key.  Usual widths are common starting values of ours.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from tiler.draft.finish import Finish

Answers = Mapping[str, str]
"""Answers by the key of their question."""

NONE = "none"
UNKNOWN = "unknown"


@dataclass(frozen=True)
class Choice:
    """One of a few answers: its word, and what it means."""

    word: str
    meaning: str


def _always(_answers: Answers) -> bool:
    return True


def _no_usual(_answers: Answers) -> str | None:
    return None


@dataclass(frozen=True)
class Question:
    """A question: what is asked, why in one line, more on request.

    ``sample`` stands in for an answer that is still to come while one before it is checked.
    """

    key: str
    asks: str
    why: str
    more: str
    choices: tuple[Choice, ...] = ()
    usual: Callable[[Answers], str | None] = _no_usual
    asked: Callable[[Answers], bool] = _always
    sample: Callable[[Answers], str | None] = _no_usual
    example: str = ""


PLACES = {
    "neckline": "neckline",
    "armhole": "armhole",
    "cuff": "straight",
    "waist": "straight",
    "hem": "straight",
    "leg": "straight",
    "straight": "straight",
    "curved": "curved",
}
"""The kind of edge in a spec for each place on the garment."""

_DEEP = ("cuff", "waist", "hem", "leg")


def is_band(answers: Answers) -> bool:
    """Tell whether the finish that was chosen is a band; a binding wraps the edge."""
    return answers.get("finish") == Finish.FOLDED_BAND.value


def in_parts(answers: Answers) -> bool:
    """Tell whether the edge is measured in two parts."""
    return answers.get("parts") == "parts"


def kind_of(answers: Answers) -> str:
    """Give the kind of the edge, as a spec names it."""
    return PLACES.get(answers.get("place", ""), "straight")


def path(answers: Answers) -> Iterator[Question]:
    """Give the questions that belong to these answers, in their order."""
    return (question for question in QUESTIONS if question.asked(answers))


def _by_unit(inches: str, metric: str) -> Callable[[Answers], str | None]:
    return lambda answers: metric if answers.get("units") == "cm" else inches


def _is(key: str, *words: str) -> Callable[[Answers], bool]:
    return lambda answers: answers.get(key) in words


def _measured(kind: str, parts: bool) -> Callable[[Answers], bool]:
    return lambda answers: kind_of(answers) == kind and in_parts(answers) == parts


def _usual(word: str) -> Callable[[Answers], str | None]:
    return lambda _answers: word


def _usual_width(answers: Answers) -> str | None:
    if not is_band(answers):
        return _by_unit("3/8 in", "1 cm")(answers)
    deep = answers.get("place") in _DEEP
    return _by_unit("2 in", "5 cm")(answers) if deep else _by_unit("1/2 in", "1.2 cm")(answers)


def _usual_title(answers: Answers) -> str | None:
    place = answers.get("place", "")
    edge = {"leg": "leg opening", "straight": "straight edge", "curved": "curved edge"}.get(place, place)
    article = "an" if edge[:1] in "aeiou" else "a"
    return f"{'Band' if is_band(answers) else 'Binding'} for {article} {edge}"


_LENGTH = _by_unit("20 in", "50 cm")

QUESTIONS = (
    Question(
        "units",
        "Do you measure in inches or in centimetres?",
        "Your unit stands first in all figures; the other one stands beside it.",
        "A number without a unit, such as 7 1/4, is taken in this unit.\n"
        "You can still write the other one wherever you like: 18 cm, 7 1/4 in.",
        choices=(Choice("in", "inches"), Choice("cm", "centimetres")),
        usual=_usual("in"),
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
        usual=_usual("neckline"),
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
        usual=_usual(Finish.FOLDED_BAND.value),
    ),
    Question(
        "parts",
        "Did you measure front and back, or the whole edge in one?",
        "In parts is better: the strip then gets its marks for the shoulder.",
        "A neckline in parts: half of the front and half of the back, each from\n"
        "the centre to the shoulder. An armhole in parts: front and back, each\n"
        "from the underarm to the shoulder.",
        choices=(Choice("parts", "front and back"), Choice("whole", "all the way round, in one")),
        usual=_usual("parts"),
        asked=_is("place", "neckline", "armhole"),
    ),
    Question(
        "front-half",
        "How long is half of the front neckline?",
        "From the centre front to the shoulder seam, along the edge.",
        "Stand the tape on its side, so that it follows the curve. Do not pull.",
        asked=_measured("neckline", True),
        sample=_LENGTH,
        example="7 1/4 in, 18.5 cm",
    ),
    Question(
        "back-half",
        "How long is half of the back neckline?",
        "From the centre back to the shoulder seam, along the edge.",
        "Stand the tape on its side, so that it follows the curve. Do not pull.",
        asked=_measured("neckline", True),
        sample=_LENGTH,
        example="3 3/4 in, 9.5 cm",
    ),
    Question(
        "front",
        "How long is the front of the armhole?",
        "From the underarm to the shoulder seam, along the edge.",
        "Stand the tape on its side, so that it follows the curve. Do not pull.",
        asked=_measured("armhole", True),
        sample=_LENGTH,
        example="8 1/4 in, 21 cm",
    ),
    Question(
        "back",
        "How long is the back of the armhole?",
        "From the underarm to the shoulder seam, along the edge.",
        "Stand the tape on its side, so that it follows the curve. Do not pull.\n"
        "(The word back alone takes you to the question before.)",
        asked=_measured("armhole", True),
        sample=_LENGTH,
        example="8 3/4 in, 22.5 cm",
    ),
    Question(
        "edge",
        "How long is the whole edge?",
        "All the way round, along the edge, without any seam allowance at its ends.",
        "Lay the edge flat and relaxed. If you measured it folded in half, write\nthe double.",
        asked=lambda answers: not in_parts(answers),
        sample=_LENGTH,
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
        usual=_usual("seam-line"),
        # the two lines beside a straight edge are equally long
        asked=lambda answers: kind_of(answers) != "straight",
    ),
    Question(
        "garment-allowance",
        "How wide is the garment's seam allowance at this edge?",
        "From the raw edge to the line of stitching; the band gets the same.",
        "Your pattern says it. On the raw cloth, measure from the edge inwards to\nwhere you will sew.",
        usual=_by_unit("1/4 in", "6 mm"),
        asked=is_band,
    ),
    Question(
        "end-allowance",
        "How much seam allowance did you measure along with each part?",
        "Where shoulder or side are not sewn yet; 0 if you left it out.",
        "Measured on pattern pieces or on cut cloth, a part still runs through the\n"
        "allowance of its shoulder or side seam. What is sewn away there comes off.",
        usual=_usual("0"),
        asked=in_parts,
        example="0, 3/8 in, 1 cm",
    ),
    Question(
        "shoulder-slope",
        "How steep is the shoulder seam?",
        "In degrees; it says how far the edge bends. The usual 20 will mostly do.",
        "0 would be a shoulder that runs level. A few degrees more or less hardly\nchange the strip.",
        usual=_usual("20"),
        asked=_is("place", "neckline", "armhole"),
    ),
    Question(
        "turning",
        "How far does the edge turn from one end to the other?",
        "In degrees: 90 is a quarter circle, 180 a half, 360 the whole way round.",
        "Think of walking along it: how far have you turned at its end? Less than\n"
        "nothing where the garment lies inside the bend, as at the rim of a hat.",
        asked=_is("place", "curved"),
        sample=_usual("0"),
        example="90, 180, 360",
    ),
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
        usual=_usual("pulled"),
    ),
    Question(
        "rest",
        "How long is the piece that you marked, at rest?",
        "Between two marks, in the direction that will lie along the edge.",
        "Any length will do; a longer one gives a better reading.",
        usual=_by_unit("4 in", "10 cm"),
        asked=_is("pull", "pulled"),
    ),
    Question(
        "pulled",
        "And how long is it when you pull it?",
        "As far as it goes without hurting, between the same two marks.",
        "Pull as you would when you put it on. It must not curl into a rope, nor\nlose its shape when you let go.",
        asked=_is("pull", "pulled"),
        sample=lambda answers: answers.get("rest"),
        example="6 in, 15 cm",
    ),
    Question(
        "stretch",
        "By how much does the strip's fabric stretch?",
        "50 % means that 4 in can be pulled to 6 in (10 cm to 15 cm).",
        "(pulled - rest) divided by rest. Write it with its sign: 50 %",
        asked=_is("pull", "percent"),
        sample=_usual("50 %"),
        example="50 %",
    ),
    Question(
        "width",
        "How wide shall it be when it is done?",
        "What you see on the right side; how wide to cut follows from it.",
        "A narrow strip lies flat more easily on a tight curve than a wide one.",
        usual=_usual_width,
        sample=_usual("1 mm"),
    ),
    Question(
        "cover",
        "How far shall the fold behind pass the stitching?",
        "A little more cloth behind makes sure that the stitches catch it.",
        "With 0 the fold just meets the stitching. It takes a steady hand to\ncatch it then.",
        usual=_by_unit("1/8 in", "3 mm"),
        asked=_is("finish", Finish.DOUBLE_FOLD.value, Finish.FRENCH.value),
    ),
    Question(
        "ratio",
        "How long shall the strip be against the edge?",
        "usual: 85 % for a band, 90 % for a binding; or a percentage of your own.",
        "On a bent edge you can also write flat: the strip then gets the length at\n"
        "which, by our model, its finished edge lies flat. If your pattern says\n"
        "something, trust it. Sew a trial on scrap in any case.",
        usual=_usual("usual"),
        example="usual, flat, 88 %",
    ),
    Question(
        "cut",
        "Shall the piece be drawn for folded cloth, or in its full length?",
        "On fold needs half the paper: its end lies on the fold of the cloth.",
        "Full length is for cutting through one layer, or if you do not like to\ncut on a fold.",
        choices=(Choice("on-fold", "half of it, to lie on the fold"), Choice("full-loop", "all of it")),
        usual=_usual("on-fold"),
    ),
    Question(
        "must-pass",
        "What must get through the closed edge?",
        "A length round the head, hand or heel, or whose it is; none: no matter.",
        "Write a length, 22 1/2 in, or whose: head, 24 months (up to 60 months);\n"
        "head, woman; head, man; hand, woman; heel, man. It is a help with the\n"
        "fit and no safety check.",
        usual=_usual(NONE),
        asked=_is("pull", "pulled", "percent"),
        example="head, 24 months; hand, woman; 22 1/2 in",
    ),
    Question(
        "garment-stretch",
        "By how much does the garment's own fabric stretch?",
        f"It must get through there as well; {UNKNOWN} if you have not measured it.",
        "Measured along the edge, like the strip's: (pulled - rest) divided by\nrest, such as 30 %.",
        usual=_usual(UNKNOWN),
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
        usual=_by_unit("letter", "a4"),
    ),
)
"""All questions, in the order in which they are asked."""
