"""This checks the frame of the command line: help, exit codes, error texts, and that code 1 never comes out."""

import errno
import json
import os
import subprocess
import sys
from contextlib import nullcontext
from io import BytesIO, TextIOWrapper
from pathlib import Path

import click
import pytest

import tiler.__main__
from tests.chosen import long
from tests.forked import command
from tests.specs import piece, spec, straight, written
from tiler import __version__, commands
from tiler.commands import COMMANDS, run
from tiler.errors import ExitCode, NothingToMeasureError, SpecError


@pytest.fixture(name="spec")
def cuffs(tmp_path: Path) -> str:
    return str(written(spec(piece("Cuff", "2 3/8", straight("9 3/8"))), tmp_path))


def tiler_process(*arguments: str, **options) -> subprocess.CompletedProcess:
    return subprocess.run([sys.executable, "-m", "tiler", *arguments], capture_output=True, check=False, **options)


def failing_with(monkeypatch, fault: BaseException) -> None:
    """Put a command in the place of ``figures`` that fails in one way."""

    @click.command()
    @click.option("--json", is_flag=True)
    def command(json: bool) -> None:
        raise fault

    monkeypatch.setattr(commands.CommandGroup, "get_command", lambda *_: command)


def test_help_names_every_command_with_an_example(capsys):
    assert run(["--help"]) == 0
    out = capsys.readouterr().out
    assert all(f"  {name} " in out for name in COMMANDS)
    assert "Example: tiler" in out


def test_the_help_of_figures_has_an_example(capsys):
    assert run(["figures", "--help"]) == 0
    assert "Example: tiler figures" in capsys.readouterr().out


def test_version(capsys):
    assert run(["--version"]) == 0
    assert capsys.readouterr().out == f"tiler {__version__}\n"


