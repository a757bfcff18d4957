"""The form of a strip: a field for each option of ``tiler band``, with its words, its question and its usual value."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any, Protocol

from tiler.browser.said import label
from tiler.commands.interview.question import Question
from tiler.commands.one_piece.option import PieceOption, Value
from tiler.commands.one_piece.options import options_of

SPARE_ROWS = 2
"""Empty rows below those of a field that may be filled in several times."""

MOST_ROWS = 24
"""Rows of such a field that are read."""

OPEN = ("Edge, as measured", "Fabric", "Strip")
"""Groups that are unfolded from the start."""


class Given(Protocol):
    """What a form holds: several values by name."""

    def getlist(self, key: str) -> list[str]:
        """Return the values of a name."""


@dataclass(frozen=True)
class Field:
    """One field: its name, what stands on and below it, the words to choose from, and what was filled in."""

    name: str
    kind: Value
    label: str
    asks: str
    why: str
    example: str
    usual: str
    words: tuple[tuple[str, str], ...]
    repeated: bool
    values: tuple[str, ...]

    @property
    def is_filled(self) -> bool:
        """Whether anything stands in it."""
        return any(self.values)

    @property
    def rows(self) -> list[tuple[str, ...]]:
        """What stands in each row of inputs: one, or a name and a length."""
        across = 2 if self.kind is Value.NAMED else 1
        values = [*self.values, ""] if len(self.values) % across else list(self.values)
        rows = [tuple(values[at : at + across]) for at in range(0, len(values), across)]
        if self.repeated:
            rows += [("",) * across] * SPARE_ROWS
        return rows or [("",)]


@dataclass(frozen=True)
class Group:
    """Fields under one heading: those that are asked for, and those that few need."""

    title: str
    asked: tuple[Field, ...]
    more: tuple[Field, ...]
    begins_open: bool

    @property
    def is_open(self) -> bool:
        """Whether it is unfolded: from the start, or since something stands in it."""
        return self.begins_open or any(field.is_filled for field in (*self.asked, *self.more))

    @property
    def more_open(self) -> bool:
        """Whether the fields that few need are unfolded, since something stands in them."""
        return any(field.is_filled for field in self.more)


@cache
def every_option() -> tuple[PieceOption, ...]:
    """Return the options that have a field."""
    return tuple(option for group in options_of(band=True).values() for option in group)


def name_of(option: PieceOption) -> str:
    """Return the name of an option's field."""
    return option.names[0].removeprefix("--")


def groups(form: Given) -> list[Group]:
    """Return the form as it is filled in."""
    found = []
    for title, options in options_of(band=True).items():
        asked = tuple(_field(one, form) for one in options if one.question)
        more = tuple(_field(one, form) for one in options if not one.question)
        found.append(Group(title, asked or more, more if asked else (), title in OPEN))
    return found


def given_by(form: Given) -> dict[str, Any]:
    """Return what was filled in as ``tiler band`` gets it from its options, by their parameters."""
    return {option.parameter: _given(option, form.getlist(name_of(option))[:MOST_ROWS]) for option in every_option()}


def filled(form: Given) -> list[tuple[str, str]]:
    """Return the fields that are filled in with their values, as they were sent."""
    return [(name_of(option), value) for option in every_option() for value in _sent(option, form)]


def _given(option: PieceOption, values: Sequence[str]) -> Any:
    if option.value is Value.FLAG:
        return any(values)
    if option.value is Value.NAMED:
        pairs = list(zip(values[::2], values[1::2], strict=False))
        return tuple((name.strip(), length.strip()) for name, length in pairs if name.strip() or length.strip())
    nothing = option.question.nothing if option.question else ()
    stated = [text for value in values if (text := value.strip()) and text not in nothing]
    if option.repeated:
        return tuple(stated)
    return stated[0] if stated else None


def _sent(option: PieceOption, form: Given) -> list[str]:
    values = [value.strip() for value in form.getlist(name_of(option))[:MOST_ROWS]]
    if option.value is Value.NAMED:
        pairs = zip(values[::2], values[1::2], strict=False)
        return [text for pair in pairs if any(pair) for text in pair]
    return [value for value in values if value]


def _field(option: PieceOption, form: Given) -> Field:
    name, question = name_of(option), option.question
    told = f"{option.help[0].upper()}{option.help[1:]}."
    return Field(
        name,
        option.value,
        label(name),
        question.asks if question else told,
        question.why if question else "",
        question.example if question and question.example else "",
        option.default,
        tuple(_words(option.words, question)),
        option.repeated,
        tuple(_sent(option, form)),
    )


def _words(words: Iterable[str], question: Question | None) -> Iterable[tuple[str, str]]:
    meanings: Mapping[str, str] = question.meanings if question else {}
    for word in words:
        meaning = meanings.get(word, "")
        yield word, f"{word}: {meaning}" if meaning else word
