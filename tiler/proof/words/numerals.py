"""What stands in the test squares and at the ticks of the ruler lines, held against what is declared of them; mm."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from tiler.box import Box
from tiler.declaration import Declaration, Rule, Square
from tiler.languages.words import Words
from tiler.printed import Word
from tiler.proof.foreign.size_words import sizes_named
from tiler.proof.ink.where import word_box
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says
from tiler.proof.tolerances import VECTOR

UNITS = {"in": 25.4, "cm": 10.0}
"""NIST SP 811, App. B: 1 in = 25.4 mm exactly."""

BESIDE = 4.0
"""The numerals of a ruler line stand no further beside it, mm."""

AT_TICK = 1.2
"""The middle of a numeral stands no further from its tick along the line, mm."""

BEYOND = 8.0
"""The unit of a ruler line stands no further beyond its end, mm."""

PAST_END = 3.0
"""Of a line whose ticks have no numerals the middle of the only one stands no further beyond the end, mm."""


def measure_faults(declaration: Declaration, others: Collection[str]) -> Iterator[Check]:
    """Read what stands in the squares and at the ticks of the ruler lines."""
    for number, marks in enumerate(declaration.printed, 1):
        words = [(word.text, word_box(word)) for word in marks if isinstance(word, Word) and word.text]
        for square in declaration.squares:
            if square.page == number:
                yield from _square(square, words)
        yield from _numerals([rule for rule in declaration.rules if rule.page == number], words, number, others)


def _square(square: Square, words: Sequence[tuple[str, Box]]) -> Iterator[Check]:
    sizes = [size for text, at in words if square.box.holds(at) for size, _ in sizes_named(text)]
    for size in sizes:
        if abs(size - square.nominal_mm) > VECTOR:
            yield _off(size, square.nominal_mm, Words("the {label} square", label=square.label), square.page)
    if not sizes:
        yield _unlike(Words("the {label} square", label=square.label), square.page)


def _numerals(
    rules: Sequence[Rule], words: Sequence[tuple[str, Box]], number: int, others: Collection[str]
) -> Iterator[Check]:
    """Give each numeral and unit to the ruler line that it stands nearest to, and hold it against its place.

    A size or a name may be a numeral that belongs to none: ``others``.
    """
    marked: list[set[str]] = [set() for _ in rules]
    found = [(text, _near(rules, box)) for text, box in words if text.isdecimal() or text in UNITS]
    at_ticks = [(text, index) for text, near in found for _, along, index in near if _at(rules[index], text, along)]
    for text, near in found:
        fit = [index for _, along, index in near if _at(rules[index], text, along)]
        fit = fit or [
            index
            for _, along, index in near
            if _past_end(rules[index], text, along) and not any(one.isdecimal() and at == index for one, at in at_ticks)
        ]
        if fit:
            marked[fit[0]].add(text)
        elif near and text not in others:
            rule = rules[near[0][2]]
            yield _off(_said(rule, text), near[0][1], Words("{rule}, a numeral", rule=_called(rule)), number)
    for rule, texts in zip(rules, marked, strict=True):
        count, unit = round(rule.nominal_mm / UNITS.get(_unit(rule), 1.0)), _unit(rule)
        if not {str(count), unit} <= texts:
            yield _unlike(_called(rule), number)


def _near(rules: Sequence[Rule], box: Box) -> list[tuple[float, float, int]]:
    """Return the rules that a word stands near to, the nearest first: how far beside, where along it, and which."""
    near = sorted((*_on(rule, box), index) for index, rule in enumerate(rules))
    return [one for one in near if one[0] <= BESIDE and -AT_TICK <= one[1] <= rules[one[2]].nominal_mm + BEYOND]


def _past_end(rule: Rule, text: str, along: float) -> bool:
    """Tell whether a numeral says a whole line and stands just beyond its end."""
    return (
        text.isdecimal()
        and abs(_said(rule, text) - rule.nominal_mm) <= VECTOR
        and 0.0 < along - rule.nominal_mm <= PAST_END
    )


def _at(rule: Rule, text: str, along: float) -> bool:
    """Tell whether a numeral stands at its tick, or a unit beyond the end of its own line."""
    if text in UNITS:
        return text == _unit(rule) and along >= rule.nominal_mm - AT_TICK
    return abs(_said(rule, text) - along) <= AT_TICK


def _said(rule: Rule, text: str) -> float:
    return int(text) * UNITS.get(_unit(rule), 0.0) if text.isdecimal() else rule.nominal_mm


def _unit(rule: Rule) -> str:
    return rule.label.split()[-1]


def _called(rule: Rule) -> str:
    return Words("the {label} ruler line {axis}", label=rule.label, axis=Words(rule.axis))


def _on(rule: Rule, box: Box) -> tuple[float, float]:
    """Return how far beside a ruler line a word begins, and where along it its middle stands."""
    (x, y), (u, v) = rule.at, box.middle
    if rule.axis == "across":
        return min(abs(box.y0 - y), abs(box.y1 - y)), u - x
    return min(abs(box.x0 - x), abs(box.x1 - x)), v - y


def _off(said: float, stated: float, label: str, page: int) -> Check:
    return Check(CheckName.SAID_SIZE, Status.FAIL, Says.SAID_SIZE, page, stated, said, label=label)


def _unlike(label: str, page: int) -> Check:
    return Check(CheckName.WORDS, Status.FAIL, Says.SAID_UNLIKE, page, label=label)
