"""Every command of the README and the guide runs, ends with the code that the page says, and prints what it shows."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.chosen import long
from tests.docs.pages import TEXTS, refresh


@long
@pytest.mark.usefixtures("forked")
@pytest.mark.parametrize("page", TEXTS)
def test_a_page_does_and_prints_what_it_says(page: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    # other processes, which a release would be shared out over, take a while to start
    monkeypatch.setattr(os, "cpu_count", lambda: 1)
    told = refresh.walk(TEXTS[page], tmp_path)
    assert told.faults == []
    assert told.text == TEXTS[page], f"{page} is stale; run python examples/refresh_guide.py and read what it changed"


def test_the_pages_hold_commands() -> None:
    counted = {
        page: sum(block.language in ("sh", "console") for block in refresh.blocks(text)) for page, text in TEXTS.items()
    }
    assert {page for page, count in counted.items() if count == 0} == {
        "browser.md",
        "exactness.md",
        "questions.md",
        "shapes.md",
        "spec.md",
    }
    assert [page for page, text in TEXTS.items() if not refresh.inline_commands(text)] == []


WRONG = """
```console
$ tiler --version
tiler 0.0.0
```

```console
$ tiler figures nosuch.toml
…
$ tiler figures nosuch.toml
…
$ echo $?
2
```

`tiler draft SPEC --no-such-option`, `tiler nosuch`, `tiler figures examples/saltmarsh-crew.toml` and `tiler
verify SPEC`.

```sh
false
```
"""


def test_a_stale_page_and_commands_that_fail_are_found(tmp_path: Path) -> None:
    told = refresh.walk(WRONG, tmp_path)
    assert "tiler 0.0.0" not in told.text
    assert "$ echo $?\n2\n" in told.text
    assert [fault.split(": exit code")[0] for fault in told.faults] == [
        "tiler figures nosuch.toml",
        "tiler draft SPEC --no-such-option --help",
        "tiler nosuch --help",
        "false",
    ]


def test_a_page_written_anew_keeps_what_it_leaves_out(tmp_path: Path) -> None:
    page = "```console\n$ tiler --help\n?\n…\n?\n?\n```\n"
    told = refresh.walk(page, tmp_path)
    shown = told.text.split("\n")
    assert shown[2].startswith("Usage: tiler")
    assert (shown[3], len(shown)) == ("…", len(page.split("\n")))


def test_answers_of_a_dialogue_are_given(tmp_path: Path) -> None:
    page = "```console\n$ tiler start -o a.pdf\n  [in] > cm\n  [neckline] > hem\n  > x\n…\n```\n"
    told = refresh.walk(page, tmp_path)
    kept = (tmp_path / "a.answers.toml").read_text(encoding="utf-8")
    assert 'units = "cm"' in kept
    assert 'place = "hem"' in kept
    # the third answer is none to the third question, and an edge has no usual length
    assert [fault.partition(",")[0] for fault in told.faults] == ["tiler start -o a.pdf: exit code 130"]


def test_the_time_taken_is_no_difference_and_a_length_is() -> None:
    assert refresh.alike(["done in 9.8 s."], ["done in 11 s."])
    assert refresh.alike(["done in 0.1 s; 2 pages"], ["done in 1 min 5 s; 2 pages"])
    assert not refresh.alike(["done in 0.1 s; 2 pages"], ["done in 0.1 s; 3 pages"])
    assert not refresh.alike(["9 in"], ["9.5 in"])
