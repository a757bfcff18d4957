"""How each answer was understood, and which of them cannot be: field by field, whatever the others say."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import lru_cache

from tiler.browser.form import Given, Sent, every_option, given_by, name_of, sent, sent_to
from tiler.browser.said import said
from tiler.commands.interview.reading import LAST_OF_EDGE, stretch_words, whole_words
from tiler.commands.one_piece.option import PieceOption, Value
from tiler.commands.one_piece.table import stated_units
from tiler.draft.spec.read import Job
from tiler.draft.spec.typed import stated_part
from tiler.errors import SpecError
from tiler.lengths import parse_angle, parse_length, parse_percent
from tiler.sentence import Place

_FAR = 10.0**6
"""No angle and no share is judged here by its size."""

_JUDGED: dict[Value, Callable[[str, str, Place], object]] = {
    Value.LENGTH: lambda text, units, at: parse_length(text, units or "in", at, zero_ok=True, negative_ok=True),
    Value.NAMED: lambda text, units, at: _judge_part(stated_part(text), units, at),
    Value.SHARE: lambda text, _units, at: parse_percent(text, at, least=-_FAR, most=_FAR),
    Value.ANGLE: lambda text, _units, at: parse_angle(text, at, least=-_FAR, most=_FAR),
}


_OF_PART = {"length": Value.LENGTH, "turning": Value.ANGLE, "ratio": Value.SHARE}


def _judge_part(part: dict[str, str], units: str, at: Place) -> None:
    for key, text in part.items():
        _JUDGED[_OF_PART[key]](text, units, at)


def faults(form: Given) -> dict[str, str]:
    """Return for each field whose text is none of what belongs there a sentence that says so."""
    return _faults(sent(form))


@lru_cache(8)
def _faults(form: Sent) -> dict[str, str]:
    units = stated_units(every_option(), given_by(form))
    found: dict[str, str] = {}
    for option in every_option():
        judge, name = _JUDGED.get(option.value), name_of(option)
        for text in _texts(option, form) if judge else ():
            try:
                judge(option.typed(text, units), units, Place(f"--{name}"))  # type: ignore[misc]  # only where there is one
            except SpecError as fault:
                found.setdefault(name, said(str(fault)))
    return found


def readings(form: Given, job: Job | None) -> dict[str, str]:
    """Return what to say back at each field: a text that was understood as another, and the whole of an edge."""
    given = given_by(form)
    units = stated_units(every_option(), given)
    wrong = faults(form)
    found = {
        name: told
        for option in every_option()
        if (name := name_of(option)) not in wrong and (told := _told(option, form, units))
    }
    if given["rest"] and given["pulled"] and not wrong.keys() & {"rest", "pulled"}:
        found["pulled"] = _more(found.get("pulled"), stretch_words(given["rest"], given["pulled"], units or None))
    last = [key for key in (*LAST_OF_EDGE, "part") if given.get(key.replace("-", "_"))]
    if job and last:
        found[last[-1]] = _more(found.get(last[-1]), whole_words(job.pieces[0].edge, job.edition.units))
    return found


def _texts(option: PieceOption, form: Given) -> Iterator[str]:
    values = sent_to(option, form)
    nothing = option.question.nothing if option.question else ()
    yield from (text for text in (values[1::2] if option.value is Value.NAMED else values) if text not in nothing)


def _told(option: PieceOption, form: Given, units: str) -> str:
    """Return how a text was understood where that differs from what was typed."""
    return "; ".join(
        typed
        for text in _texts(option, form)
        if (typed := option.typed(text, units)).casefold() != " ".join(text.split()).casefold()
    )


def _more(one: str | None, other: str) -> str:
    return "; ".join(part for part in (one, other) if part)
