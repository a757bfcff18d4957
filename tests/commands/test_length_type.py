"""This checks that a length on the command line becomes millimetres once, with its option named when it fails."""

import click
import pytest
from click.testing import CliRunner

from tiler.commands.typed.length import LENGTH, LENGTH_OR_ZERO
from tiler.errors import LengthError


def converted(kind: click.ParamType, *arguments: str) -> float:
    seen: list[float] = []

    @click.command()
    @click.option("--margin", type=kind, default=10.0)
    def command(margin: float) -> None:
        seen.append(margin)

    CliRunner().invoke(command, arguments, catch_exceptions=False)
    return seen[0]


def test_a_text_becomes_millimetres():
    # NIST SP 811, App. B: 1 in = 25.4 mm exactly
    assert converted(LENGTH, "--margin", "3/8 in") == pytest.approx(9.525)
    assert converted(LENGTH_OR_ZERO, "--margin", "0 mm") == 0


def test_a_default_is_in_millimetres():
    assert converted(LENGTH) == 10


@pytest.mark.parametrize(("text", "hint"), [("10", "has no unit"), ("0 mm", "is zero"), ("-1 mm", "is negative")])
def test_the_option_is_named_when_it_fails(text, hint):
    with pytest.raises(LengthError, match=f"^--margin: .*{hint}"):
        converted(LENGTH, "--margin", text)
