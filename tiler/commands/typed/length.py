"""A length as the type of an option: text in, millimetres out."""

from __future__ import annotations

import click

from tiler.lengths import parse_length
from tiler.sentence import Place


class LengthType(click.ParamType):  # type: ignore[type-arg]  # older click has no type argument here
    """A length with its unit, such as ``10 mm`` or ``3/8 in``; gives float millimetres.

    Raises :class:`tiler.errors.LengthError`, which the boundary turns into exit code 2.
    """

    name = "length"

    def __init__(self, *, zero_ok: bool = False) -> None:
        """Take zero only where ``zero_ok`` says so."""
        self.zero_ok = zero_ok

    def convert(self, value: object, param: click.Parameter | None, ctx: click.Context | None) -> float:  # noqa: ARG002
        """Read the text; a float is a default in millimetres already."""
        if isinstance(value, float):
            return value
        where = Place(param.opts[-1] if param else "length")
        return float(parse_length(value, None, where, zero_ok=self.zero_ok))


LENGTH = LengthType()
"""A length of more than zero."""

LENGTH_OR_ZERO = LengthType(zero_ok=True)
"""A length that may be zero, such as a margin."""
