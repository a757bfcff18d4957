"""A TOML file of a person: read whole, and every way in which it is not one said in one sentence."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

from tiler.accents import TwiceError, composed_tree
from tiler.draft.spec.nesting import DEEPEST, too_deep
from tiler.errors import SpecError
from tiler.files import read_file
from tiler.sentence import Place

PATHS = ("svg", "pdf")
"""Keys of names of files, which are taken as they are written."""

LARGEST_SPEC = 2**20
"""A larger file, in bytes, is not a spec."""


def read_toml(path: Path, largest: int, what: str, instead: str = "") -> dict[str, Any]:
    """Read a file of at most ``largest`` bytes that is to be ``what``, such as "spec"; ``instead`` is what to write.

    Raises :class:`SpecError` with what is wrong and what to do.
    """
    raw = read_file(path, what, largest, SpecError)
    place = Place(path.name)
    if raw.startswith(b"%PDF-"):
        raise SpecError(f"is a PDF, not a {what}; name the .toml, or measure the PDF with tiler verify", place)
    try:
        # a byte order mark is not TOML, but some editors write it
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = raw[: fault.start].count(b"\n") + 1
        raise SpecError(f"line {line} is not UTF-8 text; save the file as UTF-8", place) from None
    return parsed_toml(text, place, what, instead)


def parsed_toml(text: str, place: Place, what: str, instead: str = "") -> dict[str, Any]:
    """Parse a text that is to be ``what``; ``place`` is that of its file.  Raises as :func:`read_toml` does."""
    deep = too_deep(text)
    if deep is not None:
        why = (
            f"line {deep} is nested too deeply to be a {what}, in more than {DEEPEST} keys; check the dots and brackets"
        )
        raise SpecError(why, place)
    try:
        tree: dict[str, Any] = composed_tree(tomllib.loads(text), PATHS)
        return tree
    except TwiceError as fault:
        raise SpecError(
            "stands twice, its accents written in two ways; keep one", Place(place.source, fault.args)
        ) from None
    except ValueError as fault:
        raise SpecError(f"is not TOML: {str(fault)[:200]}{f'; {instead}' if instead else ''}", place) from None
