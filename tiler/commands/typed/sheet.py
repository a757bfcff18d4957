"""The size of a sheet of paper as the type of an option: its name, or what a ruler reads, in millimetres."""

from __future__ import annotations

import re

import click

from tiler.errors import SpecError
from tiler.lengths import both, parse_length
from tiler.paper import PAPERS
from tiler.sentence import Place

NAMED = ("letter", "a4")

MADE, READ = 2.0, 0.5
"""By how much each side may be otherwise, mm: of a sheet that is named (ISO 216, from memory), and of one measured."""

LEAST, MOST = (180.0, 250.0), (225.0, 305.0)
"""A first page stands on nothing smaller, and a photo shows nothing larger around it."""

Size = tuple[float, float, float]
"""Width, height, and by how much both may be otherwise."""


class SheetType(click.ParamType):  # type: ignore[type-arg]  # older click has no type argument here
    """``letter``, ``a4``, or width × height such as ``215.5 mm x 279 mm``."""

    name = "sheet"

    def convert(self, value: object, param: click.Parameter | None, ctx: click.Context | None) -> Size:  # noqa: ARG002
        """Read the text; raises :class:`SpecError` for what is no sheet of a first page."""
        if isinstance(value, tuple):
            return value
        where, text = Place(param.opts[-1] if param else "sheet"), str(value).strip()
        if text.casefold() in NAMED:
            width, height = PAPERS[text.casefold()].size
            return width, height, MADE
        parts = re.split(r"\s*[x×]\s*", text)
        if len(parts) != 2:
            raise SpecError(f'"{text[:40]}" is no sheet; write letter, a4, or its sides, as "215.5 mm x 279 mm"', where)
        width, height = sorted(float(parse_length(part, None, where)) for part in parts)
        if not (LEAST[0] <= width <= MOST[0] and LEAST[1] <= height <= MOST[1]):
            raise SpecError(
                f"{both(width, 'in')} × {both(height, 'in')} is not about the size of Letter or A4; check it", where
            )
        return width, height, READ


SHEET = SheetType()