def test_without_a_command_the_help_goes_to_stderr(capsys):
    assert run([]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert "Commands:" in err


@pytest.mark.parametrize(
    "arguments",
    [
        ["nothing"],
        ["figures"],
        ["figures", "--wrong"],
        ["figures", "a.toml", "b.toml"],
        ["--wrong"],
        ["figures", "none.toml"],
        ["figures", ""],
    ],
)
def test_wrong_usage_is_one_sentence_and_code_2(arguments, capsys):
    assert run(arguments) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith("tiler: ")
    assert err.count("\n") == 1


@pytest.mark.parametrize(
    "arguments",
    [["figures", "--json"], ["figures", "none.toml", "--json"], ["figures", "--json", "--wrong"], ["x", "--json"]],
)
def test_with_json_an_error_is_json_on_stdout(arguments, capsys):
    assert run(arguments) == 2
    out, err = capsys.readouterr()
    assert err == ""
    error = json.loads(out)["error"]
    assert list(error) == ["code", "message"]
    assert error["code"] == 2
    assert "\n" not in error["message"]


@pytest.mark.parametrize(
    ("fault", "code", "text"),
    [
        (SpecError("crew.toml: title: is missing"), 2, "crew.toml: title: is missing"),
        (NothingToMeasureError("no square"), 4, "no square"),
        (KeyboardInterrupt(), 130, "interrupted"),
        (click.Abort(), 130, "interrupted"),
        (OSError(errno.ENOSPC, "No space left on device"), 7, "cannot write: No space left on device"),
        (click.FileError("x.pdf", "locked"), 2, "locked"),
        (click.BadParameter("bad"), 2, "bad"),
        (OSError(errno.EIO, "Input/output error"), 5, "TILER_DEBUG"),
        (ZeroDivisionError("division by zero"), 5, "TILER_DEBUG"),
        (RecursionError("too deep"), 5, "TILER_DEBUG"),
        (MemoryError(), 5, "TILER_DEBUG"),
        (SystemExit(1), 5, "TILER_DEBUG"),
    ],
)
def test_every_fault_has_its_code_and_its_sentence(monkeypatch, capsys, fault, code, text):
    failing_with(monkeypatch, fault)
    assert run(["figures"]) == code
    out, err = capsys.readouterr()
    assert (out, err.count("\n")) == ("", 1)
    assert err.startswith("tiler: ")
    assert text in err
    assert run(["figures", "--json"]) == code
    error = json.loads(capsys.readouterr().out)["error"]
    assert error["code"] == code
    assert text in error["message"]


def test_the_traceback_is_shown_when_asked_for(monkeypatch, capsys):
    failing_with(monkeypatch, ZeroDivisionError("division by zero"))
    monkeypatch.setenv("TILER_DEBUG", "1")
    assert run(["figures"]) == 5
    assert "Traceback" in capsys.readouterr().err


@pytest.mark.parametrize("result", [0, 3, 4])
def test_what_a_command_returns_is_the_exit_code(monkeypatch, result):
    command = click.Command("figures", callback=lambda: ExitCode(result))
    monkeypatch.setattr(commands.CommandGroup, "get_command", lambda *_: command)
    assert run(["figures"]) == result


@pytest.mark.parametrize(
    ("encoding", "written"),
    # click takes an ASCII stream for a wrong setting and writes UTF-8
    [("ascii", "utf-8"), ("cp1252", "cp1252"), ("cp437", "cp437"), ("koi8-r", "koi8-r"), ("utf-8", "utf-8")],
)
def test_fractions_survive_any_encoding(spec, encoding, written, monkeypatch):
    out = TextIOWrapper(BytesIO(), encoding=encoding)
    monkeypatch.setattr(sys, "stdout", out)
    assert run(["figures", spec]) == 0
    out.flush()
    told(out.buffer.getvalue().decode(written))


@long
def test_fractions_survive_an_encoding_that_the_surroundings_ask_for(spec):
    done = tiler_process("figures", spec, env=os.environ | {"PYTHONIOENCODING": "cp437", "PYTHONUTF8": "0"})
    assert done.returncode == 0
    told(done.stdout.decode("cp437"))


def told(text: str) -> None:
    assert "9⅜ in (23.8 cm)" in text or "9 3/8 in (23.8 cm)" in text
    assert "?" not in text


@long
def test_output_to_a_file_has_no_colour(spec, monkeypatch, capsys):
    monkeypatch.setenv("NO_COLOR", "1")
    run(["figures", spec])
    assert "\x1b" not in capsys.readouterr().out
    assert b"\x1b" not in tiler_process("figures", spec).stdout


@pytest.mark.skipif(not hasattr(os, "fork"), reason="no process can be forked here")
def test_no_color_holds_on_a_terminal(spec):
    pty = pytest.importorskip("pty")
    for no_color, expected in (("", True), ("1", False)):
        leader, follower = pty.openpty()
        with command("figures", spec, environment={"NO_COLOR": no_color}, stdout=follower) as process:
            assert process.wait() == 0
        os.close(follower)
        assert (b"\x1b[1m" in os.read(leader, 65536)) is expected
        os.close(leader)


def test_the_console_entry_leaves_with_the_code(monkeypatch):
    monkeypatch.setattr(sys, "argv", ["tiler", "nothing"])
    with pytest.raises(SystemExit) as end:
        tiler.__main__.main()
    assert end.value.code == 2


@pytest.mark.parametrize(("into", "expected"), [("a pipe", 3), ("a full disk", 120)])
def test_a_process_ends_at_once_with_all_that_was_said(into, expected):
    # 120 is the interpreter's own code when a stream can take nothing more
    said = "said " * 200
    program = (
        "import tiler.__main__, tiler.commands\n"
        f"tiler.commands.run = lambda words: (print({said!r}, end=''), 3)[1]\n"
        "tiler.__main__.console()"
    )
    # what is said is held back until the end
    held = {name: value for name, value in os.environ.items() if name != "PYTHONUNBUFFERED"}
    full = Path("/dev/full")
    if into == "a full disk" and not full.exists():
        pytest.skip("this system has no disk that is always full")
    with full.open("wb") if into == "a full disk" else nullcontext(subprocess.PIPE) as stream:
        done = subprocess.run(
            [sys.executable, "-c", program], stdout=stream, stderr=subprocess.PIPE, env=held, check=False
        )
    assert done.returncode == expected
    assert into == "a full disk" or done.stdout.decode() == said


def test_an_interrupt_before_the_boundary_is_130(monkeypatch):
    def interrupted(_):
        raise KeyboardInterrupt

    monkeypatch.setattr(commands, "run", interrupted)
    with pytest.raises(SystemExit) as end:
        tiler.__main__.main()
    assert end.value.code == 130
