"""The words for a command line that cannot be understood: what, where, and the nearest right word.

Kinds of fault are those that click tells apart.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from difflib import get_close_matches

import click

_ONE_MORE = re.compile(r"unexpected extra arguments? \(([^ )]+)")
_NO_COMMAND = re.compile(r"[Nn]o such command '([^']*)'")


def nearest_of(wrong: str, right: Sequence[str]) -> str:
    """Return the question for the likest word, when one is like, and the list of the right ones."""
    like = get_close_matches(wrong.lower(), right, n=1)
    listed = ", ".join(right)
    return f'did you mean "{like[0]}"? There are {listed}' if like else f"there are {listed}"


def usage_message(fault: click.UsageError) -> str:
    """Return the sentence for a fault of click, without the hint where to read on."""
    if isinstance(fault, click.NoSuchOption):
        return _no_such_option(fault)
    if isinstance(fault, click.BadParameter) and fault.param:
        return f"{_name(fault.param)}{_wrong_value(fault, fault.param)}"
    more, unknown = _ONE_MORE.search(fault.message), _NO_COMMAND.search(fault.message)
    if more:
        return f'"{more[1]}" is one word too many; put quotes round what belongs together, such as "22 in"'
    if unknown and fault.ctx and isinstance(fault.ctx.command, click.Group):
        known = fault.ctx.command.list_commands(fault.ctx)
        return f'"{unknown[1]}" is not a command of {fault.ctx.command_path}; {nearest_of(unknown[1], known)}'
    return fault.format_message().rstrip(".")


def _wrong_value(fault: click.BadParameter, parameter: click.Parameter) -> str:
    if isinstance(fault, click.MissingParameter):
        return " is missing; add it"
    if isinstance(parameter.type, click.Choice):
        wrong = fault.message.split("'")[1] if "'" in fault.message else ""
        return f': "{wrong}" is not known; {nearest_of(wrong, list(parameter.type.choices))}'
    if isinstance(parameter.type, click.IntRange):
        wrong = fault.message.partition(" is not ")[0].strip("'")
        return f': "{wrong}" is not a whole number from {parameter.type.min} to {parameter.type.max}'
    return f": {fault.message.rstrip('.')}"


def _no_such_option(fault: click.NoSuchOption) -> str:
    command = fault.ctx.command if fault.ctx else None
    names = [name for one in command.params for name in one.opts if name.startswith("--")] if command else []
    like = get_close_matches(fault.option_name, names, n=1)
    meant = f'; did you mean "{like[0]}"?' if like else ""
    return f'"{fault.option_name}" is not an option of {fault.ctx.command_path if fault.ctx else "tiler"}{meant}'


def _name(parameter: click.Parameter) -> str:
    if isinstance(parameter, click.Option):
        return " or ".join(parameter.opts)
    return f"the {parameter.human_readable_name}"
