"""A whole number as the type of an option."""

from __future__ import annotations

import click


class CountType(click.ParamType):  # type: ignore[type-arg]  # older click has no type argument here
    """A whole number, not less than the least."""

    name = "number"

    def __init__(self, least: int) -> None:
        """Take numbers from ``least`` on."""
        self.least = least

    def convert(self, value: object, param: click.Parameter | None, ctx: click.Context | None) -> int:
        """Read the text; raises :class:`click.BadParameter` for anything else."""
        text = str(value).strip()
        if not (text.isascii() and text.isdigit() and len(text) < 16 and int(text) >= self.least):
            self.fail(f"{text!r} is no whole number from {self.least} on", param, ctx)
        return int(text)
