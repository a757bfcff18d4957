"""Each help has an example that can be copied, fits the window, and speaks in words of sewing and printing."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import click
import pytest

from tiler.commands import COMMANDS, group, run
from tiler.declaration import Tag
from tiler.sheets.style import WEIGHT
from tiler.usecases.rounds.judging import READING_ERROR
from tiler.usecases.verify.apart import Limits

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
def test_a_help_fits_a_narrow_terminal(
    call: list[str], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("COLUMNS", "60")
    assert run([*call, "--help"]) == 0
    assert max(map(len, capsys.readouterr().out.splitlines())) < 60


def test_the_list_of_what_a_printer_can_do_is_whole(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["printer", "--help"]) == 0
    told = capsys.readouterr().out
    assert "..." not in told.partition("Commands:")[2]
    assert "Store what you measured on a page from the printer NAME." in told


def test_a_default_is_told_in_one_way(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["verify", "--help"]) == 0
    told = " ".join(capsys.readouterr().out.split())
    usual = Limits()
    assert f"[default: {usual.memory // 2**20}]" in told
    assert f"[default: {usual.objects}]" in told
    assert f"[default: {usual.seconds}]" in told
    assert run(["readings", "--help"]) == 0
    assert f"[default: {READING_ERROR:g} mm]" in capsys.readouterr().out


def test_the_usual_line_weight_is_that_of_the_house_style(capsys: pytest.CaptureFixture[str]) -> None:
    """This test ensures that the help names the weight that is drawn without the option."""
    assert run(["draft", "--help"]) == 0
    assert f"[default: ({WEIGHT[Tag.CUT_LINE]:g} mm)]" in " ".join(capsys.readouterr().out.split())


def test_shared_options_have_one_wording() -> None:
    told: dict[str, set[str]] = {}
    for call in CALLS:
        for parameter in command_of(call)[0].params:
            for name in parameter.opts:
                told.setdefault(name, set()).add((getattr(parameter, "help", None) or "").replace("folder", "file"))
    assert {name: helps for name, helps in told.items() if len(helps) > 1} == {}
    assert not re.search(r"without: |not given|; else |left out", str(told))


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


@pytest.mark.parametrize(
    "words", ["--name TEXT  An argument", "Pages from 1 on.  [x>=1]", "in a process apart", "by default"]
)
def test_programmers_words_are_found(words: str) -> None:
    assert PROGRAMMERS_WORDS.search(words)
