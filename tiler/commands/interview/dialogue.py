"""The dialogue of ``tiler start``: questions on stderr, a line of stdin for each answer.

An empty line takes the answer that is offered.  ``back`` goes back one question, ``help``
or ``?`` says more, ``answers`` lists what was said, ``quit`` ends.  The name of an earlier
answer, with or without a new one behind it, corrects that answer; those after it stay as
far as they still fit.  After every answer all of them are handed to ``keep``.
"""

from __future__ import annotations

import io
import sys
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace

from tiler.accents import composed
from tiler.commands.interview.naming import (
    Correction,
    addable,
    before,
    correction,
    following,
    still_fitting,
)
from tiler.commands.interview.path import known, path
from tiler.commands.interview.piece import judged
from tiler.commands.interview.question import Answers, Question, usually
from tiler.commands.interview.reading import advice, reading
from tiler.commands.output.terminal import say
from tiler.commands.output.wrapping import wrapped
from tiler.errors import SpecError
from tiler.sentence import Place

BACK, MORE, LIST, QUIT = "back", ("?", "help"), "answers", "quit"
YES, NO = "yes", "no"
_YES_NO = (YES, NO)

DRAW = Question(
    "Shall these figures be drawn, yes or no?",
    "The PDF is drawn, measured, and only then put in place, with its spec.",
    "yes draws it; no leaves it for another time and keeps your answers; back\n"
    "goes back to the last question. The name of an answer changes that answer,\n"
    "such as width, or width 1/2 in; answers lists them all.",
    usual=usually(YES),
    words=_YES_NO,
    key="draw",
)
GO_ON = Question(
    "Shall we go on from there, yes or no?",
    "yes keeps those answers and asks the rest; no begins anew.",
    "The answers are kept until spec and PDF are written. If you begin anew,\nthey are gone with your first answer.",
    usual=usually(YES),
    words=_YES_NO,
    key="go-on",
)
_ALONE = (DRAW.key, GO_ON.key)
"""Questions that are about the conversation itself."""


class QuitError(Exception):
    """Whoever answers wants to stop."""


@dataclass
class Conversation:
    """What was answered, what was answered before and is offered again, and where every answer is kept."""

    answers: dict[str, str]
    earlier: dict[str, str]
    keep: Callable[[Answers], None] = field(default=lambda _answers: None)

    def interview(self) -> None:
        """Ask until every question on the path has its answer."""
        while question := following(self.answers):
            if not self._ask_once(question, self.earlier.get(question.key)):
                _tell("  This is the first question.")

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
        reply = self._reply(question, offered)
        if isinstance(reply, Correction):
            self._correct(reply)
        elif reply == BACK:
            return self._step_back(question)
        else:
            self._take(question, reply)
        return True

    def _reply(self, question: Question, offered: str | None) -> str | Correction:
        own = {} if question.key in _ALONE else before(question, self.answers)
        return _ask(question, own, offered, self.answers)

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
            _tell_wrapped(f"Asked again, since it no longer fits: {', '.join(again)}.")
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
            _tell_wrapped(str(fault))
            return
        self._take(question, answer)
        told = reading(question, "", answer, self.answers) if question.key in self.answers else ""
        _tell_wrapped(f"{question.key} = {told or answer}")

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
    reply = _ask(question, {}, None, {})
    return reply if isinstance(reply, str) else NO


def introduce() -> None:
    """Say how to answer."""
    _tell("A few questions about one edge. Enter takes the answer between [ and ],")
    _tell("help says more, back goes back one question. The name behind a question")
    _tell("changes its answer later: width, or width 1/2 in; answers lists them.")
    _tell("Nothing is drawn before you have seen the figures; quit keeps your answers.")
    if isinstance(sys.stdin, io.TextIOWrapper):
        # a sign that cannot be read is then a wrong answer, asked again, instead of the end
        sys.stdin.reconfigure(errors="replace")


def _ask(question: Question, own: Answers, offered: str | None, answers: Answers) -> str | Correction:
    """Ask until the answer is right; ``own`` are the answers before it, ``answers`` all of them.

    Returns ``back`` where that was said, and what is to be corrected where a name was.
    """
    offered = _still_right(question, own, offered) or question.usual(own)
    for line in _asked(question, own, answers):
        _tell(line)
    while True:
        text = _line(f"  [{offered}] > " if offered else "  > ")
        said = text.casefold()
        if said == BACK:
            return BACK
        if said == QUIT:
            raise QuitError
        if said in MORE:
            _tell_more(question)
            continue
        if said == LIST:
            _tell_answers(answers)
            continue
        free = question.key == "title"
        wanted = correction(text, answers, spelled=True) if text else None
        if wanted and (free or "=" in text):
            return wanted
        try:
            answer = judged(question, text or offered or "", own)
        except SpecError as fault:
            wanted = correction(text, answers) if text else None
            if wanted:
                return wanted
            # the question itself is on the screen already
            if question is DRAW:
                _tell_wrapped(f'"{text[:60]}" is not one of the answers; write yes, no, or the name of an answer')
                continue
            _tell_wrapped(fault.why if fault.place == Place("", (question.key,)) else str(fault))
            continue
        understood = reading(question, text, answer, {**own, question.key: answer})
        if understood:
            _tell_wrapped(understood)
        return answer


def _still_right(question: Question, answers: Answers, offered: str | None) -> str | None:
    """Return an answer of before unless another one has made it wrong meanwhile."""
    try:
        return offered and judged(question, offered, answers)
    except SpecError:
        return None


def _asked(question: Question, own: Answers, answers: Answers) -> Iterator[str]:
    yield ""
    yield question.asks if question.key in _ALONE else f"{question.asks} ({question.key})"
    yield f"  {question.why}"
    if question.key == "ratio":
        yield from (line.text for line in wrapped(advice(own), "  ", "  "))
    more = addable(answers) if question is DRAW else []
    if more:
        yield from (line.text for line in wrapped(f"By name you can add: {_listed(more)}.", "  ", "  "))
    if question.words != _YES_NO:
        words = question.words_in(own)
        widest = max(map(len, words), default=0)
        for number, word in enumerate(words, 1):
            yield f"    {number}  {word:<{widest}}  {question.meaning(word)}"


_ADDED = {"shorten": "shorten or lengthen (after a fitting)", "lengthen": ""}


def _listed(names: list[str]) -> str:
    return ", ".join(shown for name in names if (shown := _ADDED.get(name, name)))


def _tell_more(question: Question) -> None:
    for line in question.more.splitlines():
        _tell(f"  {line}")
    if question.example:
        _tell(f"  For instance: {question.example}")


def _tell_answers(answers: Answers) -> None:
    """List what was answered, each under its name."""
    for key, answer in answers.items():
        _tell(f"  {key:<18} {answer}")
    if not answers:
        _tell("  There are no answers yet.")


def _line(prompt: str) -> str:
    say(prompt, err=True, end="")
    # where the input is closed there is no stream at all
    line = sys.stdin.readline() if sys.stdin else ""
    if not line:
        raise EOFError
    text = composed(line.strip())
    if not sys.stdin.isatty():
        # what was read from a file or a pipe would not be seen otherwise
        _tell(text)
    return text


def _tell_wrapped(sentence: str) -> None:
    for part in wrapped(sentence, "  ", "  "):
        _tell(part.text)


def _tell(line: str) -> None:
    say(line, err=True)
