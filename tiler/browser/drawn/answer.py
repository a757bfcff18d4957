"""A picked curve as an answer of the form: which curve of which file it is, and the curve itself, as one word.

So it lasts as long as the other answers do, in the address, and no drawing is kept.
"""

from __future__ import annotations

import json
import zlib
from base64 import urlsafe_b64decode, urlsafe_b64encode
from binascii import Error as NoBase64
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from math import isfinite
from typing import Any

from tiler.browser.form import DRAWN, Given, one_of
from tiler.browser.uploads import safe_name
from tiler.commands.one_piece.option import EDGE
from tiler.commands.one_piece.options import ALL
from tiler.commands.one_piece.table import kind_given
from tiler.curves import Curve
from tiler.curves.record import curve_of, curve_record
from tiler.draft.edge.from_drawing import FindCurve, Source
from tiler.errors import SpecError
from tiler.lengths import both
from tiler.sentence import Place

LONGEST = 60_000
"""So long a word is still taken by a browser as part of an address."""

LARGEST = 2**20
"""What a word may become when it is read, bytes."""

DIGITS = 6
"""Decimals of a coordinate in mm."""

PARTS = tuple(name.removeprefix("drawn-") for name in DRAWN)
"""The fields that a curve can stand for."""


@dataclass(frozen=True)
class Drawn:
    """A picked curve: the table of a spec that names it, and its line."""

    source: Mapping[str, Any]
    curve: Curve

    @property
    def words(self) -> str:
        """Where it is from, how long it is, and how much it turns."""
        return f"{self.named.words}: {both(self.curve.length, 'cm')}, turns by {abs(self.curve.turning_deg):.0f}°"

    @property
    def named(self) -> Source:
        """The source as the reader of specs finds it."""
        ids, curves = (_several(self.source.get(key, [])) for key in ("id", "curve"))
        file = self.source.get("svg") or self.source.get("pdf") or ""
        return Source(file, ids, self.source.get("page"), curves, self.source.get("scale-from-square", False))


def _several(value: Any) -> tuple[Any, ...]:
    return tuple(value) if isinstance(value, list) else (value,)


def _texts(source: Mapping[str, Any]) -> list[Any]:
    # several curves may be chained
    chained = [one for key in ("id", "curve") for one in _several(source.get(key, []))]
    return [*source, *chained, *(value for key, value in source.items() if key not in ("id", "curve"))]


def word_of(drawn: Drawn) -> str:
    """Return the word for a picked curve; raises :class:`SpecError` for one of too many points."""
    record = curve_record(drawn.curve)
    record["segments"] = [
        [[round(number, DIGITS) for number in pair] for pair in segment] for segment in record["segments"]
    ]
    text = json.dumps([dict(drawn.source), record], separators=(",", ":"))
    word = urlsafe_b64encode(zlib.compress(text.encode(), 9)).decode("ascii")
    if len(word) > LONGEST:
        raise SpecError(
            f"{drawn.named.words} is drawn with too many points to be an answer here; draw it with fewer, or name it "
            "in a spec"
        )
    return word


@lru_cache(32)
def drawn_of(word: str, in_folders: bool = False) -> Drawn:
    """Return the curve of a word; the drawing of a spec may lie ``in_folders`` beside it.

    Raises :class:`SpecError` for what none has written.
    """
    try:
        packed = zlib.decompressobj()
        source, record = json.loads(packed.decompress(urlsafe_b64decode(word[: LONGEST + 1]), LARGEST))
        numbers = [number for segment in record["segments"] for pair in segment for number in pair]
        if not all(isinstance(number, int | float) and isfinite(number) for number in numbers):
            raise ValueError
        drawn = Drawn(dict(source), curve_of(record))
        if not in_folders and drawn.named.file != safe_name(drawn.named.file, "drawing"):
            raise ValueError
        if not drawn.curve.length or not all(isinstance(text, str | int) for text in _texts(source)):
            raise ValueError
        assert drawn.words
    except (NoBase64, zlib.error, ValueError, TypeError, LookupError, ArithmeticError, AttributeError) as fault:
        raise SpecError("The picked curve cannot be read any more; pick it from its drawing again") from fault
    return drawn


def picked(form: Given) -> dict[str, Drawn]:
    """Return the picked curves by the part that they stand for; raises :class:`SpecError` at the part."""
    found = {}
    for part in PARTS:
        word = one_of(form, f"drawn-{part}")
        if word:
            try:
                found[part] = drawn_of(word)
            except SpecError as fault:
                raise fault.at(Place(f"--{part}")) from fault
    return found


def with_kind(given: Mapping[str, Any], drawn: Mapping[str, Drawn]) -> dict[str, Any]:
    """Return what is given with the kind of edge that the drawn parts tell, where nothing else does.

    Raises :class:`SpecError` for a part that is measured as well.
    """
    for part in drawn:
        if given.get(part.replace("-", "_")):
            raise SpecError("is taken from a drawing too; leave one of both out", Place(f"--{part}"))
    told = kind_given(given) or kind_given({part.replace("-", "_"): True for part in drawn})
    return {**given, "kind": told} if drawn else dict(given)


def put(tables: dict[str, Any], drawn: Mapping[str, Drawn]) -> None:
    """Put picked curves into the tables of a spec, as it names them."""
    for option in ALL:
        part = option.names[0].removeprefix("--")
        if part in drawn and option.place[: len(EDGE)] == EDGE:
            tables["pieces"][0]["edge"][option.place[-1]] = dict(drawn[part].source)


def finder(drawn: Mapping[str, Drawn]) -> FindCurve:
    """Return what finds picked curves for the reader of specs.

    Raises :class:`SpecError` for two different curves under one name.
    """
    curves: dict[Source, Curve] = {}
    for part, one in drawn.items():
        if curves.setdefault(one.named, one.curve) != one.curve:
            raise SpecError(
                f"{one.named.words} is another curve than that of the same name; give the files different names",
                Place(f"--{part}"),
            )
    return lambda source: curves[source]


def shown_in(form: Given) -> list[tuple[str, str, Drawn | None]]:
    """Return the picked curves as they stand in the form: the part, the word, and the curve if it can be read."""
    found: list[tuple[str, str, Drawn | None]] = []
    for part in PARTS:
        word = one_of(form, f"drawn-{part}")
        if word:
            try:
                found.append((part, word, drawn_of(word)))
            except SpecError:
                found.append((part, word, None))
    return found
