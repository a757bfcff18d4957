"""A question of ``tiler start``, and what the answers before it say.

A question that stands for an option of ``tiler band`` or ``tiler binding`` has that
option's name as its key.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from tiler.draft.strip.finish import Finish

Answers = Mapping[str, str]
"""Answers by the key of their question."""

NONE = "none"
UNKNOWN = "unknown"


@dataclass(frozen=True)
class Choice:
    """One of a few answers: its word, and what it means."""

    word: str
    meaning: str


def _always(_answers: Answers) -> bool:
    return True


def _no_usual(_answers: Answers) -> str | None:
    return None


@dataclass(frozen=True)
class Question:
    """A question: what is asked, why in one line, more on request.

    ``sample`` stands in for an answer that is still to come while one before it is checked.
    """

    key: str
    asks: str
    why: str
    more: str
    choices: tuple[Choice, ...] = ()
    usual: Callable[[Answers], str | None] = _no_usual
    asked: Callable[[Answers], bool] = _always
    sample: Callable[[Answers], str | None] = _no_usual
    example: str = ""


PLACES = {
    "neckline": "neckline",
    "armhole": "armhole",
    "cuff": "straight",
    "waist": "straight",
    "hem": "straight",
    "leg": "straight",
    "straight": "straight",
    "curved": "curved",
}
"""The kind of edge in a spec for each place on the garment."""


def is_band(answers: Answers) -> bool:
    """Tell whether the finish that was chosen is a band; a binding wraps the edge."""
    return answers.get("finish") == Finish.FOLDED_BAND.value


def in_parts(answers: Answers) -> bool:
    """Tell whether the edge is measured in two parts."""
    return answers.get("parts") == "parts"


def kind_of(answers: Answers) -> str:
    """Give the kind of the edge, as a spec names it."""
    return PLACES.get(answers.get("place", ""), "straight")


def by_unit(inches: str, metric: str) -> Callable[[Answers], str | None]:
    """Give a usual answer in the unit that was chosen."""
    return lambda answers: metric if answers.get("units") == "cm" else inches


def answer_is(key: str, *words: str) -> Callable[[Answers], bool]:
    """Ask only where an answer is one of these words."""
    return lambda answers: answers.get(key) in words


def usually(word: str) -> Callable[[Answers], str | None]:
    """Give one usual answer, whatever was said before."""
    return lambda _answers: word
