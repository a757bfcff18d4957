"""Each help has an example that can be copied, fits the window, and speaks in words of sewing and printing."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import click
import pytest

from tiler.commands import COMMANDS, group, run

ROOT = Path(__file__).parent.parent.parent

PROGRAMMERS_WORDS = re.compile(
    r"\b(TEXT|PATH|INTEGER|FLOAT|BOOLEAN|arguments?|pars(e|ed|ing)|strings?|stdout|stderr|null|boolean|exception|"
    r"process|(?<!\[)default|flag)\b|\[x>="
)
CALLS = [[name] for name in COMMANDS] + [["printer", name] for name in ("add", "list", "show", "remove")]


def command_of(words: list[str]) -> tuple[click.Command, list[str]]:
    """Give the command that words call, and what is left for it."""
    command: click.Command = group
    while words and isinstance(command, click.Group):
        found = command.get_command(click.Context(command), words[0])
        assert found, words
        command, words = found, words[1:]
    return command, words


@pytest.mark.parametrize("call", CALLS, ids=" ".join)
def test_a_help_fits_and_speaks_words_of_the_trade(call: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert run([*call, "--help"]) == 0
    told = capsys.readouterr().out
    assert not PROGRAMMERS_WORDS.search(told)
    assert max(map(len, told.splitlines())) < 80


@pytest.mark.parametrize("call", CALLS, ids=" ".join)
def test_its_example_can_be_copied(call: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    """This test ensures that the example is taken, and that every file it reads is in the checkout."""
    monkeypatch.chdir(ROOT)
    epilog = command_of(call)[0].epilog or ""
    assert epilog.startswith("Example: tiler ")
    words = shlex.split(epilog.removeprefix("Example: tiler "))
    command, rest = command_of(words)
    assert words[: len(call)] == call or isinstance(command_of(call)[0], click.Group)
    command.make_context(words[0], rest)
    for word in rest:
        if word.endswith((".toml", ".csv", ".svg")):
            assert (ROOT / word).is_file()


@pytest.mark.parametrize("words", ["--name TEXT  An argument", "Pages from 1 on.  [x>=1]", "in a process apart"])
def test_programmers_words_are_found(words: str) -> None:
    assert PROGRAMMERS_WORDS.search(words)
