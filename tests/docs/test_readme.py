"""The README is short and says the two commands that CI runs; with the guide it names every word of tiler."""

from __future__ import annotations

import re
from collections.abc import Iterable

import pytest

from tests.chosen import over
from tests.docs.pages import GUIDE, ROOT, TEXTS
from tiler.commands import COMMANDS
from tiler.draft import fabric
from tiler.draft.edge import from_drawing
from tiler.draft.edge import read as stated_edge
from tiler.draft.edge.seam_line import Kind, MeasuredOn
from tiler.draft.edge.shape import Shape
from tiler.draft.spec import piece as piece_spec
from tiler.draft.strip import fittings as trials
from tiler.draft.strip import loop
from tiler.draft.strip import refinish as change_of_finish
from tiler.draft.strip.corner import Corner
from tiler.draft.strip.ease import Ease
from tiler.draft.strip.finish import Cut, Finish
from tiler.errors import ExitCode
from tiler.paper import PAPER_NAMES, Arrangement

README = TEXTS["README.md"]
GUIDE_TEXT = "\n".join(text for name, text in TEXTS.items() if name != "README.md")
CI = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
MOST_LINES = {"README.md": 119, "commands.md": 180}
LONGEST_PAGE = 160
"""Lines of a page of the guide, which is read to its end."""

WIDEST = 130
"""Characters of a line of running text."""


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
        pytest.param([*PAPER_NAMES, *Arrangement], id="papers and arrangements"),
        pytest.param(
            [*Finish, *Cut, *Kind, *MeasuredOn, *Shape, *Corner, *Ease, *trials.ChangedOn], id="words of the spec"
        ),
        pytest.param([*piece_spec.KEYS, *loop.KEYS], id="keys of a piece"),
        pytest.param([*stated_edge.KEYS, *fabric.KEYS], id="keys of edges and fabrics"),
        pytest.param([*trials.KEYS, *change_of_finish.KEYS], id="keys of fittings and of what is replaced"),
        pytest.param(from_drawing.KEYS, id="keys of drawings"),
    ],
)
def test_the_guide_names_all(words: Iterable[str]) -> None:
    assert unsaid(words, GUIDE_TEXT) == set()


def test_the_readme_names_all_commands_and_finishes() -> None:
    assert unsaid([*COMMANDS, *Finish], README) == set()


@over("page", TEXTS)
def test_a_page_is_short_and_no_wider_than_a_window(page: str) -> None:
    lines = TEXTS[page].splitlines()
    assert len(lines) <= MOST_LINES.get(page, LONGEST_PAGE)
    assert too_wide(TEXTS[page]) == []


def too_wide(text: str) -> list[str]:
    """Give the wide lines of running text: tables, pictures and blocks to copy may be wider."""
    lines = re.sub(r"^```.*?^```$", "", text, flags=re.DOTALL | re.MULTILINE).splitlines()
    return [line for line in lines if len(line) > WIDEST and not line.lstrip().startswith(("|", "<img "))]


def test_a_wide_line_is_found() -> None:
    wide = "x" * (WIDEST + 1)
    assert too_wide(f"| {wide} |\n{wide}\n```sh\n{wide}\n```\n") == [wide]


def test_the_readme_has_its_parts_in_their_order() -> None:
    parts = ["Setting up", "Five minutes", "The finishes", "The commands", "Where to read on", "Cautions", "Licence"]
    headings = re.findall(r"^## (.+)$", README, re.MULTILINE)
    assert len(headings) == len(parts)
    assert [heading for heading, part in zip(headings, parts, strict=True) if not heading.startswith(part)] == []
    for caution in ("16 CFR 1120", "EN 14682", "fonts/LICENSE.txt"):
        assert caution in README


def test_the_readme_leads_to_every_page() -> None:
    led = set(re.findall(r"\]\(examples/guide/([\w-]+\.md)", README))
    assert led == {page.name for page in GUIDE.glob("*.md")}


def test_a_word_that_is_not_said_is_found() -> None:
    assert unsaid(["cut", "cut-width", "loop"], "cut-width = 1; `loop`") == {"cut"}
