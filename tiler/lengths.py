"""Texts that state a length, an angle or a share, and lengths as people read them.

A length becomes an exact fraction of millimetres.  The text is read by the small
grammar of this file, and only a number and a unit word are handed to Pint, which
knows that 1 in = 25.4 mm (NIST SP 811, App. B).  For people a length is rounded
to the nearest sixteenth of an inch and to the nearest millimetre.
"""

from __future__ import annotations

import math
import re
import sys
import unicodedata
from collections.abc import Iterator
from contextlib import contextmanager
from fractions import Fraction
from functools import cache
from typing import Any, NamedTuple, NoReturn

from tiler.errors import LengthError
from tiler.languages.words import Number
from tiler.sentence import Place

LONGEST = Fraction(100_000)
"""100 m: a longer length is taken for a mistake."""

_LARGEST = 10**9

_UNITS = {
    "mm": ("mm", "millimetre", "millimetres", "millimeter", "millimeters"),
    "cm": ("cm", "centimetre", "centimetres", "centimeter", "centimeters"),
    "m": ("m", "metre", "metres", "meter", "meters"),
    "in": ("in", "in.", "inch", "inches", '"'),
    "ft": ("ft", "ft.", "foot", "feet", "'"),
    "yd": ("yd", "yd.", "yard", "yards"),
}
_UNIT_OF = {word: unit for unit, words in _UNITS.items() for word in words}
_DEGREES = ("°", "deg", "degs", "degree", "degrees")
_ANGLES = (*_DEGREES, "rad", "radian", "radians")
_SIGNS = str.maketrans(
    {"′": "'", "’": "'", "‘": "'", "″": '"', "”": '"', "“": '"', "⁄": "/", "∕": "/"} | dict.fromkeys("−‐‑–", "-")
)
_NUMBER = r"[0-9]{1,9}[ -][0-9]{1,6}/[0-9]{1,6}|[0-9]{1,9}/[0-9]{1,6}|[0-9]{0,9}\.[0-9]{1,9}|[0-9]{1,9}"
_TERM = rf"({_NUMBER}) ?([a-z]+\.?|[\"'°%])?"
_QUANTITY = re.compile(rf"(-?) ?{_TERM}(?: ?{_TERM})?")
_FRACTION_SIGNS = {2: {1: "½"}, 4: {1: "¼", 3: "¾"}, 8: {1: "⅛", 3: "⅜", 5: "⅝", 7: "⅞"}}


class Quantity(NamedTuple):
    """A number and its unit word as written; two terms where feet and inches are given."""

    negative: bool
    terms: tuple[tuple[Fraction, str], ...]


def parse_length(
    value: object, unit: str | None, where: Place, *, zero_ok: bool = False, negative_ok: bool = False
) -> Fraction:
    """Read a length, in exact millimetres.

    A number, or a text without a unit, is taken in ``unit``; ``None`` means that a
    unit must be written.  ``where`` is named in the message.  Raises
    :class:`LengthError` for everything that is not a length, for negative lengths
    and for zero, unless they are allowed.
    """
    kind = 'a length; write for instance "5 1/2 in" or "14 cm"'
    terms = _quantity(value, where, kind)
    if len(terms.terms) == 2 and [_UNIT_OF.get(word) for _, word in terms.terms] != ["ft", "in"]:
        _refuse(where, value, f"is not {kind}")
    total = sum(
        (number * _millimetres(_unit_of(word, unit, value, where)) for number, word in terms.terms), Fraction(0)
    )
    if terms.negative and total and not negative_ok:
        _refuse(where, value, "is negative; a length here is more than zero")
    if not total and not zero_ok:
        _refuse(where, value, "is zero; a length here is more than zero")
    if total > LONGEST:
        _refuse(where, value, "is longer than 100 m; check the number and its unit")
    return -total if terms.negative else total


def parse_angle(value: object, where: Place, *, least: float, most: float) -> float:
    """Read an angle in degrees between ``least`` and ``most``: 20, "20", "20 deg" or "20°"."""
    number, word = _single(value, where, 'an angle; write degrees, for instance "20 deg"')
    if word in _UNIT_OF or word == "%":
        _refuse(where, value, 'is not an angle; write degrees, for instance "20 deg"')
    if word and word not in _DEGREES:
        _refuse(where, value, 'has an unknown unit; write degrees, for instance "20 deg"')
    if not least <= number <= most:
        _refuse(where, value, f"is out of range; an angle here is {least:g} to {most:g} degrees")
    return float(number)


