"""Texts that are typed as options and arguments, their accents composed; names of files stay as they are."""

from __future__ import annotations

from typing import Any

import click

from tiler.accents import composed


class TextType(type(click.STRING)):  # type: ignore[misc]  # its name is not public
    """A text with its accents composed."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> str:
        """Return the text."""
        return composed(super().convert(value, param, ctx))


def composing(command: click.Command) -> click.Command:
    """Let a command, and those in its group, take all texts with their accents composed."""
    for parameter in command.params:
        if isinstance(parameter.type, click.Tuple):
            parameter.type = click.Tuple([_composing(one) for one in parameter.type.types])
        else:
            parameter.type = _composing(parameter.type)
    for other in command.commands.values() if isinstance(command, click.Group) else ():
        composing(other)
    return command


def _composing(kind: click.ParamType[Any]) -> click.ParamType[Any]:
    return TextType() if type(kind) is type(click.STRING) else kind
