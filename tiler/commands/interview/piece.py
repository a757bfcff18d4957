"""From the answers of ``tiler start`` to the piece: the tables that a spec would hold, judged by the reader of specs.

Every answer is judged as soon as it is given.  What is still to come is stood in for by
the samples of the questions, so that the sentence about a wrong answer is a spec's own.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from tiler.commands.interview.path import OWN_KEYS, path
from tiler.commands.interview.question import Answers, Question, described, is_band, kind_of
from tiler.commands.one_piece.draft import said_in
from tiler.commands.one_piece.option import PieceOption
from tiler.commands.one_piece.options import options_of
from tiler.commands.one_piece.table import FabricNames, fabric_names, piece_tables
from tiler.commands.one_piece.words import OPTIONS, OptionWords
from tiler.draft.compute import figure_job
from tiler.draft.edge.seam_line import MeasuredOn
from tiler.draft.edge.shape import Shape
from tiler.draft.figures import Figures
from tiler.draft.spec.read import Job, read_tables
from tiler.draft.spec.table import LONGEST_TEXT, nearest
from tiler.draft.spec.typed import is_length, named_lengths
from tiler.draft.strip.finish import Finish
from tiler.draft.strip.standing import Standing
from tiler.errors import SpecError
from tiler.sentence import Phrase, Place

_NOT_GIVEN = (*OWN_KEYS, "finish")
"""What is asked but states no value by itself."""

_NAMES = {
    "cuff": ("Cuff", "Cuff binding"),
    "waist": ("Waistband", "Waist binding"),
    "hem": ("Hem band", "Hem binding"),
    "leg": ("Leg band", "Leg binding"),
    "leg-opening": ("Leg band", "Leg binding"),
}
"""What a band and a binding are called there; of other edges the kind gives the name."""

_AS_LENGTH = {"ratio": "loop", "elastic-ratio": "elastic-length"}
"""What a length states that answers a question about a share."""

_ASKED_AS = {length: share for share, length in _AS_LENGTH.items()}
"""The question that a value answers which is stated under another key."""

_PAIRS = ("cuff", "leg", "leg-opening")
"""Of these a garment has two, as it has two armholes."""

_PHRASES = {
    Phrase.NAME_FABRIC: "give stretch",
    Phrase.NAME_GARMENT_FABRIC: "measure the garment's fabric too,",
    Phrase.MEASURE_FABRIC: "measure how far the fabric stretches",
    Phrase.CLOTH_WIDTH: "give cloth-width",
    Phrase.STATED: "as given",
    Phrase.RATIOS: '"advised", "usual" or a percentage',
}


class QuestionWords(OptionWords):
    """The keys of questions for what the engine says of a spec."""

    def name(self, option: PieceOption) -> str:
        """Return the key of the question, which has no dashes."""
        key = option.names[0].removeprefix("--")
        return _ASKED_AS.get(key, key)

    def place(self, option: PieceOption) -> Place:
        """Return the question as the place of a fault."""
        return Place("", (self.name(option),))

    def phrase(self, phrase: Phrase) -> str:
        """Return what is said in place of a phrase about tables."""
        return _PHRASES[phrase]


@dataclass(frozen=True)
class StartedPiece:
    """The piece that the answers state: its tables, what was read from them, and its figures."""

    finish: Finish
    options: Sequence[PieceOption]
    names: FabricNames
    tables: dict[str, Any]
    job: Job
    figures: tuple[Figures, ...]
    words: QuestionWords


def started_piece(answers: Answers) -> StartedPiece:
    """Work out the piece; raises :class:`SpecError` with the key of a question before what is wrong."""
    finish = Finish(answers["finish"])
    options = [option for group in options_of(finish.is_band).values() for option in group]
    given = _given(answers)
    names = fabric_names(given)
    words = QuestionWords(options, names)
    with said_in(words):
        tables = piece_tables(options, given, finish)
        job = read_tables(tables, OPTIONS)
        figures = tuple(words.figures(piece) for piece in figure_job(job))
        return StartedPiece(finish, options, names, tables, job, figures, words)


def judged(question: Question, text: str, answers: Answers) -> str:
    """Return the answer as it is kept, after those before it.

    Raises :class:`SpecError` with the key before what is wrong.
    """
    answer, place = " ".join(text.split()), Place("", (question.key,))
    if not answer:
        raise SpecError(f"an answer is needed here{_shown_example(question)}", place)
    if len(answer) > LONGEST_TEXT:
        raise SpecError(f"has {len(answer)} characters; at most {LONGEST_TEXT} fit", place)
    if not answer.isprintable() or "\ufffd" in answer:
        raise SpecError("holds a sign that does not print; write it again in plain letters", place)
    if question.words:
        answer = _chosen(question, answer, place, answers)
    elif answer.casefold() in (*question.also, *question.nothing):
        answer = answer.casefold()
    else:
        answer = question.reads(answer, answers.get("units", "in"))
    if "finish" not in {**answers, question.key: answer}:
        # units and place, which nothing before them can contradict
        return answer
    trial = {**answers, question.key: answer}
    if _trimmed_on_the_raw_edge(trial):
        raise SpecError(_ON_THE_RAW_EDGE, place)
    _work_out(tuple(trial.items()))
    return answer


@lru_cache(256)
def _work_out(trial: tuple[tuple[str, str], ...]) -> None:
    """Work out the piece, once for the same answers: after each one those before it are judged again."""
    supposed_piece(dict(trial))


def supposed_piece(answers: Answers) -> StartedPiece:
    """Work out the piece with samples for what is still to come."""
    return started_piece({**answers, **_samples(answers)})


def _trimmed_on_the_raw_edge(answers: Answers) -> bool:
    return (
        not is_band(answers)
        and answers.get("replaces") == "allowance"
        and answers.get("measured-on") == MeasuredOn.CUT_EDGE
    )


_ON_THE_RAW_EDGE = (
    "the allowance is trimmed off for a binding, so its edge is the pattern's seam line: measure there and answer "
    "seam-line; if the raw edge stays where it is, write replaces = unknown"
)


def _given(answers: Answers) -> dict[str, Any]:
    """Return the values of the options by parameter."""
    place = answers["place"]
    given: dict[str, Any] = {"kind": kind_of(answers)}
    if place in _NAMES:
        given["name"] = _NAMES[place][0 if is_band(answers) else 1]
    if place in _PAIRS:
        given["quantity"] = "2"
    for question in path(answers):
        answer = answers.get(question.key)
        if answer is None or question.key in _NOT_GIVEN or answer in question.nothing:
            continue
        key = _AS_LENGTH.get(question.key, question.key) if is_length(answer) else question.key
        given[key.replace("-", "_")] = named_lengths(answer) if key == "part" else answer
    if (sits := Standing(answers.get("sits", Standing.FLAT))).stands:
        given |= {"stands": True, "turned_over": sits is Standing.OVER}
    if described(answers) and place == "vee":
        given["shape"] = Shape.VEE.value
    return given


def _samples(answers: Answers) -> dict[str, str]:
    """Return what stands in for the answers that are still to come."""
    samples: dict[str, str] = {}
    for question in path(answers):
        sample = question.sample(answers)
        if question.key not in answers and sample is not None:
            samples[question.key] = sample
    return samples


def _chosen(question: Question, answer: str, place: Place, answers: Answers) -> str:
    words = question.words_in(answers)
    said = answer.casefold().replace(" ", "-")
    if said in words:
        return said
    if re.fullmatch("[1-9][0-9]?", said) and int(said) <= len(words):
        return words[int(said) - 1]
    begun = [word for word in words if word.startswith(said)] or [word for word in words if said in word.split("-")]
    meant = [word for word in words if question.meaning(word).casefold() == answer.casefold()]
    if len(begun) == 1 or meant:
        return (meant or begun)[0]
    raise SpecError(f'"{answer[:60]}" is not one of the answers; {nearest(said, words)}', place)


def _shown_example(question: Question) -> str:
    return f"; for instance {question.example}" if question.example else ""
