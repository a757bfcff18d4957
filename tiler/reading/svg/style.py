"""Whether an SVG element is drawn: ``display`` and ``visibility`` (SVG 2, 11.5 and 11.6), by attribute or CSS.

Of a style sheet the rules with simple selectors count (type, class, id, or one after
the other without a space); that is what drawing programs write.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from tiler.errors import UnreadableError
from tiler.reading.svg.markup import Element

PROPERTIES = ("display", "visibility", "transform")

MOST_RULES = 10_000
"""A file whose style sheets hold more selectors is refused."""

_PART = re.compile(r"/\*.*?(?:\*/|\Z)|[{};]", re.DOTALL)
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


def style_sheet(root: Element, properties: Sequence[str] = PROPERTIES) -> StyleSheet:
    """Collect the rules of a file that say something of these properties.

    Raises :class:`UnreadableError` for far too many.
    """
    text = "\n".join(element.text for element in _walk(root) if element.name == "style")
    rules: list[Rule] = []
    for place, (selectors, body) in enumerate(_blocks(text)):
        declared = {key: value for key, value in _declared(body).items() if key in properties}
        for selector in selectors.split(",") if declared else ():
            match = _SELECTOR.fullmatch(selector.strip())
            if match and match[0]:
                rules.append(_rule(match[1] or "", match[2], declared, place))
            if len(rules) > MOST_RULES:
                raise UnreadableError("its style sheet holds too much; export the edge alone")
    return StyleSheet(tuple(sorted(rules, key=lambda rule: rule.weight)))


def _blocks(text: str) -> Iterator[tuple[str, str]]:
    """Yield selectors and declarations of every rule, in one pass; rules that begin with @ are left out, whole."""
    before, start, depth, at_rule = "", 0, 0, False
    kept: list[str] = []
    for match in _PART.finditer(text):
        kept.append(text[start : match.start()])
        start, sign = match.end(), match[0]
        if sign.startswith("/*"):
            kept.append(" ")
        elif sign == "{":
            if not depth:
                before = "".join(kept).strip()
                at_rule, kept = before.startswith("@"), []
            depth += 1
        elif sign == "}":
            depth = max(0, depth - 1)
            if not depth:
                if not at_rule:
                    yield before, "".join(kept)
                before, at_rule, kept = "", False, []
        elif depth:
            kept.append(sign)
        else:
            kept = [] if "".join(kept).strip().startswith("@") else [sign]


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
