"""The README says what the code does: its commands, its words, and its example spec."""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path

import pytest

from tiler.commands import COMMANDS
from tiler.draft import fabric
from tiler.draft.compute import figure_job
from tiler.draft.edge import read as stated_edge
from tiler.draft.edge.seam_line import Kind, MeasuredOn
from tiler.draft.edge.shape import Shape
from tiler.draft.spec import piece as piece_spec
from tiler.draft.spec.read import read_spec
from tiler.draft.strip import fittings as trials
from tiler.draft.strip import loop
from tiler.draft.strip import refinish as change_of_finish
from tiler.draft.strip.corner import Corner
from tiler.draft.strip.ease import Ease
from tiler.draft.strip.finish import Cut, Finish
from tiler.errors import ExitCode
from tiler.paper import PAPER_NAMES

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
CI = (ROOT / ".ci" / "run").read_text(encoding="utf-8")


def setup_commands(text: str) -> list[str]:
    """Give the lines that make an environment of their own, as ``.ci/run`` finds them."""
    return [line for line in text.splitlines() if line.startswith("python3 -m venv ")]


def unsaid(words: Iterable[str], text: str) -> set[str]:
    """Name the words that stand nowhere in the text as whole words."""
    return {word for word in words if not re.search(rf"(?<![\w-]){re.escape(word)}(?![\w-])", text)}


def test_ci_runs_the_two_commands_of_the_readme() -> None:
    commands = setup_commands(README)
    environments = {command.split()[3] for command in commands}
    assert len(commands) == len(environments) == 2
    assert "/tiler draft examples/" in commands[0]
    assert "/tiler verify " in commands[0]
    assert commands[1].endswith("-m pytest -n auto")
    assert "grep '^python3 -m venv ' README.md" in CI
    assert f"{commands[1].split()[3]}/bin/ruff check" in CI


@pytest.mark.parametrize(
    "words",
    [
        pytest.param(COMMANDS, id="commands"),
        pytest.param([f"| {int(code)} |" for code in ExitCode], id="exit codes"),
        pytest.param(PAPER_NAMES, id="papers"),
        pytest.param(
            [*Finish, *Cut, *Kind, *MeasuredOn, *Shape, *Corner, *Ease, *trials.ChangedOn], id="words of the spec"
        ),
        pytest.param([*piece_spec.KEYS, *loop.KEYS], id="keys of a piece"),
        pytest.param([*stated_edge.KEYS, *fabric.KEYS], id="keys of edges and fabrics"),
        pytest.param([*trials.KEYS, *change_of_finish.KEYS], id="keys of fittings and of what is replaced"),
    ],
)
def test_the_readme_names_all(words: Iterable[str]) -> None:
    assert unsaid(words, README) == set()


def test_a_word_that_is_not_said_is_found() -> None:
    assert unsaid(["cut", "cut-width", "loop"], "cut-width = 1; `loop`") == {"cut"}


def test_the_example_in_the_readme_is_a_spec(tmp_path: Path) -> None:
    example = re.search(r"```toml\n(.+?)```", README, re.DOTALL)
    assert example
    spec = tmp_path / "readme.toml"
    spec.write_text(example[1], encoding="utf-8")
    (shown,) = figure_job(read_spec(spec))
    (whole,) = figure_job(read_spec(ROOT / "examples" / "saltmarsh-crew.toml"))
    assert shown.to_json() == whole.to_json()


def test_the_pictures_of_the_readme_are_there() -> None:
    pictures = re.findall(r'<img src="([^"]+)"', README)
    assert pictures
    assert [picture for picture in pictures if not (ROOT / picture).is_file()] == []
