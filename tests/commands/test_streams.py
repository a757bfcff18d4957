"""Standard streams that are closed, full or left early: a sentence where it can be said, and never exit code 1."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tiler.commands import run

ROOT = Path(__file__).parents[2]
CREW = ROOT / "examples" / "saltmarsh-crew.toml"

needs_shell = pytest.mark.skipif(not Path("/bin/sh").exists() or not Path("/dev/full").exists(), reason="no such shell")


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


@needs_shell
@pytest.mark.parametrize(
    ("words", "code", "told"),
    [
        (f"figures {CREW} >&-", 7, "tiler: cannot write the output: Bad file descriptor; "),
        (f"figures {CREW} --json >&-", 7, "tiler: cannot write the output: Bad file descriptor; "),
        ("--help >&-", 7, "tiler: cannot write: Bad file descriptor; "),
        ("figures none.toml >&-", 2, "tiler: none.toml: there is no such file"),
        (f"figures {CREW} 2>&-", 0, ""),
        ("figures none.toml 2>&-", 2, ""),
        (f"figures {CREW} <&- >&- 2>&-", 7, ""),
        ("verify none.pdf <&- >&- 2>&-", 5, ""),
        (f"figures {CREW} > /dev/full 2>&1", 7, ""),
        ("start <&-", 130, None),
        (f"chart {CREW} -o chart.pdf >&-", 7, "tiler: cannot write the output: Bad file descriptor; "),
    ],
)
def test_a_closed_stream_is_a_code_and_one_sentence(words: str, code: int, told: str | None, tmp_path: Path) -> None:
    found, said = called(words, tmp_path)
    assert found == code
    assert "Traceback" not in said
    if told is not None:
        assert (said[: len(told)], said.count("\n")) == (told, 1 if told else 0)


@needs_shell
def test_no_file_takes_the_place_of_a_closed_stream(tmp_path: Path) -> None:
    """This test ensures that nothing that is printed gets into a file, and that the files are whole."""
    assert called(f"band 'Cuff band' --kind edge --whole 20cm --width 2cm -o a.pdf {'<&- >&- 2>&-'}", tmp_path)[0] in (
        2,
        7,
    )
    assert called(f"chart {CREW} -o a.csv <&- >&- 2>&-", tmp_path)[0] == 7
    assert called(f"chart {CREW} -o b.csv", tmp_path)[0] == 0
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
