"""Standard streams that are closed, full or left early: a sentence where it can be said, and never exit code 1."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest

from tests.chosen import long
from tests.forked import command
from tiler.commands import run

ROOT = Path(__file__).parents[2]
CREW = ROOT / "examples" / "saltmarsh-crew.toml"

FULL = Path("/dev/full")

needs_shell = pytest.mark.skipif(not Path("/bin/sh").exists(), reason="no such shell")
needs_fork = pytest.mark.skipif(not hasattr(os, "fork"), reason="no process can be forked here")


def called(words: str, folder: Path) -> tuple[int, str]:
    """Give the code of a call by a shell, with its redirections, and what it says on standard error."""
    done = subprocess.run(
        ["/bin/sh", "-c", f"exec {sys.executable} -m tiler {words}"],
        cwd=folder,
        env=os.environ | {"PYTHONPATH": str(ROOT)},
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        check=False,
    )
    return done.returncode, done.stderr


def forked(words: str, folder: Path, closed: Sequence[int], **options: Any) -> tuple[int, str]:
    """Give the same of a call whose streams are closed, by a process that is not started anew."""
    streams = {"stdin": subprocess.DEVNULL, "stdout": subprocess.PIPE, "stderr": subprocess.PIPE} | options
    with command(*words.split(), closed=closed, cwd=folder, text=True, **streams) as process:
        _, said = process.communicate()
    return process.returncode, said or ""


@long
@needs_shell
@pytest.mark.parametrize(
    ("words", "code", "told"),
    [
        ("--help >&-", 7, "tiler: cannot write: Bad file descriptor; "),
        ("figures none.toml 2>&-", 2, ""),
        (f"figures {CREW} <&- >&- 2>&-", 7, ""),
    ],
)
def test_a_stream_that_a_shell_closes_is_a_code_and_one_sentence(
    words: str, code: int, told: str, tmp_path: Path
) -> None:
    held(called(words, tmp_path), code, told)


@needs_fork
@pytest.mark.parametrize(
    ("words", "closed", "code", "told"),
    [
        (f"figures {CREW}", [1], 7, "tiler: cannot write the output: Bad file descriptor; "),
        (f"figures {CREW} --json", [1], 7, "tiler: cannot write the output: Bad file descriptor; "),
        ("figures none.toml", [1], 2, "tiler: none.toml: there is no such file"),
        (f"figures {CREW}", [2], 0, ""),
        ("verify none.pdf", [0, 1, 2], 5, ""),
        ("start", [0], 130, None),
        (f"chart {CREW} -o chart.pdf", [1], 7, "tiler: cannot write the output: Bad file descriptor; "),
    ],
)
def test_a_closed_stream_is_a_code_and_one_sentence(
    words: str, closed: Sequence[int], code: int, told: str | None, tmp_path: Path
) -> None:
    held(forked(words, tmp_path, closed), code, told)


@needs_fork
@pytest.mark.skipif(not FULL.exists(), reason="a device that is always full")
def test_where_both_streams_are_full_there_is_the_code(tmp_path: Path) -> None:
    with FULL.open("wb") as full:
        held(forked(f"figures {CREW}", tmp_path, [], stdout=full, stderr=full), 7, "")


def held(call: tuple[int, str], code: int, told: str | None) -> None:
    """Expect a code, and one sentence that begins so."""
    found, said = call
    assert found == code
    assert "Traceback" not in said
    if told is not None:
        assert (said[: len(told)], said.count("\n")) == (told, 1 if told else 0)


@long
@needs_shell
@needs_fork
def test_no_file_takes_the_place_of_a_closed_stream(tmp_path: Path) -> None:
    """This test ensures that nothing that is printed gets into a file, and that the files are whole."""
    band = "band Cuff --kind edge --whole 20cm --width 2cm -o a.pdf"
    assert forked(band, tmp_path, [0, 1, 2])[0] in (2, 7)
    assert called(f"chart {CREW} -o a.csv <&- >&- 2>&-", tmp_path)[0] == 7
    assert run(["chart", str(CREW), "-o", str(tmp_path / "b.csv")]) == 0
    assert (tmp_path / "a.csv").read_bytes() == (tmp_path / "b.csv").read_bytes()


@pytest.mark.parametrize(
    ("words", "code"),
    [
        (["verify", "NAME.pdf"], 5),
        (["figures", "NAME.toml"], 2),
        (["readings", "NAME.csv"], 5),
        (["chart", str(CREW), "-o", "NAME.csv"], 7),
        (["draft", str(CREW), "-o", "NAME.pdf"], 7),
        (["preview", "README.md", "-o", "NAME"], 5),
        (["bundle", str(CREW), "-o", "NAME"], 7),
        (["edge", "README.md", "--picture", "NAME.png"], 7),
        (["start", "--answers", "NAME", "-o", "a.pdf"], 2),
        (["printer", "show", "NAME"], 2),
    ],
    ids=lambda words: words[0] if isinstance(words, list) else None,
)
@pytest.mark.usefixtures("forked")
def test_a_name_that_no_system_takes_is_one_sentence(
    words: list[str], code: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    assert run([word.replace("NAME", "ä" * 200) for word in words]) == code
    told = "".join(capsys.readouterr())
    assert told.count("\n") == 1
    assert "fault of its own" not in told
