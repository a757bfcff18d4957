"""Sentences in lines as wide as the terminal; a number is not parted from its fraction or its unit."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from textwrap import wrap

from tiler.commands.output.terminal import say, table_width
from tiler.files import visible

HANGING = "    "
"""What stands before all lines of a sentence but the first."""

_WITHIN_A_NUMBER = re.compile(r"(?<=[0-9½¼¾⅛⅜⅝⅞]) (?=in\b|cm\b|mm\b|%|[0-9]+/)")
_NO_BREAK = "\u00a0"


UNBROKEN = 100_000
"""Columns that no line fills."""

_columns: ContextVar[int] = ContextVar("columns", default=0)


@contextmanager
def whole_lines() -> Iterator[None]:
    """Break no line inside: what shows it does so itself."""
    token = _columns.set(UNBROKEN)
    try:
        yield
    finally:
        _columns.reset(token)


@dataclass(frozen=True)
class Line:
    """One line of a table."""

    text: str
    is_heading: bool = False


def width() -> int:
    """Return how many columns a line may fill: all but the last, at whose end some terminals break the line."""
    return _columns.get() or table_width() - 1


def wrapped(
    text: str, first: str = "", further: str = "", *, heading: bool = False, whole_words: bool = False
) -> Iterator[Line]:
    """Yield a text in lines that begin with ``first`` and ``further``; whole words stay whole, hyphens and all."""
    kept = _WITHIN_A_NUMBER.sub(_NO_BREAK, visible(text))
    for line in wrap(
        kept,
        width(),
        initial_indent=first,
        subsequent_indent=further,
        break_on_hyphens=not whole_words,
        break_long_words=not whole_words,
    ):
        yield Line(line.replace(_NO_BREAK, " "), heading)


def tell(sentence: str, *, err: bool = False) -> None:
    """Write a sentence in lines that fit."""
    for line in fitted(sentence, err=err):
        say(line, err=err)


def fitted(sentence: str, *, err: bool = False) -> list[str]:
    """Return a sentence in lines for the terminal, or whole for a file or a pipe, where a line is read as one fact."""
    return broken(sentence) if (sys.stderr if err else sys.stdout).isatty() else [sentence]


def broken(sentence: str) -> list[str]:
    """Return a sentence in lines of which all but the first hang; words and names of files stay whole."""
    return [line.text for line in wrapped(sentence, further=HANGING, whole_words=True)]
