"""The dialogue of ``tiler start``: questions on stderr, a line of stdin for each answer.

An empty line takes the answer that is offered.  ``back`` goes back one question, ``help``
or ``?`` says more, ``answers`` lists what was said, ``quit`` ends.  The name of an earlier
answer, with or without a new one behind it, corrects that answer; those after it stay as
far as they still fit.  After every answer all of them are handed to ``keep``.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace

from tiler.commands.interview.asking import ALONE, BACK, DRAW, NO, ask, tell, tell_wrapped
from tiler.commands.interview.naming import Correction, before, following, still_fitting
from tiler.commands.interview.path import known, path
from tiler.commands.interview.piece import judged
from tiler.commands.interview.question import Answers, Question
from tiler.commands.interview.reading import doubts, reading
from tiler.errors import SpecError
from tiler.sentence import Place


@dataclass
class Conversation:
    """What was answered, what was answered before and is offered again, and where every answer is kept."""

    answers: dict[str, str]
    earlier: dict[str, str]
    keep: Callable[[Answers], None]
    doubted: set[str] = field(default_factory=set)

    def interview(self) -> None:
        """Ask until every question on the path has its answer."""
        while question := following(self.answers):
            if not self._ask_once(question, self.earlier.get(question.key)):
                tell("  This is the first question.")

    def confirm(self) -> str | None:
        """Ask whether the figures are to be drawn; nothing where an answer was changed instead."""
        reply = self._reply(DRAW, None)
        if isinstance(reply, Correction):
            self._correct(reply)
            return None
        if reply == BACK:
            self._step_back(None)
            return None
        return reply

    def _ask_once(self, question: Question, offered: str | None) -> bool:
        """Ask one question and take what is said; tells whether there was a question before, where one was wanted."""
        return self._follow(question, self._reply(question, offered))

    def _follow(self, question: Question, reply: str | Correction) -> bool:
        """Do what was said to a question."""
        if isinstance(reply, Correction):
            self._correct(reply)
        elif reply == BACK:
            return self._step_back(question)
        else:
            self._take(question, reply)
            self._doubt(question)
        return True

    def _doubt(self, question: Question) -> None:
        """Ask once about each number that may be a slip: it is kept, or answered anew."""
        found = [text for text in doubts(question, self.answers) if text not in self.doubted]
        if not found:
            return
        self.doubted.update(found)
        for text in found:
            tell_wrapped(text)
        tell("  Is that right? Enter keeps it; or type the right one, or another's name.")
        answer = self.answers[question.key]
        reply = self._reply(question, answer, again=True)
        if reply != answer:
            self._follow(question, reply)

    def _reply(self, question: Question, offered: str | None, *, again: bool = False) -> str | Correction:
        own = {} if question.key in ALONE else before(question, self.answers)
        return ask(question, own, offered, self.answers, again=again)

    def _take(self, question: Question, answer: str) -> None:
        given = {**self.answers, question.key: answer}
        fitting = still_fitting(given)
        lost = [key for key in given if key not in fitting]
        self.earlier.update({key: given[key] for key in lost})
        self.answers.clear()
        self.answers.update(fitting)
        # only what has been asked can be missed: a question that does not arise any more is none
        again = [key for key in lost if key in {one.key for one in path(fitting)}]
        if again:
            tell_wrapped(f"Asked again, since it no longer fits: {', '.join(again)}.")
        self.keep({**self.earlier, **self.answers})

    def _correct(self, wanted: Correction) -> None:
        """Change an answer at once, or ask for it."""
        question = wanted.question
        if not wanted.text:
            self._ask_once(question, self.answers.get(question.key))
            return
        try:
            answer = judged(question, wanted.text, before(question, self.answers))
        except SpecError as fault:
            tell_wrapped(str(fault))
            return
        self._take(question, answer)
        told = reading(question, "", answer, self.answers) if question.key in self.answers else ""
        tell_wrapped(f"{question.key} = {told or answer}")
        self._doubt(question)

    def _step_back(self, question: Question | None) -> bool:
        """Take back the answer before a question, to offer it again; tell whether there was one."""
        given = list(self.answers if question is None else before(question, self.answers))
        if not given:
            return False
        key = given[-1]
        self.earlier[key] = self.answers.pop(key)
        return True


def taken_up(kept: Mapping[str, str]) -> dict[str, str]:
    """Return the kept answers that still fit."""
    return still_fitting(kept)


def answered(given: Mapping[str, str], file: str) -> dict[str, str]:
    """Answer every question from a file of answers, what is missing by the usual answer.

    Raises :class:`SpecError` with ``file`` and the key before what is wrong.
    """
    answers: dict[str, str] = {}
    while question := _following(answers, given):
        answer = given.get(question.key, question.usual(answers))
        if answer is None:
            example = question.example_in(answers) or "…"
            why = f'is missing; write {question.key} = "{example}" ({question.asks})'
            raise SpecError(why, Place(file, (question.key,)))
        try:
            answers[question.key] = judged(question, answer, answers)
        except SpecError as fault:
            raise type(fault)(fault.why, replace(fault.place or Place(""), source=file)) from fault
    return answers


def _following(answers: Answers, given: Mapping[str, str]) -> Question | None:
    """Return the next question of a file of answers, which asks an optional one by answering it."""
    return next(
        (one for one in known(answers) if one.key not in answers and (not one.optional or one.key in given)), None
    )


def confirmed(question: Question) -> str:
    """Ask a question that is answered by yes or no; return ``back`` as well."""
    reply = ask(question, {}, None, {})
    return reply if isinstance(reply, str) else NO
