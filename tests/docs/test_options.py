"""The guide names every command with all its options, and no other."""

from __future__ import annotations

import re
from collections.abc import Iterator

import click
import pytest

from tests.chosen import over
from tests.docs.pages import TEXTS
from tiler.commands import group

CONTEXT = click.Context(group)


def commands(parent: click.Group = group, before: str = "tiler") -> Iterator[tuple[str, click.Command]]:
    """Give every command by its full name, those of a group for themselves."""
    for name in parent.list_commands(CONTEXT):
        command = parent.get_command(CONTEXT, name)
        assert command
        if isinstance(command, click.Group):
            yield from commands(command, f"{before} {name}")
        else:
            yield f"{before} {name}", command


COMMANDS = dict(commands())


def options(command: click.Command) -> set[str]:
    return {
        name
        for parameter in command.params
        if isinstance(parameter, click.Option) and not parameter.hidden
        for name in (*parameter.opts, *parameter.secondary_opts)
    }


def named(text: str) -> set[str]:
    return set(re.findall(r"(?<![\w-])(--[a-z][a-z-]*|-[a-z])\b", text))


def sections() -> Iterator[tuple[tuple[str, ...], str]]:
    """Give the commands of each heading that names some, and the text below it."""
    for page in ("commands.md", "one-piece.md"):
        for part in TEXTS[page].split("\n## ")[1:]:
            heading, _, text = part.partition("\n")
            if of := tuple(re.findall(r"`(tiler [a-z ]+)`", heading)):
                yield of, text


SECTIONS = list(sections())


def test_every_command_has_a_section() -> None:
    assert sorted(command for of, _ in SECTIONS for command in of) == sorted(COMMANDS)


@pytest.mark.parametrize(("of", "text"), SECTIONS, ids=[" ".join(of) for of, _ in SECTIONS])
def test_a_section_names_the_options_of_its_commands_and_no_others(of: tuple[str, ...], text: str) -> None:
    there = set().union(*(options(COMMANDS[command]) for command in of))
    assert named(text) == there


def test_what_all_commands_have_is_said_first() -> None:
    said = named(TEXTS["commands.md"].split("\n## ")[0])
    assert said >= options(group) | {"--help"} - {"-h"}
    assert said <= {"--help", "-h", *options(group), *(name for one in COMMANDS.values() for name in options(one))}


@over("page", TEXTS)
def test_no_page_names_an_option_that_is_nowhere(page: str) -> None:
    known = {"--help", "-m", *options(group), *(name for one in COMMANDS.values() for name in options(one))}
    running = re.sub(r"^```.*?^```$", "", TEXTS[page], flags=re.DOTALL | re.MULTILINE)
    assert {name for name in named(running) if name.startswith("--")} - known == set()


def test_options_are_found_in_running_text() -> None:
    assert named("`-o`, `--out-put FILE`, a--b, -3, 5-o; **-x**") == {"-o", "--out-put", "-x"}
