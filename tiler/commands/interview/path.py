"""All that ``tiler start`` asks, and which of it belongs to the answers so far."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from tiler.commands.interview.question import (
    PLACES,
    UNKNOWN,
    Answers,
    Question,
    answer_is,
    described,
    may_stand,
    measured_vee,
    usually,
)
from tiler.commands.one_piece.options import ALL
from tiler.draft.contour.form import Form
from tiler.draft.strip.standing import Standing

_NOT_KNOWN = {
    "armhole": ("shape",),
    "leg-opening": ("shape",),
    "vee": ("list",),
    "curved": ("parts", "shape"),
}
"""What nobody knows of the edge in a place."""

_OWN = (
    Question(
        "Which edge gets the strip?",
        "It says how the edge is measured, and how it bends.",
        "A hem that bends clearly is a curved edge. A square\n"
        "neckline is a neckline whose shape is described: see\n"
        "examples/guide/shapes.md.",
        {
            "neckline": "round the neck, without a point",
            "vee": "neckline with a point in front",
            "armhole": "armhole without a sleeve",
            "cuff": "end of a sleeve",
            "waist": "waist of a skirt or trousers",
            "hem": "lower edge of a top or skirt",
            "leg": "end of a leg",
            "leg-opening": "leg opening of briefs or a bathing suit",
            "straight": "another straight edge",
            "curved": "another curved edge",
        },
        usual=usually("neckline"),
        words=tuple(PLACES),
        key="place",
    ),
    Question(
        "What do you know of the edge?",
        "In parts is better: the strip then gets its marks for the shoulder.",
        "A neckline in parts: half of the front and half of the back, each from\n"
        "the centre to the shoulder. An armhole in parts: front and back, each\n"
        "from the underarm to the shoulder.",
        {
            "parts": "front and back, each measured with a tape",
            "whole": "all the way round, measured in one",
            "shape": "how wide and how deep it is",
            "list": "parts of other names, as on a raglan or a front band",
        },
        usual=lambda answers: "whole" if answers.get("place") == "curved" else "parts",
        asked=answer_is("place", "neckline", "vee", "armhole", "leg-opening", "curved"),
        words=("parts", "whole", "shape", "list"),
        without=lambda answers: _NOT_KNOWN.get(answers.get("place", ""), ()),
        key="parts",
    ),
    Question(
        "How do you know how sharp the point is?",
        "The strip must give up some of its length there.",
        "The two lengths are easy to take with a tape; the angle is for those who\nhave the pattern and a protractor.",
        {"lengths": "how wide and deep the neckline is", "angle": "the angle between its two sides"},
        usual=usually("lengths"),
        asked=measured_vee,
        words=("lengths", "angle"),
        key="point",
    ),
    Question(
        "Shall that neckline be lowered or widened?",
        "Both necklines are then shown, and what the change does to the strip.",
        "For a pattern whose neckline you mean to change before you cut it.",
        {"no": "it stays as it is", "yes": "by lengths that are asked next"},
        usual=usually("no"),
        asked=described,
        words=("no", "yes"),
        key="change",
    ),
    Question(
        "How shall the band sit on the edge?",
        "One that stands up is cut longer, and as wide as it is to be high.",
        "A mock neck or a funnel stands up. A turtleneck is twice as high and folded\ndown over itself.",
        {
            Standing.FLAT: "flat, inside the edge",
            Standing.UP: "it stands up, as a mock neck",
            Standing.OVER: "it is folded down over itself, as a turtleneck",
        },
        usual=usually(Standing.FLAT.value),
        asked=may_stand,
        words=tuple(one.value for one in Standing),
        key="sits",
        optional=True,
    ),
    Question(
        "What do you know of how far the strip's fabric stretches?",
        "It decides how well the strip lies flat, and what the edge goes over.",
        "Mark 4 in (10 cm) along the direction that will lie along the edge, pull\n"
        "as far as it goes without hurting, and measure again between the marks.",
        {
            "pulled": "I measured a piece, at rest and pulled",
            "percent": "I know it as a percentage",
            UNKNOWN: "nothing yet",
        },
        usual=usually("pulled"),
        words=("pulled", "percent", UNKNOWN),
        key="pull",
    ),
)
"""The questions that stand for no option: their answers decide what else is asked."""

OWN_KEYS = tuple(question.key for question in _OWN)

_ORDER = (
    *("units", "place", "finish", "replaces", "replaces-width", "parts", "measured-on", "garment-allowance"),
    *("seam-allowance", "shape", "front-half", "back-half", "front", "back", "part", "edge", "end-allowance"),
    *("point", "neck-width", "front-depth", "back-depth", "point-angle", "change", "lower-front", "lower-back"),
    *(
        "widen",
        "shoulder-slope",
        "turning",
        "front-ratio",
        "back-ratio",
        "form",
        "sits",
        "corner",
        "pull",
        "rest",
        "pulled",
    ),
    *(
        "stretch",
        "thickness",
        "elastic",
        "elastic-ratio",
        "elastic-overlap",
        "ends",
        "ends-allowance",
        "cut-on",
        "free-before",
        "free-after",
        "width",
        "cover",
        "ratio",
        "body",
        "body-ease",
    ),
    *("shorten", "lengthen", "on", "buttons", "buttons-on", "buttonholes", "first-button", "last-button"),
    *("button-width", "cut"),
    *("cloth-width", "section", "must-pass"),
    *("garment-stretch", "garment-lengthwise", "garment-thickness", "title", "paper"),
)

_BY_KEY = {question.key: question for question in (*_OWN, *(row.question for row in ALL if row.question))}

_OF_STRIPS = (
    *("sits", "corner", "front-ratio", "back-ratio", "elastic", "elastic-ratio", "elastic-overlap"),
    *("ratio", "body", "body-ease", "shorten", "lengthen", "on"),
    *("section", "buttons", "buttons-on", "first-button", "last-button", "button-width", "buttonholes"),
)
"""What is asked of a strip that is cut straight, and not of a band that is cut to the shape of its edge."""


def _of_straight(question: Question) -> Question:
    """Return a question of a strip that is cut straight, which is not asked of a contour band."""
    asked = question.asked
    return replace(question, asked=lambda answers: answers.get("form") != Form.CONTOUR and asked(answers))


QUESTIONS = tuple(_of_straight(_BY_KEY[key]) if key in _OF_STRIPS else _BY_KEY[key] for key in _ORDER)
"""All questions, in the order in which they are asked."""


def path(answers: Answers) -> Iterator[Question]:
    """Yield the questions that belong to these answers, in their order; optional ones only where they are answered."""
    return (question for question in known(answers) if not question.optional or question.key in answers)


def known(answers: Answers) -> Iterator[Question]:
    """Yield all questions that have a meaning after these answers, in their order."""
    return (question for question in QUESTIONS if question.asked(answers))
