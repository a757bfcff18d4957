"""Lines of at most 79 columns on a terminal; a number is not parted from its fraction or its unit."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from textwrap import wrap

WIDTH = 79

_WITHIN_A_NUMBER = re.compile(r"(?<=[0-9½¼¾⅛⅜⅝⅞]) (?=in\b|cm\b|%|[0-9]+/)")
_NO_BREAK = "\u00a0"


@dataclass(frozen=True)
class Line:
    """One line of the chart."""

    text: str
    is_heading: bool = False


def wrapped(text: str, first: str = "", further: str = "", *, heading: bool = False) -> Iterator[Line]:
    """Break a text into lines that begin with ``first`` and ``further``."""
    kept = _WITHIN_A_NUMBER.sub(_NO_BREAK, text)
    for line in wrap(kept, WIDTH, initial_indent=first, subsequent_indent=further):
        yield Line(line.replace(_NO_BREAK, " "), heading)
