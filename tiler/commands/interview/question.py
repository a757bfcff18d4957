"""A question of ``tiler start``, and what the answers before it say.

A question that stands for an option of ``tiler band`` or ``tiler binding`` belongs to
that option's row in the table, which gives it its key and the words to choose from.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from tiler.draft.edge.seam_line import Kind
from tiler.draft.strip.finish import Finish

Answers = Mapping[str, str]
"""Answers by the key of their question."""

NONE = "none"
UNKNOWN = "unknown"


def _always(_answers: Answers) -> bool:
    return True


def _no_usual(_answers: Answers) -> str | None:
    return None


@dataclass(frozen=True)
class Question:
    """A question: what is asked, why in one line, more on request.

    ``words`` are the answers to choose from, ``meanings`` what they mean.  ``sample``
    stands in for an answer that is still to come while one before it is checked.
    """

    asks: str
    why: str
    more: str
    meanings: Mapping[str, str] = field(default_factory=dict)
    usual: Callable[[Answers], str | None] = _no_usual
    asked: Callable[[Answers], bool] = _always
    sample: Callable[[Answers], str | None] = _no_usual
    example: str = ""
    words: tuple[str, ...] = ()
    key: str = ""

    def example_in(self, answers: Answers) -> str:
        """Return one example, in the unit that was chosen where there is one in it."""
        examples = [one.strip() for one in self.example.split(";" if ";" in self.example else ",")]
        return next((one for one in examples if one.endswith(answers.get("units", "in"))), examples[0])

    def meaning(self, word: str) -> str:
        """Return what a word to choose means; nothing where it speaks for itself."""
        return self.meanings.get(word, "")


PLACES = {
    "neckline": Kind.NECKLINE,
    "armhole": Kind.ARMHOLE,
    "cuff": Kind.STRAIGHT,
    "waist": Kind.STRAIGHT,
    "hem": Kind.STRAIGHT,
    "leg": Kind.STRAIGHT,
    "straight": Kind.STRAIGHT,
    "curved": Kind.CURVED,
}
"""The kind of edge in a spec for each place on the garment."""


def is_band(answers: Answers) -> bool:
    """Tell whether the finish that was chosen is a band; a binding wraps the edge."""
    return answers.get("finish") == Finish.FOLDED_BAND.value


def in_parts(answers: Answers) -> bool:
    """Tell whether the edge is measured in two parts."""
    return answers.get("parts") == "parts"


def kind_of(answers: Answers) -> str:
    """Return the kind of the edge, as a spec names it."""
    return PLACES.get(answers.get("place", ""), Kind.STRAIGHT).value


def by_unit(inches: str, metric: str) -> Callable[[Answers], str | None]:
    """Return a usual answer in the unit that was chosen."""
    return lambda answers: metric if answers.get("units") == "cm" else inches


def answer_is(key: str, *words: str) -> Callable[[Answers], bool]:
    """Return the condition that an answer is one of these words."""
    return lambda answers: answers.get(key) in words


def usually(word: str) -> Callable[[Answers], str | None]:
    """Return one usual answer, whatever was said before."""
    return lambda _answers: word
