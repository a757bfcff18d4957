"""Which fields belong to the answers so far: those that ``tiler start`` could ask for.

The questions say themselves when they are asked.  Those that stand for no option, such as what is known of an edge,
have no field, so that each of their answers is supposed in turn.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache
from itertools import zip_longest
from typing import NamedTuple

from tiler.browser.form import Given, every_option, finish_of, given_by, name_of, one_of
from tiler.commands.interview.path import OWN_KEYS, QUESTIONS
from tiler.commands.interview.question import PLACES, UNKNOWN, Answers
from tiler.commands.one_piece.option import PieceOption, Value
from tiler.commands.one_piece.options import options_of
from tiler.commands.one_piece.table import kind_given
from tiler.draft.edge.seam_line import Kind
from tiler.draft.strip.finish import Finish
from tiler.errors import SpecError

_SUPPOSED = [question for question in QUESTIONS if question.key in (*OWN_KEYS, "replaces") and question.key != "place"]
_BY_KEY = {question.key: question for question in QUESTIONS}
"""The questions as they are asked in turn, which may depend on more than one by itself."""

_AS_GOOD = {"sits": ("flat",), "pull": ("percent", "pulled"), "replaces": ("allowance", UNKNOWN)}
"""Answers that stand for all others where no field depends on the difference."""

_UNASKED: dict[str, tuple[Kind, ...]] = {
    "part": tuple(Kind),
    "body": tuple(Kind),
    "turning": (Kind.NECKLINE, Kind.ARMHOLE, Kind.LEG, Kind.CURVED),
    "corner": (Kind.NECKLINE, Kind.CURVED),
}
"""Fields that more kinds of edge may have than they are asked for."""


_KNOWN_BY = {
    "parts": ("front-half", "back-half", "front", "back"),
    "whole": ("edge",),
    "list": ("part",),
    "shape": ("shape", "back-depth", "lower-front", "lower-back", "widen"),
}
"""The answers that tell what is known of an edge: with one of them the other ways to state it have no meaning."""


class Belonging(NamedTuple):
    """The names of the fields that have a meaning beside some answers, and of those that most people need of them."""

    names: frozenset[str]
    needed: frozenset[str]


def belonging(form: Given) -> Belonging:
    """Return which fields belong to these answers."""
    try:
        finish = finish_of(form)
    except SpecError:
        finish = Finish.FOLDED_BAND
    stated = kind_given(given_by(form))
    kinds = tuple(kind for kind in Kind if kind == stated) or (Kind.NECKLINE, Kind.ARMHOLE)
    said = {
        option.question.key: text
        for option in every_option()
        if option.question
        and option.value not in (Value.NAMED, Value.FLAG)
        and name_of(option) != "finish"
        and (text := one_of(form, name_of(option)))
    }
    values = form.getlist("part")
    said["part"] = "; ".join(
        f"{name} {length}".strip() for name, length in zip_longest(values[::2], values[1::2], fillvalue="") if name
    )
    known = next((way for way, fields in _KNOWN_BY.items() if any(said.get(name) for name in fields)), None)
    if known:
        said["parts"] = known
    return _belonging(finish, kinds, tuple(said.items()))


@lru_cache(64)
def _belonging(finish: Finish, kinds: tuple[Kind, ...], said: tuple[tuple[str, str], ...]) -> Belonging:
    own = {option.names[0] for options in options_of(finish.is_band).values() for option in options}
    base = {"units": "in", **dict(said), "finish": finish.value}
    places = {kind: [place for place, one in PLACES.items() if one is kind] for kind in kinds}
    usual = [answers for kind in kinds for answers in _supposed({**base, "place": places[kind][0]}, 0)]
    others = [
        answers for kind in kinds for place in places[kind][1:] for answers in _supposed({**base, "place": place}, 0)
    ]
    fields = [option for option in every_option() if option.names[0] in own or name_of(option) == "finish"]
    asked = {name_of(option) for option in fields if _asked(option, usual)}
    more = {
        name_of(option)
        for option in fields
        if option.question is None
        or any(kind in kinds for kind in _UNASKED.get(name_of(option), ()))
        or _asked(option, others)
    }
    first = {"finish", "kind"}
    return Belonging(frozenset(asked | more | first), frozenset(asked | first))


def _asked(option: PieceOption, supposed: Iterable[Answers]) -> bool:
    """Tell whether there is a question that would be asked after some of these answers."""
    if option.question is None:
        return False
    asked = _BY_KEY[option.question.key].asked
    return any(asked(answers) for answers in supposed)


def _supposed(answers: Answers, at: int) -> Iterator[Answers]:
    """Yield the answers with every way in which the questions from ``at`` on could be answered."""
    if at == len(_SUPPOSED):
        yield answers
        return
    question = _SUPPOSED[at]
    if question.key in answers or not question.asked(answers):
        yield from _supposed(answers, at + 1)
        return
    for word in _AS_GOOD.get(question.key, question.words_in(answers)):
        yield from _supposed({**answers, question.key: word}, at + 1)
