"""What the engine says of options, in the labels of the page."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache

from tiler.browser.form import PAGE_FIELDS
from tiler.commands.one_piece.options import ALL
from tiler.draft.fastening.running_on import TIES
from tiler.errors import SpecError, TilerError

_OPTION = re.compile(r"(?<![\w-])--([a-z]+(?:-[a-z]+)*)(?![\w-])")


OWN = {
    "pdf": "File",
    "expect": "Side of its square",
    "only": "Number of the square",
    "scan": "A scan of a printed page",
    "photo": "A photo of page 1 with a bank card on it",
    "dpi": "Dots per inch of the scan",
    "card": "A bank card lies on the glass",
    "ruler": "A ruler lies on the glass",
    "name": "Name of the printer",
    "nominal-across": "The line across should measure",
    "across": "It measures across",
    "nominal-down": "The line down should measure",
    "down": "It measures down",
    "reading-error": "Read to within",
    "force": "Replace what is kept",
    "drawing": "Drawing",
    "page-of-drawing": "Page of the drawing",
    "scale-from-square": "Correct by its square",
    "pick": "Which curve is it?",
    "drawn-part": "What it is of the edge",
    "child": "For a child",
    "accept": "Let free ends pass",
    "printer": "Printer",
    "on-paper": "Paper",
    "apart": "Sizes apart",
    "sizes": "Sizes",
    "spec": "Spec",
    "correct": "Made for this printer",
}
"""Labels of fields whose option is named in the words of a terminal."""


def label(name: str) -> str:
    """Return the label of a field by the name of its option, without dashes before it: ``Front half``."""
    if name in OWN:
        return OWN[name]
    words = name.replace("-", " ")
    return f"{words[0].upper()}{words[1:]}"


@cache
def names() -> frozenset[str]:
    """Return the names of all options of a strip, of which each has a field."""
    return frozenset([*(name.removeprefix("--") for option in ALL for name in option.names), *PAGE_FIELDS])


def said(text: str) -> str:
    """Return a sentence with labels for the options that it names; one that has no field keeps its name."""
    fields = names() | OWN.keys()
    # a tick has no word behind it
    text = text.replace(f"--accept {TIES}", "--accept")
    return _OPTION.sub(lambda found: f"“{label(found[1])}”" if found[1] in fields else found[0], text)


def about(text: str, names: Iterable[str]) -> str | None:
    """Return the field that a sentence names first, of these."""
    known = set(names)
    return next((found[1] for found in _OPTION.finditer(text) if found[1] in known), None)


def field_of(fault: TilerError, names: Iterable[str]) -> str | None:
    """Return the field that a fault is about."""
    place = str(fault.place) if fault.place else ""
    return about(place, names) or (about(fault.why, names) if isinstance(fault, SpecError) else None)
