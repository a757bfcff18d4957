"""This checks that each help has an example, fits the window, and speaks in words of sewing and printing."""

import re

import pytest

from tiler.commands import COMMANDS, run

PROGRAMMERS_WORDS = re.compile(
    r"\b(TEXT|PATH|INTEGER|FLOAT|BOOLEAN|arguments?|pars(e|ed|ing)|strings?|stdout|stderr|null|boolean|exception)\b"
)
CALLS = [[name] for name in COMMANDS] + [["printer", name] for name in ("add", "list", "show", "remove")]


@pytest.mark.parametrize("call", CALLS, ids=" ".join)
def test_a_help_has_an_example_and_words_of_the_trade(call, capsys):
    assert run([*call, "--help"]) == 0
    told = capsys.readouterr().out
    assert "Example: tiler " in told
    assert not PROGRAMMERS_WORDS.search(told)
    assert max(map(len, told.splitlines())) < 80


def test_programmers_words_are_found():
    assert PROGRAMMERS_WORDS.search("--name TEXT  An argument")
