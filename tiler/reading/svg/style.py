"""Whether an SVG element is drawn: ``display`` and ``visibility`` (SVG 2, 11.5 and 11.6), by attribute or CSS.

Of a style sheet the rules with simple selectors count (type, class, id, or one after
the other without a space); that is what drawing programs write.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from tiler.reading.svg.markup import Element

PROPERTIES = ("display", "visibility", "transform")

_COMMENT = re.compile(r"/\*.*?(?:\*/|$)", re.DOTALL)
_AT_RULE = re.compile(r"@[^{;]*(?:;|\{(?:[^{}]*\{[^{}]*\})*[^{}]*\})")
_RULE = re.compile(r"([^{}]+)\{([^{}]*)\}")
_SELECTOR = re.compile(r"(\*|[\w-]+)?((?:[.#][\w-]+)*)")


@dataclass(frozen=True)
class Rule:
    """One simple selector with what it declares; ``weight`` orders rules by specificity, then by place."""

    name: str
    classes: frozenset[str]
    ids: frozenset[str]
    declared: dict[str, str]
    weight: tuple[int, int, int, int]

    def applies(self, element: Element) -> bool:
        """Tell whether an element is selected."""
        return (
            self.name in ("", "*", element.name)
            and self.classes <= set(element.attributes.get("class", "").split())
            and self.ids <= {element.attributes.get("id", "")}
        )


@dataclass(frozen=True)
class StyleSheet:
    """The rules of all style elements of a file, the weightiest last."""

    rules: tuple[Rule, ...]

    def value(self, element: Element, key: str) -> str | None:
        """Return what is declared for a property of an element, inherited values left out."""
        inline = _declared(element.attributes.get("style", ""))
        if key in inline:
            return inline[key]
        matching = [rule for rule in self.rules if key in rule.declared and rule.applies(element)]
        return matching[-1].declared[key] if matching else element.attributes.get(key)

    def moved_by_css(self, element: Element) -> bool:
        """Tell whether a place is stated in CSS, in units and by rules of its own, instead of by the attribute."""
        value = self.value(element, "transform")
        return value is not None and value != element.attributes.get("transform") and value != "none"


def style_sheet(root: Element) -> StyleSheet:
    """Collect the rules of a file that matter here."""
    texts = "\n".join(element.text for element in _walk(root) if element.name == "style")
    plain = _AT_RULE.sub(" ", _COMMENT.sub(" ", texts))
    rules = []
    for place, (selectors, body) in enumerate(_RULE.findall(plain)):
        declared = {key: value for key, value in _declared(body).items() if key in PROPERTIES}
        for selector in selectors.split(",") if declared else ():
            match = _SELECTOR.fullmatch(selector.strip())
            if match and match[0]:
                rules.append(_rule(match[1] or "", match[2], declared, place))
    return StyleSheet(tuple(sorted(rules, key=lambda rule: rule.weight)))


def _rule(name: str, marks: str, declared: dict[str, str], place: int) -> Rule:
    found = re.findall(r"([.#])([\w-]+)", marks)
    classes = frozenset(word for sign, word in found if sign == ".")
    ids = frozenset(word for sign, word in found if sign == "#")
    return Rule(name, classes, ids, declared, (len(ids), len(classes), int(name not in ("", "*")), place))


def _declared(text: str) -> dict[str, str]:
    pairs = (part.partition(":") for part in text.split(";"))
    return {key.strip().lower(): value.replace("!important", "").strip() for key, _, value in pairs if value}


def _walk(element: Element) -> Iterator[Element]:
    yield element
    for child in element.children:
        yield from _walk(child)
