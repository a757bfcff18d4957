"""Answers called by the name of their question: to correct one, or to give one that is not asked for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from tiler.commands.interview.path import QUESTIONS, known, path
from tiler.commands.interview.piece import judged
from tiler.commands.interview.question import Answers, Question
from tiler.errors import SpecError


@dataclass(frozen=True)
class Correction:
    """A question called by its name, and what was said behind it; empty where it is to be asked."""

    question: Question
    text: str


def correction(text: str, answers: Answers, *, spelled: bool = False) -> Correction | None:
    """Return what a line corrects: ``front-half``, ``front half 18 cm``, ``fro = 18 cm``; nothing where no name is.

    A name may be short where only one answer begins so.  ``spelled`` asks for an equals sign or the whole name
    alone, where any other line is an answer of its own.
    """
    before, sign, after = (part.strip() for part in text.partition("="))
    names = nameable(answers)
    if sign or spelled:
        found = _called(before, names) if sign else names.get(_key(before))
        return Correction(found, after) if found else None
    words = text.split()
    for count in range(len(words), 0, -1):
        found = _called(" ".join(words[:count]), names)
        if found:
            return Correction(found, " ".join(words[count:]))
    return None


def nameable(answers: Answers) -> dict[str, Question]:
    """Return the questions that can be called by name: those answered, and those that are asked only so."""
    return {question.key: question for question in known(answers) if question.optional or question.key in answers}


def addable(answers: Answers) -> list[str]:
    """Return the names of what can still be said and is not asked for."""
    return [question.key for question in known(answers) if question.optional and question.key not in answers]


def before(question: Question, answers: Answers) -> dict[str, str]:
    """Return the answers to what is asked before this question."""
    keys = [one.key for one in QUESTIONS]
    earlier = keys[: keys.index(question.key)]
    return {key: answers[key] for key in earlier if key in answers}


def still_fitting(answers: Mapping[str, str]) -> dict[str, str]:
    """Return the answers in the order of asking, without those that no longer fit the ones before them."""
    kept: dict[str, str] = {}
    for question in QUESTIONS:
        if question.key in answers and question.asked(kept):
            try:
                kept[question.key] = judged(question, answers[question.key], kept)
            except SpecError:
                continue
    return kept


def following(answers: Answers) -> Question | None:
    """Return the first question without an answer."""
    return next((question for question in path(answers) if question.key not in answers), None)


def _called(name: str, names: Mapping[str, Question]) -> Question | None:
    key = _key(name)
    begun = [one for one in names if one.startswith(key)]
    return names.get(key) or (names[begun[0]] if len(begun) == 1 and key else None)


def _key(name: str) -> str:
    return "-".join(name.casefold().split())