def parse_percent(value: object, where: Place, *, least: float = 0.0, most: float) -> float:
    """Read a share between ``least`` and ``most``: "60 %", or 0.6 for the same."""
    number, word = _single(value, where, 'a percentage; write for instance "60 %"')
    if word and word != "%":
        _refuse(where, value, 'is not a percentage; write for instance "60 %"')
    share = number / 100 if word else number
    if share > most and not word and number <= 100 * Fraction(most):
        _refuse(where, value, f'would be {percent(share)}; write "{float(number):g} %"')
    # both ends go: as the limits are written, no share is nearer to them than rounding
    if not least <= float(share) <= most:
        _refuse(where, value, f"is out of range; here it is {percent(least)} to {percent(most)}")
    return float(share)


def tape(mm: float | Fraction, units: str = "in", *, times: int = 1, up: bool = False, down: bool = False) -> Number:
    """Write a length in one unit: inches by the tape's sixteenths, or centimetres to the millimetre.

    ``times`` multiplies after rounding, so that a full length is twice the half
    that is cut.  ``up`` and ``down`` round that way instead of to the nearest.
    """
    if units == "cm":
        return Number(f"{_steps(mm, 1.0, up, down) * times / 10:.1f} cm".replace("-", "−"))
    sixteenths = _steps(mm, 127 / 80, up, down) * times
    sign = "−" if sixteenths < 0 else ""
    whole, rest = divmod(abs(sixteenths), 16)
    if not rest:
        return Number(f"{sign}{whole} in")
    part = Fraction(rest, 16)
    glyph = _FRACTION_SIGNS.get(part.denominator, {}).get(part.numerator)
    number = f"{whole or ''}{glyph}" if glyph else f"{whole} {part}" if whole else f"{part}"
    return Number(f"{sign}{number} in")


def both(mm: float | Fraction, units: str, *, times: int = 1, up: bool = False, down: bool = False) -> Number:
    """Write a length in both units, ``units`` first: ``9¾ in (24.8 cm)``."""
    other = "cm" if units == "in" else "in"
    first = tape(mm, units, times=times, up=up, down=down)
    return Number(f"{first} ({tape(mm, other, times=times, up=up, down=down)})")


def percent(share: float | Fraction, *, up: bool = False, down: bool = False) -> Number:
    """Write a share as a percentage to one decimal, without a needless zero."""
    tenths = _steps(share, 1 / 1000, up, down)
    return Number(f"{tenths // 10 if tenths % 10 == 0 else tenths / 10} %".replace("-", "−"))


def _quantity(value: object, where: Place, kind: str) -> Quantity:
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        _refuse(where, value, f"is not {kind}")
    if isinstance(value, int | float):
        if abs(value) > _LARGEST:
            _refuse(where, value, "is far too large; check the number")
        if math.isnan(value):
            _refuse(where, value, f"is not {kind}")
        # repr gives the shortest decimal of a float, which is what was typed
        return Quantity(value < 0, ((abs(Fraction(repr(value))), ""),))
    plain = _plain(value)
    if not plain:
        _refuse(where, value, f"is empty; this must be {kind}")
    match = _QUANTITY.fullmatch(plain)
    if not match:
        _refuse(where, value, f"is not {_advice(plain, kind)}")
    sign, first, unit, second, second_unit = match.groups()
    terms = [(_number(first, where, value), unit or "")]
    if second:
        terms.append((_number(second, where, value), second_unit or ""))
    return Quantity(bool(sign), tuple(terms))


def _single(value: object, where: Place, kind: str) -> tuple[Fraction, str]:
    negative, terms = _quantity(value, where, kind)
    if len(terms) > 1:
        _refuse(where, value, f"is not {kind}")
    number, word = terms[0]
    return (-number if negative else number), word


