"""What a form of one strip holds: the options of ``tiler band`` and ``tiler binding`` by the names of their fields."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, cached_property, lru_cache
from typing import Any, Protocol

from tiler.commands.one_piece.option import PieceOption, Value
from tiler.commands.one_piece.options import ALL
from tiler.commands.one_piece.table import stated_units
from tiler.draft.spec.table import nearest
from tiler.draft.spec.typed import is_length
from tiler.draft.strip.finish import Finish
from tiler.errors import SpecError
from tiler.sentence import Place

MOST_ROWS = 24
"""Rows of a field that may be filled in several times that are read."""

CHILD, ACCEPT, PRINTER, CORRECT = "child", "accept", "printer", "correct"
DRAWN = tuple(f"drawn-{part}" for part in ("front-half", "back-half", "front", "back", "edge"))
"""Fields for curves that are picked from a drawing, by the part of the edge that they stand for."""

PAGE_FIELDS = (CHILD, ACCEPT, PRINTER, CORRECT, *DRAWN)
"""Fields that stand for no option of a strip: a key of its spec, and how it is drawn."""


class Given(Protocol):
    """What a form holds: several values by name."""

    def getlist(self, key: str) -> list[str]:
        """Return the values of a name."""


@cache
def every_option() -> tuple[PieceOption, ...]:
    """Return the options that have a field: those of bands and of bindings."""
    return ALL


def name_of(option: PieceOption) -> str:
    """Return the name of an option's field."""
    return option.names[0].removeprefix("--")


def finish_of(form: Given) -> Finish:
    """Return the finish that is chosen, a band without any; raises :class:`SpecError` for another word."""
    word = one_of(form, "finish")
    finishes = [finish.value for finish in Finish]
    if word and word not in finishes:
        raise SpecError(f'"{word[:60]}" is not known; {nearest(word, finishes)}', Place("--finish"))
    return Finish(word) if word else Finish.FOLDED_BAND


def one_of(form: Given, name: str) -> str:
    """Return the first value of a name; empty where there is none."""
    return next((text for value in form.getlist(name) if (text := value.strip())), "")


@dataclass(frozen=True)
class Sent:
    """A form as it was sent, so that what is known of it need be found out once."""

    values: tuple[tuple[str, tuple[str, ...]], ...]

    def getlist(self, key: str) -> list[str]:
        """Return the values of a name."""
        return list(self._by_name.get(key, ()))

    @cached_property
    def _by_name(self) -> dict[str, tuple[str, ...]]:
        return dict(self.values)


def sent(form: Given) -> Sent:
    """Return what a form holds in the fields of the page."""
    if isinstance(form, Sent):
        return form
    names = (*map(name_of, every_option()), *PAGE_FIELDS)
    return Sent(tuple((name, tuple(values)) for name in names if (values := form.getlist(name))))


def given_by(form: Given) -> dict[str, Any]:
    """Return what was filled in as the commands get it from their options, by parameter.

    What a person types is put into the grammar of a spec first: ``23,5`` becomes ``23.5 cm``.
    """
    return dict(_given_by(sent(form)))


@lru_cache(8)
def _given_by(form: Sent) -> dict[str, Any]:
    plain = {option.parameter: _given(option, sent_to(option, form)) for option in every_option()}
    units = stated_units(every_option(), plain)
    given = {option.parameter: _typed(option, plain[option.parameter], units) for option in every_option()}
    if given["ratio"] and is_length(given["ratio"]) and not given["loop"]:
        # asked how long the strip shall be, people answer by a length as well
        given["loop"], given["ratio"] = given["ratio"], None
    return given


def filled(form: Given) -> list[tuple[str, str]]:
    """Return the fields that are filled in with their values, as they were sent."""
    of_page = [(name, value) for name in PAGE_FIELDS if (value := one_of(form, name))]
    return [*((name_of(option), value) for option in every_option() for value in sent_to(option, form)), *of_page]


def sent_to(option: PieceOption, form: Given) -> list[str]:
    """Return the values of an option's field; of names and lengths, those in turn."""
    values = [value.strip() for value in form.getlist(name_of(option))[:MOST_ROWS]]
    if option.value is Value.NAMED:
        pairs = zip(values[::2], values[1::2], strict=False)
        return [text for pair in pairs if any(pair) for text in pair]
    return [value for value in values if value]


def _given(option: PieceOption, values: Sequence[str]) -> Any:
    if option.value is Value.FLAG:
        return any(values)
    if option.value is Value.NAMED:
        return tuple(zip(values[::2], values[1::2], strict=True))
    nothing = option.question.nothing if option.question else ()
    stated = [text for text in values if text not in nothing]
    if option.repeated:
        return tuple(stated)
    return stated[0] if stated else None


def _typed(option: PieceOption, value: Any, units: str) -> Any:
    match value:
        case str():
            return option.typed(value, units)
        case tuple() if option.value is Value.NAMED:
            return tuple((name, option.typed(length, units)) for name, length in value)
        case tuple():
            return tuple(option.typed(one, units) for one in value)
    return value
