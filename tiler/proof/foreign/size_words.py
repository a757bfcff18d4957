"""Lengths that the words of a page name, as labels of test squares do: "2 in", "10x5cm", "one inch square"; mm."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from unicodedata import normalize

INCH = Fraction(254, 10)
"""NIST SP 811, App. B: 1 in = 25.4 mm exactly."""

EQUAL = 1e-4
"""Lengths that differ by no more than this share are one: 2 in and 5.08 cm."""

_COUNTED = {
    1: "one ein eine un une uno una een één ett yksi jeden um uma 一",
    2: "two zwei deux dos due twee två kaksi dwa dois duas 二",
    3: "three drei trois tres tre drie kolme trzy três 三",
    4: "four vier quatre cuatro quattro fyra fire neljä cztery quatro 四",
    5: "five fünf cinq cinco cinque vijf fem viisi pięć 五",
    6: "six sechs seis sei zes sex seks kuusi sześć 六",
    7: "seven sieben sept siete sette zeven sju syv seitsemän siedem sete 七",
    8: "eight acht huit ocho otto åtta åtte otte kahdeksan osiem oito 八",
    10: "ten zehn dix diez dieci tien tio ti kymmenen dziesięć dez 十",
    12: "twelve zwölf douze doce dodici twaalf tolv dwanaście doze",
}
WORDS = {word: number for number, words in _COUNTED.items() for word in words.split()}
"""Number words of English, German, French, Spanish, Italian, Dutch, the Nordic languages, Polish, Portuguese and
Japanese, but those that are other words elsewhere ("to", "en")."""

_LETTER = "A-Za-zÀ-ÖÙ-öù-ÿĀ-žА-я"
_BEFORE = rf"(?<![\d./{_LETTER}])"
_AFTER = rf"(?![{_LETTER}0-9])"
_DIGITS = r"\d{1,3}(?:[.,]\d{1,3})?(?:[ -]\d{1,2}/\d{1,2})?|\d{1,2}/\d{1,2}"
_NUMBER = f"({_DIGITS}|{'|'.join(sorted(WORDS, key=len, reverse=True))})"
_INCH = (
    rf"inch(?:es|e)?{_AFTER}|in(?:s\.?)?{_AFTER}(?!\s+(?:the|this|that|an?|each|all|both|der|dem|den|die|einem?)\b)"
    rf"|''|[\"″”“]|(?:zoll|zölle|pouces?|po|pulgadas?|pulg|polegadas?|pollic[ei]|duim(?:en)?|tum|tomme[rn]?|tuumaa?"
    rf"|cal[ei]?|дюйм[а-я]*|インチ|吋){_AFTER}"
)
_CENTIMETRE = (
    rf"(?:cms?|[cz]ent[iyí]m[eèéê]t[{_LETTER}]*|senttimetri[{_LETTER}]*|см|сантиметр[а-я]*|センチ(?:メートル)?|糎)"
    rf"{_AFTER}"
)
_MILLIMETRE = rf"(?:mms?|mil{{1,2}}[iyí]m[eèéê]t[{_LETTER}]*|мм|миллиметр[а-я]*|ミリ(?:メートル)?|粍){_AFTER}"
_UNIT = f"(?:(?P<in>{_INCH})|(?P<cm>{_CENTIMETRE})|(?P<mm>{_MILLIMETRE}))"
_ANY_UNIT = f"(?:{_INCH}|{_CENTIMETRE}|{_MILLIMETRE})"
_BY = r"\s*(?:[x×х✕✖*]|by|mal|par|sur|por|per|op|på|na)\s*"
_PAIR = re.compile(rf"{_BEFORE}{_NUMBER}\s*-?\s*(?:{_ANY_UNIT})?{_BY}{_NUMBER}\s*-?\s*{_UNIT}", re.IGNORECASE)
_SIZE = re.compile(rf"{_BEFORE}{_NUMBER}\s*-?\s*{_UNIT}", re.IGNORECASE)
_BARE_PAIR = re.compile(rf"{_BEFORE}({_DIGITS}){_BY}({_DIGITS})(?![\d/.,{_LETTER}])", re.IGNORECASE)
_PART = re.compile("(?<=[0-9])(?=[¼½¾⅛⅜⅝⅞⅓⅔]|[⁰¹²³⁴-⁹]+[⁄/])")
"""Between a whole number and the raised figures or the one sign of its fraction."""

_UNITS = {"in": INCH, "cm": Fraction(10), "mm": Fraction(1)}
_ENGLISH = {"one", "two", "three", "four", "five", "six", "seven", "eight", "ten", "twelve"}


@dataclass(frozen=True)
class Stated:
    """A size in words, mm: ``wide`` by ``high`` of a pair, else both the same.

    ``squared`` tells that words name both sides of a square; ``unit`` is false where a unit had to be supposed.
    """

    wide: float
    high: float
    words: str
    squared: bool = False
    unit: bool = True

    @property
    def oblong(self) -> bool:
        """Tell whether two different sides are named."""
        return not equal(self.wide, self.high)


def equal(one: float, other: float) -> bool:
    """Tell whether two lengths are the same in two units."""
    return abs(one / other - 1) <= EQUAL


def sizes_named(text: str) -> list[tuple[float, str]]:
    """Return the lengths that a text names, mm, with the words that name them."""
    return [(one.wide, one.words) for one in stated_in(text) if one.unit]


def stated_in(text: str) -> list[Stated]:
    """Return the sizes that a text states; the two readings of a pair without a unit stand last."""
    plain = plainly(text)
    pairs = list(_pairs(plain))
    spans = [span for span, _ in pairs]
    found = [one for _, one in pairs]
    for match in _SIZE.finditer(plain):
        if not any(start <= match.start() < end for start, end in spans):
            size = _length(match[1], match)
            if size:
                found.append(Stated(size, size, match[0].strip()))
    if not found:
        for match in _BARE_PAIR.finditer(plain):
            one, two = _value(match[1]), _value(match[2])
            if one and one == two:
                sizes = (float(one * unit) for unit in (INCH, Fraction(10), Fraction(1)))
                names = (f"{match[0].strip()} {unit}" for unit in ("in", "cm", "mm"))
                found += (Stated(size, size, name, True, unit=False) for size, name in zip(sizes, names, strict=True))
    return found


def plainly(text: str) -> str:
    """Return a text with whole letters, and fractions written as 1 1/2."""
    plain = normalize("NFKC", _PART.sub(" ", text)).replace("⁄", "/")
    return plain.replace("\N{PRIME}\N{PRIME}", '"')


def _pairs(plain: str) -> Iterator[tuple[tuple[int, int], Stated]]:
    for match in _PAIR.finditer(plain):
        one, two = _length(match[1], match), _length(match[2], match)
        first = _SIZE.match(match[0])
        if first and first.end() < len(match[0]):
            one = _length(first[1], first)
        if one and two:
            yield match.span(), Stated(one, two, match[0].strip(), squared=equal(one, two))


def _length(number: str, found: re.Match[str]) -> float:
    """Return a number in the unit of a match, mm; 0 for none, as a foreign number word before an English "in" is."""
    word = number.casefold()
    value = _value(number)
    unit = next(name for name in _UNITS if found[name])
    if word in WORDS and found[unit].casefold() == "in" and word not in _ENGLISH:
        return 0.0
    return float(value * _UNITS[unit]) if value else 0.0


def _value(text: str) -> Fraction | None:
    if text.casefold() in WORDS:
        return Fraction(WORDS[text.casefold()])
    total = Fraction(0)
    for part in re.split(r"[ -]", text.replace(",", ".")):
        top, _, foot = part.partition("/")
        if foot and int(foot) == 0:
            return None
        total += Fraction(top) / (int(foot) if foot else 1)
    return total or None
