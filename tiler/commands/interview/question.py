"""A question of ``tiler start``, and what the answers before it say.

A question that stands for an option of ``tiler band`` or ``tiler binding`` belongs to
that option's row in the table, which gives it its key and the words to choose from.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, field

from tiler.draft.edge.seam_line import Kind
from tiler.draft.spec.typed import named_lengths, stated_part
from tiler.draft.strip.finish import Finish

Answers = Mapping[str, str]
"""Answers by the key of their question."""

NONE = "none"
SAME = "same"
BODY = "body"
UNKNOWN = "unknown"


def _always(_answers: Answers) -> bool:
    return True


def _nothing(_answers: Answers) -> Collection[str]:
    return ()


def _as_it_is(text: str, _units: str) -> str:
    return text


def _no_usual(_answers: Answers) -> str | None:
    return None


@dataclass(frozen=True)
class Question:
    """A question: what is asked, why in one line, more on request.

    ``words`` are the answers to choose from, ``meanings`` what they mean.  ``sample``
    stands in for an answer that is still to come while one before it is checked.

    Of ``words`` those ``without`` have no meaning after the answers before.  ``also`` are words
    that a free answer may be, ``nothing`` those answers that state no value.  An ``optional``
    question is asked only when it is called by its name.  ``reads`` puts what was typed into
    the grammar of a spec, with the unit that was chosen.
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
    without: Callable[[Answers], Collection[str]] = _nothing
    also: tuple[str, ...] = ()
    nothing: tuple[str, ...] = ()
    optional: bool = False
    reads: Callable[[str, str], str] = _as_it_is

    def example_in(self, answers: Answers) -> str:
        """Return one example, in the unit that was chosen where there is one in it."""
        examples = [one.strip() for one in self.example.split(";" if ";" in self.example else ",")]
        return next((one for one in examples if one.endswith(answers.get("units", "in"))), examples[0])

    def words_in(self, answers: Answers) -> tuple[str, ...]:
        """Return the words to choose from after these answers."""
        left_out = self.without(answers)
        return tuple(word for word in self.words if word not in left_out)

    def meaning(self, word: str) -> str:
        """Return what a word to choose means; nothing where it speaks for itself."""
        return self.meanings.get(word, "")


PLACES = {
    "neckline": Kind.NECKLINE,
    "vee": Kind.NECKLINE,
    "armhole": Kind.ARMHOLE,
    "cuff": Kind.STRAIGHT,
    "waist": Kind.STRAIGHT,
    "hem": Kind.STRAIGHT,
    "leg": Kind.STRAIGHT,
    "leg-opening": Kind.LEG,
    "straight": Kind.STRAIGHT,
    "curved": Kind.CURVED,
}
"""The kind of edge in a spec for each place on the garment."""


def is_band(answers: Answers) -> bool:
    """Tell whether the finish that was chosen is a band; a binding wraps the edge."""
    return answers.get("finish") == Finish.FOLDED_BAND.value


def of_cloth(answers: Answers) -> bool:
    """Tell whether the strip is cut of cloth, and not bought in its width."""
    return answers.get("finish") != Finish.FOLD_OVER.value


def may_stand(answers: Answers) -> bool:
    """Tell whether the strip may stand up: a band at the neck that keeps to the pattern's seam."""
    return is_band(answers) and answers.get("place") == "neckline" and answers.get("replaces") in _BY_ITS_SEAM


def may_be_shaped(answers: Answers) -> bool:
    """Tell whether a band may be cut to the shape of the edge: that is known, and the seam stays where it is."""
    known = described(answers) or answers.get("place") == "curved"
    return is_band(answers) and known and answers.get("replaces") in _BY_ITS_SEAM


_BY_ITS_SEAM = ("allowance", UNKNOWN)


def in_parts(answers: Answers) -> bool:
    """Tell whether the edge is measured in two parts."""
    return answers.get("parts") == "parts"


def described(answers: Answers) -> bool:
    """Tell whether the neckline is known by the width and the depths of its shape."""
    return answers.get("parts") == "shape"


def every_part_says(key: str, answers: Answers) -> bool:
    """Tell whether every part of an edge in a list has its own turning, or ratio."""
    parts = named_lengths(answers.get("part", "")) if answers.get("parts") == "list" else []
    return bool(parts) and all(key in stated_part(text) for _, text in parts)


def turning_unknown(answers: Answers) -> bool:
    """Tell whether nobody knows how far the edge turns: no place says it, nor do all of its parts."""
    return answers.get("place") in ("curved", "leg-opening") and not every_part_says("turning", answers)


def known_by_size(answers: Answers) -> bool:
    """Tell whether width and depth are asked for: of a described neckline, and of a measured vee."""
    return described(answers) or (measured_vee(answers) and answers.get("point") == "lengths")


def neckline_changed(answers: Answers) -> bool:
    """Tell whether a described neckline is to be lowered or widened."""
    return described(answers) and answers.get("change") == "yes"


def measured_vee(answers: Answers) -> bool:
    """Tell whether the neckline is a vee that was measured with a tape."""
    return answers.get("place") == "vee" and not described(answers)


def pointed(answers: Answers) -> bool:
    """Tell whether the front comes to a point."""
    return answers.get("place") == "vee" or answers.get("shape") == "vee"


def is_given(*keys: str) -> Callable[[Answers], bool]:
    """Return the condition that one of these was answered, and not by none."""
    return lambda answers: any(answers.get(key, NONE) != NONE for key in keys)


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
