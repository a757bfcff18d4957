"""How deeply the keys of a TOML text are nested, found by one look along it before anything parses it.

A parser keeps every table on the way to a key, so that a line of twenty thousand dots
takes more memory than there is.  The words of TOML 1.0 suffice to tell where a key
stands: a header, a line, a table within braces.  What else is wrong with the text is left
to the parser.
"""

from __future__ import annotations

import re

DEEPEST = 16
"""Keys and lists nested deeper than this are refused; no spec needs half of it."""

_SIGN = re.compile(
    r'"""(?:[^"\\]|\\.|""?(?!"))*+(?:"{3,5})?'
    r"|'''(?:[^']|''?(?!'))*+(?:'{3,5})?"
    r'|"(?:[^"\\\n]|\\[^\n])*+"?'
    r"|'[^'\n]*'?"
    r"|\#[^\n]*"
    r"|[\[\]{}.,=\n]",
    re.DOTALL,
)


def too_deep(text: str) -> int | None:
    """Return the number of the first line, from 1, whose keys and lists are nested too deeply; None where none is."""
    header = 0
    """How deep the tables below the last header stand."""
    opened: list[tuple[str, int]] = []
    """The brackets that are open, each with how deep it stands."""
    dots, in_key, at_start, in_header = 0, True, True, False
    for match in _SIGN.finditer(text):
        sign = match[0]
        outer = opened[-1][1] if opened else header
        match sign:
            case "\n":
                if not opened:
                    header = dots + 1 if in_header else header
                    dots, in_key, at_start, in_header = 0, True, True, False
            case "[" if at_start or in_header:
                in_header, at_start, header, outer = True, False, 0, 0
            case "[" | "{":
                opened.append((sign, outer + dots + 1))
                dots, in_key = 0, sign == "{"
            case "]" | "}" if opened:
                opened.pop()
                dots, in_key = 0, False
            case ",":
                dots, in_key = 0, bool(opened) and opened[-1][0] == "{"
            case "=" if opened and opened[-1][0] == "[":
                # a list that was never closed: the parser gets no further than this, and says so
                return None
            case "=":
                in_key = at_start = False
            case ".":
                dots += in_key
                at_start = False
            case _:
                at_start = at_start and sign.startswith("#")
        if outer + dots + 1 > DEEPEST or (opened and opened[-1][1] > DEEPEST):
            return 1 + text.count("\n", 0, match.start())
    return None
