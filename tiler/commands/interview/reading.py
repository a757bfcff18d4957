"""How an answer was understood, said back where that differs from what was typed."""

from __future__ import annotations

from tiler.commands.interview.piece import supposed_piece
from tiler.commands.interview.question import Answers, Question
from tiler.draft.edge.seam_line import EdgeSpec
from tiler.draft.fabric import stretch_of
from tiler.draft.label import good_lengths
from tiler.lengths import both, parse_length, percent
from tiler.sentence import Place

LAST_OF_EDGE = ("back-half", "back", "end-allowance", "back-depth", "lower-front", "lower-back", "widen")
"""Answers after which the whole of an edge in parts is told."""


def reading(question: Question, typed: str, answer: str, answers: Answers) -> str:
    """Return how the answer to a question was understood; nothing where that is what was typed.

    ``answers`` holds the answer already; ``typed`` is empty where an offered one was taken.
    """
    said = [answer] if typed and " ".join(typed.split()).casefold() != answer.casefold() else []
    whole = _whole(question, answers)
    if whole:
        return "; ".join([said[0] if said else answer, whole])
    return "; ".join(said)


def advice(answers: Answers) -> str:
    """Say what length is advised and between which lengths the strip is good, before its length is asked for."""
    piece = supposed_piece({key: answer for key, answer in answers.items() if key not in _AFTER_ADVICE})
    (figures,) = piece.figures
    units, ratio = piece.job.edition.units, figures.ratio
    length = both(ratio.advised * figures.edge.edge_mm, units)
    assumed = "" if figures.fabric else ", for 50 % stretch"
    return f"Advised{assumed}: {length}, {percent(ratio.advised)} of the edge; {good_lengths(figures, units)}."


_DOUBTED = (
    *LAST_OF_EDGE,
    *("edge", "shoulder-slope", "pulled", "stretch", "width", "ratio", "body-ease", "on", "garment-stretch"),
)
"""Answers after which the numbers are looked at: all that belongs to them is known then."""


_COMPLETED_BY = {
    **dict.fromkeys(("front-half", "front", "neck-width", "front-depth"), ("back-half", "back", "back-depth")),
    "rest": ("pulled",),
}
"""Answers that may be corrected once one of these is known."""


def doubts(question: Question, answers: Answers) -> tuple[str, ...]:
    """Return what may be a slip once this question is answered, each in a sentence."""
    key = question.key
    is_last = key in _DOUBTED or any(last in answers for last in _COMPLETED_BY.get(key, ()))
    if key not in answers or not is_last:
        return ()
    return supposed_piece(answers).figures[0].doubts


_AFTER_ADVICE = ("ratio", "body", "body-ease", "shorten", "lengthen", "on", "cut", "must-pass")


def _whole(question: Question, answers: Answers) -> str:
    """Return the whole that an answer completes: an edge of its parts, a stretch of its two lengths."""
    units, key = answers.get("units", "in"), question.key
    if key == "pulled":
        return stretch_words(answers["rest"], answers["pulled"], units)
    if key not in LAST_OF_EDGE or (key == "end-allowance" and not answers[key].strip("0. ")):
        return ""
    return whole_words(supposed_piece(answers).job.pieces[0].edge, units)


def whole_words(edge: EdgeSpec, units: str) -> str:
    """Say how long an edge is that was given in parts, along the line that was measured."""
    length = edge.times * sum(part.length_mm for part in edge.parts)
    return f"whole {edge.kind.value} {both(length, units)}"


def stretch_words(rest: str, pulled: str, units: str | None) -> str:
    """Say by how much a fabric stretches of which a piece was measured twice."""
    lengths = (parse_length(text, units, Place("", (key,))) for key, text in (("rest", rest), ("pulled", pulled)))
    return f"it stretches by {percent(stretch_of(*map(float, lengths)))}"
