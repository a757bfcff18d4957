"""Files that are made to do harm, through ``tiler verify``: an exit code, one sentence, and nothing left running."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from tests.chosen import long
from tests.forked import command
from tests.reading.files import saved
from tests.reading.hostile import MEGABYTE, forms_in_forms, honest, hostile_files, pattern_in_itself, squeezed
from tests.specs import piece, spec, straight, table, written
from tiler.commands import run
from tiler.errors import ExitCode
from tiler.usecases.drawings import apart as drawings
from tiler.usecases.processes import apart

FILES = hostile_files()
ROOT = Path(__file__).parents[2]
ENDLESS = ["--object-limit", "1000000000", "--time-limit", "300"]

needs_processes = pytest.mark.skipif(not Path("/proc/self/task").exists(), reason="finds the other process in /proc")


@pytest.fixture
def fast_clock(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let a second that a reader may take pass in a third of one; a test without it waits for a whole one."""

    class Fast(apart._Clock):
        def __init__(self, process: subprocess.Popen[bytes], seconds: float, left: float) -> None:
            super().__init__(process, seconds, left / 3)

    monkeypatch.setattr(apart, "_Clock", Fast)


@pytest.mark.usefixtures("forked")
@pytest.mark.parametrize("name", FILES)
def test_a_hostile_file_gets_its_code_and_one_sentence(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, data = FILES[name]
    # the defaults, a hundred thousand objects and 768 MB, work alike and take seconds
    options = ["--object-limit", "3000"] if name.startswith("paints") else []
    options += ["--memory-limit", "100"] if name.endswith("gigabytes") else []
    assert run(["verify", str(saved(tmp_path, "file.pdf", data)), *options]) == code
    told = capsys.readouterr()
    assert len((told.err or told.out).splitlines()) == 1
    assert "fault of its own" not in told.err


@long
@pytest.mark.usefixtures("forked")
@pytest.mark.parametrize(
    ("data", "options", "words"),
    [
        (forms_in_forms(9, 10), ["--object-limit", "500"], ["more than 500 objects", "--object-limit"]),
        (forms_in_forms(9, 10), [*ENDLESS[:2], "--time-limit", "1"], ["more than 1 second", "--time-limit"]),
        (squeezed(bytes(MEGABYTE), 100), ["--memory-limit", "60"], ["more memory", "--memory-limit"]),
    ],
)
def test_a_limit_that_is_reached_is_named_with_what_raises_it(
    data: bytes, options: list[str], words: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = saved(tmp_path, "file.pdf", data)
    assert run(["verify", str(path), *options, "--json"]) == 5
    error = json.loads(capsys.readouterr().out)["error"]
    assert error["code"] == 5
    assert [word for word in words if word not in error["message"]] == []


@long
@pytest.mark.usefixtures("forked", "fast_clock")
@pytest.mark.parametrize("words", [["preview", "-o", "pictures"], ["edge", "--picture", "curves.png"]], ids=" ".join)
def test_a_library_that_hears_no_signal_is_ended_all_the_same(
    words: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """This test ensures it for a pattern whose rendering would take years; an edge is listed without rendering it."""
    monkeypatch.chdir(tmp_path)
    saved(tmp_path, "pattern.pdf", pattern_in_itself())
    assert run([words[0], "pattern.pdf", *words[1:], "--time-limit", "1"]) == 5
    assert capsys.readouterr().err == (
        "tiler: pattern.pdf takes more than 1 second to read; it was given up; --time-limit gives it longer\n"
    )
    assert not list(tmp_path.rglob("*.png"))


SIZE = 'width="200mm" height="100mm"'
DRAWN = '<path id="neck" d="M0,0 C0,80 60,100 90,100"/>'


@long
@pytest.mark.usefixtures("forked")
def test_a_style_sheet_is_gone_through_once(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """This test ensures it for sheets over which a search that goes back and back would take longer than it may."""
    sheets = ("a" * 400_000, "/*" * 100_000, "@a{" * 100_000, "a;" * 100_000, "#neck{display:none}" * 9999)
    for sheet, shown in zip(sheets, (True, True, True, True, False), strict=True):
        svg = f'<svg xmlns="http://www.w3.org/2000/svg" {SIZE}><style>{sheet}</style>{DRAWN}</svg>'
        path = saved(tmp_path, "sheet.svg", svg.encode())
        assert run(["edge", str(path)]) == (0 if shown else 4)
    capsys.readouterr()


@long
@pytest.mark.usefixtures("forked", "fast_clock")
@pytest.mark.parametrize("option", [["--time-limit", "1"], ["--memory-limit", "20"]], ids=" ".join)
def test_a_drawing_is_read_within_limits_too(
    option: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" {SIZE}><path transform="{"rotate(1) " * 2_000_000}"/></svg>'
    path = saved(tmp_path, "long.svg", svg.encode())
    assert run(["edge", str(path), *option]) == 5
    told = capsys.readouterr().err
    assert told.endswith(f"; {option[0]} gives it {'longer' if 'time' in option[0] else 'more'}\n")
    assert len(told.splitlines()) == 1


@pytest.mark.parametrize("words", [["figures"], ["draft", "-o", "out.pdf"]], ids=" ".join)
def test_a_drawing_that_takes_its_reader_down_is_one_sentence_with_its_place(
    words: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(drawings, "WORK", "tests.commands.falling")
    saved(tmp_path, "front.svg", DRAWN.encode())
    written(spec(piece("Hem", "1 in", straight(table(svg="front.svg")))), tmp_path, "hem.toml")
    assert run([words[0], "hem.toml", *words[1:]]) == 5
    told = capsys.readouterr().err
    assert told.startswith(
        "tiler: hem.toml: pieces[0].edge.whole: front.svg cannot be read: the reading broke off (SIGABRT)"
    )
    assert len(told.splitlines()) == 1


@pytest.mark.usefixtures("forked")
def test_a_raised_limit_lets_the_file_be_read(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = saved(tmp_path, "file.pdf", forms_in_forms(2, 10))
    assert run(["verify", str(path), "--object-limit", "50"]) == 5
    assert run(["verify", str(path), "--object-limit", "500"]) == 4
    capsys.readouterr()


@pytest.mark.parametrize("option", ["--time-limit", "--memory-limit", "--object-limit"])
@pytest.mark.parametrize("value", ["0", "-1", "much"])
def test_a_limit_is_a_whole_number_above_nothing(option: str, value: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["verify", "file.pdf", option, value]) == 2
    assert len(capsys.readouterr().err.splitlines()) == 1


@pytest.mark.usefixtures("forked")
def test_no_name_steers_the_terminal(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["verify", str(tmp_path / "none\x1b[2J\nTrue to scale.pdf")]) == 5
    told = capsys.readouterr().err
    assert told.count("\n") == 1
    assert "\x1b" not in told
    assert r"none\x1b[2J\nTrue to scale.pdf" in told


@pytest.mark.usefixtures("forked")
def test_no_pipe_is_waited_for(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    os.mkfifo(tmp_path / "pipe")
    assert run(["verify", str(tmp_path / "pipe")]) == 5
    assert "not an ordinary file" in capsys.readouterr().err


@long
def test_nothing_is_imported_from_the_folder_one_stands_in(tmp_path: Path) -> None:
    path = saved(tmp_path, "file.pdf", honest())
    for name in ("json", "tiler", "pdfplumber", "sitecustomize"):
        saved(tmp_path, f"{name}.py", b"raise SystemExit('imported from the current folder')")
    done = subprocess.run(
        [sys.executable, "-P", "-m", "tiler", "verify", str(path)],
        cwd=tmp_path,
        env=os.environ | {"PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert (done.returncode, done.stderr) == (0, "")


Endless = Callable[[], tuple[subprocess.Popen[str], int]]


def alive(process: int) -> bool:
    try:
        state = Path(f"/proc/{process}/stat").read_text().rsplit(")", 1)[1].split()[0]
    except (FileNotFoundError, ProcessLookupError):
        return False
    return state not in "ZX"


def reads(process: int, path: Path) -> bool:
    opened = Path(f"/proc/{process}/fd").iterdir()
    return any(link.is_symlink() and os.readlink(link) == str(path) for link in opened)


def until(what: Callable[[], object]) -> None:
    """Wait for something that must come; a minute is for machines that are busy."""
    for _ in range(6000):
        if what():
            return
        time.sleep(0.01)
    pytest.fail("it never came")


@pytest.fixture
def endless(tmp_path: Path, forked: None) -> Iterator[Endless]:
    """Start a verify that does not end by itself; gives it and the process that reads for it."""
    started: list[subprocess.Popen[str]] = []

    def start() -> tuple[subprocess.Popen[str], int]:
        path = saved(tmp_path, "file.pdf", forms_in_forms(9, 10))
        pipes = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE}
        asker = command("verify", path, *ENDLESS, **pipes, text=True, start_new_session=True)
        started.append(asker)
        children = Path(f"/proc/{asker.pid}/task/{asker.pid}/children")
        until(lambda: children.read_text().split())
        witness = int(children.read_text().split()[0])
        until(lambda: reads(witness, path))
        return asker, witness

    yield start
    for asker in started:
        asker.kill()
        asker.wait()


@needs_processes
@pytest.mark.parametrize("send", [os.kill, os.killpg], ids=["to the command", "to the terminal"])
def test_an_interrupt_leaves_at_once_and_leaves_nothing_running(
    endless: Endless, send: Callable[[int, int], None]
) -> None:
    asker, witness = endless()
    send(asker.pid, signal.SIGINT)
    out, err = asker.communicate(timeout=60)
    assert (asker.returncode, out, err) == (130, "", "tiler: interrupted\n")
    assert not alive(witness)


@needs_processes
@pytest.mark.parametrize("number", [signal.SIGKILL, signal.SIGTERM])
def test_the_reader_ends_with_the_one_that_asked(endless: Endless, number: int) -> None:
    asker, witness = endless()
    os.kill(asker.pid, number)
    asker.wait()
    until(lambda: not alive(witness))


@needs_processes
@pytest.mark.parametrize("number", [signal.SIGSEGV, signal.SIGKILL, signal.SIGABRT])
def test_a_reader_that_crashes_is_one_sentence(endless: Endless, number: signal.Signals) -> None:
    asker, witness = endless()
    os.kill(witness, number)
    out, err = asker.communicate(timeout=60)
    assert (asker.returncode, out, len(err.splitlines())) == (ExitCode.UNREADABLE, "", 1)
    assert f"broke off ({number.name})" in err
