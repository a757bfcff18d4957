"""This checks that a wrong word on the command line is answered with the nearest right one, and shell completion."""

import os
import subprocess
import sys

import pytest

from tiler.commands import COMMANDS, run

WRONG = [
    (["drft"], '"drft" is not a command; did you mean "draft"?'),
    (["qqq"], '"qqq" is not a command; there are band'),
    (["draft", "--papr", "a4"], '"--papr" is not an option of tiler draft; did you mean "--paper"? See tiler draft'),
    (["--versoin"], '"--versoin" is not an option of tiler; did you mean "--version"?'),
    (["draft", "x.toml", "--paper", "leter"], '--paper: "leter" is not known; did you mean "letter"?'),
    (["draft", "x.toml", "--paper", "A5"], '--paper: "A5" is not known;'),
    (["draft", "/"], "-o or --output is missing; add it"),
]


@pytest.mark.parametrize(("arguments", "said"), WRONG)
def test_a_wrong_word_is_answered_with_the_nearest_right_one(arguments, said, capsys):
    assert run(arguments) == 2
    assert said in capsys.readouterr().err


def shell_asks(**asked: str) -> subprocess.CompletedProcess:
    """Ask the real program as a shell asks it; its stderr lists what it loaded."""
    return subprocess.run(
        [sys.executable, "-X", "importtime", "-m", "tiler"],
        env={**os.environ, **asked},
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.mark.parametrize(
    ("words", "at", "answer"),
    [
        ("tiler dr", 1, "plain,draft"),
        ("tiler draft --pap", 2, "plain,--paper"),
        ("tiler draft --paper le", 3, "letter"),
    ],
)
def test_completion_answers_and_stays_light(words, at, answer):
    told = shell_asks(COMP_WORDS=words, COMP_CWORD=str(at), _TILER_COMPLETE="bash_complete")
    loaded = {line.split("|")[-1].strip() for line in told.stderr.splitlines()}
    assert told.returncode == 0
    assert answer in told.stdout
    assert "click" in loaded
    assert not loaded & {"reportlab", "pdfplumber", "pint", "pypdf", "pypdfium2"}


@pytest.mark.parametrize("shell", ["zsh", "fish"])
def test_each_shell_gets_its_script(shell):
    told = shell_asks(_TILER_COMPLETE=f"{shell}_source")
    assert told.returncode == 0
    assert "_TILER_COMPLETE" in told.stdout


def test_every_command_completes_from_its_first_letters():
    from click.shell_completion import BashComplete

    from tiler.commands import group

    found = BashComplete(group, {}, "tiler", "_TILER_COMPLETE").get_completions([], "")
    assert [item.value for item in found] == list(COMMANDS)


def test_a_pdf_in_the_place_of_a_spec_is_told_so(tmp_path, capsys):
    (tmp_path / "crew.pdf").write_bytes(b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n")
    assert run(["figures", str(tmp_path / "crew.pdf")]) == 2
    assert "crew.pdf: is a PDF, not a spec" in capsys.readouterr().err
