"""Words as plain values, so that one process can hand them to another without losing their templates."""

from __future__ import annotations

from typing import Any

from tiler.languages.words import Number, Words
from tiler.sentence import Sentence


def to_plain(value: Any) -> Any:
    """Return words, numbers and sentences as tables; anything else as it is."""
    if isinstance(value, Words):
        fields = {name: to_plain(one) for name, one in value.fields.items()}
        return {"template": value.template, "many": value.many, "fields": fields}
    if isinstance(value, Number):
        return {"number": str(value)}
    if isinstance(value, Sentence):
        return {"given": [to_plain(one) for one in value.given]}
    return value


def from_plain(value: Any) -> Any:
    """Make the words again; raises ``TypeError`` and ``KeyError`` when a table is none of words."""
    if not isinstance(value, dict):
        return value
    if "template" in value:
        return Words(value["template"], value["many"], **{key: from_plain(one) for key, one in value["fields"].items()})
    return Number(value["number"]) if "number" in value else Sentence(*map(from_plain, value["given"]))
