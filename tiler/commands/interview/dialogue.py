"""The dialogue of ``tiler start``: questions on stderr, a line of stdin for each answer.

``back`` goes back one question, ``?`` says more, an empty line takes the answer that is
offered.  After every answer all of them are handed to ``keep``.
"""

from __future__ import annotations

import io
import sys
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace

from tiler.accents import composed
from tiler.commands.interview.path import path
from tiler.commands.interview.piece import judged
from tiler.commands.interview.question import Answers, Question, usually
from tiler.commands.output.terminal import say
from tiler.commands.output.wrapping import wrapped
from tiler.errors import SpecError
from tiler.sentence import Place

BACK, MORE = "back", "?"
YES, NO = "yes", "no"
_YES_NO = (YES, NO)

DRAW = Question(
    "Shall these figures be drawn, yes or no?",
    "The PDF is drawn, measured, and only then put in place, with its spec.",
    "yes draws it; no leaves it for another time and keeps your answers; back\ngoes back to the last question.",
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


def interview(answers: dict[str, str], earlier: dict[str, str], keep: Callable[[Answers], None]) -> None:
    """Ask until every question on the path has its answer in ``answers``.

    ``earlier`` holds answers given before, which are offered again.
    """
    while question := _following(answers):
        reply = _ask(question, answers, earlier.get(question.key))
        if reply != BACK:
            answers[question.key] = reply
            keep({**earlier, **answers})
        elif not step_back(answers, earlier):
            _tell("  This is the first question.")


def step_back(answers: dict[str, str], earlier: dict[str, str]) -> bool:
    """Take back the last answer, to offer it again; tell whether there was one."""
    if not answers:
        return False
    key, answer = answers.popitem()
    earlier[key] = answer
    return True


def taken_up(kept: Mapping[str, str]) -> dict[str, str]:
    """Return the kept answers up to the first that is missing or no longer fits."""
    answers: dict[str, str] = {}
    while (question := _following(answers)) and question.key in kept:
        try:
            answers[question.key] = judged(question, kept[question.key], answers)
        except SpecError:
            break
    return answers


def answered(given: Mapping[str, str], file: str) -> dict[str, str]:
    """Answer every question from a file of answers, what is missing by the usual answer.

    Raises :class:`SpecError` with ``file`` and the key before what is wrong.
    """
    answers: dict[str, str] = {}
    while question := _following(answers):
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


def confirmed(question: Question) -> str:
    """Ask a question that is answered by yes or no; return ``back`` as well."""
    return _ask(question, {}, None)


def introduce() -> None:
    """Say how to answer."""
    _tell("A few questions about one edge. Enter takes the answer in brackets,")
    _tell("? says more, back goes back one question. Nothing is drawn before you")
    _tell("have seen the figures; you can stop with Ctrl-C and go on another day.")
    if isinstance(sys.stdin, io.TextIOWrapper):
        # a sign that cannot be read is then a wrong answer, asked again, instead of the end
        sys.stdin.reconfigure(errors="replace")


def _following(answers: Answers) -> Question | None:
    return next((question for question in path(answers) if question.key not in answers), None)


def _ask(question: Question, answers: Answers, before: str | None) -> str:
    """Ask until the answer is right; return ``back`` where that was said."""
    offered = _still_right(question, answers, before) or question.usual(answers)
    for line in _asked(question):
        _tell(line)
    while True:
        text = _line(f"  [{offered}] > " if offered else "  > ")
        if text.casefold() == BACK:
            return BACK
        if text == MORE:
            for line in question.more.splitlines():
                _tell(f"  {line}")
            if question.example:
                _tell(f"  For instance: {question.example}")
            continue
        try:
            return judged(question, text or offered or "", answers)
        except SpecError as fault:
            # the question itself is on the screen already
            why = fault.why if fault.place == Place("", (question.key,)) else str(fault)
            for part in wrapped(why, "  ", "  "):
                _tell(part.text)


def _still_right(question: Question, answers: Answers, before: str | None) -> str | None:
    """Return an answer of before unless another one has made it wrong meanwhile."""
    try:
        return before and judged(question, before, answers)
    except SpecError:
        return None


def _asked(question: Question) -> Iterator[str]:
    yield ""
    yield question.asks
    yield f"  {question.why}"
    if question.words != _YES_NO:
        widest = max(map(len, question.words), default=0)
        for number, word in enumerate(question.words, 1):
            yield f"    {number}  {word:<{widest}}  {question.meaning(word)}"


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


def _tell(line: str) -> None:
    say(line, err=True)
