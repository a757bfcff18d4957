"""How one question is put: on stderr, with a line of stdin for its answer, until that answer is right."""

from __future__ import annotations

import io
import sys
from collections.abc import Iterator

from tiler.accents import composed
from tiler.commands.interview.naming import Correction, addable, correction
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
ALONE = (DRAW.key, GO_ON.key)
"""Questions that are about the conversation itself."""


class QuitError(Exception):
    """Whoever answers wants to stop."""


def introduce() -> None:
    """Say how to answer."""
    tell("A few questions about one edge. Enter takes the answer between [ and ],")
    tell("help says more, back goes back one question. The name behind a question")
    tell("changes its answer later: width, or width 1/2 in; answers lists them.")
    tell("Nothing is drawn before you have seen the figures; quit keeps your answers.")
    if isinstance(sys.stdin, io.TextIOWrapper):
        # a sign that cannot be read is then a wrong answer, asked again, instead of the end
        sys.stdin.reconfigure(errors="replace")


def ask(
    question: Question, own: Answers, offered: str | None, answers: Answers, *, again: bool = False
) -> str | Correction:
    """Ask until the answer is right; ``own`` are the answers before it, ``answers`` all of them.

    A question that is put ``again`` is on the screen already.

    Returns ``back`` where that was said, and what is to be corrected where a name was.
    """
    offered = _still_right(question, own, offered) or question.usual(own)
    if not again:
        for line in _asked(question, own, answers):
            tell(line)
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
                tell_wrapped(f'"{text[:60]}" is not one of the answers; write yes, no, or the name of an answer')
                continue
            tell_wrapped(fault.why if fault.place == Place("", (question.key,)) else str(fault))
            continue
        understood = reading(question, text, answer, {**own, question.key: answer})
        if understood:
            tell_wrapped(understood)
        return answer


def _still_right(question: Question, answers: Answers, offered: str | None) -> str | None:
    """Return an answer of before unless another one has made it wrong meanwhile."""
    try:
        return offered and judged(question, offered, answers)
    except SpecError:
        return None


def _asked(question: Question, own: Answers, answers: Answers) -> Iterator[str]:
    yield ""
    yield question.asks if question.key in ALONE else f"{question.asks} ({question.key})"
    yield f"  {question.why}"
    if question.key == "ratio":
        yield from (line.text for line in wrapped(advice(own), "  ", "  "))
    more = addable(answers) if question is DRAW else []
    if more:
        yield from (line.text for line in wrapped(f"By name you can add: {_listed(more)}.", "  ", "  "))
    if question.words != _YES_NO:
        words = question.words_in(own)
        widest, digits = max(map(len, words), default=0), len(str(len(words)))
        for number, word in enumerate(words, 1):
            yield f"    {number:>{digits}}  {word:<{widest}}  {question.meaning(word)}"


_ADDED = {
    "shorten": "shorten or lengthen (after a fitting)",
    "lengthen": "",
    "form": "form (cut to the shape of the edge)",
    "sits": "sits (stands up or turned over)",
    "ends": "ends (no ring)",
    "cloth-width": "cloth-width (and section, where it is joined)",
}


def _listed(names: list[str]) -> str:
    return ", ".join(shown for name in names if (shown := _ADDED.get(name, name)))


def _tell_more(question: Question) -> None:
    for line in question.more.splitlines():
        tell(f"  {line}")
    if question.example:
        tell(f"  For instance: {question.example}")


def _tell_answers(answers: Answers) -> None:
    """List what was answered, each under its name."""
    for key, answer in answers.items():
        tell(f"  {key:<18} {answer}")
    if not answers:
        tell("  There are no answers yet.")


def _line(prompt: str) -> str:
    say(prompt, err=True, end="")
    # where the input is closed there is no stream at all
    line = sys.stdin.readline() if sys.stdin else ""
    if not line:
        raise EOFError
    text = composed(line.strip())
    if not sys.stdin.isatty():
        # what was read from a file or a pipe would not be seen otherwise
        tell(text)
    return text


def tell_wrapped(sentence: str) -> None:
    """Write a sentence in lines that fit, below its question."""
    for part in wrapped(sentence, "  ", "  "):
        tell(part.text)


def tell(line: str) -> None:
    """Write a line to stderr."""
    say(line, err=True)
