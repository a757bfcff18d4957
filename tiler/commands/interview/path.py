"""All that ``tiler start`` asks, and which of it belongs to the answers so far."""

from __future__ import annotations

from collections.abc import Iterator

from tiler.commands.interview.question import PLACES, UNKNOWN, Answers, Question, answer_is, usually
from tiler.commands.one_piece.options import ALL

_OWN = (
    Question(
        "Which edge gets the strip?",
        "It says how the edge is measured, and how it bends.",
        "A leg opening or a hem that bends clearly is a curved edge. A neckline\n"
        "with one sharp point, a vee, needs more than is asked here: see\n"
        "examples/guide/shapes.md.",
        {
            "neckline": "round the neck",
            "armhole": "armhole without a sleeve",
            "cuff": "end of a sleeve",
            "waist": "waist of a skirt or trousers",
            "hem": "lower edge of a top or skirt",
            "leg": "end of a leg",
            "straight": "another straight edge",
            "curved": "another curved edge",
        },
        usual=usually("neckline"),
        words=tuple(PLACES),
        key="place",
    ),
    Question(
        "Did you measure front and back, or the whole edge in one?",
        "In parts is better: the strip then gets its marks for the shoulder.",
        "A neckline in parts: half of the front and half of the back, each from\n"
        "the centre to the shoulder. An armhole in parts: front and back, each\n"
        "from the underarm to the shoulder.",
        {"parts": "front and back", "whole": "all the way round, in one"},
        usual=usually("parts"),
        asked=answer_is("place", "neckline", "armhole"),
        words=("parts", "whole"),
        key="parts",
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
    *("units", "place", "finish", "parts", "front-half", "back-half", "front", "back", "edge", "measured-on"),
    *("garment-allowance", "end-allowance", "shoulder-slope", "turning", "pull", "rest", "pulled", "stretch"),
    *("width", "cover", "ratio", "cut", "must-pass", "garment-stretch", "title", "paper"),
)

_BY_KEY = {question.key: question for question in (*_OWN, *(row.question for row in ALL if row.question))}

QUESTIONS = tuple(_BY_KEY[key] for key in _ORDER)
"""All questions, in the order in which they are asked."""


def path(answers: Answers) -> Iterator[Question]:
    """Yield the questions that belong to these answers, in their order."""
    return (question for question in QUESTIONS if question.asked(answers))