def _plain(text: str) -> str:
    """Bring quotes, primes, dashes and ready-made fraction signs to ASCII."""
    signs = "".join(
        f" {unicodedata.normalize('NFKC', sign)}" if unicodedata.decomposition(sign).startswith("<fraction>") else sign
        for sign in text
    )
    plain = " ".join(signs.translate(_SIGNS).replace("''", '"').casefold().split())
    return re.sub(r" ?/ ?", "/", plain.replace("- ", "-"))


def _number(text: str, where: Place, value: object) -> Fraction:
    whole, mixed, fraction = text.replace("-", " ").rpartition(" ")
    top, _, bottom = fraction.partition("/")
    if bottom and (int(bottom) == 0 or (mixed and int(top) >= int(bottom))):
        _refuse(where, value, "has a fraction that no tape shows; write for instance 5 1/2")
    if bottom and int(top) >= int(bottom):
        _refuse(where, value, f"has a fraction over 1: {_spaced(top, bottom)}? Then write it so")
    return Fraction(whole or 0) + Fraction(fraction)


def _spaced(top: str, bottom: str) -> str:
    """Return what a fraction over 1 may mean: ``7 3/8`` for 73/8, where a space is missing, else its whole number."""
    parted = [
        f"{top[:at]} {top[at:]}/{bottom}" for at in range(1, len(top)) if top[at] != "0" and int(top[at:]) < int(bottom)
    ]
    whole, rest = divmod(int(top), int(bottom))
    return " or ".join(parted) or (f"{whole} {Fraction(rest, int(bottom))}" if rest else f"{whole}")


def _unit_of(word: str, unit: str | None, value: object, where: Place) -> str:
    if word in _UNIT_OF:
        return _UNIT_OF[word]
    if word in _ANGLES:
        _refuse(where, value, "is an angle; a length belongs here")
    if word == "%":
        _refuse(where, value, "is a percentage; a length belongs here")
    if word:
        _refuse(where, value, f"has the unit {word}, which is not taken here; write in, cm or mm")
    if unit is None:
        _refuse(where, value, "has no unit; write for instance 10 mm or 3/8 in")
    return unit


def _advice(plain: str, kind: str) -> str:
    decimal = re.sub(r"(?<=[0-9]),(?=[0-9])", ".", plain)
    if decimal != plain and _QUANTITY.fullmatch(decimal):
        # 1,250 may be a good metre or a little over one of something
        thousands = f" or {plain.replace(',', '')}" if re.search("[1-9],[0-9]{3}(?![0-9])", plain) else ""
        return f"{kind.partition(';')[0]}; write {decimal}{thousands}"
    return kind


def _refuse(where: Place, value: object, why: str) -> NoReturn:
    raise LengthError(f"{_shown(value)} {why}", where)


def _shown(value: object) -> str:
    match value:
        case bool():
            return str(value).lower()
        # Python refuses to write out integers of thousands of digits
        case int() if abs(value) > _LARGEST:
            return "this number"
        case str() | int() | float():
            text = repr(value)
            return text if len(text) <= 60 else text[:57] + "..."
        case list():
            return "a list"
        case dict():
            return "a table"
        case _:
            return "a date or a time"


@contextmanager
def _no_arrays() -> Iterator[None]:
    """Hide numpy from what is imported here: Pint loads it where it can, which takes longer than to draft a piece."""
    hidden: dict[str, Any] = {} if "numpy" in sys.modules else {"numpy": None}
    sys.modules.update(hidden)
    try:
        yield
    finally:
        for name in hidden:
            del sys.modules[name]


@cache
def _millimetres(unit: str) -> Fraction:
    with _no_arrays():
        from pint import UnitRegistry

    registry: UnitRegistry[Fraction] = UnitRegistry(None, non_int_type=Fraction)
    for line in ("mm = [length]", "cm = 10 mm", "m = 1000 mm", "in = 127 / 5 mm", "ft = 12 in", "yd = 3 ft"):
        registry.define(line)
    return Fraction(registry.Quantity(Fraction(1), unit).to("mm").magnitude)


def _steps(value: float | Fraction, step: float, up: bool, down: bool) -> int:
    count = float(value) / step
    # a millionth of a step is noise of the float arithmetic, not a reason to round on
    if up:
        return math.ceil(count - 1e-6)
    return math.floor(count + (1e-6 if down else 0.5 + 1e-9))
