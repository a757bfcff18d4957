"""The elements of an SVG file, parsed without trust.

Nothing is fetched and nothing is expanded: a file that declares entities or refers
to other files is refused, so are files that are too large or nested too deeply.
Elements and attributes of other namespaces than SVG's are left out.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from xml.parsers.expat import ExpatError, ParserCreate
from xml.parsers.expat.errors import XML_ERROR_NO_MEMORY, codes

from tiler.errors import UnreadableError

SVG = "http://www.w3.org/2000/svg"
XLINK = "http://www.w3.org/1999/xlink"

LARGEST_FILE = 64 * 2**20
"""A larger file is refused, bytes."""

DEEPEST = 128
"""Elements nested deeper than this are refused."""

MOST_ELEMENTS = 200_000
"""A file with more elements is refused."""

TEXTS = ("style", "text", "title")
"""Elements whose own text is kept; white space between other ones is nothing that anybody reads."""

_NO_MEMORY = codes[XML_ERROR_NO_MEMORY]

_OUTSIDE = re.compile(r"@import|url\(\s*[\"']?\s*(?!#|data:)[^\s\"')]", re.IGNORECASE)


@dataclass
class Element:
    """One element: its name, its attributes, what stands in it, and its text; ``others`` are of other namespaces."""

    name: str
    attributes: Mapping[str, str]
    children: list[Element] = field(default_factory=list)
    text: str = ""
    others: list[str] = field(default_factory=list)


def parse(data: bytes, name: str) -> Element:
    """Return the outermost element; raises :class:`UnreadableError`."""
    if len(data) > LARGEST_FILE:
        raise UnreadableError(f"{name} is larger than {LARGEST_FILE // 2**20} MB; leave pictures out of it")
    builder = _Builder(name)
    try:
        builder.parser.Parse(data, True)
    except ExpatError as fault:
        if fault.code == _NO_MEMORY:
            raise MemoryError from fault
        raise UnreadableError(f"{name} is damaged or not an SVG ({fault}); export it again") from fault
    except (ValueError, LookupError) as fault:
        raise UnreadableError(f"{name} is in an encoding that cannot be read; save it as UTF-8") from fault
    root = builder.root
    if root is None or root.name != "svg":
        raise UnreadableError(f"{name} is not an SVG: its outermost element is another one; export it as SVG")
    return root


class _Builder:
    """Puts the tree together as the parser meets its parts."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.root: Element | None = None
        self._open: list[Element | None] = []
        self._texts: dict[int, list[str]] = {}
        self._count = 0
        self.parser = ParserCreate(namespace_separator=" ")
        self.parser.buffer_text = True
        self.parser.StartElementHandler = self._start
        self.parser.EndElementHandler = self._end
        self.parser.CharacterDataHandler = self._text
        self.parser.EntityDeclHandler = self._entity
        self.parser.ExternalEntityRefHandler = self._entity
        self.parser.ProcessingInstructionHandler = self._instruction

    def _start(self, tag: str, given: dict[str, str]) -> None:
        self._count += 1
        if self._count > MOST_ELEMENTS or len(self._open) > DEEPEST:
            raise UnreadableError(f"{self.name} holds too much, or is nested too deeply; export the edge alone")
        space, _, local = tag.rpartition(" ")
        above = self._open[-1] if self._open else None
        if space not in ("", SVG) or (self._open and above is None):
            if above:
                above.others.append(local)
            self._open.append(None)
            return
        element = Element(local, {key.removeprefix(f"{XLINK} "): value for key, value in given.items()})
        self._refuse_outside(element)
        if above:
            above.children.append(element)
        else:
            self.root = element
        self._open.append(element)

    def _end(self, _: str) -> None:
        element = self._open.pop()
        if element and element.name in TEXTS:
            element.text = "".join(self._texts.pop(id(element), ()))
        if element and element.name == "style" and _OUTSIDE.search(element.text):
            self._refuse("a style sheet that refers to another file")

    def _text(self, text: str) -> None:
        element = self._open[-1]
        if element and element.name in TEXTS:
            self._texts.setdefault(id(element), []).append(text)

    def _refuse_outside(self, element: Element) -> None:
        link = element.attributes.get("href", "#").strip()
        if element.name != "a" and not link.startswith(("#", "data:")) and link:
            self._refuse(f"a <{element.name}> that refers to another file")
        if any(_OUTSIDE.search(value) for value in element.attributes.values() if "(" in value or "@" in value):
            self._refuse(f"a <{element.name}> that refers to another file")

    def _instruction(self, target: str, data: str) -> None:
        if target.startswith("xml-stylesheet") and not re.search(r"href\s*=\s*[\"']#", data):
            self._refuse("a style sheet in another file")

    def _entity(self, *_: object) -> int:
        self._refuse("entities of its own")
        return 0

    def _refuse(self, what: str) -> None:
        raise UnreadableError(f"{self.name} has {what}; export it as plain SVG, with nothing linked in")
