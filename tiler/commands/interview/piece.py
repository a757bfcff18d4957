"""From the answers of ``tiler start`` to the piece: the tables that a spec would hold, judged by the reader of specs.

Every answer is judged as soon as it is given.  What is still to come is stood in for by
the samples of the questions, so that the sentence about a wrong answer is a spec's own.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from tiler.commands.interview.path import path
from tiler.commands.interview.question import NONE, UNKNOWN, Answers, Question, is_band, kind_of
from tiler.commands.one_piece.draft import said_in
from tiler.commands.one_piece.options import PieceOption, options_of
from tiler.commands.one_piece.table import FabricNames, fabric_names, piece_tables
from tiler.commands.one_piece.words import PLACE, OptionWords
from tiler.draft.compute import figure_job
from tiler.draft.figures import Figures
from tiler.draft.spec.read import Job, read_tables
from tiler.draft.spec.table import LONGEST_TEXT, nearest
from tiler.draft.strip.finish import Finish
from tiler.errors import SpecError

_NOT_OPTIONS = ("place", "parts", "pull", "finish")
_LEFT_OUT = {"must-pass": NONE, "garment-stretch": UNKNOWN}
_NAMES = {
    "cuff": ("Cuff", "Cuff binding"),
    "waist": ("Waistband", "Waist binding"),
    "hem": ("Hem band", "Hem binding"),
    "leg": ("Leg band", "Leg binding"),
}
"""What a band and a binding are called there; of other edges the kind gives the name."""

_PAIRS = ("cuff", "leg")
"""Of these a garment has two, as it has two armholes."""

_PLAINER = {
    '"usual", a percentage, or give body': '"usual" or a percentage',
    "give garment-stretch to know": "measure the garment's fabric too, to know",
    "measure the fabric and give stretch": "measure how far the fabric stretches",
}
"""What speaks of an option, in the words of the questions."""

_DASHES = re.compile(r"(?<![\w-])--(?=[a-z])")


class QuestionWords(OptionWords):
    """The words of the spec as keys of questions, which have no dashes before them."""

    def fault(self, message: str) -> str:
        """Say a message about a key of the spec as one about a question."""
        return _plainer(super().fault(message))

    def advice(self, text: str, table: str = "") -> str:
        """Turn the keys in a text into those of questions."""
        return _plainer(super().advice(text, table))


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
        job = read_tables(tables, PLACE)
        return StartedPiece(finish, options, names, tables, job, figure_job(job), words)


def judged(question: Question, text: str, answers: Answers) -> str:
    """Give the answer as it is kept, after those before it.

    Raises :class:`SpecError` with the key before what is wrong.
    """
    answer = " ".join(text.split())
    if not answer:
        raise SpecError(f"{question.key}: an answer is needed here{_shown_example(question)}")
    if len(answer) > LONGEST_TEXT:
        raise SpecError(f"{question.key}: has {len(answer)} characters; at most {LONGEST_TEXT} fit")
    if not answer.isprintable() or "\ufffd" in answer:
        raise SpecError(f"{question.key}: holds a sign that does not print; write it again in plain letters")
    if question.choices:
        return _chosen(question, answer)
    if answer.casefold() in (NONE, UNKNOWN, "usual", "flat"):
        answer = answer.casefold()
    trial = {**answers, question.key: answer}
    started_piece({**trial, **_samples(trial)})
    return answer


def _plainer(text: str) -> str:
    text = _DASHES.sub("", text)
    for option, question in _PLAINER.items():
        text = text.replace(option, question)
    return text


def _given(answers: Answers) -> dict[str, Any]:
    """Give the values of the options by parameter."""
    place = answers["place"]
    given: dict[str, Any] = {"kind": kind_of(answers)}
    if place in _NAMES:
        given["name"] = _NAMES[place][0 if is_band(answers) else 1]
    if place in _PAIRS:
        given["quantity"] = "2"
    for question in path(answers):
        answer = answers.get(question.key)
        if answer is None or question.key in _NOT_OPTIONS or answer == _LEFT_OUT.get(question.key):
            continue
        given[question.key.replace("-", "_")] = answer
    return given


def _samples(answers: Answers) -> dict[str, str]:
    """Give what stands in for the answers that are still to come."""
    samples: dict[str, str] = {}
    for question in path(answers):
        sample = question.sample(answers)
        if question.key not in answers and sample is not None:
            samples[question.key] = sample
    return samples


def _chosen(question: Question, answer: str) -> str:
    words = [choice.word for choice in question.choices]
    said = answer.casefold().replace(" ", "-")
    if said in words:
        return said
    if re.fullmatch("[1-9]", said) and int(said) <= len(words):
        return words[int(said) - 1]
    begun = [word for word in words if word.startswith(said)]
    meant = [choice.word for choice in question.choices if choice.meaning.casefold() == answer.casefold()]
    if len(begun) == 1 or meant:
        return (meant or begun)[0]
    raise SpecError(f'{question.key}: "{answer[:60]}" is not one of the answers; {nearest(said, words)}')


def _shown_example(question: Question) -> str:
    return f"; for instance {question.example}" if question.example else ""
