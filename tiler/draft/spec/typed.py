"""What people type, put into the strict grammar of a spec: bare numbers with their unit, decimal commas.

A comma is a decimal one where it can mean nothing else: ``23,5`` and ``0,125``, but not
``1,250``, which may be a thousand.  Nothing is judged here: what is no length stays as it
was typed, for the reader of the spec to refuse.
"""

from __future__ import annotations

import re
from fractions import Fraction

_COMMA = re.compile(r"(?<![0-9.,/])(0,[0-9]+|[0-9]+,(?:[0-9]{1,2}|[0-9]{4,}))(?![0-9.,])")
_BARE = re.compile(r"-? ?(?:[0-9]+[ -][0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]*\.[0-9]+|[0-9]+)")
_DECIMAL = re.compile(r"[0-9]*\.[0-9]+|[0-9]+")
_LENGTH = re.compile(r"[0-9].*(?:[a-z]\.?|[\"'″′”’])")

LEAST_PERCENT = 5
"""A bare number from here on is a percentage; a smaller one is the share itself, as in a spec."""


def typed_length(text: str, units: str) -> str:
    """Return a length with its unit: ``23,5`` becomes ``23.5 cm``; a bare zero stays one."""
    plain = _points(text)
    return f"{plain} {units}" if _BARE.fullmatch(plain) and plain.strip("0.") else plain


def typed_thickness(text: str, units: str) -> str:
    """Return a thickness of cloth with its unit, which is mm for those who measure in cm: no knit has 0.8 cm."""
    return typed_length(text, "mm" if units == "cm" else units)


def typed_share(text: str, units: str = "") -> str:  # noqa: ARG001
    """Return a share as a percentage: ``80`` becomes ``80 %``, and so does ``0.8``."""
    plain = _points(text)
    if not _DECIMAL.fullmatch(plain) or len(plain) > LONGEST_SHARE:
        return plain
    number = Fraction(plain)
    return f"{plain} %" if number >= LEAST_PERCENT else f"{float(number * 100):.10g} %"


LONGEST_SHARE = 12
"""A number of more characters is no share, and is left to be refused."""


def typed_angle(text: str, units: str = "") -> str:  # noqa: ARG001
    """Return an angle with a decimal point."""
    return _points(text)


def typed_share_or_length(text: str, units: str) -> str:
    """Return a percentage, or a length where a unit of length is written."""
    return typed_length(text, units) if is_length(text) else typed_share(text)


def typed_measure(text: str, units: str) -> str:
    """Return a length; words, such as ``head, 24 months``, as they are."""
    return text if text[:1].isalpha() else typed_length(text, units)


def is_length(text: str) -> bool:
    """Tell whether the text is a number with a unit other than the percent sign."""
    return bool(_LENGTH.fullmatch(text.casefold().strip()))


def _points(text: str) -> str:
    return _COMMA.sub(lambda found: found[1].replace(",", "."), text)


def typed_parts(text: str, units: str) -> str:
    """Return names with a length each: ``front 36; back 18,5`` becomes ``front 36 cm; back 18.5 cm``."""
    return "; ".join(f"{name} {typed_part(length, units)}".strip() for name, length in named_lengths(text))


def typed_part(text: str, units: str) -> str:
    """Return a length and what stands behind it: ``36, 90`` becomes ``36 cm, 90 deg``."""
    length, *more = _BETWEEN.split(text)
    behind = (_points(one.strip()) for one in more)
    angles = (f"{one} deg" if _DECIMAL.fullmatch(one.removeprefix("-")) else one for one in behind)
    return ", ".join([typed_length(length.strip(), units), *angles])


def stated_part(text: str) -> dict[str, str]:
    """Return what is said of a part of an edge by the keys of a spec: a length, an angle, a percentage."""
    length, *more = _BETWEEN.split(text)
    own = {"ratio" if one.rstrip().endswith("%") else "turning": one.strip() for one in more}
    return {"length": length, **own}


def named_lengths(text: str) -> list[tuple[str, str]]:
    """Return the names and lengths of such a list, each with what stands behind it; it begins at the first digit."""
    found = []
    for part in filter(str.strip, text.split(";")):
        name, length = _NAMED.fullmatch(part.strip()).groups()  # type: ignore[union-attr]  # any text matches
        found.append((name.strip(" =:"), length))
    return found


_BETWEEN = re.compile(r",(?=\s)|(?<![0-9]),")
"""A comma that is no decimal one."""

_NAMED = re.compile(r"([^0-9]*)(.*)", re.DOTALL)
