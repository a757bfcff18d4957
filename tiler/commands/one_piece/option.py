"""An option that states one piece, as a row of the one table: its key in the spec, its value, and its question.

``tiler band`` and ``tiler binding`` take the rows as options, ``tiler start`` asks
those that have a question.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import StrEnum

from tiler.commands.interview.question import Question

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
    NOTCH = "NAME LENGTH"


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


def option(
    names: str,
    place: Keys,
    help: str,
    value: Value = Value.LENGTH,
    *,
    default: str = "",
    repeated: bool = False,
    question: Question | None = None,
) -> PieceOption:
    """Return an option with a free value; ``names`` holds them without their dashes."""
    own = names.split()
    asked = question and replace(question, key=own[0])
    return PieceOption(tuple(f"--{name}" for name in own), place, help, value, (), default, repeated, asked)


def choice(
    name: str, place: Keys, help: str, words: Iterable[str], *, default: str = "", question: Question | None = None
) -> PieceOption:
    """Return an option that takes one of a few words, and so does its question unless that has words of its own."""
    # click would show the names of an enumeration instead of its words
    known = tuple(f"{word}" for word in words)
    asked = question and replace(question, key=name, words=question.words or known)
    return PieceOption((f"--{name}",), place, help, Value.CHOICE, known, default, question=asked)
