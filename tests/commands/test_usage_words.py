"""This checks that a wrong word on the command line is answered with the nearest right one, and shell completion."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from click.shell_completion import BashComplete

from tests.chosen import long
from tiler.commands import COMMANDS, group, run

EXAMPLES = Path(__file__).parent.parent.parent / "examples"
CREW, SIZES = EXAMPLES / "saltmarsh-crew.toml", EXAMPLES / "saltmarsh-sizes.toml"

WRONG = [
    (["drft"], '"drft" is not a command; did you mean "draft"?'),
    (["qqq"], '"qqq" is not a command; there are start, band'),
    (["draft", "--papr", "a4"], '"--papr" is not an option of tiler draft; did you mean "--paper"? See tiler draft'),
    (["--versoin"], '"--versoin" is not an option of tiler; did you mean "--version"?'),
    (["draft", "x.toml", "--paper", "leter"], '--paper: "leter" is not known; did you mean "letter"?'),
    (["draft", "x.toml", "--paper", "A5"], '--paper: "A5" is not known;'),
    (["draft", "/"], "-o or --output is missing; add it"),
    (["draft"], "the SPEC is missing; add it"),
    (
        ["draft", "x.toml", "-o", "x.pdf", "--arrange", "stakced"],
        '--arrange: "stakced" is not known; did you mean "stac',
    ),
    (["draft", str(CREW), "-o", "crew"], "crew needs a name that ends in .pdf"),
    (["band", "--edge", "22", "in"], '"in" is one word too many; put quotes round what belongs together'),
    (
        ["band", "--kind", "neckine", "--edge", "22 in", "--width", "1/2 in"],
        'neckine" is not known; did you mean neckl',
    ),
    (["band", "--edge", "22 in", "--kind", "straight", "--width", "1 in", "--cut", "onfold"], "did you mean on-fold?"),
    (["binding", "--finish", "frensh", "--edge", "22 in", "--width", "1/2 in"], "did you mean french?"),
    (["figures", str(SIZES), "--sizes", "M,2LX"], '"2LX" is not a size of the spec; did you mean 2XL?'),
    (["printer", "lst"], '"lst" is not a command of tiler printer; did you mean "list"?'),
    (["verify", "x.pdf", "--time-limit", "0"], '--time-limit: "0" is not a whole number from 1 to 1000000000'),
    (["edge", "x.pdf", "--page", "one"], '--page: "one" is not a whole number from 1 to 1000000000'),
    (["bundle", "x.toml", "-o", "x", "--after", "-1"], '--after: "-1" is not a whole number from 0 to 1000000000'),
    (["verify", "x.pdf", "--memory-limit", "9" * 20], "is not a whole number from 1 to 1000000000"),
    (["figures", "/"], "/: is a folder; name the spec itself"),
]


@pytest.mark.parametrize(("arguments", "said"), WRONG)
def test_a_wrong_word_is_answered_with_the_nearest_right_one(
    arguments: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(arguments) in (2, 7)
    assert said in capsys.readouterr().err


def shell_asks(**asked: str) -> subprocess.CompletedProcess[str]:
    """Ask the real program as a shell asks it; its stderr lists what it loaded."""
    return subprocess.run(
        [sys.executable, "-X", "importtime", "-m", "tiler"],
        env={**os.environ, **asked},
        capture_output=True,
        text=True,
        check=False,
    )


@long
@pytest.mark.parametrize(
    ("words", "at", "answer"),
    [
        ("tiler dr", 1, "plain,draft"),
        ("tiler draft --pap", 2, "plain,--paper"),
        ("tiler draft --paper le", 3, "letter"),
    ],
)
def test_completion_answers_and_stays_light(words: str, at: int, answer: str) -> None:
    told = shell_asks(COMP_WORDS=words, COMP_CWORD=str(at), _TILER_COMPLETE="bash_complete")
    loaded = {line.split("|")[-1].strip() for line in told.stderr.splitlines()}
    assert told.returncode == 0
    assert answer in told.stdout
    assert "click" in loaded
    assert not loaded & {"reportlab", "pdfplumber", "pint", "pypdf", "pypdfium2"}


@pytest.mark.parametrize("shell", ["zsh", "fish"])
def test_each_shell_gets_its_script(shell: str) -> None:
    told = shell_asks(_TILER_COMPLETE=f"{shell}_source")
    assert told.returncode == 0
    assert "_TILER_COMPLETE" in told.stdout


def completed(*words: str, typed: str = "") -> list[str]:
    """Give what a shell is offered after these words."""
    return [item.value for item in BashComplete(group, {}, "tiler", "_TILER_COMPLETE").get_completions([*words], typed)]


def test_every_command_completes_from_its_first_letters() -> None:
    assert completed() == list(COMMANDS)
    assert completed(typed="ver") == ["verify"]


def test_few_words_are_completed() -> None:
    assert completed("draft", "--arrange", typed="s") == ["stacked"]
    assert completed("binding", "--finish", typed="r") == ["raw-edge"]
    assert completed("band", "--kind") == ["neckline", "armhole", "leg", "straight", "curved"]


def test_sizes_are_those_of_the_spec() -> None:
    assert completed("figures", str(SIZES), "--sizes", typed="S,X") == ["S,XXS", "S,XS", "S,XL"]
    assert completed("figures", str(CREW), "--sizes") == []
    assert completed("figures", "missing.toml", "--sizes") == []


def test_printers_are_those_that_are_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TILER_PRINTERS", str(tmp_path))
    assert completed("draft", str(CREW), "--printer") == []
    assert run(["printer", "add", "kitchen", "--nominal", "15 cm", "--across", "14.9 cm", "--down", "14.9 cm"]) == 0
    assert completed("draft", str(CREW), "--printer", typed="k") == ["kitchen"]
    assert completed("printer", "remove") == ["kitchen"]


def test_a_pdf_in_the_place_of_a_spec_is_told_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "crew.pdf").write_bytes(b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n")
    assert run(["figures", str(tmp_path / "crew.pdf")]) == 2
    assert "crew.pdf: is a PDF, not a spec" in capsys.readouterr().err


@long
def test_a_spec_in_the_place_of_a_pdf_is_told_so(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["preview", str(CREW), "-o", "pictures"]) == 5
    assert "saltmarsh-crew.toml is a spec, not a PDF; draft it" in capsys.readouterr().err
