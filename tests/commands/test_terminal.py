"""This checks what standard output and error can be: a terminal, a pipe that closes, a full device, a poor encoding."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from pathlib import Path
from typing import TextIO

import pytest

from tests.chosen import long
from tests.forked import command
from tests.specs import piece, spec, straight, written
from tiler.commands import run
from tiler.commands.output.duration import duration
from tiler.commands.output.progress import LONG, page_progress
from tiler.commands.output.terminal import close_output, prepare_output
from tiler.errors import ExitCode

ROOT = Path(__file__).parents[2]
CREW = ROOT / "examples" / "saltmarsh-crew.toml"
TILER = [sys.executable, "-m", "tiler"]
FULL = Path("/dev/full")

needs_fork = pytest.mark.skipif(not hasattr(os, "fork"), reason="no process can be forked here")
needs_full = pytest.mark.skipif(not FULL.exists(), reason="a device that is always full")


def watched(monkeypatch: pytest.MonkeyPatch, *, terminal: bool) -> io.StringIO:
    """Put a stream in the place of standard error, on which somebody watches or nobody."""
    stream = io.StringIO()
    stream.isatty = lambda: terminal  # type: ignore[method-assign]
    monkeypatch.setattr(sys, "stderr", stream)
    return stream


def test_a_long_job_shows_how_far_it_is(monkeypatch: pytest.MonkeyPatch) -> None:
    stream = watched(monkeypatch, terminal=True)
    with page_progress("proving") as show:
        assert show
        for done in (1, LONG // 2, LONG):
            show(done, LONG)
    shown = stream.getvalue()
    assert "proving" in shown
    assert " 50%" in shown
    assert "100%" in shown


def test_a_short_job_and_a_pipe_show_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    stream = watched(monkeypatch, terminal=True)
    with page_progress("proving") as show:
        assert show
        show(LONG - 1, LONG - 1)
    assert stream.getvalue() == ""
    watched(monkeypatch, terminal=False)
    with page_progress("proving") as show:
        assert show is None


def test_a_bar_that_is_left_early_is_closed(monkeypatch: pytest.MonkeyPatch) -> None:
    """This test ensures that a message after a fault begins on a line of its own."""
    stream = watched(monkeypatch, terminal=True)

    def interrupted() -> None:
        with page_progress("drawing") as show:
            assert show
            show(3, LONG)
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        interrupted()
    assert stream.getvalue().endswith("\n")


@long
@needs_fork
def test_the_program_shows_a_bar_on_a_pseudo_terminal(tmp_path: Path) -> None:
    pty = pytest.importorskip("pty")
    written(spec(piece("Hem", "1 in", straight("120 in"), cut="full-loop")), tmp_path, "many.toml")
    leader, follower = pty.openpty()
    words = ["draft", "many.toml", "-o", "many.pdf", "--arrange", "grid", "--margin", "45 mm"]
    with command(*words, cwd=tmp_path, stdout=subprocess.PIPE, stderr=follower) as process:
        os.close(follower)
        shown = b""
        try:
            while part := os.read(leader, 65536):
                shown += part
        except OSError:
            # Linux tells the end of a pseudo-terminal so
            pass
        process.communicate()
    os.close(leader)
    assert process.returncode == 0
    assert b"drawing" in shown
    assert b"proving" in shown
    assert b"100%" in shown


@needs_fork
def test_a_reader_that_has_gone_is_code_7_and_no_traceback() -> None:
    with command("figures", CREW, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        assert process.stdout
        process.stdout.close()
        process.stdout = None
        _, said = process.communicate()
    assert (process.returncode, said) == (ExitCode.CANNOT_WRITE, b"")


@needs_full
@needs_fork
@pytest.mark.parametrize("words", [["figures", str(CREW)], ["--help"], ["figures", str(CREW), "--json"]])
def test_a_full_device_is_code_7_and_one_sentence(words: list[str]) -> None:
    with FULL.open("wb") as full, command(*words, stdout=full, stderr=subprocess.PIPE) as process:
        _, said = process.communicate()
    assert process.returncode == ExitCode.CANNOT_WRITE
    assert said.startswith(b"tiler: cannot write")
    assert said.count(b"\n") == 1


def closed_with(code: int, output: TextIO, monkeypatch: pytest.MonkeyPatch) -> int:
    """Write to a standard output that does not take it, and give the code that the program ends with."""
    with output, monkeypatch.context() as place:
        place.setattr(sys, "stdout", output)
        print("a line")
        return close_output(code)


@needs_full
@pytest.mark.parametrize(("code", "told"), [(ExitCode.OK, True), (ExitCode.OFF_SCALE, False)])
def test_a_full_device_is_told_once(
    code: ExitCode, told: bool, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert closed_with(code, FULL.open("w"), monkeypatch) == ExitCode.CANNOT_WRITE
    assert ("cannot write the output" in capsys.readouterr().err) is told


def test_a_closed_pipe_is_not_told(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """This test ensures that ``tiler figures SPEC | head`` ends without a word."""
    reader, writer = os.pipe()
    os.close(reader)
    assert closed_with(ExitCode.OK, os.fdopen(writer, "w"), monkeypatch) == ExitCode.CANNOT_WRITE
    assert capsys.readouterr().err == ""


@long
@needs_full
def test_a_full_device_for_messages_leaves_the_code() -> None:
    with FULL.open("wb") as full:
        done = subprocess.run(
            [*TILER, "figures", "none.toml"], cwd=ROOT, stdout=subprocess.PIPE, stderr=full, check=False
        )
    assert (done.returncode, done.stdout) == (ExitCode.USAGE, b"")


def stream(encoding: str, monkeypatch: pytest.MonkeyPatch) -> io.BytesIO:
    raw = io.BytesIO()
    monkeypatch.setattr(sys, "stdout", io.TextIOWrapper(raw, encoding=encoding))
    prepare_output()
    return raw


BINDINGS = str(ROOT / "examples" / "saltmarsh-bindings.toml")


@long
def test_signs_that_the_output_lacks_are_written_plainly() -> None:
    environment = os.environ | {"PYTHONIOENCODING": "cp437"}
    done = subprocess.run([*TILER, "figures", BINDINGS], cwd=ROOT, env=environment, capture_output=True, check=True)
    assert b" 3/8" in done.stdout
    assert b" x " in done.stdout
    assert b"?" not in done.stdout


def test_of_signs_that_the_output_has_some_only_the_others_are_written_plainly(monkeypatch: pytest.MonkeyPatch) -> None:
    raw = stream("cp1252", monkeypatch)
    assert run(["figures", BINDINGS]) == ExitCode.OK
    assert close_output(ExitCode.OK) == ExitCode.OK
    assert b" 3/8" in raw.getvalue()
    assert "×".encode("cp1252") in raw.getvalue()
    assert b"?" not in raw.getvalue()


def test_each_sign_has_a_plain_one_and_a_strange_letter_is_a_question_mark(monkeypatch: pytest.MonkeyPatch) -> None:
    raw = stream("ascii", monkeypatch)
    print("2½ in − 1⅞ × 3″ → 5′ – 6 — Ω裁")
    assert close_output(ExitCode.OK) == ExitCode.OK
    assert raw.getvalue() == b"2 1/2 in - 1 7/8 x 3\" > 5' - 6 - ??\n"


def test_an_encoding_that_has_the_signs_keeps_them(monkeypatch: pytest.MonkeyPatch) -> None:
    raw = stream("utf-8", monkeypatch)
    print("2½ in × 3″")
    assert close_output(ExitCode.OK) == ExitCode.OK
    assert raw.getvalue().decode("utf-8") == "2½ in × 3″\n"


def test_only_writing_is_made_plain() -> None:
    """This test ensures that the handler does not hide bytes that cannot be read."""
    prepare_output()
    with pytest.raises(UnicodeDecodeError):
        b"\xff".decode("ascii", errors="tiler-plain")


@pytest.mark.parametrize(
    ("seconds", "said"), [(0, "0.0 s"), (1.34, "1.3 s"), (9.96, "10 s"), (59.6, "1 min 0 s"), (125, "2 min 5 s")]
)
def test_a_time_is_said_as_closely_as_it_matters(seconds: float, said: str) -> None:
    assert duration(seconds) == said
