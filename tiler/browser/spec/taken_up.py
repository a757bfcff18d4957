"""A spec of one strip as the answers of the form, where the form can hold all that it says."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from tiler.browser.form import CHILD, Sent, every_option, finish_of, given_by, name_of
from tiler.browser.strip import strip_tables
from tiler.commands.one_piece.option import GARMENT, PieceOption, Value
from tiler.commands.one_piece.table import FabricNames, comments_of, fabric_names
from tiler.draft.spec.write import spec_text
from tiler.errors import SpecError

Answers = list[tuple[str, str]]

HEADING = "# Draft it:"
"""What the first line of a spec of ours begins with: it says how to draft it, and nothing of the strip."""

_FOLLOW = ("finish", "title", "name", "units", "kind", "fabric", "garment-fabric")
"""Fields that need no answer where the spec has in them what would follow without one."""


def answers_of(tables: dict[str, Any]) -> Answers | None:
    """Return the answers that state these tables; None where no answers do."""
    pieces = tables.get("pieces")
    if not isinstance(pieces, list) or len(pieces) != 1 or not isinstance(pieces[0], dict):
        return None
    names = FabricNames(str(pieces[0].get("fabric", "")), str(pieces[0].get("garment-fabric", "")))
    answers = [
        (name_of(option), text)
        for option in every_option()
        # of one cloth what is said of the strip's is said of the garment's
        if not (names.one_cloth and option.place[0] == GARMENT)
        for text in _texts(option, _at(tables, names.resolve(option.place)))
    ]
    if pieces[0].get(CHILD) is True:
        answers.append((CHILD, "yes"))
    if not _states(answers, tables):
        return None
    for name in _FOLLOW:
        fewer = [answer for answer in answers if answer[0] != name]
        if _states(fewer, tables):
            answers = fewer
    return answers


def is_ours(text: str, tables: dict[str, Any], answers: Answers) -> bool:
    """Tell whether a spec is as the page writes it, so that nothing of it is lost when it is written anew."""
    form = _form(answers)
    written = spec_text(tables, comments_of(every_option(), fabric_names(given_by(form)), finish_of(form)), "")
    return _plain(written) == _plain(text)


def _plain(text: str) -> list[str]:
    return [line.rstrip() for line in text.splitlines() if line.strip("# ") and not line.startswith(HEADING)]


def _form(answers: Answers) -> Sent:
    by_name: dict[str, list[str]] = {}
    for name, text in answers:
        by_name.setdefault(name, []).append(text)
    return Sent(tuple((name, tuple(texts)) for name, texts in by_name.items()))


def _states(answers: Answers, tables: dict[str, Any]) -> bool:
    try:
        return bool(_worded(strip_tables(_form(answers))) == _worded(tables))
    except SpecError:
        return False


def _worded(value: Any) -> Any:
    """Return tables with texts for numbers: an option states both alike."""
    if isinstance(value, dict):
        return {key: _worded(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [_worded(inner) for inner in value]
    return value if isinstance(value, bool) else str(value)


def _at(tables: Any, place: tuple[str | int, ...]) -> Any:
    here = tables
    for key in place:
        if isinstance(here, dict) and isinstance(key, str):
            here = here.get(key)
        elif isinstance(here, list) and isinstance(key, int) and key < len(here):
            here = here[key]
        else:
            return None
    return here


def _texts(option: PieceOption, value: Any) -> Iterator[str]:
    """Yield what a field holds that states a value; nothing for what it cannot hold."""
    if option.value is Value.FLAG:
        yield from ["yes"] if value is True else []
    elif option.value is Value.NAMED and isinstance(value, list):
        for entry in value:
            if isinstance(entry, dict):
                name, *more = map(str, entry.values())
                yield from (name, ", ".join(more))
    elif option.repeated and isinstance(value, list):
        yield from map(str, value)
    elif isinstance(value, str | int | float) and not isinstance(value, bool):
        yield str(value)
