"""Lengths that the words of a page name, as labels of test squares do: "2 in", "10x10cm", "one inch square"; mm."""

from __future__ import annotations

import re
from fractions import Fraction
from unicodedata import normalize

INCH = Fraction(254, 10)
"""NIST SP 811, App. B: 1 in = 25.4 mm exactly."""

WORDS = {"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "eight": 8, "ten": 10}

_NUMBER = (
    r"(\d{1,3}(?:[.,]\d{1,3})?(?:[ -]\d{1,2}/\d{1,2})?|\d{1,2}/\d{1,2}" + "".join(f"|{word}" for word in WORDS) + ")"
)
_PART = re.compile("(?<=[0-9])(?=[¼½¾⅛⅜⅝⅞⅓⅔]|[⁰¹²³⁴-⁹]+[⁄/])")
"""Between a whole number and the raised figures or the one sign of its fraction."""

_UNIT = (
    r"(inch(?:es)?|in\b(?!\s+(?:the|this|that|an?|each|all|both)\b)|''|[\"″”“]|zoll\b|pouces?\b|pulgadas?\b"
    r"|cm\b|centimet(?:er|re)s?|mm\b|millimet(?:er|re)s?)"
)
_BEFORE = r"(?<![\d./\w])"
_SIZE = re.compile(rf"{_BEFORE}{_NUMBER}\s*-?\s*{_UNIT}", re.IGNORECASE)
_BARE_BY = re.compile(rf"{_BEFORE}{_NUMBER}\s*(?:[x×]|by)\s*{_NUMBER}\s*-?\s*{_UNIT}", re.IGNORECASE)


def sizes_named(text: str) -> list[tuple[float, str]]:
    """Return the lengths that a text names, mm, with the words that name them."""
    plain = normalize("NFKC", _PART.sub(" ", text)).replace("⁄", "/")
    plain = plain.replace("\N{PRIME}\N{PRIME}", '"')
    sizes = []
    for found in (*_BARE_BY.finditer(plain), *_SIZE.finditer(plain)):
        value = _value(found[1])
        if value:
            sizes.append((float(value * _factor(found[found.lastindex or 2])), found[0].strip()))
    return sizes


def _value(text: str) -> Fraction | None:
    if text.lower() in WORDS:
        return Fraction(WORDS[text.lower()])
    total = Fraction(0)
    for part in re.split(r"[ -]", text.replace(",", ".")):
        top, _, foot = part.partition("/")
        if foot and int(foot) == 0:
            return None
        total += Fraction(top) / (int(foot) if foot else 1)
    return total or None


def _factor(unit: str) -> Fraction:
    word = unit.lower()
    if word.startswith(("cm", "centi")):
        return Fraction(10)
    return Fraction(1) if word.startswith(("mm", "milli")) else INCH
