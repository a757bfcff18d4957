"""An option that states one piece, as a row of the one table: its key in the spec, its value, and its question.

``tiler band`` and ``tiler binding`` take the rows as options, ``tiler start`` asks
those that have a question.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Any

from tiler.commands.interview.question import Question
from tiler.draft.spec.typed import (
    typed_angle,
    typed_length,
    typed_measure,
    typed_part,
    typed_share,
    typed_share_or_length,
)

Keys = tuple[str | int, ...]
"""The keys that lead to a value; ``strip`` and ``garment`` stand for the two fabrics."""

STRIP, GARMENT = "strip", "garment"
PIECE: Keys = ("pieces", 0)
EDGE: Keys = (*PIECE, "edge")


class Value(StrEnum):
    """What kind of value an option takes, by its word in the help."""

    LENGTH = "LENGTH"
    SHARE = "PERCENT"
    ANGLE = "ANGLE"
    COUNT = "NUMBER"
    CHOICE = "WORD"
    NAME = "NAME"
    TEXT = "WORDS"
    RATIO = "RATIO"
    MEASURE = "MEASURE"
    NAMED = "NAME LENGTH"
    FLAG = ""


_READ: dict[Value, dict[str, Any]] = {
    Value.LENGTH: {"reads": typed_length},
    Value.SHARE: {"reads": typed_share},
    Value.ANGLE: {"reads": typed_angle},
    Value.RATIO: {"reads": typed_share_or_length},
    Value.MEASURE: {"reads": typed_measure},
}
"""How an answer that states such a value is put into the grammar of a spec."""


@dataclass(frozen=True)
class PieceOption:
    """One option, its key in the spec, and what it says there.

    ``words`` are the choices, and ``default`` says what holds without the option.  A
    ``repeated`` option may stand several times.
    """

    names: tuple[str, ...]
    place: Keys
    help: str
    value: Value
    words: tuple[str, ...] = ()
    default: str = ""
    repeated: bool = False
    question: Question | None = None

    @property
    def parameter(self) -> str:
        """The name under which the command gets the value."""
        return self.names[0].removeprefix("--").replace("-", "_")

    @property
    def key(self) -> str:
        """The last key of the place, which is the option's word in the spec."""
        return str(self.place[-1])

    def typed(self, text: str, units: str) -> str:
        """Return what a person typed in the grammar of a spec; ``units`` is empty where no unit is known."""
        if self.value is Value.NAMED:
            return (typed_part if self.key == "parts" else typed_length)(text, units).strip()
        reads = self.question.reads if self.question else _READ.get(self.value, {}).get("reads")
        return reads(text, units).strip() if reads else text

    def asking(
        self, asks: str, why: str, more: str, meanings: Mapping[str, str] | None = None, **rest: Any
    ) -> PieceOption:
        """Return the option with a question, which takes what :class:`Question` takes; its words are the option's."""
        own = {"words": self.words, "key": self.names[0].removeprefix("--"), **_READ.get(self.value, {}), **rest}
        return replace(self, question=Question(asks, why, more, meanings or {}, **own))


def option(
    names: str,
    place: Keys,
    help: str,
    value: Value = Value.LENGTH,
    *,
    default: str = "",
    repeated: bool = False,
) -> PieceOption:
    """Return an option with a free value; ``names`` holds them without their dashes."""
    own = names.split()
    return PieceOption(tuple(f"--{name}" for name in own), place, help, value, (), default, repeated)


def choice(name: str, place: Keys, help: str, words: Iterable[str], *, default: str = "") -> PieceOption:
    """Return an option that takes one of a few words."""
    # click would show the names of an enumeration instead of its words
    return PieceOption((f"--{name}",), place, help, Value.CHOICE, tuple(f"{word}" for word in words), default)
